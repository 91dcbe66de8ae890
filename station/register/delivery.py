"""From the watch's log into the registers: what was entered on watch, delivered as often as it takes.

The log is written first. An entry that stands in it is given to the register afterwards, and all of them
once more when a watch is taken up again: the uid sees to it that nothing is doubled.
"""

from collections.abc import Iterable

from station.prepare.acts import DeskAct, EnterGear, EnterPerson
from station.prepare.desk import Moment
from station.prepare.gear import Gear
from station.prepare.gear_acts import GearEntry
from station.prepare.people import People, PersonEntry
from station.register.fault import RegisterFault
from station.register.file import Register


def gear_entries(taken: Iterable[tuple[DeskAct, Moment]]) -> tuple[GearEntry, ...]:
    """The entries of the gear register among acts that were taken, in order."""
    return tuple(
        GearEntry(act.uid, moment.utc, moment.by, act.entered)
        for act, moment in taken
        if isinstance(act, EnterGear)
    )


def people_entries(taken: Iterable[tuple[DeskAct, Moment]]) -> tuple[PersonEntry, ...]:
    """The entries of the register of people among acts that were taken, in order."""
    return tuple(
        PersonEntry(act.uid, moment.utc, moment.by, act.entered)
        for act, moment in taken
        if isinstance(act, EnterPerson)
    )


def deliver_gear(register: Register[Gear, GearEntry], entries: Iterable[GearEntry]) -> tuple[str, ...]:
    """Add entries one by one, so that one that cannot be taken keeps no other out; why some could not.

    What could not be delivered stays in the log. Raises RegisterFault when the file itself fails.
    """
    return tuple(reason for entry in entries for reason in _delivered(register, entry))


def deliver_people(
    register: Register[People, PersonEntry], entries: Iterable[PersonEntry]
) -> tuple[str, ...]:
    """As `deliver_gear`, for people."""
    return tuple(reason for entry in entries for reason in _delivered(register, entry))


def _delivered(
    register: Register[Gear, GearEntry] | Register[People, PersonEntry], entry: GearEntry | PersonEntry
) -> tuple[str, ...]:
    try:
        register.add([entry])  # type: ignore[list-item] # the callers pair a register with its entries
    except RegisterFault as fault:
        if not fault.of_entries:
            raise
        return tuple(f"{entry.uid}: {reason}" for reason in fault.reasons)
    return ()
