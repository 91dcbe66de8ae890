"""The timekeeper's keys: what may be marked, what is marked and in the log, what comes next."""

from typing import Final

from shared.clock import Instant, after, seconds_between
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
}

_NEXT: Final = {
    Phase.DRESSED: MarkKind.LEFT_SURFACE,
    Phase.DESCENDING: MarkKind.REACHED_BOTTOM,
    Phase.ON_BOTTOM: MarkKind.LEFT_BOTTOM,
    Phase.ASCENDING: MarkKind.REACHED_SURFACE,
    Phase.AT_STOP: MarkKind.LEFT_STOP,
}

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
    if stop_fsw is None:
        return _TITLES[kind]
    return f"{'Reached' if kind is MarkKind.REACHED_STOP else 'Left'} {stop_fsw:g} fsw"


def keeping_of(state: State, diver: DiverState, clock: Number, committed_seq: int) -> Timekeeping:
    """One diver at the timekeeper's window; marks after `committed_seq` are not yet in the log."""
    marks = effective_marks(diver)
    seqs = (*(mark.seq for mark in diver.marks), *(word.seq for word in diver.amendments))
    pending = any(seq > committed_seq for seq in seqs)
    keys = tuple(_mark_key(state, diver, kind, marks, committed_seq) for kind in MarkKind)
    return Timekeeping(
        diver.dive,
        phase_words(diver),
        f"{clock.value} {clock.unit}" if clock.value else "",
        clock,
        _next_key(state, diver, marks, pending=pending),
        keys,
        _other_keys(state, diver),
        tuple(
            (back_s, f"{back_s} s ago") for back_s in state.settings.parameters.mark_steps_back_s if back_s
        ),
        _last(state, diver, marks, committed_seq),
    )


def _stop_left(diver: DiverState, marks: tuple[Mark, ...], kind: MarkKind) -> float | None:
    """The stop that a LEFT_STOP would leave."""
    is_leaving = kind is MarkKind.LEFT_STOP and phase_of(diver) is Phase.AT_STOP
    return marks[-1].stop_fsw if is_leaving and marks else None


def _mark_key(
    state: State, diver: DiverState, kind: MarkKind, marks: tuple[Mark, ...], committed_seq: int
) -> EventKey:
    phase = phase_of(diver)
    made = [mark for mark in marks if mark.kind is kind and mark.number]
    when = clock_text(state, made[-1].at) if made else ""
    stop_fsw = _stop_left(diver, marks, kind)
    title = mark_title(kind, stop_fsw)
    if made and made[-1].seq > committed_seq:
        return EventKey(kind.value, mark_title(kind, made[-1].stop_fsw), when, KeyState.MARKING, stop_fsw)
    if _NEXT.get(phase) is kind or (
        kind is MarkKind.LEFT_SURFACE and not made and phase is not Phase.DRESSED
    ):
        return EventKey(kind.value, title, _next_detail(state, diver, kind), KeyState.NEXT, stop_fsw)
    if next_phase(phase, kind) is not None:
        return EventKey(kind.value, title, f"marked {when}" if when else "", KeyState.OPEN, stop_fsw)
    if made:
        return EventKey(kind.value, mark_title(kind, made[-1].stop_fsw), when, KeyState.DONE, stop_fsw)
    return EventKey(kind.value, title, "", KeyState.SHUT, stop_fsw)


def _next_detail(state: State, diver: DiverState, kind: MarkKind) -> str:
    proposed = [proposal.at for proposal in diver.proposals if proposal.kind is kind]
    return f"trace {clock_text(state, proposed[-1])}" if proposed else "next"


def _next_key(state: State, diver: DiverState, marks: tuple[Mark, ...], *, pending: bool) -> EventKey | None:
    phase = phase_of(diver)
    if phase in (Phase.SURFACED, Phase.DONE):
        detail = "opens his next dive"
        return EventKey("next_dive", "Dressed again", detail, KeyState.MARKING if pending else KeyState.NEXT)
    kind = _NEXT.get(phase)
    if any(mark.kind is MarkKind.LEFT_SURFACE and not mark.number for mark in marks):
        # The trace shows him under way and nobody has marked it: that mark comes first.
        kind = MarkKind.LEFT_SURFACE
    if kind is None:
        return None
    stop_fsw = _stop_left(diver, marks, kind)
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
