"""What a rule is, so that every computed figure can be asked where it comes from."""

from dataclasses import dataclass
from enum import StrEnum


class Evidence(StrEnum):
    """How well a rule is known, best first."""

    PAGE = "P"
    COMPUTED = "C"
    SECONDARY = "S"
    MEMORY = "M"
    OWN = "own"


EVIDENCE_WORDS = {
    Evidence.PAGE: "read in the source",
    Evidence.COMPUTED: "computed from the tables",
    Evidence.SECONDARY: "study notes, the page itself not read",
    Evidence.MEMORY: "from memory, unverified",
    Evidence.OWN: "our own choice",
}


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule: its id, what it says in a sentence, its source, how well it is known, what computes it."""

    id: str
    sentence: str
    source: str
    evidence: tuple[Evidence, ...]
    computed_by: tuple[str, ...] = ()

    @property
    def tag(self) -> str:
        """Its evidence in brackets: `[P, S]`."""
        return f"[{', '.join(self.evidence)}]"
