"""Whether a record holds what a profile of rules asks for: what is there, what is missing, what is stated."""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

import numpy as np

from shared.clock import EPOCH
from station.core.air.equipment import EQUIPMENT
from station.core.settings import DiverSettings
from station.record.model import Dive, Record, Told
from station.record.particulars import holding, states_gap
from station.record.profiles import Required, RulesProfile, When


class Standing(StrEnum):
    """How a record stands against its rules."""

    COMPLETE = "complete"
    STATED_GAPS = "closed with stated gaps"
    OPEN = "not closed"
    DAMAGED = "the log is not whole"


@dataclass(frozen=True, slots=True)
class Missing:
    """Something that a profile asks for and the record lacks; `stated` is the reason given, "" where none."""

    required: Required
    stated: str


@dataclass(frozen=True, slots=True)
class Completeness:
    """One dive against one profile."""

    profile: RulesProfile
    standing: Standing
    missing: tuple[Missing, ...]


def told_about(record: Record, dive: Dive, added: tuple[Told, ...] = ()) -> dict[str, Told]:
    """The particulars that hold for a dive: his own before the station's, the log's before those added."""
    own = holding(dive.particulars)
    return {**holding(added), **holding(record.particulars), **own}


def completeness_of(
    record: Record, dive: Dive, profile: RulesProfile, added: tuple[Told, ...] = ()
) -> Completeness:
    """What the record of a dive lacks of what a profile asks for."""
    told = told_about(record, dive, added)
    asked = (one for one in profile.required if _applies(one, record, dive, profile, told))
    missing = tuple(
        Missing(one, told[one.key].value if one.key in told else "")
        for one in asked
        if value_of(one.key, record, dive, told) is None
    )
    if not record.integrity.sound:
        return Completeness(profile, Standing.DAMAGED, missing)
    if not record.integrity.closed:
        return Completeness(profile, Standing.OPEN, missing)
    return Completeness(profile, Standing.STATED_GAPS if missing else Standing.COMPLETE, missing)


def value_of(key: str, record: Record, dive: Dive, told: dict[str, Told]) -> str | None:
    """What the record holds under a key, as words; None where it holds nothing. What is told goes first."""
    if key in told and not states_gap(told[key].value):
        return told[key].value
    figured = _FIGURED.get(key)
    return figured(record, dive) or None if figured is not None else None


def sickness_suspected(told: dict[str, Told]) -> bool:
    """Whether decompression sickness was written down as anything but none."""
    if "dcs" not in told:
        return bool({"symptoms", "onset", "treatment"} & told.keys())
    return told["dcs"].value.strip().casefold() not in NO_SICKNESS


NO_SICKNESS: Final = frozenset({"none", "no", "not suspected", "none suspected"})
"""The words that say that there was no decompression sickness."""


def _applies(one: Required, record: Record, dive: Dive, profile: RulesProfile, told: dict[str, Told]) -> bool:
    match one.when:
        case When.ALWAYS:
            return True
        case When.SICKNESS:
            return sickness_suspected(told)
        case When.DEEP_OR_STOPS:
            return _deep(dive, profile) or _with_stops(dive)


def _deep(dive: Dive, profile: RulesProfile) -> bool:
    """A depth that is not known is taken for a deep one."""
    if profile.deep_fsw is None:
        return False
    return dive.depth.max_fsw is None or dive.depth.max_fsw > profile.deep_fsw


def _with_stops(dive: Dive) -> bool:
    """A dive whose schedule is not known and that was at a stop had one."""
    if dive.schedule is not None:
        return bool(dive.schedule.stops)
    return any(mark.kind == "reached_stop" and mark.at is not None for mark in dive.marks)


def _team(record: Record, _: Dive) -> str:
    named = [record.settings.supervisor]
    for post in record.settings.divers:
        named += [post.person, post.tender]
    return ", ".join(dict.fromkeys(name for name in named if name))


def _time(record: Record, dive: Dive) -> str:
    left, up = dive.times.left_surface, dive.times.reached_surface
    if left is None or up is None:
        return ""
    return f"{record.utc(left):%H:%M:%S} to {record.utc(up):%H:%M:%S} UTC"


def _date(record: Record, dive: Dive) -> str:
    return f"{record.utc(dive.times.left_surface or EPOCH):%Y-%m-%d}"


def _max_depth(_: Record, dive: Dive) -> str:
    return "" if dive.depth.max_fsw is None else f"{dive.depth.max_fsw:.1f} fsw"


def _bottom_time(_: Record, dive: Dive) -> str:
    if dive.times.left_bottom is None and dive.times.reached_surface is None:
        return ""
    return f"{dive.times.bottom_min} min"


def _profile(_: Record, dive: Dive) -> str:
    heard = int(np.isfinite(dive.profile.depth_fsw).sum())
    return f"{heard} of {len(dive.profile.at_s)} seconds" if heard else ""


def _gas(_: Record, dive: Dive) -> str:
    return "air, oxygen" if any(mark.kind == "on_oxygen" for mark in dive.marks) else "air"


def _last_exposure(record: Record, dive: Dive) -> str:
    """What was entered of dives before, on watch or in the station file; else what the log before left."""
    told = [one.details for one in dive.entries if one.kind == "enter_history" and not one.refused]
    if told:
        return _brought(str(told[-1].get("group")))
    if dive.post.history is not None:
        return _brought(dive.post.history.group)
    for brought in record.header.carry_over:
        if brought.diver == dive.diver and brought.group is not None:
            return f"group {brought.group} from the log before"
    return ""


def _brought(group: str) -> str:
    return "none that counts" if group == "none" else f"repetitive group {group}"


def _schedule(_: Record, dive: Dive) -> str:
    row = dive.schedule
    return "" if row is None else f"{row.table} {row.depth_fsw}/{row.time_min}"


def dress_of(post: DiverSettings) -> str:
    """A diver's dress in words."""
    known = EQUIPMENT.get(post.equipment)
    return post.equipment if known is None else known.title


_FIGURED: Final[dict[str, Callable[[Record, Dive], str]]] = {
    "team": _team,
    "supervisor": lambda record, _: record.settings.supervisor,
    "date": _date,
    "time": _time,
    "place": lambda record, _: record.settings.station,
    "work": lambda record, _: record.settings.job,
    "modes": lambda _, dive: f"surface-supplied air, {dress_of(dive.post)}",
    "gas": _gas,
    "last_exposure": _last_exposure,
    "max_depth": _max_depth,
    "bottom_time": _bottom_time,
    "profile": _profile,
    "schedule": _schedule,
}
"""What the log itself tells under a key."""
