"""Every number of the core that is a choice and not a table: its unit in the name, its source beside it."""

from dataclasses import dataclass

from station.core.decompression.parameters import GAUGE_ROUNDING_FSW


@dataclass(frozen=True, slots=True)
class Parameters:
    """Settings of the rules. The defaults are the house's own choice where no source is named."""

    # Depth: rule D5. Own choice; latency and noise figures are held by tests/station/core/test_depth.py.
    shown_window_s: float = 2.0
    rate_window_s: float = 6.0
    rate_bin_s: float = 0.5
    steady_window_s: float = 10.0
    # A window holds at least so many periods of its gauge: a slow one has a steady depth and a rate.
    window_periods: float = 4.0
    # A window counts when its samples span at least this share of it. Own choice.
    least_window_share: float = 0.8
    history_s: int = 600
    # Correction of a gauge depth: rounded up past this much over a whole fsw. Own choice, rule D2.
    gauge_rounding_fsw: float = GAUGE_ROUNDING_FSW

    # Trust. Stale after three periods but not before one second, lost after five seconds: own choice.
    stale_periods: float = 3.0
    stale_least_s: float = 1.0
    lost_after_s: float = 5.0
    lost_periods: float = 6.0

    # Rates. Descent 75 fsw/min, USN Diving Manual Rev 4, p. 8-28; ascent 30, 20 to 40 a minor variation,
    # p. 14-7. 60 is the house's own choice of what endangers life.
    descent_limit_fsw_min: float = 75.0
    ascent_limit_fsw_min: float = 40.0
    ascent_danger_fsw_min: float = 60.0

    # What the trace shows of moments that nobody marked. Own choice, rule T1.
    in_water_fsw: float = 3.0
    surface_fsw: float = 1.0
    steady_rate_fsw_min: float = 5.0
    leaving_rise_fsw: float = 5.0
    working_descent_fsw: float = 5.0
    # At a stop only a descent past the next deeper stop is one, less is a stop badly kept. Own choice.
    stop_descent_fsw: float = 10.0
    proposal_look_back_s: int = 30
    # A start that the trace shows is dropped when he is at the surface again within this: a gauge was tried.
    gauge_trial_s: float = 60.0
    mark_steps_back_s: tuple[int, ...] = (0, 15, 30, 60)

    # Stops. The level of a stop is kept within this band: own choice, rule A9. A time above it this long
    # stops the stop clock, rule A7; a stop left at most this early counts as served: own choice.
    stop_above_fsw: float = 1.0
    stop_below_fsw: float = 3.0
    stop_away_s: float = 10.0
    stop_early_s: float = 10.0
    # On oxygen no deeper than this: the 30-fsw stop and its band, rule A9, own choice.
    oxygen_deepest_fsw: float = 33.0
    # Warned so long before the next row is due: own choice.
    row_warning_s: float = 120.0

    # Readings by hand: a round so often, typed pressures kept for so long. Own choice, rule D9.
    typed_round_s: int = 300
    typed_kept_s: int = 3600
    # A gauge is held for frozen when it has not moved for so long while it should have: own choice. One that
    # lives turns so often and moves in steps as fine as these; a coarser one may well stand still.
    frozen_after_s: float = 60.0
    frozen_blow_s: float = 5.0
    frozen_drawn_psi: float = 30.0
    frozen_times_longest: float = 5.0
    living_turns: int = 50
    living_step_fsw: float = 0.1
    living_step_psi: float = 1.5
    # Minutes left are warned of at this least margin, where a quarter of a short ascent is less. Own choice.
    least_air_margin_min: float = 2.0
    # A diver rests below this: an unblown hose shows a tenth of a descent, waves make some of a rate. His two
    # gauges are compared by the rate over this window, in which waves go out. Own choice, rules D6, D7.
    resting_rate_fsw_min: float = 20.0
    pair_window_s: float = 20.0
    # On emergency gas a diver needs so long at depth to get back to the stage. Own choice, rule G7.
    back_to_stage_s: float = 120.0
    # A calibration lasts six months: 29 CFR 1910.430(g)(2), 46 CFR 197.458.
    calibration_months: int = 6

    # Air. Trend by a robust slope over this window; warned this long before the margin is gone: own choice.
    trend_window_s: int = 60
    trend_bin_s: float = 5.0
    supply_warning_min: float = 5.0
    # Fall below which no trend is told: the noise of a 1-psi gauge over the window. Own choice.
    least_fall_psi_min: float = 0.5

    # Log: not durable when its oldest record has waited longer than this. Own choice.
    log_behind_s: float = 2.0
    # UTC against station time: a step larger than this is a fact. Own choice, rule T4.
    clock_step_s: float = 2.0
    # A thing that happened once, not a condition, is told for so long. Own choice.
    told_for_s: int = 300
