"""An ascent followed moment by moment, each under its rule: the plan as it stands after them all."""

from dataclasses import dataclass, field, replace

from station.core.books import Books
from station.core.by_table.asked import AscentAsked, Change, Place, Step
from station.core.decompression.answers import MEDICAL_OFFICER, Gas, Mode, NotCovered
from station.core.decompression.ascent import AscentPlan, ascent_plan
from station.core.decompression.change import PlanChange
from station.core.decompression.delays import deep_delay_s, late_at_first_stop
from station.core.decompression.durations import clock_words, minutes_up
from station.core.decompression.legs import DueStop, Leg, Position, What
from station.core.decompression.oxygen_lost import (
    legs_until,
    oxygen_lost,
    reached_chamber,
    served_s,
    to_chamber,
)
from station.core.decompression.parameters import (
    AIR_BREAK_S,
    CHAMBER_FIRST_FSW,
    DEEP_DELAY_FSW,
    DELAY_IGNORED_S,
    LAST_WATER_STOP_FSW,
    SURFACE_INTERVAL_FROM_FSW,
)
from station.core.decompression.progress import left_stop, reached_stop
from station.core.decompression.rules import RULES
from station.core.decompression.travel import travel_s
from station.core.inputs import MarkKind

_HALF_A_FOOT_FSW = 0.5
"""A marked stop is a due one when it is named to the foot."""


@dataclass(frozen=True, slots=True)
class Early:
    """A stop left before its time was over: since when, how much of it counts."""

    stop: DueStop
    left_s: int
    served_s: int


@dataclass(frozen=True, slots=True)
class Missed:
    """A stop that was passed or left out for good: rule O1. `clock_s` runs from leaving or passing it."""

    depth_fsw: int
    clock_s: int


@dataclass(slots=True)
class Follower:
    """A pen that goes along the moments of one ascent. `plan` is None where the tables have no answer."""

    books: Books
    asked: AscentAsked
    plan: AscentPlan | None
    refused: NotCovered | None
    changes: list[Change] = field(default_factory=list)
    place: Place = Place.WAY
    early: Early | None = None
    missed: Missed | None = None
    on_oxygen: bool = False
    off_s: int | None = None
    waits_for_oxygen: bool = False
    interval_from_s: int | None = None
    surfaced_s: int | None = None
    chamber_s: int | None = None
    chamber_oxygen_s: int | None = None
    chamber_left_s: int | None = None
    last_left_fsw: int | None = None

    @classmethod
    def begin(cls, books: Books, asked: AscentAsked) -> "Follower":
        """At second 0, on leaving the bottom."""
        found = ascent_plan(books.tables, asked.entry, asked.stage_fsw, asked.ratio)
        if isinstance(found, NotCovered):
            return cls(books, asked, None, found)
        return cls(books, asked, found, None)

    def follow(self) -> None:
        """Go through every moment in order."""
        for place, step in enumerate(self.asked.steps):
            self._take(step, self.asked.steps[place + 1 :])

    def _take(self, step: Step, later: tuple[Step, ...]) -> None:
        match step.kind:
            case MarkKind.REACHED_STOP:
                self._reached(step, later)
            case MarkKind.LEFT_STOP:
                self._left(step)
            case MarkKind.ON_OXYGEN:
                self._on(step.at_s)
            case MarkKind.OFF_OXYGEN:
                self._off(step.at_s)
            case MarkKind.REACHED_SURFACE:
                self._surfaced(step)
            case MarkKind.REACHED_CHAMBER:
                self._in_chamber(step)
            case MarkKind.LEFT_CHAMBER:
                self.place, self.chamber_left_s = Place.LEFT_CHAMBER, step.at_s
            case Mode():
                self._shift(step)

    def adopt(self, number: int, at_s: int, change: PlanChange) -> bool:
        """Go on with what a rule made of the plan; whether there still is one."""
        if change.changed:
            self.changes.append(Change(number, at_s, change))
        if isinstance(change.new, NotCovered):
            self.plan, self.refused = None, change.new
            return False
        self.plan = change.new
        return True

    def deep_s(self, plan: AscentPlan, at_s: int) -> int:
        """How much of a delay to the first stop was deeper than 50 fsw, all of it where it is not known."""
        if plan.stage_fsw <= DEEP_DELAY_FSW:
            return 0
        passed_s = self.asked.passed_50_s
        first_fsw = plan.due[0].level_fsw if plan.due else 0.0
        if first_fsw >= DEEP_DELAY_FSW or passed_s is None:
            return at_s
        return deep_delay_s(plan.stage_fsw, min(passed_s, at_s))

    def arrival(self, plan: AscentPlan, at_s: int, on_oxygen_s: int | None) -> PlanChange:
        """What arriving at the next stop at a second makes of the plan. Rules A4, A5."""
        return reached_stop(
            self.books.tables,
            plan,
            at_s,
            deep_delay_s=self.deep_s(plan, at_s),
            on_oxygen_s=on_oxygen_s,
        )

    def _reached(self, step: Step, later: tuple[Step, ...]) -> None:
        plan, fsw = self.plan, step.stop_fsw or 0.0
        self.place = Place.HELD
        if plan is None:
            return
        if not plan.due:
            if plan.done or plan.chamber is not None:
                return
            change = late_at_first_stop(self.books.tables, plan, step.at_s, present_fsw=fsw)
            if not change.changed or not self.adopt(step.number, step.at_s, change) or self.plan is None:
                return
            plan = self.plan
        place = next((at for at, stop in enumerate(plan.due) if is_stop(stop, fsw)), None)
        if place is None:
            return
        if place > 0:
            self._omit(plan, step.number, step.at_s)
            return
        if self.early is not None:
            self._returned(plan, step)
            return
        self._arrive(plan, step, later)

    def _arrive(self, plan: AscentPlan, step: Step, later: tuple[Step, ...]) -> None:
        stop = plan.due[0]
        on_oxygen_s = None
        if stop.gas is Gas.OXYGEN and not (stop.counts_travel and self.on_oxygen):
            on_oxygen_s = self._confirmed(step, later)
        if self.adopt(step.number, step.at_s, self.arrival(plan, step.at_s, on_oxygen_s)):
            self.place = Place.STOP

    def _confirmed(self, arrived: Step, later: tuple[Step, ...]) -> int:
        """When oxygen was confirmed at a stop; where it is not yet, it cannot be before now."""
        if self.on_oxygen:
            return arrived.at_s
        for step in later:
            if step.kind is MarkKind.ON_OXYGEN:
                return step.at_s
            if step.kind is not MarkKind.OFF_OXYGEN:
                break
        self.waits_for_oxygen = True
        return max(arrived.at_s, self.asked.now_s if not later else later[0].at_s)

    def _returned(self, plan: AscentPlan, step: Step) -> None:
        """Back at a stop that was left too early. Rule A7.

        The time above does not count; back within 1:00 the stop is a minute longer, later the supervisor
        decides. Source: USN Diving Manual Rev 6 and 7, study notes; the supervisor's part our own choice.
        """
        early = self.early
        if early is None:
            raise ValueError("no stop was left early")
        away_s = step.at_s - early.left_s
        clock_s = step.at_s - early.served_s
        start = Position(step.at_s, plan.due[0].level_fsw, clock_s, gas=plan.due[0].gas)
        level_fsw = plan.due[0].level_fsw
        above = Leg(level_fsw, level_fsw, early.left_s, step.at_s, Gas.AIR, What.DELAY, "above the stop")
        here = replace(plan, start=start, done=(*plan.done, above))
        self.early, self.place = None, Place.STOP
        self.adopt(step.number, step.at_s, above_stop(plan, here, away_s))

    def _left(self, step: Step) -> None:
        plan = self.plan
        if self.place is not Place.STOP or plan is None:
            self.place = Place.WAY if self.place is Place.HELD else self.place
            return
        self.place = Place.WAY
        plan = self.with_away(plan, step.at_s, step.number)
        stop = plan.due[0]
        counted_s = 0 if self.waits_for_oxygen else served_s(plan, step.at_s)
        if self.waits_for_oxygen or stop.due_s - counted_s > self.asked.early_s:
            self._left_early(plan, step, counted_s)
            return
        overstay_s = None if self.off_s is None else max(0, self.off_s - plan.served().at_s)
        self.adopt(
            step.number,
            step.at_s,
            left_stop(self.books.tables, plan, step.at_s, oxygen_overstay_s=overstay_s),
        )
        self.last_left_fsw, self.off_s = stop.depth_fsw, None
        if stop.depth_fsw <= SURFACE_INTERVAL_FROM_FSW:
            self.interval_from_s = step.at_s

    def _left_early(self, plan: AscentPlan, step: Step, counted_s: int) -> None:
        stop = plan.due[0]
        legs = legs_until(plan, step.at_s, step.at_s)
        start = Position(step.at_s, stop.level_fsw, gas=stop.gas)
        self.plan = replace(plan, done=plan.done + legs, start=start)
        self.early = Early(stop, step.at_s, counted_s)
        self.waits_for_oxygen = False

    def with_away(self, plan: AscentPlan, until_s: int, number: int) -> AscentPlan:
        """The plan with the times that its present stop was not kept. Rule A7."""
        clock_s = plan.start.clock_s
        if clock_s is None:
            return plan
        for away in self.asked.away:
            if clock_s <= away.from_s < until_s:
                away_s = min(away.to_s, until_s) - away.from_s
                held = replace(plan, due=(longer(plan.due[0], away_s), *plan.due[1:]))
                change = above_stop(plan, held, away_s)
                self.changes.append(Change(number, away.from_s, change))
                if isinstance(change.new, AscentPlan):
                    plan = change.new
        return plan

    def _on(self, at_s: int) -> None:
        plan, off_s = self.plan, self.off_s
        self.on_oxygen, self.off_s = True, None
        if self.place is Place.CHAMBER:
            self.chamber_oxygen_s = at_s if self.chamber_oxygen_s is None else self.chamber_oxygen_s
            return
        if plan is None or self.place is not Place.STOP or off_s is None:
            return
        self.plan = resumed(plan, off_s, at_s)

    def _off(self, at_s: int) -> None:
        self.on_oxygen = False
        plan = self.plan
        if self.place is Place.STOP and plan is not None and plan.due[0].gas is Gas.OXYGEN:
            self.off_s = at_s

    def _shift(self, step: Step) -> None:
        """Oxygen given up for good, or the chamber taken. Rules X2, X3."""
        plan = self.plan
        if plan is None or not plan.due:
            return
        if step.kind is Mode.CHAMBER:
            self.adopt(step.number, step.at_s, to_chamber(plan, step.at_s, self.asked.shown_fsw))
            if self.plan is not None and not self.plan.due:
                self.place, self.interval_from_s = Place.WAY, step.at_s
        elif step.kind is Mode.AIR and plan.due[0].gas is Gas.OXYGEN:
            lost_s = step.at_s if self.off_s is None else self.off_s
            self.adopt(step.number, step.at_s, oxygen_lost(plan, lost_s, step.at_s))
            self.waits_for_oxygen = False
        self.off_s = None

    def _surfaced(self, step: Step) -> None:
        if self.place is Place.LEFT_CHAMBER or self.chamber_s is not None:
            self.place, self.surfaced_s = Place.UP, step.at_s
            return
        plan, self.surfaced_s = self.plan, step.at_s
        self.place = Place.SURFACE
        if plan is None:
            return
        if plan.due:
            self._omit(plan, step.number, step.at_s)
            return
        if not plan.done:
            self._came_straight_up(plan, step)
            return
        self._travelled(plan, step.at_s)

    def _came_straight_up(self, plan: AscentPlan, step: Step) -> None:
        """No stop in the water: all of a delay goes to bottom time. Rule A4; with a chamber judged at 40."""
        at_s, present_fsw = step.at_s, None
        if plan.chamber is not None:
            present_fsw = min(plan.stage_fsw, float(SURFACE_INTERVAL_FROM_FSW))
            at_s = self.passed_40(plan)
        change = late_at_first_stop(self.books.tables, plan, at_s, present_fsw=present_fsw)
        if self.adopt(step.number, step.at_s, change) and self.plan is not None:
            if self.plan.due:
                self._omit(self.plan, step.number, step.at_s)
                return
            self._travelled(self.plan, step.at_s)
        elif self.refused is not None and change.changed:
            self.missed = Missed(_deepest(plan, change), step.at_s)

    def passed_40(self, plan: AscentPlan) -> int:
        """When he passed 40 fsw; by the plan where the trace does not tell, at once from shallower."""
        if plan.stage_fsw <= SURFACE_INTERVAL_FROM_FSW:
            return 0
        planned_s = travel_s(plan.stage_fsw, float(SURFACE_INTERVAL_FROM_FSW))
        return planned_s if self.asked.passed_40_s is None else self.asked.passed_40_s

    def _travelled(self, plan: AscentPlan, at_s: int) -> None:
        """The way to the surface as it was dived."""
        begun = plan.start
        if begun.at_s < at_s:
            way = Leg(begun.depth_fsw, 0.0, begun.at_s, at_s, Gas.AIR, What.TRAVEL, "to the surface")
            plan = replace(plan, done=(*plan.done, way))
        self.plan = replace(plan, start=Position(at_s, 0.0))

    def _omit(self, plan: AscentPlan, number: int, at_s: int) -> None:
        """A stop that is due was passed. Rule O1: cards, no figure."""
        stop = plan.due[0]
        since_s = self._left_or_passed_s(plan, at_s)
        left_s = stop.due_s if self.waits_for_oxygen else stop.due_s - served_s(plan, since_s)
        left_s -= 0 if self.early is None else self.early.served_s
        said = f"the stop at {stop.depth_fsw} fsw was passed with {clock_words(max(0, left_s))} due"
        answer = NotCovered(RULES["O1"], said, MEDICAL_OFFICER)
        self.missed = Missed(stop.depth_fsw, since_s)
        self.adopt(number, at_s, PlanChange(RULES["O1"], said, 0, changed=True, old=plan, new=answer))

    def _left_or_passed_s(self, plan: AscentPlan, at_s: int) -> int:
        """When the missed stop was left or passed: by mark, by the trace, else the latest way up from it."""
        if self.early is not None:
            return self.early.left_s
        begun_s = plan.start.at_s
        risen = [away.from_s for away in self.asked.away if begun_s <= away.from_s < at_s]
        if risen:
            return risen[-1]
        return max(begun_s, at_s - travel_s(plan.due[0].level_fsw, 0))

    def _in_chamber(self, step: Step) -> None:
        plan = self.plan
        self.place, self.chamber_s = Place.CHAMBER, step.at_s
        self.on_oxygen = False
        if plan is None or plan.chamber is None:
            return
        interval_s = step.at_s - self.interval_start_s(plan)
        if self.adopt(step.number, step.at_s, reached_chamber(plan, interval_s)) and self.plan is not None:
            here = float(CHAMBER_FIRST_FSW)
            since_s = self.plan.start.at_s
            down = Leg(0.0, here, since_s, step.at_s, Gas.AIR, What.COMPRESSION, "undressed, to the chamber")
            self.plan = replace(self.plan, done=(*self.plan.done, down), start=Position(step.at_s, here))

    def interval_start_s(self, plan: AscentPlan) -> int:
        """When the surface interval began. Rule X4."""
        return self.passed_40(plan) if self.interval_from_s is None else self.interval_from_s


def is_stop(stop: DueStop, marked_fsw: float) -> bool:
    """Whether a marked stop is this one, by its depth in the table or by the level it is taken at."""
    return any(abs(fsw - marked_fsw) <= _HALF_A_FOOT_FSW for fsw in (stop.depth_fsw, stop.level_fsw))


def longer(stop: DueStop, by_s: int) -> DueStop:
    """A stop with so much more due."""
    return replace(stop, due_s=stop.due_s + by_s)


def above_stop(old: AscentPlan, here: AscentPlan, away_s: int) -> PlanChange:
    """What a time above the due stop makes of it, the diver back and that time not counted.

    Rule A7: back within 1:00, one minute more; later the supervisor decides: only the time is not counted.
    """
    if away_s > DELAY_IGNORED_S:
        said = f"above the stop for {clock_words(away_s)}: not counted; the supervisor decides"
        return PlanChange(RULES["A7"], said, 0, changed=True, old=old, new=here)
    more_min = minutes_up(DELAY_IGNORED_S)
    said = f"above the stop for {clock_words(away_s)}: not counted, and {more_min} min more"
    stop = longer(here.due[0], DELAY_IGNORED_S)
    return PlanChange(
        RULES["A7"], said, more_min, changed=True, old=old, new=replace(here, due=(stop, *here.due[1:]))
    )


def resumed(plan: AscentPlan, off_s: int, on_s: int) -> AscentPlan:
    """An oxygen stop gone on with after a break, taken when it was due or not. Rule X1."""
    breathed_s = served_s(plan, off_s)
    legs = legs_until(plan, off_s, on_s)
    run_s = 0 if on_s - off_s >= AIR_BREAK_S else plan.start.run_s + breathed_s
    start = Position(on_s, plan.due[0].level_fsw, on_s - breathed_s, gas=Gas.OXYGEN, run_s=run_s)
    return replace(plan, done=plan.done + legs, start=start)


def _deepest(plan: AscentPlan, change: PlanChange) -> int:
    """The deepest stop that an ascent now has to answer for; the last water stop where none is named."""
    depths = [stop.depth_fsw for stop in plan.due]
    if isinstance(change.new, AscentPlan):
        depths += [stop.depth_fsw for stop in change.new.due]
    return max(depths, default=LAST_WATER_STOP_FSW)
