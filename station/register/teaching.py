"""Teaches a converter the closed sets of what is prepared; imports nothing that the log's names import."""

from cattrs import Converter

from station.conversion import teach
from station.prepare.acts import DESK_ACTS, DeskAct
from station.prepare.checklist import PROOFS, Proof
from station.prepare.gear_acts import GEAR_ACTS, GearAct
from station.prepare.people import PERSON_ACTS, PersonAct
from station.prepare.run import PRESSES, Press


def teach_prepare(converter: Converter) -> None:
    """Teach a strict converter the acts, presses, proofs and entries of `station.prepare`."""
    teach(converter, Proof, PROOFS, "proof")
    teach(converter, Press, PRESSES, "press")
    teach(converter, GearAct, GEAR_ACTS, "gear_act")
    teach(converter, PersonAct, PERSON_ACTS, "person_act")
    teach(converter, DeskAct, DESK_ACTS, "act")
