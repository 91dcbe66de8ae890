"""The command line: `overbottom COMMAND`. Exit status: 0 done, 1 the thing checked does not hold,
2 bad arguments or files, 3 stopped by a fault.

Standard output carries only what was asked for; messages go to standard error. Each command is imported
when it is chosen, so that a light one starts at once.
"""

import argparse
import os
import sys
from collections.abc import Callable
from pathlib import Path

from shared.toml_file import FileFault
from station import __version__
from station.caution import CAUTION
from station.compose.table_options import add_plan, add_tables
from station.log.fault import LogFault
from station.stopped import BadFileTold, StoppedByFault

DONE, DOES_NOT_HOLD, BAD_FILES, FAULT = 0, 1, 2, 3

Command = Callable[[argparse.Namespace], int]


def main(arguments: list[str] | None = None) -> int:
    """Run one command; its exit status."""
    options = _parser().parse_args(arguments)
    command: Command = options.command
    try:
        return command(options)
    except (FileFault, LogFault) as fault:
        return _stop(str(fault), BAD_FILES)
    except BadFileTold:
        return BAD_FILES
    except StoppedByFault as fault:
        return _stop(str(fault), FAULT)
    except BrokenPipeError:
        _let_go_of_stdout()
        return _stop("standard output was closed by its reader", FAULT)
    except KeyboardInterrupt:
        return _stop("left off", FAULT)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="overbottom", description=f"A dive station monitor. {CAUTION}.")
    parser.add_argument("--version", action="version", version=f"overbottom {__version__}")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    _add_watch(commands.add_parser("watch", help="watch a real station"))
    _add_rehearse(commands.add_parser("rehearse", help="the same on simulated gauges over real lines"))
    _add_replay(commands.add_parser("replay", help="a dive again"))
    _add_verify(commands.add_parser("verify", help="whether a log is whole and replays as recorded"))
    _add_plan(commands.add_parser("plan", help="schedule and ascent of a planned dive"))
    _add_tables(commands.add_parser("tables", help="the tables, and whether they hold"))
    _add_record(commands.add_parser("record", help="the dive record: PDF, CSV, JSON; the log book"))
    _add_ports(commands.add_parser("ports", help="serial ports, raw bytes, decoded sentences"))
    return parser


def _add_outputs(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--headless", action="store_true", help="without windows")
    parser.add_argument(
        "--status", metavar="-", choices=["-"], help="a JSON object a second to standard output"
    )
    parser.add_argument("--pictures", type=Path, metavar="DIR", help="save the windows as PNG into DIR")


def _add_sound(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--sound",
        action=argparse.BooleanOptionalAction,
        default=None,
        help="whether alarms sound; with windows they do, if left out",
    )


def _add_watch(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("station", type=Path, metavar="STATION", help="the station file")
    parser.add_argument(
        "--log", type=Path, metavar="FILE", help="the log; an unfinished one is taken up again"
    )
    _add_outputs(parser)
    _add_sound(parser)
    parser.set_defaults(command=_watch)


def _add_rehearse(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("scenario", nargs="?", default="lock_gate_30min", metavar="SCENARIO")
    parser.add_argument("--list", action="store_true", help="the scenarios, one a line")
    parser.add_argument("--rate", type=_rate, metavar="N", help="ceiling of the speed over real time")
    parser.add_argument("--seed", type=int, metavar="N", help="another seed than the scenario's own")
    parser.add_argument("--log", type=Path, metavar="FILE", help="the log; must not exist")
    parser.add_argument(
        "--truth", type=Path, metavar="FILE", help="write what really happened, as JSON lines"
    )
    _add_outputs(parser)
    _add_sound(parser)
    parser.set_defaults(command=_rehearse)


def _add_replay(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("log", type=Path, metavar="LOG")
    parser.add_argument("--rate", type=_rate, metavar="N", help="speed over real time, 1 to 300 in windows")
    parser.add_argument("--from", dest="start", metavar="HH:MM:SS", help="begin at this time of day, UTC")
    _add_outputs(parser)
    parser.set_defaults(command=_replay)


def _add_verify(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("log", type=Path, metavar="LOG")
    parser.add_argument("--json", action="store_true", help="the verdict as one JSON object")
    parser.add_argument("--headless", action="store_true", help="taken and not needed: there are no windows")
    parser.set_defaults(command=_verify)


def _add_record(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("logs", nargs="*", type=Path, metavar="LOG")
    parser.add_argument("--out", type=Path, metavar="DIR", help="where the files go; here, if left out")
    parser.add_argument("--format", default="pdf,csv,json", help="of pdf,csv,json; all, if left out")
    parser.add_argument("--rules", default="osha", help="of osha,uscg,uk; osha, if left out")
    parser.add_argument(
        "--particulars", type=Path, metavar="FILE", help="particulars that were written down after the dive"
    )
    parser.add_argument(
        "--take-over", action="store_true", help="the sheet to go on by hand from the end of the log"
    )
    parser.add_argument("--book", type=Path, metavar="DIR", help="the book of all logs in a folder")
    parser.add_argument("--find", default="", metavar="WORDS", help="only dives of the book with these words")
    parser.add_argument("--headless", action="store_true", help="taken and not needed: there are no windows")
    parser.set_defaults(command=_record)


def _add_ports(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--listen", metavar="PORT", help="show what this port says")
    parser.add_argument("--headless", action="store_true", help="taken and not needed: there are no windows")
    parser.set_defaults(command=_ports)


def _add_plan(parser: argparse.ArgumentParser) -> None:
    add_plan(parser)
    parser.set_defaults(command=_plan)


def _add_tables(parser: argparse.ArgumentParser) -> None:
    add_tables(parser)
    parser.set_defaults(command=_tables)


def _rate(text: str) -> float:
    rate = float(text)
    if not 0 < rate < float("inf"):
        raise argparse.ArgumentTypeError(f"{text} is not a speed above zero")
    return rate


def _watch(options: argparse.Namespace) -> int:
    from station.compose.watch import watch_command  # noqa: PLC0415 - imported when chosen

    return watch_command(options)


def _rehearse(options: argparse.Namespace) -> int:
    from station.compose.rehearse import rehearse_command  # noqa: PLC0415 - imported when chosen

    return rehearse_command(options)


def _replay(options: argparse.Namespace) -> int:
    from station.compose.replay import replay_command  # noqa: PLC0415 - imported when chosen

    return replay_command(options)


def _verify(options: argparse.Namespace) -> int:
    from station.compose.verify import verify_command  # noqa: PLC0415 - imported when chosen

    return verify_command(options)


def _plan(options: argparse.Namespace) -> int:
    from station.compose.plan import plan_command  # noqa: PLC0415 - imported when chosen

    return plan_command(options)


def _tables(options: argparse.Namespace) -> int:
    from station.compose.tables import tables_command  # noqa: PLC0415 - imported when chosen

    return tables_command(options)


def _record(options: argparse.Namespace) -> int:
    from station.compose.record import record_command  # noqa: PLC0415 - imported when chosen

    return record_command(options)


def _ports(options: argparse.Namespace) -> int:
    from station.compose.ports import ports_command  # noqa: PLC0415 - imported when chosen

    return ports_command(options)


def _stop(message: str, status: int) -> int:
    sys.stderr.write(f"overbottom: {message}\n")
    return status


def _let_go_of_stdout() -> None:
    """What could not be told must not trip the interpreter's last flush."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, sys.stdout.fileno())
    os.close(nowhere)


if __name__ == "__main__":
    sys.exit(main())
