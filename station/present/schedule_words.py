"""Schedules in words: stops, rows, what passing a row costs."""

from station.core.decompression.answers import NotCovered
from station.core.decompression.schedule import Schedule
from station.core.tables.table_set import Stop

BEYOND = "beyond the table"


def stops_words(stops: tuple[Stop, ...]) -> str:
    """Stops deepest first: "9 min at 40, 28 at 30, 146 at 20"."""
    first, *others = (f"{stop.minutes} min at {stop.depth_fsw}" for stop in stops)
    return ", ".join([first, *(stop.replace(" min", "") for stop in others)])


def row_words(found: Schedule) -> str:
    """The row of a schedule: "60/65"; the depth alone where there is no limit."""
    return f"{found.depth_fsw} fsw" if found.time_min is None else f"{found.depth_fsw}/{found.time_min}"


def due_words(found: Schedule) -> str:
    """What a schedule asks for, without its row."""
    parts = [stops_words(found.stops)] if found.stops else []
    if found.chamber_periods and not found.no_stop and found.mode.value == "chamber":
        parts.append(f"{found.chamber_periods:g} chamber periods")
    return " and ".join(parts) or "no stop"


def cost_words(cost: Schedule | NotCovered) -> str:
    """What passing a row costs: "2 min at 20 (60/65)"."""
    return BEYOND if isinstance(cost, NotCovered) else f"{due_words(cost)} ({row_words(cost)})"
