"""What is prepared as plain JSON and back, under stored names; the log's converter can be taught the same."""

from typing import Any, Final, cast

from cattrs import Converter

from station.conversion import strict_converter, structured, teach
from station.plain import Plain
from station.prepare.acts import DESK_ACTS, DeskAct
from station.prepare.checklist import PROOFS, Proof
from station.prepare.gear_acts import GEAR_ACTS, GearAct, GearEntry
from station.prepare.people import PERSON_ACTS, PersonAct, PersonEntry
from station.prepare.run import PRESSES, Press


def teach_prepare(converter: Converter) -> None:
    """Teach a strict converter the closed sets of `station.prepare`."""
    teach(converter, Proof, PROOFS, "proof")
    teach(converter, Press, PRESSES, "press")
    teach(converter, GearAct, GEAR_ACTS, "gear_act")
    teach(converter, PersonAct, PERSON_ACTS, "person_act")
    teach(converter, DeskAct, DESK_ACTS, "act")


def _taught() -> Converter:
    converter = strict_converter()
    teach_prepare(converter)
    return converter


_CONVERTER: Final = _taught()

Entry = GearEntry | PersonEntry


def to_plain(value: object) -> Plain:
    """Any value of `station.prepare` (an act, an entry, a desk) as plain JSON."""
    return cast(Plain, _CONVERTER.unstructure(value))


def from_plain(plain: Plain, kind: Any) -> object:  # noqa: ANN401 - a class or a union of classes
    """The value of this kind that `to_plain` wrote. Raises ValueError that names every fault."""
    return structured(_CONVERTER, plain, kind)
