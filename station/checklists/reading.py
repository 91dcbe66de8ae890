"""Reads a checklist from TOML and checks everything of it at once."""

from collections import Counter
from enum import StrEnum
from typing import Final, TypeVar

from shared.toml_file import Section, parse_toml
from station.prepare.checklist import (
    About,
    Checklist,
    Measured,
    Proof,
    Seen,
    SerialRead,
    Stage,
    Step,
    Turn,
)
from station.prepare.gear import GearKind, OutfitKind
from station.prepare.profile import Asked
from station.prepare.team import Post

Word = TypeVar("Word", bound=StrEnum)

MOST_VERSION: Final = 100_000
MOST_VALUE: Final = 1e9
MOST_TIMED_S: Final = 86_400.0
"""What no file goes beyond, so that a slip of the finger is told of. Own choice."""

_PROOFS: Final = ("seen", "measured", "serial")


def read_checklist(path: str, text: str) -> Checklist:
    """The checklist of a TOML text; `path` names it in messages. Raises FileFault with every problem."""
    top = parse_toml(path, text)
    head = top.table("list")
    ordered = head.flag("ordered", default=False)
    steps = tuple(_step(each) for each in top.tables("step", least=1))
    _complain_of_steps(top.tables("step"), steps)
    checklist = Checklist(
        key=head.text("key"),
        title=head.text("title"),
        version=head.integer("version", 1, MOST_VERSION),
        stands_above=head.text("stands_above"),
        source=head.text("source"),
        stage=head.choice("stage", Stage),
        about=head.choice("about", About),
        turn=head.choice("turn", Turn, Turn.ANY),
        ordered=ordered,
        standby=head.flag("standby", default=False),
        outfits=words(head, "outfits", OutfitKind, ()),
        when=head.one_of("when", ("", *(asked.value for asked in Asked)), ""),
        steps=steps,
    )
    if checklist.standby and checklist.about is not About.DIVER:
        head.complain("standby", "only a list about a diver can be asked of the standby")
    top.finish()
    return checklist


def words(
    section: Section, key: str, kind: type[Word], default: tuple[Word, ...] | None = None
) -> tuple[Word, ...]:
    """An array of words of an enum; each that is none is told of."""
    plain = None if default is None else tuple(each.value for each in default)
    known = {each.value: each for each in kind}
    given = section.texts(key, plain)
    for word in given:
        if word not in known:
            section.complain(key, f"{word!r} is none of {', '.join(sorted(known))}")
    return tuple(known[word] for word in given if word in known)


def _step(section: Section) -> Step:
    step = Step(
        key=section.text("key"),
        text=section.text("text"),
        why=section.text("why"),
        signs=words(section, "signs", Post),
        proof=_proof(section),
        source=section.text("source"),
        hold=section.flag("hold", default=False),
        persons=section.integer("persons", 1, 2, 1),
        after=section.texts("after", ()),
        least_s=_seconds(section, "least_s"),
        most_s=_seconds(section, "most_s"),
    )
    if not step.signs and section.sound("signs"):
        section.complain("signs", "somebody must sign")
    if step.hold and Post.SUPERVISOR in step.signs:
        section.complain("signs", "at a hold point others do it and the supervisor signs after them")
    if step.least_s is not None and step.most_s is not None and step.least_s > step.most_s:
        section.complain("most_s", f"{step.most_s:g} s is shorter than least_s")
    return step


def _seconds(section: Section, key: str) -> float | None:
    return section.number(key, 0.0, MOST_TIMED_S) if section.has(key) else None


def _proof(section: Section) -> Proof:
    """`proof = { kind = "measured", ... }`; left out: seen."""
    if not section.has("proof"):
        return Seen()
    given = section.table("proof")
    match given.one_of("kind", _PROOFS):
        case "measured":
            return _measured(given)
        case "serial":
            return SerialRead(given.choice("part", GearKind))
        case "seen":
            return Seen()
        case _:
            given.pass_over()
            return Seen()


def _measured(given: Section) -> Measured:
    proof = Measured(
        quantity=given.text("quantity"),
        unit=given.text("unit"),
        low=given.number("low", -MOST_VALUE, MOST_VALUE),
        high=given.number("high", -MOST_VALUE, MOST_VALUE),
        channel=given.text("channel", ""),
    )
    if given.sound("low") and given.sound("high") and proof.low > proof.high:
        given.complain("high", f"{proof.high:g} lies below low")
    return proof


def _complain_of_steps(sections: tuple[Section, ...], steps: tuple[Step, ...]) -> None:
    """Keys that stand twice; steps that wait for themselves or for one that comes later."""
    counts = Counter(step.key for step in steps)
    for place, (section, step) in enumerate(zip(sections, steps, strict=True)):
        if counts[step.key] > 1 and step.key:
            section.complain("key", f"{step.key!r} stands {counts[step.key]} times in this list")
        earlier = {each.key for each in steps[:place]}
        for wanted in step.after:
            if wanted not in earlier:
                section.complain("after", f"no step {wanted!r} stands before this one")
