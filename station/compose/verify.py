"""`overbottom verify`: the log held against itself and against a replay."""

import argparse
import json
import sys

from drivers.decode import hear
from station.verify import Verdict, verify

HOLDS, DOES_NOT_HOLD = 0, 1


def verify_command(options: argparse.Namespace) -> int:
    """Verify one log; exit status 0 when it holds, 1 when it does not. Raises LogFault when it is none."""
    verdict = verify(options.log, hear)
    if options.json:
        sys.stdout.write(json.dumps(verdict.to_plain(), ensure_ascii=False) + "\n")
    else:
        sys.stdout.write(_told(verdict))
    return HOLDS if verdict.holds else DOES_NOT_HOLD


def _told(verdict: Verdict) -> str:
    report, replayed = verdict.integrity, verdict.replayed
    lines = [
        f"{verdict.path}: {'closed' if report.closed else 'not closed'}, "
        f"{report.batches} batches, {report.arrivals} records, head {report.head}",
        *(f"  {finding.check.value}: {finding.sentence}" for finding in report.findings),
        "whole" if report.sound else "NOT WHOLE",
    ]
    if verdict.other_tables:
        lines.append(verdict.other_tables)
    if replayed.difference is None:
        lines.append(f"the replay gives every one of {replayed.compared} derived records again")
    else:
        difference = replayed.difference
        word = "THE REPLAY DIFFERS" if verdict.of_this_program else "by another version or tables; it differs"
        lines += [
            f"{word} at record {difference.seq}:",
            f"  recorded {difference.recorded}",
            f"  replayed {difference.replayed}",
        ]
    return "\n".join([*lines, ""])
