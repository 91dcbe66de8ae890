"""What an operator's act does to the state; an act that cannot be taken is a fact with its reason."""

from dataclasses import replace
from math import isfinite
from typing import assert_never

from shared.clock import Instant
from station.core.air.breathing import shift_supply
from station.core.alarms.aside import put_aside
from station.core.alarms.board import see
from station.core.alarms.horn import take_sound
from station.core.books import Books
from station.core.by_table.choices import bind, choose, part, past_dive
from station.core.depth import refigured
from station.core.facts import Fact
from station.core.finding import diver_named
from station.core.hose.trust import HoseSeen, step
from station.core.inputs import (
    Acknowledge,
    AmendMark,
    AsksToComeUp,
    BackInService,
    BindDivers,
    ChooseCold,
    ChooseGround,
    ChooseMode,
    ChooseRow,
    CommsKey,
    EnterHistory,
    HoseBlown,
    LinePull,
    ManualDepth,
    ManualPressure,
    NextDive,
    NoAnswer,
    OperatorEvent,
    OutOfService,
    PartDivers,
    PlanDive,
    Remark,
    SetMark,
    SetVolume,
    Shelve,
    ShiftSupply,
    Silence,
    SoundTest,
    UndoMark,
    Unshelve,
    VoiceAnswered,
)
from station.core.marking import amend_mark, next_dive, refused, set_mark, undo_mark
from station.core.state import DiverState, LogEntry, Sample, State
from station.core.typed import type_depth, type_pressure

Outcome = tuple[State, tuple[Fact, ...]]

GROUNDS = ("day", "dusk", "night")

SLACK_ASKED = ("2", True)
"""Line pull of the diver for slack. USN line-pull signals; from memory, unverified."""

_AboutDiver = (
    SetMark
    | UndoMark
    | AmendMark
    | HoseBlown
    | VoiceAnswered
    | NoAnswer
    | AsksToComeUp
    | LinePull
    | PlanDive
    | NextDive
    | EnterHistory
    | ChooseMode
    | ChooseRow
    | ChooseCold
    | ManualDepth
    | ShiftSupply
)


def take_event(state: State, event: OperatorEvent, books: Books) -> Outcome:
    """The state after an operator's act."""
    match event.act:
        case Acknowledge():
            return see(state, event, event.act)
        case Shelve() | Unshelve() | OutOfService() | BackInService():
            return put_aside(state, event, event.act)
        case Silence() | SoundTest() | SetVolume() | CommsKey():
            return take_sound(state, event, event.act)
        case ChooseGround(ground):
            if ground not in GROUNDS:
                return state, refused(event, f"there is no ground {ground!r}, only {', '.join(GROUNDS)}")
            return replace(state, ground=ground), ()
        case Remark():
            return state, ()
        case ManualPressure():
            return type_pressure(state, event, event.act)
        case BindDivers():
            return bind(state, event, event.act)
        case PartDivers():
            return part(state, event, event.act)
        case act:
            if all(diver.name != act.diver for diver in state.divers):
                return state, refused(event, f"there is no diver {act.diver!r} at this station")
            return _about_diver(state, event, act, books)


def _about_diver(state: State, event: OperatorEvent, act: _AboutDiver, books: Books) -> Outcome:
    diver, facts = _after(state, diver_named(state, act.diver), event, act, books)
    divers = tuple(diver if each.name == act.diver else each for each in state.divers)
    made = max((mark.number for each in divers for mark in each.marks), default=0)
    return replace(state, divers=divers, marks_made=max(made, state.marks_made)), facts


def _after(
    state: State, diver: DiverState, event: OperatorEvent, act: _AboutDiver, books: Books
) -> tuple[DiverState, tuple[Fact, ...]]:
    at = event.at
    match act:
        case SetMark() | UndoMark() | AmendMark():
            return _marked(state, diver, event, act)
        case NextDive():
            return next_dive(diver, event, act, past_dive(state, diver, books))
        case EnterHistory() | ChooseMode() | ChooseRow() | ChooseCold():
            return choose(state, diver, event, act, books)
        case HoseBlown():
            return _blown(state, diver, at), ()
        case ManualDepth():
            return type_depth(state, diver, event, act)
        case ShiftSupply():
            return shift_supply(state, diver, event, act)
        case VoiceAnswered() | NoAnswer() | AsksToComeUp() | LinePull():
            return _told(state, diver, act, at), ()
        case PlanDive():
            return _planned(diver, event, act)
        case _:
            assert_never(act)


def _told(
    state: State, diver: DiverState, act: VoiceAnswered | NoAnswer | AsksToComeUp | LinePull, at: Instant
) -> DiverState:
    """What passed between diver and tender, by voice or by line."""
    match act:
        case VoiceAnswered():
            return replace(diver, voice=LogEntry(at))
        case NoAnswer():
            return replace(diver, no_answer=LogEntry(at))
        case AsksToComeUp():
            return replace(diver, asked_up=LogEntry(at))
        case LinePull(pulls=pulls, from_diver=from_diver):
            giver = "diver" if from_diver else "tender"
            pulled = replace(diver, line_pull=LogEntry(at, f"{pulls} by {giver}"))
            return _slackened(state, pulled) if (pulls, from_diver) == SLACK_ASKED else pulled
        case _:
            assert_never(act)


def _blown(state: State, diver: DiverState, at: Instant) -> DiverState:
    """The operator's word makes a hose blown; what it shows settles from here. Rule D6."""
    hose = diver.hose
    if hose is not None:
        hose = step(hose, HoseSeen(state.now, None, settled=False, blew=True, differ=diver.gauges_differ))
    return replace(diver, blown=Sample(at, _last_known_fsw(diver)), hose=hose, blow_seen=None)


def _slackened(state: State, diver: DiverState) -> DiverState:
    """Slack was asked for and is given: the hose may lie deeper than it reads. Rule D6."""
    if diver.hose is None:
        return diver
    seen = HoseSeen(state.now, None, settled=False, slack=True, differ=diver.gauges_differ)
    return replace(diver, hose=step(diver.hose, seen))


def _last_known_fsw(diver: DiverState) -> float:
    if diver.shown_fsw is not None:
        return diver.shown_fsw
    return diver.history[-1].value if diver.history else 0.0


def _marked(
    state: State, diver: DiverState, event: OperatorEvent, act: SetMark | UndoMark | AmendMark
) -> tuple[DiverState, tuple[Fact, ...]]:
    """A word on a mark; when it is taken, the deepest depth is worked out for the times that now hold."""
    parameters = state.settings.parameters
    match act:
        case SetMark():
            number = state.marks_made + 1
            marked, facts = set_mark(diver, event, act, seq=state.seq, number=number, parameters=parameters)
        case UndoMark():
            marked, facts = undo_mark(diver, event, act, state.seq, parameters)
        case AmendMark():
            marked, facts = amend_mark(diver, event, act, state.seq, parameters)
        case _:
            assert_never(act)
    return (diver if marked is diver else refigured(marked, parameters)), facts


def _planned(diver: DiverState, event: OperatorEvent, act: PlanDive) -> tuple[DiverState, tuple[Fact, ...]]:
    if not (isfinite(act.depth_fsw) and act.depth_fsw > 0 and act.bottom_min > 0):
        return diver, refused(event, "a plan needs a depth and a bottom time above zero")
    return replace(diver, planned_depth_fsw=act.depth_fsw, planned_bottom_min=act.bottom_min), ()
