"""The options of `overbottom plan` and `overbottom tables`: light, for every command line passes here."""

import argparse

from station.core.decompression.answers import Mode
from station.core.settings import DEFAULT_TABLES
from station.table_files import table_set_names

LONGEST_MIN = 24 * 60
HIGHEST_FT = 30_000.0
DEEPEST_FSW = 1000.0
"""Beyond these a number is a slip of the pen; what the tables cover is told by the plan. Own choice."""


def add_plan(parser: argparse.ArgumentParser) -> None:
    """The options of the command."""
    parser.add_argument("--depth", type=_depth, required=True, metavar="FSW", help="deepest gauge reading")
    parser.add_argument("--corrected", action="store_true", help="the depth is corrected already")
    parser.add_argument("--time", type=_minutes, required=True, metavar="MIN", help="bottom time")
    parser.add_argument(
        "--mode", type=Mode, choices=list(Mode), default=Mode.AIR, metavar="air|air-o2|chamber"
    )
    parser.add_argument("--group", metavar="G", help="repetitive group he surfaced in; left out: none")
    parser.add_argument("--interval", type=_interval, metavar="H:MM", help="since he surfaced in that group")
    parser.add_argument("--altitude", type=_altitude, default=0.0, metavar="FT", help="altitude of the site")
    parser.add_argument("--not-zeroed", action="store_true", help="the gauge was not zeroed at that altitude")
    parser.add_argument("--cold", action="store_true", help="cold or strenuous: the next longer time")
    parser.add_argument("--shallow", action="store_true", help="no-stop table by single feet, 30 to 50 fsw")
    parser.add_argument("--tables", choices=table_set_names(), default=DEFAULT_TABLES, help="table set")
    parser.add_argument("--json", action="store_true", help="as overbottom-plan/1")


def add_tables(parser: argparse.ArgumentParser) -> None:
    """The options of the command."""
    parser.add_argument("--check", action="store_true", help="derive every rule again, recompute every table")
    parser.add_argument("--tables", choices=table_set_names(), default=DEFAULT_TABLES, help="table set")
    parser.add_argument("--json", action="store_true", help="the report as JSON")


def _depth(text: str) -> float:
    return _between(text, 0.0, DEEPEST_FSW, "depth in fsw")


def _altitude(text: str) -> float:
    return _between(text, 0.0, HIGHEST_FT, "altitude in ft", least_too=True)


def _between(text: str, low: float, high: float, what: str, *, least_too: bool = False) -> float:
    value = float(text)
    if not (low < value <= high or (least_too and value == low)):
        raise argparse.ArgumentTypeError(f"{text} is no {what}: above {low:g}, at most {high:g}")
    return value


def _minutes(text: str) -> int:
    value = int(text)
    if not 0 < value <= LONGEST_MIN:
        raise argparse.ArgumentTypeError(f"{text} is no bottom time: 1 to {LONGEST_MIN} min")
    return value


def _interval(text: str) -> int:
    hours, colon, minutes = text.partition(":")
    if not (
        colon and hours.isdigit() and minutes.isdigit() and len(minutes) == len("MM") and int(minutes) < 60
    ):
        raise argparse.ArgumentTypeError(f"{text} is no interval as H:MM")
    seconds = int(hours) * 3600 + int(minutes) * 60
    if seconds == 0:
        raise argparse.ArgumentTypeError("a surface interval is longer than zero")
    return seconds
