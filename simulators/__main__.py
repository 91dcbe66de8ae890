"""A simulated dive in a process of its own: `python -P -m simulators --scenario NAME_OR_PATH`.

Standard input and output are the conductor's pipe; messages go to standard error. Exit status: 0 done, or
left off because the station closed the pipe; 2 bad arguments or files; 3 stopped by a fault.
"""

import argparse
import os
import signal
import sys
from contextlib import AbstractContextManager, ExitStack, suppress
from contextlib import closing as closing_after
from pathlib import Path

from shared.toml_file import FileFault, Problem
from simulators.lines import Lines, LineTrouble
from simulators.rehearsal import ProtocolBroken, Rehearsal, StationGone
from simulators.scenario import Scenario
from simulators.scenario_file import find_scenario, list_scenarios, read_scenario
from simulators.socket_lines import SocketLines
from simulators.truth_record import TruthRecord

DONE, BAD_FILES, FAULT = 0, 2, 3


def main(arguments: list[str] | None = None) -> int:
    """Run the simulator; the exit status."""
    options = _parser().parse_args(arguments)
    # Ctrl-C reaches the whole group of processes: the station decides, and closes the pipe.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, lambda number, _: sys.exit(128 + number))
    try:
        if options.list:
            return _list()
        return _rehearse(read_scenario(find_scenario(options.scenario), options.seed), options)
    except FileFault as fault:
        return _stop(str(fault), BAD_FILES)
    except (LineTrouble, ProtocolBroken) as fault:
        return _stop(str(fault), FAULT)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="simulators", description=__doc__)
    what = parser.add_mutually_exclusive_group(required=True)
    what.add_argument("--scenario", help="a scenario of the program's by its name, or a file")
    what.add_argument("--list", action="store_true", help="the scenarios of the program, one a line")
    parser.add_argument("--seed", type=int, help="another seed than the scenario's own")
    kind = "pty" if os.name == "posix" else "socket"
    parser.add_argument("--lines", choices=("pty", "socket"), default=kind, help="what the lines are")
    parser.add_argument("--truth", type=Path, help="write what really happened to this file, as JSON lines")
    return parser


def _list() -> int:
    for name, title, purpose in list_scenarios():
        sys.stdout.write(f"{name}\t{title}\t{purpose}\n")
    return DONE


def _rehearse(scenario: Scenario, options: argparse.Namespace) -> int:
    with ExitStack() as closing:
        truth = _truth(scenario, options.truth, closing)
        lines = closing.enter_context(_lines(options.lines))
        # A station that has seen enough closes the pipe: the rehearsal is over in good order.
        with suppress(StationGone):
            Rehearsal(scenario, lines, sys.stdin.buffer, sys.stdout.buffer).run(truth)
    return DONE


def _truth(scenario: Scenario, path: Path | None, closing: ExitStack) -> TruthRecord | None:
    if path is None:
        return None
    try:
        out = closing.enter_context(path.open("w", encoding="utf-8"))
    except OSError as error:
        raise FileFault(str(path), (Problem(0, "", error.strerror or str(error)),)) from error
    truth = TruthRecord(out, scenario)
    closing.callback(truth.finish)
    return truth


def _lines(kind: str) -> AbstractContextManager[Lines]:
    if kind == "socket":
        return closing_after(SocketLines())
    # Pseudo-terminals need modules that not every system has.
    from simulators.pty_lines import PtyLines  # noqa: PLC0415

    return closing_after(PtyLines())


def _stop(message: str, status: int) -> int:
    sys.stderr.write(f"{message}\n")
    return status


if __name__ == "__main__":
    sys.exit(main())
