"""The tables against their own relations and the gas model: what `overbottom tables --check` tells."""

from collections.abc import Iterator
from dataclasses import dataclass

from station.core.decompression.gas_model.compare import model_checks
from station.core.decompression.gas_model.opinion import WHAT_IT_IS, WHAT_IT_IS_NOT
from station.core.decompression.table_relations import falling_stops, relations
from station.core.tables.checks import Check, Difference
from station.core.tables.table_set import KnownDifference, TableSet

SCHEMA = "overbottom-tables/1"


@dataclass(frozen=True, slots=True)
class TablesReport:
    """What was looked at, what differs without being known, and what is known but did not turn up."""

    title: str
    document: str
    read: str
    checks: tuple[Check, ...]
    unexpected: tuple[Difference, ...]
    vanished: tuple[KnownDifference, ...]
    falling_stops: int

    @property
    def ok(self) -> bool:
        """Whether exactly the known cells differ."""
        return not self.unexpected and not self.vanished

    def lines(self) -> Iterator[str]:
        """The report in lines, ready to print."""
        yield f"{self.title}: {self.document}; {self.read}"
        for done in self.checks:
            yield f"{done.agreed} of {done.checked}  {done.sentence}"
            yield from (
                f"    {one.row}: printed {one.printed}, derived {one.derived}" for one in done.differences
            )
        yield f"{self.falling_stops} single stops fall by a minute as time grows; totals never do"
        yield from (f"NOT EXPECTED {_told(one)}" for one in self.unexpected)
        yield from (f"EXPECTED, NOT FOUND {_told(one)}" for one in self.vanished)
        yield WHAT_IT_IS
        yield WHAT_IT_IS_NOT
        yield "Exactly the known cells differ." if self.ok else "This copy of the tables does not hold."

    def as_json(self) -> dict[str, object]:
        """The report as JSON values."""
        return {
            "schema": SCHEMA,
            "title": self.title,
            "document": self.document,
            "ok": self.ok,
            "checks": [
                {
                    "id": done.id,
                    "sentence": done.sentence,
                    "checked": done.checked,
                    "agreed": done.agreed,
                    "differences": [_json(one) for one in done.differences],
                }
                for done in self.checks
            ],
            "falling_stops": self.falling_stops,
            "unexpected": [_json(one) for one in self.unexpected],
            "vanished": [_json(one) for one in self.vanished],
        }


def check_tables(tables: TableSet) -> TablesReport:
    """Derive every relation again and recompute every table by the model."""
    checks = relations(tables) + model_checks(tables)
    found = tuple(one for done in checks for one in done.differences)
    known = {_key(one) for one in tables.known_differences}
    return TablesReport(
        tables.title,
        tables.document,
        tables.read,
        checks,
        tuple(one for one in found if _key(one) not in known),
        tuple(one for one in tables.known_differences if _key(one) not in {_key(two) for two in found}),
        falling_stops(tables),
    )


def _key(one: Difference | KnownDifference) -> tuple[str, str, str, str]:
    return one.check, one.row, one.printed, one.derived


def _json(one: Difference | KnownDifference) -> dict[str, str]:
    return {"check": one.check, "row": one.row, "printed": one.printed, "derived": one.derived}


def _told(one: Difference | KnownDifference) -> str:
    return f"{one.check} {one.row}: printed {one.printed}, derived {one.derived}"
