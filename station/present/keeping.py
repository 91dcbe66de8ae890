"""The timekeeper's keys: what may be marked, what is marked and in the log, what comes next."""

from typing import Final

from shared.clock import Instant, after, seconds_between
from station.core.books import Books
from station.core.by_table.asked import Place
from station.core.by_table.coming_up import Ascent, Followed, ascent_of
from station.core.decompression.answers import Mode
from station.core.inputs import MarkKind
from station.core.phase import Phase, next_phase
from station.core.state import DiverState, LogEntry, Mark, State
from station.core.timekeeping import effective_marks, phase_of
from station.present.figures import span_text
from station.present.looks import EventKey, Fact, KeyState, LastMark, Number, Shift, Timekeeping
from station.present.sentences import clock_text

PHASE_WORDS: Final = {
    Phase.DRESSED: "Dressed",
    Phase.DESCENDING: "Going down",
    Phase.ON_BOTTOM: "On the bottom",
    Phase.ASCENDING: "Coming up",
    Phase.AT_STOP: "At a stop",
    Phase.SURFACED: "At the surface",
    Phase.CHAMBER: "In the chamber",
    Phase.DONE: "Dive done",
}

_TITLES: Final = {
    MarkKind.LEFT_SURFACE: "Left surface",
    MarkKind.REACHED_BOTTOM: "Reached bottom",
    MarkKind.LEFT_BOTTOM: "Left bottom",
    MarkKind.REACHED_STOP: "Reached stop",
    MarkKind.LEFT_STOP: "Left stop",
    MarkKind.REACHED_SURFACE: "Reached surface",
    MarkKind.ON_OXYGEN: "On oxygen",
    MarkKind.OFF_OXYGEN: "Off oxygen",
    MarkKind.REACHED_CHAMBER: "50 fsw in chamber",
    MarkKind.LEFT_CHAMBER: "Left chamber depth",
}

_NEXT: Final = {
    Phase.DRESSED: MarkKind.LEFT_SURFACE,
    Phase.DESCENDING: MarkKind.REACHED_BOTTOM,
    Phase.ON_BOTTOM: MarkKind.LEFT_BOTTOM,
    Phase.ASCENDING: MarkKind.REACHED_SURFACE,
    Phase.AT_STOP: MarkKind.LEFT_STOP,
}

_KEYS: Final = tuple(MarkKind)[:6]
_KEYS_ON_OXYGEN: Final = (
    MarkKind.LEFT_BOTTOM,
    MarkKind.REACHED_STOP,
    MarkKind.ON_OXYGEN,
    MarkKind.OFF_OXYGEN,
    MarkKind.LEFT_STOP,
    MarkKind.REACHED_SURFACE,
)
_KEYS_IN_CHAMBER: Final = (
    MarkKind.LEFT_BOTTOM,
    MarkKind.REACHED_SURFACE,
    MarkKind.REACHED_CHAMBER,
    MarkKind.ON_OXYGEN,
    MarkKind.OFF_OXYGEN,
    MarkKind.LEFT_CHAMBER,
)
"""The six keys for each kind of ascent: what cannot come next needs no key."""

_SHIFTS_S: Final = (-60, -30, -15, 15, 30, 60)
"""What the last mark can be moved by with one press. Own choice."""


def phase_words(diver: DiverState) -> str:
    """Where the diver is in his dive, in words; a stop by its depth."""
    phase = phase_of(diver)
    if phase is Phase.AT_STOP:
        stop_fsw = effective_marks(diver)[-1].stop_fsw
        if stop_fsw is not None:
            return f"Stop at {stop_fsw:g} fsw"
    return PHASE_WORDS[phase]


def mark_title(kind: MarkKind, stop_fsw: float | None) -> str:
    """What a mark is called; a stop by its depth, which is in fsw as the tables print it."""
    if stop_fsw is None or kind not in (MarkKind.REACHED_STOP, MarkKind.LEFT_STOP):
        return _TITLES[kind]
    return f"{'Reached' if kind is MarkKind.REACHED_STOP else 'Left'} {stop_fsw:g} fsw"


def keeping_of(
    state: State, diver: DiverState, clock: Number, committed_seq: int, books: Books
) -> Timekeeping:
    """One diver at the timekeeper's window; marks after `committed_seq` are not yet in the log."""
    marks = effective_marks(diver)
    seqs = (*(mark.seq for mark in diver.marks), *(word.seq for word in diver.amendments))
    pending = any(seq > committed_seq for seq in seqs)
    due = _due(state, diver, books)
    keys = tuple(_mark_key(state, diver, kind, marks, committed_seq, due=due) for kind in _kinds(diver))
    return Timekeeping(
        diver.dive,
        phase_words(diver),
        f"{clock.value} {clock.unit}" if clock.value else "",
        clock,
        _next_key(state, diver, marks, due, pending=pending),
        keys,
        _other_keys(state, diver),
        tuple(
            (back_s, f"{back_s} s ago") for back_s in state.settings.parameters.mark_steps_back_s if back_s
        ),
        _last(state, diver, marks, committed_seq),
    )


def _kinds(diver: DiverState) -> tuple[MarkKind, ...]:
    """The marks that have a key, by the way of decompressing and the phase."""
    phase = phase_of(diver)
    chamber = diver.mode is Mode.CHAMBER or any(shift.mode is Mode.CHAMBER for shift in diver.shifts)
    if phase is Phase.CHAMBER or (chamber and phase in (Phase.SURFACED, Phase.DONE)):
        return _KEYS_IN_CHAMBER
    if diver.mode is Mode.AIR_OXYGEN and phase in (Phase.ASCENDING, Phase.AT_STOP):
        return _KEYS_ON_OXYGEN
    return _KEYS


def _due(state: State, diver: DiverState, books: Books) -> Followed | None:
    """How his ascent stands; None while he has not left the bottom, or where the tables do not tell."""
    ascent = ascent_of(state, diver, books)
    return ascent.found if isinstance(ascent, Ascent) else None


def _next_kind(phase: Phase, due: Followed | None) -> MarkKind | None:
    """The mark that comes next: by the phase, and on the way up by the plan."""
    if due is None:
        return _NEXT.get(phase)
    if phase is Phase.ASCENDING:
        return MarkKind.REACHED_SURFACE if due.next_stop is None else MarkKind.REACHED_STOP
    if phase is Phase.AT_STOP and due.waits_for_oxygen:
        return MarkKind.ON_OXYGEN
    if phase is Phase.SURFACED and due.interval_runs:
        return MarkKind.REACHED_CHAMBER
    if phase is Phase.CHAMBER:
        return _next_in_chamber(due)
    return _NEXT.get(phase)


def _next_in_chamber(due: Followed) -> MarkKind:
    if due.place is Place.LEFT_CHAMBER:
        return MarkKind.REACHED_SURFACE
    return MarkKind.ON_OXYGEN if due.waits_for_oxygen else MarkKind.LEFT_CHAMBER


def _stop_of(
    diver: DiverState, marks: tuple[Mark, ...], kind: MarkKind, due: Followed | None
) -> float | None:
    """The stop that a LEFT_STOP would leave, or a REACHED_STOP reach."""
    if kind is MarkKind.LEFT_STOP and phase_of(diver) is Phase.AT_STOP:
        return marks[-1].stop_fsw if marks else None
    if kind is MarkKind.REACHED_STOP and due is not None and due.next_stop is not None:
        return float(due.next_stop.depth_fsw)
    return None


def _mark_key(
    state: State,
    diver: DiverState,
    kind: MarkKind,
    marks: tuple[Mark, ...],
    committed_seq: int,
    *,
    due: Followed | None,
) -> EventKey:
    phase = phase_of(diver)
    made = [mark for mark in marks if mark.kind is kind and mark.number]
    when = clock_text(state, made[-1].at) if made else ""
    stop_fsw = _stop_of(diver, marks, kind, due)
    title = mark_title(kind, stop_fsw)
    if made and made[-1].seq > committed_seq:
        return EventKey(kind.value, mark_title(kind, made[-1].stop_fsw), when, KeyState.MARKING, stop_fsw)
    if _next_kind(phase, due) is kind or (
        kind is MarkKind.LEFT_SURFACE and not made and phase is not Phase.DRESSED
    ):
        return EventKey(kind.value, title, _next_detail(state, diver, kind), KeyState.NEXT, stop_fsw)
    if kind is MarkKind.REACHED_STOP and stop_fsw is None:
        # No stop is due: a window has no depth to mark it with.
        return EventKey(kind.value, title, when, KeyState.DONE if made else KeyState.SHUT)
    if next_phase(phase, kind) is not None:
        return EventKey(kind.value, title, f"marked {when}" if when else "", KeyState.OPEN, stop_fsw)
    if made:
        return EventKey(kind.value, mark_title(kind, made[-1].stop_fsw), when, KeyState.DONE, stop_fsw)
    return EventKey(kind.value, title, "", KeyState.SHUT, stop_fsw)


def _next_detail(state: State, diver: DiverState, kind: MarkKind) -> str:
    proposed = [proposal.at for proposal in diver.proposals if proposal.kind is kind]
    return f"trace {clock_text(state, proposed[-1])}" if proposed else "next"


def _next_key(
    state: State, diver: DiverState, marks: tuple[Mark, ...], due: Followed | None, *, pending: bool
) -> EventKey | None:
    phase = phase_of(diver)
    kind = _next_kind(phase, due)
    if phase in (Phase.SURFACED, Phase.DONE) and kind is None:
        detail = "opens his next dive"
        return EventKey("next_dive", "Dressed again", detail, KeyState.MARKING if pending else KeyState.NEXT)
    if any(mark.kind is MarkKind.LEFT_SURFACE and not mark.number for mark in marks):
        # The trace shows him under way and nobody has marked it: that mark comes first.
        kind = MarkKind.LEFT_SURFACE
    if kind is None:
        return None
    stop_fsw = _stop_of(diver, marks, kind, due)
    proposed = [proposal.at for proposal in diver.proposals if proposal.kind is kind]
    detail = f"the trace says {clock_text(state, proposed[-1])}" if proposed else "one press marks it"
    return EventKey(
        kind.value,
        mark_title(kind, stop_fsw),
        detail,
        KeyState.MARKING if pending else KeyState.NEXT,
        stop_fsw,
    )


def _other_keys(state: State, diver: DiverState) -> tuple[EventKey, ...]:
    blown = "not yet" if diver.blown is None else _ago(state, diver.blown.at)
    if diver.blow_seen is not None:
        blown = f"trace {clock_text(state, diver.blow_seen)}"
    pull = "not yet"
    if diver.line_pull is not None:
        pull = f"{diver.line_pull.text}, {_ago(state, diver.line_pull.at)}"
    return (
        EventKey("hose_blown", "Hose blown", blown, KeyState.OPEN),
        EventKey(
            "voice_answered", "Voice answered", _entry_ago(state, diver.voice, "not yet"), KeyState.OPEN
        ),
        EventKey("line_pull", "Line pull", pull, KeyState.OPEN),
        EventKey(
            "asks_to_come_up",
            "Asks to come up",
            _entry_ago(state, diver.asked_up, "ends his work"),
            KeyState.OPEN,
        ),
        EventKey(
            "no_answer", "No answer", _entry_ago(state, diver.no_answer, "ends his work"), KeyState.OPEN
        ),
    )


def _entry_ago(state: State, entry: LogEntry | None, otherwise: str) -> str:
    return otherwise if entry is None else _ago(state, entry.at)


def _ago(state: State, at: Instant) -> str:
    return f"{span_text(max(0.0, seconds_between(at, state.now)))} ago"


def _last(state: State, diver: DiverState, marks: tuple[Mark, ...], committed_seq: int) -> LastMark | None:
    made = [mark for mark in marks if mark.number]
    if not made:
        return None
    mark = max(made, key=lambda mark: mark.number)
    amended = [word for word in diver.amendments if word.mark == mark.number]
    in_log = max([mark.seq, *(word.seq for word in amended)]) <= committed_seq
    first = next(first for first in diver.marks if first.number == mark.number)
    details = [f"by {mark.by}" if mark.by else "", _ago(state, mark.pressed_at)]
    details.append("in the log" if in_log else "marking")
    if first.at != mark.at:
        details.append(f"first marked {clock_text(state, first.at)}")
    return LastMark(
        mark.number,
        f"{mark_title(mark.kind, mark.stop_fsw)}, {clock_text(state, mark.at)}",
        ", ".join(detail for detail in details if detail),
        _shifts(state, mark),
    )


def _shifts(state: State, mark: Mark) -> tuple[Shift, ...]:
    moments = ((shift_s, after(mark.at, shift_s)) for shift_s in _SHIFTS_S)
    return tuple(
        Shift(to, f"{abs(shift_s)} s {'earlier' if shift_s < 0 else 'later'}", clock_text(state, to))
        for shift_s, to in moments
        if 0 <= to <= state.now
    )


def short_facts(person: str, status: str, rows: tuple[tuple[str, str], ...]) -> tuple[Fact, ...]:
    """What stands in the narrow column of a standby diver."""
    return (Fact("Person", person), Fact("State", status), *(Fact(*row) for row in rows))
