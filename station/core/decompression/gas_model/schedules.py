"""Whole batches of schedules by the model, on the grid and by the conventions of the printed table.

Conventions. Printed: rates, stop grid, stop clocks. Inferred from the table [C]: tensions at a grid depth are
tested against the limit of the next depth before leaving, with no credit for the leg that follows; stops are
whole minutes, at least one; oxygen on the leg from 30 to 20 fsw; air breaks are dead time.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .constants import (
    ASCENT_FSW_MIN,
    DESCENT_FSW_MIN,
    FIRST_OXYGEN_STOP_FSW,
    GROUP_COMPARTMENT,
    HALF_TIMES_MIN,
    LAST_STOP_FSW,
    LIMIT_SLOPE,
    OXYGEN_IN_AIR,
    OXYGEN_IN_OXYGEN,
    STOP_GRID_FSW,
    SURFACING_LIMITS_FSW,
)
from .kinetics import Array, held, minutes_until, surface_tension_fsw, surroundings

_LIMITS = np.array(SURFACING_LIMITS_FSW)


@dataclass(frozen=True, slots=True)
class ModelStops:
    """What the model asks for, one row per schedule.

    `minutes` has one column per depth of `depths_fsw` (deepest first). `leaving_fsw` are the tensions on
    leaving the last stop, without stops while passing 20 fsw (on the bottom when that is shallower).
    `controlling` is the compartment that needed the last stop longest, -1 without stops.
    """

    depths_fsw: tuple[int, ...]
    minutes: NDArray[np.int64]
    leaving_fsw: Array
    controlling: NDArray[np.int64]


def limits_fsw(depth_fsw: float) -> Array:
    """Greatest tension of each compartment on leaving for a depth. VVal-79, second hand [S]."""
    return _LIMITS + LIMIT_SLOPE * depth_fsw


def on_leaving_bottom(depth_fsw: NDArray[np.int64], bottom_min: Array) -> Array:
    """Tensions after descent in steps of a foot and the rest of the bottom time, from the surface on air.

    A bottom time shorter than the descent counts as the descent.
    """
    depths = np.asarray(depth_fsw, dtype=np.int64)
    tension = np.full((depths.size, len(HALF_TIMES_MIN)), surface_tension_fsw())
    for foot in range(int(depths.max(initial=0))):
        going = depths > foot
        around = surroundings(np.full(1, foot + 0.5), OXYGEN_IN_AIR)
        tension[going] = held(tension[going], around, np.full(1, 1.0 / DESCENT_FSW_MIN))
    rest_min = np.maximum(bottom_min - depths / DESCENT_FSW_MIN, 0.0)
    return held(tension, surroundings(depths.astype(np.float64), OXYGEN_IN_AIR), rest_min)


def model_stops(depth_fsw: NDArray[np.int64], bottom_min: Array, *, oxygen: bool = False) -> ModelStops:
    """Stops for a batch of dives on air, with oxygen at 30 and 20 fsw when `oxygen`."""
    depths = np.asarray(depth_fsw, dtype=np.int64)
    deepest = int(depths.max(initial=LAST_STOP_FSW))
    grid = tuple(range((deepest - 1) // STOP_GRID_FSW * STOP_GRID_FSW, LAST_STOP_FSW - 1, -STOP_GRID_FSW))
    ascent = _Ascent(
        depths, on_leaving_bottom(depths, np.asarray(bottom_min, dtype=np.float64)), oxygen=oxygen
    )
    columns = []
    for foot in range(deepest, LAST_STOP_FSW, -1):
        ascent.rise(foot)
        if (foot - 1) % STOP_GRID_FSW == 0:
            columns.append(ascent.stop(foot - 1))
    minutes = np.stack(columns, axis=1) if columns else np.zeros((depths.size, 0), dtype=np.int64)
    return ModelStops(grid, minutes, ascent.tension, ascent.controlling)


class _Ascent:
    """A batch on its way up: tensions, and which schedules are already stopping."""

    def __init__(self, depths: NDArray[np.int64], tension: Array, *, oxygen: bool) -> None:
        self.depths = depths
        self.tension = tension
        self.oxygen = oxygen
        self.stopping = np.zeros(depths.size, dtype=np.bool_)
        self.controlling = np.full(depths.size, -1, dtype=np.int64)

    def rise(self, foot: int) -> None:
        """One foot up, from `foot`, for those that are at it; on oxygen between two oxygen stops."""
        on_oxygen = self.stopping & (self.oxygen and foot <= FIRST_OXYGEN_STOP_FSW)
        step = np.full(1, 1.0 / ASCENT_FSW_MIN)
        for share, breathing in ((OXYGEN_IN_AIR, ~on_oxygen), (OXYGEN_IN_OXYGEN, on_oxygen)):
            going = (self.depths >= foot) & breathing
            if going.any():
                around = surroundings(np.full(1, foot - 0.5), share)
                self.tension[going] = held(self.tension[going], around, step)

    def stop(self, depth_fsw: int) -> NDArray[np.int64]:
        """Whole minutes at a grid depth for the batch, 0 for those that pass it."""
        next_fsw = 0 if depth_fsw == LAST_STOP_FSW else depth_fsw - STOP_GRID_FSW
        limit = limits_fsw(next_fsw)
        here = self.depths > depth_fsw
        stays = here & (self.stopping | (self.tension > limit).any(axis=1))
        minutes = np.zeros(self.depths.size, dtype=np.int64)
        if stays.any():
            on_oxygen = self.oxygen and depth_fsw <= FIRST_OXYGEN_STOP_FSW
            around = surroundings(np.full(1, depth_fsw), OXYGEN_IN_OXYGEN if on_oxygen else OXYGEN_IN_AIR)
            way_min = self._way_min(depth_fsw, on_oxygen=on_oxygen)[stays]
            needed = minutes_until(self.tension[stays], limit, around)
            whole = np.maximum(np.ceil(needed.max(axis=1) + way_min), 1.0)
            self.tension[stays] = held(self.tension[stays], around, whole - way_min)
            self.controlling[stays] = needed.argmax(axis=1)
            minutes[stays] = whole.astype(np.int64)
        self.stopping = stays
        return minutes

    def _way_min(self, depth_fsw: int, *, on_oxygen: bool) -> Array:
        """Travel inside the stop: from the stop before, not to the first stop nor the first on oxygen."""
        counted = self.stopping & (not on_oxygen or depth_fsw < FIRST_OXYGEN_STOP_FSW)
        return np.where(counted, STOP_GRID_FSW / ASCENT_FSW_MIN, 0.0)


def passes_without_stop(depth_fsw: NDArray[np.int64], bottom_min: Array) -> NDArray[np.bool_]:
    """Whether each dive of a batch may come straight up."""
    slack: Array = np.min(limits_fsw(0) - straight_up(depth_fsw, bottom_min), axis=1)
    return slack >= 0.0


def straight_up(depth_fsw: NDArray[np.int64], bottom_min: Array) -> Array:
    """Tensions while passing 20 fsw without any stop, on the bottom when that is shallower."""
    depths = np.asarray(depth_fsw, dtype=np.int64)
    ascent = _Ascent(depths, on_leaving_bottom(depths, bottom_min), oxygen=False)
    for foot in range(int(depths.max(initial=LAST_STOP_FSW)), LAST_STOP_FSW, -1):
        ascent.rise(foot)
    return ascent.tension


def group_excess_fsw(tension_fsw: Array) -> Array:
    """Excess over the surface of the compartment that the repetitive groups follow."""
    excess: Array = tension_fsw[:, GROUP_COMPARTMENT] - surface_tension_fsw()
    return excess
