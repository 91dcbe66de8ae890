"""What an operator's act does to the state; an act that cannot be taken is a fact with its reason."""

from dataclasses import replace
from math import isfinite
from typing import assert_never

from station.core.alarms.board import see
from station.core.depth import refigured
from station.core.facts import Fact
from station.core.finding import diver_named
from station.core.inputs import (
    Acknowledge,
    Act,
    AmendMark,
    AsksToComeUp,
    ChooseGround,
    HoseBlown,
    LinePull,
    NextDive,
    NoAnswer,
    OperatorEvent,
    PlanDive,
    Remark,
    SetMark,
    UndoMark,
    VoiceAnswered,
)
from station.core.marking import amend_mark, next_dive, refused, set_mark, undo_mark
from station.core.state import DiverState, LogEntry, Sample, State

Outcome = tuple[State, tuple[Fact, ...]]

GROUNDS = ("day", "dusk", "night")


def take_event(state: State, event: OperatorEvent) -> Outcome:
    """The state after an operator's act."""
    match event.act:
        case Acknowledge():
            return see(state, event, event.act)
        case ChooseGround(ground):
            if ground not in GROUNDS:
                return state, refused(event, f"there is no ground {ground!r}, only {', '.join(GROUNDS)}")
            return replace(state, ground=ground), ()
        case Remark():
            return state, ()
        case act:
            if all(diver.name != act.diver for diver in state.divers):
                return state, refused(event, f"there is no diver {act.diver!r} at this station")
            return _about_diver(state, event, act)


def _about_diver(state: State, event: OperatorEvent, act: Act) -> Outcome:
    if isinstance(act, Acknowledge | ChooseGround | Remark):
        raise TypeError(f"{type(act).__name__} is about no diver")
    diver, facts = _after(state, diver_named(state, act.diver), event, act)
    divers = tuple(diver if each.name == act.diver else each for each in state.divers)
    made = max((mark.number for each in divers for mark in each.marks), default=0)
    return replace(state, divers=divers, marks_made=max(made, state.marks_made)), facts


def _after(
    state: State, diver: DiverState, event: OperatorEvent, act: Act
) -> tuple[DiverState, tuple[Fact, ...]]:
    at = event.at
    match act:
        case SetMark() | UndoMark() | AmendMark():
            return _marked(state, diver, event, act)
        case NextDive():
            return next_dive(diver, event, act)
        case HoseBlown():
            return replace(diver, blown=Sample(at, _last_known_fsw(diver))), ()
        case VoiceAnswered():
            return replace(diver, voice=LogEntry(at)), ()
        case NoAnswer():
            return replace(diver, no_answer=LogEntry(at)), ()
        case AsksToComeUp():
            return replace(diver, asked_up=LogEntry(at)), ()
        case LinePull(pulls=pulls, from_diver=from_diver):
            giver = "diver" if from_diver else "tender"
            return replace(diver, line_pull=LogEntry(at, f"{pulls} by {giver}")), ()
        case PlanDive():
            return _planned(diver, event, act)
        case Acknowledge() | ChooseGround() | Remark():
            raise TypeError(f"{type(act).__name__} is about no diver")
        case _:
            assert_never(act)


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
            marked, facts = amend_mark(diver, event, act, state.seq)
        case _:
            assert_never(act)
    return (diver if marked is diver else refigured(marked, parameters)), facts


def _planned(diver: DiverState, event: OperatorEvent, act: PlanDive) -> tuple[DiverState, tuple[Fact, ...]]:
    if not (isfinite(act.depth_fsw) and act.depth_fsw > 0 and act.bottom_min > 0):
        return diver, refused(event, "a plan needs a depth and a bottom time above zero")
    return replace(diver, planned_depth_fsw=act.depth_fsw, planned_bottom_min=act.bottom_min), ()
