"""From the stops still due to the legs of the ascent, each joined to the one before."""

from dataclasses import dataclass, field

from .answers import Gas
from .chamber import chamber_steps
from .durations import clock_words
from .legs import DueStop, Leg, Position, What
from .oxygen import oxygen_period_s
from .parameters import (
    AIR_BREAK_S,
    ASCENT_RATE_FSW_MIN,
    CHAMBER_FIRST_FSW,
    COMPRESSION_RATE_FSW_MIN,
    SURFACE_INTERVAL_FROM_FSW,
    SURFACING_RATE_FSW_MIN,
    UNDRESSING_S,
)
from .travel import travel_s


@dataclass(frozen=True, slots=True)
class ChamberPart:
    """Surface decompression after the last water stop; `late` when the interval was over 5:00 (rule X4)."""

    periods: float
    late: bool = False


def course_legs(start: Position, due: tuple[DueStop, ...], chamber: ChamberPart | None) -> tuple[Leg, ...]:
    """The whole rest of an ascent as legs that join without a gap.

    Rule A8. `chamber` is None where the diver decompresses in the water.
    """
    course = Course.of(start, due)
    for stop in due:
        course.take(stop)
    if chamber is None:
        course.travel(0.0, course.gas, "to the surface")
    else:
        course.surface_to_chamber()
        course.chamber(chamber)
    return tuple(course.legs)


def first_stop_course(start: Position, due: tuple[DueStop, ...]) -> "Course":
    """The course as it stands when the first stop due has been served."""
    course = Course.of(start, due)
    course.take(due[0])
    return course


@dataclass(slots=True)
class Course:
    """A pen that draws legs: where it is, what is breathed, how much oxygen is left of this period."""

    at_s: int
    depth_fsw: float
    gas: Gas
    clock_s: int | None
    not_before_s: int
    oxygen_left_s: int
    period_left_s: int
    legs: list[Leg] = field(default_factory=list)

    @classmethod
    def of(cls, start: Position, due: tuple[DueStop, ...]) -> "Course":
        """A pen at a position, with the oxygen that the stops ask for."""
        oxygen_s = sum(stop.due_s for stop in due if stop.gas is Gas.OXYGEN)
        if start.clock_s is not None and start.gas is Gas.OXYGEN and due and due[0].gas is Gas.OXYGEN:
            oxygen_s -= max(0, start.at_s - start.clock_s)
        period_s = max(0, oxygen_period_s(start.run_s + oxygen_s) - start.run_s)
        return cls(
            start.at_s, start.depth_fsw, start.gas, start.clock_s, start.not_before_s, oxygen_s, period_s
        )

    def take(self, stop: DueStop) -> None:
        """Travel to a stop and serve it. Rules A1, A2, X1."""
        way_s = travel_s(self.depth_fsw, stop.level_fsw)
        stays_on = self.gas is Gas.OXYGEN and stop.gas is Gas.OXYGEN
        if stays_on and self.oxygen_left_s > 0 and self.period_left_s < way_s:
            self.air_break()
        left_s = self.at_s
        self.travel(stop.level_fsw, stop.gas if stays_on else Gas.AIR, f"to the {stop.depth_fsw}-fsw stop")
        if self.clock_s is not None:
            clock_s = self.clock_s
        else:
            clock_s = left_s if stop.counts_travel else max(self.at_s, self.not_before_s)
        if self.at_s < clock_s:
            self.hold(clock_s - self.at_s, Gas.AIR, What.WAIT, "the stop clock has not started")
        if stop.gas is Gas.OXYGEN:
            self.breathe_oxygen(stop, stop.due_s - (self.at_s - clock_s))
        else:
            self.hold(clock_s + stop.due_s - self.at_s, Gas.AIR, What.STOP, _due_words(stop))
        self.clock_s, self.not_before_s = None, 0

    def breathe_oxygen(self, stop: DueStop, left_s: int) -> None:
        """So much oxygen at a stop, with its air breaks. Rule X1."""
        while left_s > 0:
            if self.period_left_s <= 0:
                self.air_break()
            breath_s = min(left_s, self.period_left_s)
            self.hold(breath_s, Gas.OXYGEN, What.STOP, _due_words(stop))
            left_s -= breath_s
        self.gas = stop.gas

    def air_break(self) -> None:
        """Five minutes of air that are no stop time; then a new oxygen period. Rule X1."""
        self.hold(AIR_BREAK_S, Gas.AIR, What.AIR_BREAK, "air break, no stop time")
        self.period_left_s = oxygen_period_s(self.oxygen_left_s)
        self.gas = Gas.OXYGEN

    def hold(self, duration_s: int, gas: Gas, what: What, reason: str) -> None:
        """Stay at this depth."""
        if duration_s > 0:
            self._draw(self.depth_fsw, duration_s, gas, what, reason)

    def travel(
        self,
        to_fsw: float,
        gas: Gas,
        reason: str,
        what: What = What.TRAVEL,
        rate_fsw_min: float = ASCENT_RATE_FSW_MIN,
    ) -> None:
        """Move to another depth."""
        if to_fsw != self.depth_fsw:
            self._draw(to_fsw, travel_s(self.depth_fsw, to_fsw, rate_fsw_min), gas, what, reason)

    def _draw(self, to_fsw: float, duration_s: int, gas: Gas, what: What, reason: str) -> None:
        end_s = self.at_s + duration_s
        self.legs.append(Leg(self.depth_fsw, to_fsw, self.at_s, end_s, gas, what, reason))
        self.at_s, self.depth_fsw, self.gas = end_s, to_fsw, gas
        if gas is Gas.OXYGEN:
            self.oxygen_left_s -= duration_s
            self.period_left_s -= duration_s

    def surface_to_chamber(self) -> None:
        """To the surface, out of the dress, into the chamber. Rule X4."""
        if self.depth_fsw > SURFACE_INTERVAL_FROM_FSW:
            self.travel(float(SURFACE_INTERVAL_FROM_FSW), Gas.AIR, "to 40 fsw")
        self.travel(0.0, Gas.AIR, "to the surface, interval running", rate_fsw_min=SURFACING_RATE_FSW_MIN)
        self.hold(UNDRESSING_S, Gas.AIR, What.UNDRESSING, "undressing, at most 3:30")
        down = float(CHAMBER_FIRST_FSW)
        self.travel(down, Gas.AIR, "to 50 fsw in the chamber", What.COMPRESSION, COMPRESSION_RATE_FSW_MIN)

    def chamber(self, part: ChamberPart) -> None:
        """Oxygen periods and breaks, travel inside their time, then to the surface. Rule X5."""
        for step in chamber_steps(part.periods, late=part.late):
            ends_s = self.at_s + step.duration_s
            self.travel(float(step.depth_fsw), step.gas, f"to {step.depth_fsw} fsw", What.CHAMBER_TRAVEL)
            kind = What.CHAMBER if step.gas is Gas.OXYGEN else What.CHAMBER_BREAK
            self.hold(ends_s - self.at_s, step.gas, kind, f"{step.gas} at {step.depth_fsw} fsw")
        self.travel(0.0, Gas.AIR, "out of the chamber", What.CHAMBER_TRAVEL)


def _due_words(stop: DueStop) -> str:
    return f"{clock_words(stop.due_s)} due at {stop.depth_fsw} fsw"
