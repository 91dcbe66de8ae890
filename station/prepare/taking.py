"""What an act does to the desk, or why it is not taken: the one way in for everything that is prepared."""

from dataclasses import replace
from math import isfinite

from station.prepare.acts import (
    BeginList,
    BringLists,
    DeskAct,
    EnterGear,
    EnterPerson,
    Override,
    PressStep,
    WearOutfit,
)
from station.prepare.after_dive import AnswerCheck, answer_check
from station.prepare.cards import CloseCard, OpenCard, TickCard, close_card, open_card, tick_card
from station.prepare.checklist import About, Checklist
from station.prepare.desk import Desk, Moment, Overridden, whose, with_run
from station.prepare.gear_acts import BringGear, GearEntry
from station.prepare.gear_fold import take_gear
from station.prepare.locks import (
    CheckLock,
    HandKey,
    LiftLock,
    LockAct,
    Locks,
    PlaceLock,
    ReportClear,
    check_lock,
    hand_key,
    lift_lock,
    place_lock,
    report_clear,
)
from station.prepare.people import BringPeople, PersonEntry, take_person
from station.prepare.plan import DivePlan, SetPlan
from station.prepare.pressing import Hand, press_step
from station.prepare.profile import ChooseProfile
from station.prepare.refusal import Refusal
from station.prepare.run import WITH_SUPERVISOR, Begin, Done, Run, Sign, begin_run
from station.prepare.signals import BringCode, Exchange, GivePull, take_pull
from station.prepare.team import Assign, Crew, Leave, Post, Relieve, assign, leave, relieve

Taken = Desk | Refusal


def take_act(desk: Desk, act: DeskAct, moment: Moment) -> Taken:
    """The desk after an act at a moment, or why it is not taken."""
    if not moment.by.strip():
        return Refusal("an act needs a name")
    match act:
        case BringGear() | BringPeople() | BringLists() | BringCode() | ChooseProfile():
            return _brought(desk, act)
        case EnterGear() | EnterPerson():
            return _entered(desk, act, moment)
        case Assign() | Leave() | Relieve():
            return _seated(desk, act)
        case PlaceLock() | CheckLock() | HandKey() | ReportClear() | LiftLock():
            return _locked(desk, act, moment)
        case OpenCard() | TickCard() | CloseCard():
            return _carded(desk, act, moment)
        case WearOutfit() | BeginList() | PressStep():
            return _about_lists(desk, act, moment)
        case _:
            return _about_dive(desk, act, moment)


def _brought(desk: Desk, act: BringGear | BringPeople | BringLists | BringCode | ChooseProfile) -> Desk:
    match act:
        case BringGear(gear):
            return replace(desk, gear=gear)
        case BringPeople(people):
            return replace(desk, people=people)
        case BringLists(lists):
            # A run keeps only with the list that it was begun with.
            kept = tuple(run for run in desk.runs for each in lists if each == desk.checklist(run.list_key))
            return replace(desk, lists=lists, runs=kept)
        case BringCode(code):
            return replace(desk, code=code)
        case ChooseProfile(profile):
            return replace(desk, profile=profile)


def _entered(desk: Desk, act: EnterGear | EnterPerson, moment: Moment) -> Taken:
    match act:
        case EnterGear(uid, gear_act):
            gear = take_gear(desk.gear, GearEntry(uid, moment.utc, moment.by, gear_act))
            return gear if isinstance(gear, Refusal) else replace(desk, gear=gear)
        case EnterPerson(uid, person_act):
            people = take_person(desk.people, PersonEntry(uid, moment.utc, moment.by, person_act))
            return people if isinstance(people, Refusal) else replace(desk, people=people)


def _seated(desk: Desk, act: Assign | Leave | Relieve) -> Taken:
    crew: Crew | Refusal
    match act:
        case Assign():
            crew = assign(desk.crew, act)
        case Leave():
            crew = leave(desk.crew, act)
        case Relieve():
            crew = relieve(desk.crew, act)
    return crew if isinstance(crew, Refusal) else replace(desk, crew=crew)


def _locked(desk: Desk, act: LockAct, moment: Moment) -> Taken:
    locks: Locks | Refusal
    match act:
        case PlaceLock():
            locks = place_lock(desk.locks, act, moment.by, moment.at)
        case CheckLock():
            locks = check_lock(desk.locks, act, moment.by, moment.at)
        case HandKey():
            locks = hand_key(desk.locks, act)
        case ReportClear():
            if not desk.crew.holds(moment.by, (Post.SUPERVISOR,)):
                return Refusal(f"the supervisor reports a diver clear, {moment.by} does not hold the post")
            locks = report_clear(desk.locks, act)
        case LiftLock():
            locks = lift_lock(desk.locks, act, moment.by, moment.at, in_water=moment.in_water)
    return locks if isinstance(locks, Refusal) else replace(desk, locks=locks)


def _carded(desk: Desk, act: OpenCard | TickCard | CloseCard, moment: Moment) -> Taken:
    match act:
        case OpenCard():
            cards = open_card(desk.cards, act, moment.by, moment.at)
        case TickCard():
            cards = tick_card(desk.cards, act, moment.by, moment.at)
        case CloseCard():
            cards = close_card(desk.cards, act, moment.by, moment.at)
    return cards if isinstance(cards, Refusal) else replace(desk, cards=cards)


def _about_lists(desk: Desk, act: WearOutfit | BeginList | PressStep, moment: Moment) -> Taken:
    if isinstance(act, WearOutfit):
        return _worn(desk, act, moment)
    checklist = desk.checklist(act.list_key)
    if checklist is None:
        return Refusal(f"there is no list {act.list_key!r}")
    dive = moment.dive_of(act.subject)
    if checklist.about is About.DIVER and dive is None:
        return Refusal(f"{checklist.title} is about a diver; there is no diver {act.subject!r}")
    run = desk.run_of(checklist, act.subject, dive or 0)
    if isinstance(act, BeginList):
        return _begun(desk, checklist, run, act, moment)
    if run is None:
        return Refusal(f"{checklist.title} is not begun")
    if isinstance(act.press, Begin | Done | Sign) and desk.parts_changed(run):
        return Refusal("parts were changed since this list was begun: begin it anew")
    after = press_step(checklist, run, act.step, act.press, Hand(moment.by, moment.at, desk.crew))
    return after if isinstance(after, Refusal) else with_run(desk, after)


def _begun(desk: Desk, checklist: Checklist, run: Run | None, act: BeginList, moment: Moment) -> Taken:
    refusal = _cannot_begin(desk, run, act, moment)
    if refusal is not None:
        return refusal
    subject, dive = whose(checklist, act.subject, moment.dive_of(act.subject) or 0)
    new = begin_run(checklist, subject, dive, moment.at, moment.by, serials=desk.serials_of(act.subject))
    return with_run(desk, new)


def _cannot_begin(desk: Desk, run: Run | None, act: BeginList, moment: Moment) -> Refusal | None:
    """Beginning anew must be no way round a doubt, a failure or a stop."""
    if run is None:
        return None
    if not act.reason.strip():
        return Refusal("the list is begun already: to begin it anew needs a reason")
    with_him = run.stopped or any(step.status in WITH_SUPERVISOR for step in run.steps)
    if with_him and not desk.crew.holds(moment.by, (Post.SUPERVISOR,)):
        return Refusal("a step is with the supervisor: only he begins this list anew")
    return None


def _worn(desk: Desk, act: WearOutfit, moment: Moment) -> Taken:
    if moment.dive_of(act.diver) is None:
        return Refusal(f"there is no diver {act.diver!r} at this station")
    if act.outfit and desk.gear.outfit(act.outfit) is None:
        return Refusal(f"there is no outfit {act.outfit!r} in the register")
    others = tuple((name, outfit) for name, outfit in desk.worn if name != act.diver)
    taken = next((name for name, outfit in others if outfit == act.outfit and outfit), "")
    if taken:
        return Refusal(f"{act.outfit} is on {taken}")
    return replace(desk, worn=(*others, (act.diver, act.outfit)))


def _about_dive(desk: Desk, act: SetPlan | Override | GivePull | AnswerCheck, moment: Moment) -> Taken:
    match act:
        case SetPlan(plan):
            return _planned(desk, plan, moment)
        case Override():
            return _overridden(desk, act, moment)
        case GivePull():
            return _pulled(desk, act, moment)
        case AnswerCheck():
            return _answered(desk, act, moment)


def _planned(desk: Desk, plan: DivePlan, moment: Moment) -> Taken:
    if moment.dive_of(plan.diver) is None:
        return Refusal(f"there is no diver {plan.diver!r} at this station")
    dive = plan.exposure
    if not (isfinite(dive.depth_fsw + dive.bottom_min + dive.stops_min) and dive.stops_min >= 0):
        return Refusal("a plan's depth, bottom time and time at stops are numbers, not below zero")
    if dive.depth_fsw <= 0 or dive.bottom_min <= 0:
        return Refusal("a plan needs a depth and a bottom time above zero")
    others = tuple(each for each in desk.plans if (each.diver, each.dive) != (plan.diver, plan.dive))
    return replace(desk, plans=(*others, plan))


def _overridden(desk: Desk, act: Override, moment: Moment) -> Taken:
    dive = moment.dive_of(act.diver)
    if dive is None:
        return Refusal(f"there is no diver {act.diver!r} at this station")
    if not desk.crew.holds(moment.by, (Post.SUPERVISOR,)):
        return Refusal(f"only the supervisor overrides, {moment.by} does not hold the post")
    if not act.reason.strip() or not act.conditions:
        return Refusal("an override names its conditions and its reason")
    given = Overridden(act.diver, dive, act.conditions, act.reason, moment.by, moment.at)
    return replace(desk, overrides=(*desk.overrides, given))


def _pulled(desk: Desk, act: GivePull, moment: Moment) -> Taken:
    if desk.code is None:
        return Refusal("no code of line-pull signals is in force")
    if moment.dive_of(act.diver) is None or not act.pulls.strip():
        return Refusal("a signal names a diver of this station and its pulls")
    others = tuple(line for line in desk.lines if line.diver != act.diver)
    before: Exchange | None = next((line for line in desk.lines if line.diver == act.diver), None)
    return replace(desk, lines=(*others, take_pull(desk.code, before, act, moment.at)))


def _answered(desk: Desk, act: AnswerCheck, moment: Moment) -> Taken:
    watches = [watch for watch in desk.after if watch.diver == act.diver]
    if not watches:
        return Refusal(f"{act.diver} has not surfaced")
    after = answer_check(watches[-1], act, moment.by, moment.at)
    if isinstance(after, Refusal):
        return after
    return replace(desk, after=tuple(after if each is watches[-1] else each for each in desk.after))
