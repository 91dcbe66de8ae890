"""The page of one diver and one dive: what an inspector reads, in the order in which he asks."""

from itertools import groupby
from typing import Final

import numpy as np

from shared.clock import EPOCH, Instant
from shared.gauges import Channel, Gauge
from shared.units import NS_PER_S
from station.caution import CAUTION
from station.present.figures import (
    clock_digits,
    depth_text,
    pressure_text,
    span_text,
)
from station.record.completeness import Completeness, completeness_of, told_about, value_of
from station.record.dive_charts import depth_chart, supply_chart
from station.record.model import AlarmRun, Dive, LegLine, MarkMade, Record, ScheduleRow, Told
from station.record.particulars import BY_KEY
from station.record.profiles import RulesProfile
from station.record.sheet import (
    Blanks,
    Block,
    Facts,
    Figures,
    Lines,
    Pair,
    Sheet,
    Table,
    bounded,
)
from station.record.words import clock_text, entry_words, mark_words, shown, told_elsewhere

UNKNOWN: Final = "not known"
_CONDITIONS: Final = ("weather", "visibility", "water_temperature", "current")
_LISTED: Final = {"hose_blown": "Hose blown", "voice_answered": "Voice answered"}
"""Entries that come many times a dive: told by their times only."""


def dive_sheet(
    record: Record, dive: Dive, rules: tuple[RulesProfile, ...], added: tuple[Told, ...] = ()
) -> Sheet:
    """The page of one dive, held against these rules."""
    told = told_about(record, dive, added)
    found = tuple(completeness_of(record, dive, profile, added) for profile in rules)
    blocks: list[Block] = [
        Facts("", _particulars(record, dive, told), 3),
        _figures(record, dive),
        depth_chart(record, dive),
        supply_chart(record, dive),
        Pair(
            (_marks(record, dive), _gear(record, dive)), (_schedule(record, dive), _air(record, dive)), 0.55
        ),
        *_ascent(dive),
        _alarms(record, dive),
        _entries(record, dive),
        _further(told, added),
        *(_missing(one) for one in found),
        _log(record),
        Blanks("", ("Signature of the supervisor, date", "Signature of the diver, date")),
    ]
    number = f"dive {dive.number}, {record.utc(dive.times.left_surface or EPOCH):%Y-%m-%d}"
    return Sheet(
        shown(record.settings.station, 80),
        f"Dive record: {shown(dive.post.person, 60)} ({shown(dive.diver, 40)})",
        number,
        banner_of(record.header.mode),
        tuple(block for block in blocks if not _empty(block)),
        _foot(record),
    )


def banner_of(mode: str) -> str:
    """What a page that tells of no real dive says over its whole width."""
    return "" if mode == "live" else f"{shown(mode, 20).upper()}: not a real dive, no record of one"


def _empty(block: Block) -> bool:
    return isinstance(block, Facts | Lines) and not (block.rows if isinstance(block, Facts) else block.lines)


def _particulars(record: Record, dive: Dive, told: dict[str, Told]) -> tuple[tuple[str, str], ...]:
    def words(key: str) -> str:
        value = value_of(key, record, dive, told)
        if value is not None:
            return shown(value, 200)
        return shown(told[key].value, 200) if key in told else UNKNOWN

    post, settings = dive.post, record.settings
    others = [
        f"{shown(one.person, 60)} ({one.role.value})" for one in settings.divers if one.name != dive.diver
    ]
    planned = UNKNOWN
    if dive.planned_depth_fsw is not None and dive.planned_bottom_min is not None:
        planned = f"{depth_text(dive.planned_depth_fsw, settings.units)}, {dive.planned_bottom_min} min"
    return (
        ("Diver", shown(post.person, 60) or UNKNOWN),
        ("Tender", shown(post.tender, 60) or UNKNOWN),
        ("Supervisor", words("supervisor")),
        ("Person in charge", words("person_in_charge")),
        ("Other divers", "; ".join(others) or "none"),
        ("Contractor", words("contractor")),
        ("Place", words("place")),
        ("Vessel", words("vessel")),
        ("Work", words("work")),
        ("Mode", words("modes")),
        ("Breathing gas", words("gas")),
        ("Planned", planned),
        *((BY_KEY[key].label, words(key)) for key in _CONDITIONS),
        ("Last exposure", words("last_exposure")),
        ("Emergency support", words("emergency")),
    )


def _figures(record: Record, dive: Dive) -> Figures:
    units, times, depth = record.settings.units, dive.times, dive.depth
    deepest, max_fsw = dive.deepest_gauge_fsw, depth.max_fsw
    under = "" if deepest is None else f"gauge {depth_text(deepest, units)}, table {depth.table_fsw} fsw"
    ends = "" if times.left_bottom or times.reached_surface else ", not over"
    counts = "" if times.bottom_min is None else f"counts as {times.bottom_min} min{ends}"
    bottom = UNKNOWN if times.bottom_s is None else clock_digits(times.bottom_s)
    return Figures(
        (
            ("Maximum depth", UNKNOWN if max_fsw is None else depth_text(max_fsw, units), under),
            ("Bottom time, min:s", bottom, counts),
            ("Left surface", *_moment(record, times.left_surface, presumed=times.presumed)),
            ("Left bottom", *_moment(record, times.left_bottom)),
            ("Reached surface", *_moment(record, times.reached_surface)),
        )
    )


def _moment(record: Record, at: Instant | None, *, presumed: bool = False) -> tuple[str, str]:
    if at is None:
        return "-", "not marked"
    return clock_text(record, at), "UTC, by the trace" if presumed else "UTC"


def _marks(record: Record, dive: Dive) -> Table:
    rows: list[tuple[str, ...]] = []
    for mark in dive.marks:
        held = clock_text(record, mark.at) or "taken back"
        late_s = (mark.pressed_at - mark.first_at) // NS_PER_S
        late = f", pressed {span_text(late_s)} later" if late_s > 0 else ""
        by = f"{shown(mark.by, 40)}{late}" if mark.number else "by the depth trace, nobody marked it"
        rows.append((mark_words(mark), held, by))
        rows += _corrections(record, mark)
    return Table("Marks and corrections (UTC)", ("Mark", "Time", "By"), (3, 2.2, 5), bounded(tuple(rows)))


def _corrections(record: Record, mark: MarkMade) -> list[tuple[str, ...]]:
    """One row for each later word, with what stood before it; the first of them is the first entry."""
    rows: list[tuple[str, ...]] = []
    before: Instant | None = mark.first_at
    for word in mark.corrections:
        was = f"was {clock_text(record, before) or 'taken back'}"
        why = f"{shown(word.by, 40)} at {clock_text(record, word.at)}: {shown(word.reason, 200)}"
        rows.append(("  corrected", was, why))
        before = word.to
    return rows


def _schedule(record: Record, dive: Dive) -> Facts | Lines:
    row = dive.schedule
    if row is None:
        return Lines(
            "Decompression schedule",
            (
                f"None: {shown(dive.no_schedule, 300)}",
                "Table and row as used, by hand: ______________________",
            ),
        )
    stops = ", ".join(f"{minutes} min at {depth} fsw" for depth, minutes in row.stops) or "none"
    return Facts(
        "Decompression schedule",
        (
            ("Table", shown(row.table, 120)),
            ("Edition", _edition(record, row)),
            ("Row", _row_words(row)),
            ("Residual", f"{row.residual_min} min"),
            ("Stops", stops),
            ("Ascent", f"{clock_digits(row.total_ascent_s)} in all, min:s"),
            ("Group after", row.group or "not given"),
            ("Category", f"{row.category}{', exceptional exposure' if row.exceptional else ''}"),
        ),
        2,
    )


def _row_words(row: ScheduleRow) -> str:
    if row.stops or row.time_min is None:
        return f"{row.depth_fsw} fsw / {'no limit' if row.time_min is None else f'{row.time_min} min'}"
    return f"{row.depth_fsw} fsw, limit {row.time_min} min"


def _edition(record: Record, row: ScheduleRow) -> str:
    """The edition of the tables; both where the log was made with others than this record."""
    used = shown(record.header.tables, 120)
    return used if used == row.edition else f"on watch {used}; this page {shown(row.edition, 120)}"


def _ascent(dive: Dive) -> list[Block]:
    """Legs planned and done, and every change of the plan, where the log has them."""
    blocks: list[Block] = []
    row = dive.schedule
    if row is not None and (row.stops or dive.plan_steps):
        blocks.append(Pair((_legs("Ascent planned", row.planned),), (_legs("Ascent done", row.done),)))
    if dive.plan_steps:
        steps = tuple((shown(step.rule, 8), shown(step.sentence, 300)) for step in dive.plan_steps)
        blocks.append(Table("Changes of the plan", ("Rule", "What"), (1, 12), bounded(steps)))
    return blocks


def _way(leg: LegLine) -> str:
    to = f"{round(leg.to_fsw, 1):g}"
    return to if leg.from_fsw == leg.to_fsw else f"{round(leg.from_fsw, 1):g} to {to}"


def _legs(title: str, legs: tuple[LegLine, ...]) -> Table:
    rows = tuple(
        (
            _way(leg),
            f"{clock_digits(leg.start_s)} to {clock_digits(leg.end_s)}",
            f"{leg.what}, {leg.gas}{': ' if leg.reason else ''}{shown(leg.reason, 120)}",
        )
        for leg in legs
    )
    return Table(f"{title} (from leaving the bottom)", ("fsw", "min:s", "What"), (2, 3, 5), bounded(rows))


def _alarms(record: Record, dive: Dive) -> Table:
    rows = tuple(_alarm_row(record, n, run) for n, run in enumerate(dive.alarms, 1))
    head = ("No", "Priority", "Raised", "Returned", "Lasted", "What", "Acknowledged")
    return Table("Alarms (UTC)", head, (0.6, 2, 1.6, 1.6, 1.5, 5, 4.4), bounded(rows))


def _alarm_row(record: Record, number: int, run: AlarmRun) -> tuple[str, ...]:
    lasted = "" if run.returned_at is None else span_text((run.returned_at - run.raised_at) / NS_PER_S)
    seen = "never"
    if run.acknowledged_at is not None:
        seen = f"{clock_text(record, run.acknowledged_at)} {shown(run.acknowledged_by, 40)}"
    back = clock_text(record, run.returned_at) or "stood at the end"
    raised = clock_text(record, run.raised_at)
    return (str(number), run.priority.value.upper(), raised, back, lasted, shown(run.what, 200), seen)


def _air(record: Record, dive: Dive) -> Facts:
    units, supply = record.settings.units, dive.post.supply
    bank = next((bank for bank in record.banks if bank.name == supply), None)
    rows = [("Supply", shown(supply if bank is None else bank.title, 60))]
    heard = np.array([]) if bank is None else bank.pressure_psig[np.isfinite(bank.pressure_psig)]
    if heard.size:
        ends = f"{pressure_text(float(heard[0]), units)} to {pressure_text(float(heard[-1]), units)}"
        rows.append(("Bank over the log", ends))
    least = dive.least_margin
    if least is not None:
        margin = f"{pressure_text(least[0], units)} at {clock_text(record, least[1])}"
        rows.append(("Least margin over the minimum", margin))
    return Facts("Air", tuple(rows), 1)


def _gear(record: Record, dive: Dive) -> Facts:
    mine = {Channel.DEPTH: dive.diver, Channel.SUPPLY: dive.diver, Channel.BANK: dive.post.supply}
    rows = tuple(
        (shown(gauge.name, 40), f"{gauge.channel.value}, {_proof_of(gauge)}, {_faults(record, gauge)}")
        for gauge in record.gauges
        if mine[gauge.channel] == gauge.subject
    )
    return Facts("Gauges", rows, 1)


def _proof_of(gauge: Gauge) -> str:
    proof = gauge.calibration
    certificate = shown(proof.certificate, 40) or "no certificate given"
    return f"{certificate}, proved {proof.on or UNKNOWN}, due {proof.due or UNKNOWN}"


def _faults(record: Record, gauge: Gauge) -> str:
    count = record.gauge_faults[gauge.name]
    return f"{count} bad readings" if count else "no bad reading"


def _entries(record: Record, dive: Dive) -> Table:
    kept = [one for one in dive.entries if not told_elsewhere(one)]
    rows = []
    for kind, title in _LISTED.items():
        times = [clock_text(record, one.at) for one in kept if one.kind == kind and not one.refused]
        if times:
            rows.append(
                (f"{len(times)} times" if len(times) > 1 else "once", "", f"{title}: {', '.join(times[:60])}")
            )
    rows += [
        (clock_text(record, one.at), shown(one.by, 40), entry_words(one, record.settings.units))
        for one in kept
        if one.kind not in _LISTED or one.refused
    ]
    return Table(
        "Remarks, checks and signals (UTC)", ("Time", "By", "What"), (1.7, 2.6, 12), bounded(tuple(rows))
    )


def _further(told: dict[str, Told], added: tuple[Told, ...]) -> Facts:
    """What happened after the dive, where somebody wrote it down; what was added later says so."""
    keys = (
        "checked_well", "incidents", "injury", "defects", "deviation", "dcs", "symptoms", "onset",
        "treatment", "assessment", "code",
    )  # fmt: skip
    rows = [(BY_KEY[key].label, shown(told[key].value, 400)) for key in keys if key in told]
    late = [one for one in added if told.get(one.key) is one]
    if late:
        names = ", ".join(BY_KEY[one.key].label.lower() for one in late)
        rows.append(("Added after the dive", f"{names}; by {shown(late[0].by, 40)}, not in the log"))
    return Facts("Further particulars", tuple(rows), 2)


def _missing(found: Completeness) -> Lines:
    title = f"{found.profile.title}: {found.standing.value}"
    lines = [
        f"missing: {one.required.what} ({one.required.source}); stated: {shown(one.stated, 200)}"
        for one in found.missing
        if one.stated
    ]
    unstated = [one.required for one in found.missing if not one.stated]
    if unstated:
        by_source = groupby(unstated, lambda one: one.source)
        told = (f"{', '.join(one.what for one in same)} ({source})" for source, same in by_source)
        lines.append(f"missing, no reason given: {'; '.join(told)}")
    return Lines(title, tuple(lines) or ("nothing that it asks for is missing",))


def _log(record: Record) -> Lines:
    """What else is to be known of the log: what does not hold, when nobody was on watch, the log before."""
    found = record.integrity
    lines = [f"{one.check.value}: {shown(one.sentence, 300)}" for one in found.findings[:5]]
    if len(found.findings) > 5:
        lines.append(f"{len(found.findings) - 5} more: run the command verify on the log")
    lines += [
        f"off watch {clock_text(record, gap.start)} to {clock_text(record, gap.end)}"
        + ("" if gap.known else ", how long is not known")
        for gap in record.gaps
    ]
    if record.header.head_before:
        lines.append(f"head digest of the log before: {shown(record.header.head_before, 80)}")
    return Lines("The log", tuple(lines))


def _foot(record: Record) -> tuple[str, ...]:
    found = record.integrity
    closed = "closed" if found.closed else "NOT CLOSED"
    whole = "whole" if found.sound else "NOT WHOLE"
    return (
        f"{CAUTION}. Correct in writing on this page only with name and date.",
        f"Log {shown(record.path.name, 60)}: {closed}, {found.arrivals} records, {whole}, program "
        f"{shown(record.header.program, 20)}. Head digest {found.head}",
    )
