"""The outline of a log: what is needed to find one's way in it before anything is played."""

from dataclasses import dataclass

from shared.clock import EPOCH, Instant
from station.core.facts import AlarmChanged
from station.core.state import Priority, Standing
from station.log.reading import LogReader
from station.log.records import FactRecord, TraceRecord


@dataclass(frozen=True, slots=True)
class AlarmMoment:
    """An alarm was raised."""

    at: Instant
    priority: Priority


@dataclass(frozen=True, slots=True)
class Outline:
    """The whole of a log at a glance. `depths_fsw` by diver, one gauge depth a second, None not heard."""

    ends: Instant
    records: int
    alarms: tuple[AlarmMoment, ...]
    depths_fsw: dict[str, tuple[tuple[Instant, float | None], ...]]


def outline_of(reader: LogReader) -> Outline:
    """One pass over the derived records of a log."""
    ends, records = EPOCH, 0
    alarms: list[AlarmMoment] = []
    depths: dict[str, list[tuple[Instant, float | None]]] = {}
    for contents in reader.batches():
        ends, records = Instant(max(ends, contents.batch.at_ns)), contents.batch.last_seq
        for record in contents.derived:
            match record:
                case FactRecord(fact=AlarmChanged() as fact):
                    if fact.standing is Standing.UNACKNOWLEDGED:
                        alarms.append(AlarmMoment(fact.at, fact.priority))
                case TraceRecord(at=at, values=values):
                    for diver, depth in _depths_in(values):
                        depths.setdefault(diver, []).append((at, depth))
                case _:
                    pass
    return Outline(ends, records, tuple(alarms), {diver: tuple(points) for diver, points in depths.items()})


def _depths_in(values: object) -> list[tuple[str, float | None]]:
    told = values.get("depth_fsw") if isinstance(values, dict) else None
    if not isinstance(told, dict):
        return []
    return [(str(diver), depth) for diver, depth in told.items() if depth is None or isinstance(depth, float)]
