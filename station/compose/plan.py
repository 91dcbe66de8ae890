"""`overbottom plan`: the schedule, the ascent and the next rows of a planned dive."""

import argparse
import json
import sys

from station.caution import CAUTION
from station.core.decompression.answers import NotCovered
from station.core.decompression.ascent import AscentPlan
from station.core.decompression.durations import clock_words
from station.core.decompression.plan import plan_json
from station.core.decompression.planning import Plan, PlanAsked, plan_dive
from station.core.decompression.schedule import Schedule
from station.present.schedule_words import cost_words, due_words, row_words
from station.table_files import load_tables

DONE, NOT_COVERED, BAD_ARGUMENTS = 0, 1, 2


def plan_command(options: argparse.Namespace) -> int:
    """Plan one dive. Exit status 1 when the tables have no schedule for it, 2 for a group they lack."""
    tables = load_tables(options.tables)
    if options.group is not None and options.group not in tables.groups:
        sys.stderr.write(f"overbottom: --group {options.group}: none of {', '.join(tables.groups)}\n")
        return BAD_ARGUMENTS
    if options.interval is not None and options.group is None:
        sys.stderr.write("overbottom: --interval counts from a --group; none is given\n")
        return BAD_ARGUMENTS
    asked = PlanAsked(
        options.depth,
        options.time * 60,
        options.mode,
        corrected=options.corrected,
        group=options.group,
        interval_s=options.interval,
        altitude_ft=options.altitude,
        cold=options.cold,
        shallow=options.shallow,
        zeroed=not options.not_zeroed,
    )
    planned = plan_dive(tables, asked)
    if options.json:
        sys.stdout.write(json.dumps(plan_json(tables, planned), ensure_ascii=False) + "\n")
    else:
        sys.stdout.write("\n".join(plan_lines(planned)) + "\n")
    return NOT_COVERED if isinstance(planned.answer, NotCovered) else DONE


def plan_lines(planned: Plan) -> list[str]:
    """A plan to read."""
    if isinstance(planned.answer, NotCovered):
        return [*_refused(planned.answer), "", f"{CAUTION}."]
    return [
        *_entered(planned, planned.answer),
        *_scheduled(planned.answer),
        *_ahead(planned),
        *_timed(planned.ascent),
        *_opinion(planned),
        "Rules: " + ", ".join(f"{rule.id} {rule.tag}" for rule in planned.rules),
        *(f"Note on the row: {note.sentence}" for note in planned.answer.notes),
        "",
        f"{CAUTION}.",
    ]


def _refused(answer: NotCovered) -> list[str]:
    lines = [f"No schedule. {answer.sentence}", f"Consult {answer.consult}. Rule {answer.rule.id}."]
    if answer.too_short is not None:
        lines.append(f"The last row, {answer.too_short.depth_fsw}/{answer.too_short.time_min}, is TOO SHORT.")
    return lines


def _entered(planned: Plan, answer: Schedule) -> list[str]:
    depth, lines = planned.depth, []
    if depth is not None and depth.gauge_fsw is not None and depth.correction_fsw is not None:
        lines.append(
            f"Gauge {depth.gauge_fsw:g} fsw, correction {depth.correction_fsw:+g}: {depth.max_fsw:g} fsw"
        )
    elif depth is not None:
        lines.append(f"Maximum depth {depth.max_fsw:g} fsw, corrected already")
    if depth is not None and depth.equivalent_fsw is not None:
        lines.append(f"At {planned.asked.altitude_ft:g} ft that counts as {depth.equivalent_fsw:.1f} fsw")
    if planned.asked.group is not None:
        now = planned.group_at_dive or "not repetitive"
        lines.append(f"Group {planned.asked.group} before, at the dive {now}")
    lines.append(
        f"Bottom time {answer.bottom_min} min + residual nitrogen time {answer.residual_min} min"
        f" = {answer.equivalent_min} min"
    )
    return lines


def _scheduled(answer: Schedule) -> list[str]:
    group = f"group {answer.group}" if answer.group else "no group given: no further dive by these tables"
    kind = "exceptional exposure" if answer.exceptional else answer.category.value.replace("_", " ")
    return [
        f"{answer.table}, {row_words(answer)}: {due_words(answer)}",
        f"Total ascent {clock_words(answer.total_ascent_s)}, {group}, {kind}",
    ]


def _ahead(planned: Plan) -> list[str]:
    lines = []
    if planned.next_longer is not None:
        after = clock_words(planned.next_longer.in_s)
        lines.append(f"Longer by more than {after}: {cost_words(planned.next_longer.cost)}")
    if planned.next_deeper is not None:
        more = planned.next_deeper.in_fsw
        lines.append(f"Deeper by more than {more:.1f} fsw: {cost_words(planned.next_deeper.cost)}")
    return lines


def _timed(ascent: AscentPlan | None) -> list[str]:
    if ascent is None:
        return []
    return ["Ascent, from leaving the bottom:"] + [
        f"  {clock_words(leg.start_s):>7} to {clock_words(leg.end_s):>7}  "
        f"{leg.from_fsw:5.1f} to {leg.to_fsw:5.1f} fsw  {leg.gas.value:6}  {leg.what.value}: {leg.reason}"
        for leg in ascent.legs
    ]


def _opinion(planned: Plan) -> list[str]:
    return [] if planned.opinion is None else list(planned.opinion.sentences)
