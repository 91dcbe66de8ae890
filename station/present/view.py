"""From state to view: everything that the windows draw, worded and rounded, and its way through a pipe."""

from dataclasses import replace

from station.caution import CAUTION
from station.core.books import Books
from station.core.finding import diver_settings
from station.core.phase import IN_WATER, Phase
from station.core.settings import Role
from station.core.state import DiverState, State
from station.core.timekeeping import phase_of
from station.plain import Plain, record_from_plain, record_to_plain
from station.present.air_board import air_board
from station.present.air_origins import air_origins_of
from station.present.ascent_board import ascent_look
from station.present.choice_board import choices_look
from station.present.gauge_board import gauges_look
from station.present.keeping import keeping_of, phase_words, short_facts
from station.present.looks import AscentLook, DiverLook, Fact, Mode, Number, Scale, Sentence, Transport, View
from station.present.next_acts import next_act
from station.present.numbers import (
    air_number,
    depth_number,
    short_depth,
    short_number,
    short_supply,
    time_number,
)
from station.present.opinion_board import opinion_look
from station.present.origins import origins_of
from station.present.rates import rate_look
from station.present.soundings import frame_of, line_of, scale_of
from station.present.status import LogLine
from station.present.strips import alarm_strip, top_strip

__all__ = ["Mode", "Transport", "View", "view", "view_from_plain", "view_to_plain"]


def view(
    state: State,
    mode: Mode,
    log: LogLine,
    books: Books,
    *,
    transport: Transport | None = None,
    notice: str = "",
    last_alarm: str = "",
    sound: str = "",
) -> View:
    """The view of a state. A mark is in the log when its number is not above `log.records`.

    `notice` is why the last act was not taken, `last_alarm` what the calm strip says of the alarm before,
    `sound` how the sound stands; `transport` belongs to a replay.
    """
    scale = scale_of(state)
    committed_seq = state.seq if transport is not None else log.records
    return View(
        state.seq,
        mode,
        state.ground,
        top_strip(state, mode, log, transport),
        alarm_strip(state, last_alarm, sound),
        scale,
        _divers(state, scale, committed_seq, books, replayed=transport is not None),
        _people(state),
        air_board(state, books),
        CAUTION,
        notice,
        transport,
        gauges_look(state, log, replayed=transport is not None),
    )


def _diver(state: State, diver: DiverState, scale: Scale, committed_seq: int, books: Books) -> DiverLook:
    settings = diver_settings(state, diver.name)
    time, air, words = time_number(state, diver, books), air_number(state, diver), phase_words(diver)
    due = next_act(state, diver.name, books)
    rows = (
        ("Depth", short_depth(state, diver.name)),
        ("Supply", short_supply(state, diver.name)),
        ("Margin", short_number(air)),
    )
    return DiverLook(
        diver.name,
        settings.person,
        words,
        settings.role is Role.STANDBY and phase_of(diver) not in IN_WATER,
        line_of(state, diver, books),
        depth_number(state, diver),
        time,
        air,
        Sentence(due.head, due.lead, due.detail),
        frame_of(state, diver, scale),
        short_facts(settings.person, words, rows),
        keeping_of(state, diver, time, committed_seq, books),
        _ascent(state, diver, books, time),
        (*origins_of(state, diver, books), *air_origins_of(state, diver)),
        rate_look(state, diver),
        choices_look(state, diver, books),
    )


def _divers(
    state: State, scale: Scale, committed_seq: int, books: Books, *, replayed: bool
) -> tuple[DiverLook, ...]:
    """Every diver; in a replay with the second opinion, which never stands on a watch."""
    looks = tuple(_diver(state, diver, scale, committed_seq, books) for diver in state.divers)
    if not replayed:
        return looks
    return tuple(
        replace(look, opinion=opinion_look(state, diver, books))
        for look, diver in zip(looks, state.divers, strict=True)
    )


def _ascent(state: State, diver: DiverState, books: Books, time: Number) -> AscentLook | None:
    """The ascent; once he is up, with the clock that runs there."""
    ascent = ascent_look(state, diver, books, time.sign)
    if ascent is None or phase_of(diver) not in (Phase.SURFACED, Phase.DONE):
        return ascent
    return replace(ascent, clock=time)


def _people(state: State) -> tuple[Fact, ...]:
    tenders: dict[str, list[str]] = {}
    for diver in state.settings.divers:
        if diver.tender:
            tenders.setdefault(diver.tender, []).append(diver.name)
    people = [Fact(f"Tends {' and '.join(divers)}", tender) for tender, divers in tenders.items()]
    return (*people, Fact("Supervisor", state.settings.supervisor))


def view_to_plain(shown: View) -> Plain:
    """A view as plain JSON."""
    return record_to_plain(shown)


def view_from_plain(plain: Plain) -> View:
    """The view that `view_to_plain` wrote. Raises ValueError, saying what is wrong and where."""
    return record_from_plain(plain, View)
