"""The depth-time traces that the windows draw: followed from state to state, told as increments.

The state keeps ten minutes for its own rules; the windows want the whole dive. What they want is collected
here, once, and is no state: a replay makes it again.
"""

from dataclasses import dataclass, field

from shared.units import NS_PER_S
from station.core.settings import Units
from station.core.state import DiverState, State
from station.present.figures import shown_depth

Point = tuple[float, float | None]
"""Seconds of station time and depth in the shown unit; None where nothing was heard."""

_GAP_S = 3.0
"""Samples further apart than this are not joined. Own choice: three of the one-second samples."""


@dataclass
class TraceFollower:
    """Remembers how far each diver's trace has been told. One per windows' process, on the pump's thread."""

    _told_ns: dict[str, int] = field(default_factory=dict)

    def news(self, state: State) -> dict[str, list[Point]]:
        """By diver, the points since the last call."""
        return {
            diver.name: points
            for diver in state.divers
            if (points := self._points(diver, state.settings.units))
        }

    def _points(self, diver: DiverState, units: Units) -> list[Point]:
        told_ns = self._told_ns.get(diver.name, -1)
        if not diver.history or diver.history[-1].at <= told_ns:
            return []
        points: list[Point] = []
        before_ns = told_ns if told_ns >= 0 else diver.history[0].at
        for sample in diver.history:
            if sample.at <= told_ns:
                continue
            if (sample.at - before_ns) / NS_PER_S > _GAP_S:
                points.append((round(before_ns / NS_PER_S + 1, 1), None))
            points.append((round(sample.at / NS_PER_S, 1), shown_depth(max(0.0, sample.value), units)))
            before_ns = sample.at
        self._told_ns[diver.name] = before_ns
        return points
