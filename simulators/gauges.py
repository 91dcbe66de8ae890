"""A gauge between the pressure and the line: range, lag, noise, resolution, pace, and its sentence."""

import math
from dataclasses import dataclass
from typing import Final

from shared.gauges import UNIT_OF, Channel, XdrUnit
from shared.units import PASCAL_PER_BAR, pascal_from_fsw, pascal_from_psi
from shared.wire.nmea0183 import STANDARD_BYTES, XdrGroup, xdr_sentence
from simulators.chance import normal
from simulators.truth.dive import Moment

TALKER: Final = "YX"
"""Talker of a transducer. NMEA 0183: YX."""

_MS_PER_MIN: Final = 60_000

_PASCAL_FROM: Final = {"fsw": pascal_from_fsw, "psig": pascal_from_psi}
_WIRE: Final = {XdrUnit.BAR: ("B", PASCAL_PER_BAR, 5), XdrUnit.PASCAL: ("P", 1.0, 0)}
"""Letter, size in pascal and decimals of each unit on the wire. NMEA 0183 XDR update, 2019; own decimals."""


@dataclass(frozen=True, slots=True)
class Instrument:
    """One pressure gauge on a line.

    `subject` is the diver (depth, supply) or the supply (bank) that it measures. `low`, `high`,
    `resolution`, `noise` (standard deviation) and `zero` are in the channel's unit, fsw or psig. It is off
    by `zero` and `span` as a calibration would correct it: true = (shown - zero) * span. `lag_s` is the
    time constant of its first-order lag; 0 follows at once. `drift_per_min`: what it shows wanders off.
    """

    line: str
    transducer: str
    channel: Channel
    subject: str
    unit: XdrUnit
    every_ms: int
    low: float
    high: float
    resolution: float = 0.0
    noise: float = 0.0
    lag_s: float = 0.0
    zero: float = 0.0
    span: float = 1.0
    drift_per_min: float = 0.0


def measured(instrument: Instrument, moment: Moment) -> float:
    """What the instrument is put under at this moment, in its channel's unit.

    Raises ValueError when the dive has no such diver or bank.
    """
    match instrument.channel:
        case Channel.BANK:
            found = [b.pressure_psig for b in moment.banks if b.supply == instrument.subject]
        case Channel.DEPTH:
            found = [d.hose_fsw for d in moment.divers if d.name == instrument.subject]
        case Channel.SUPPLY:
            found = [d.supply_psig for d in moment.divers if d.name == instrument.subject]
    if not found:
        raise ValueError(f"{instrument.transducer}: no {instrument.channel} of {instrument.subject!r}")
    return found[0]


class Dial:
    """What one instrument shows as time goes on; fed every slice, so that its lag runs evenly."""

    def __init__(self, instrument: Instrument, seed: int) -> None:
        self.instrument = instrument
        self._seed = seed
        self._followed: float | None = None
        self._followed_ms = 0
        self._shown: float | None = None

    def follow(self, moment: Moment) -> None:
        """Let the needle follow the pressure up to this moment."""
        pressure = measured(self.instrument, moment)
        if self._followed is None or self.instrument.lag_s == 0.0:
            self._followed = pressure
        else:
            passed_s = (moment.at_ms - self._followed_ms) / 1000.0
            self._followed += (pressure - self._followed) * -math.expm1(-passed_s / self.instrument.lag_s)
        self._followed_ms = moment.at_ms

    def due(self, at_ms: int) -> bool:
        """Whether the instrument speaks at this instant."""
        return at_ms % self.instrument.every_ms == 0

    def read(self, at_ms: int, *, frozen: bool = False) -> float:
        """What it shows, in its channel's unit; a frozen one keeps what it showed last.

        Raises ValueError before it has followed anything.
        """
        if self._followed is None:
            raise ValueError(f"{self.instrument.transducer} has not been put under any pressure yet")
        if not frozen or self._shown is None:
            self._shown = self._reading(self._followed, at_ms)
        return self._shown

    def _reading(self, pressure: float, at_ms: int) -> float:
        gauge = self.instrument
        value = pressure / gauge.span + gauge.zero + gauge.drift_per_min * at_ms / _MS_PER_MIN
        if gauge.noise > 0.0:
            value += gauge.noise * normal(self._seed, "noise", gauge.line, gauge.transducer, at_ms)
        if gauge.resolution > 0.0:
            value = round(value / gauge.resolution) * gauge.resolution
        return min(max(value, gauge.low), gauge.high)


def group(instrument: Instrument, shown: float) -> XdrGroup:
    """The XDR group of a value in the channel's unit."""
    letter, size_pa, decimals = _WIRE[instrument.unit]
    pressure_pa = _PASCAL_FROM[UNIT_OF[instrument.channel]](shown)
    text = f"{pressure_pa / size_pa:.{decimals}f}"
    # Python writes a small negative value as -0.000; an instrument would not.
    return XdrGroup(
        "P", text.removeprefix("-") if float(text) == 0.0 else text, letter, instrument.transducer
    )


def sentences(groups: tuple[XdrGroup, ...]) -> bytes:
    """The groups of one line in as few sentences as the standard's length allows, in order."""
    done, open_groups = b"", groups[:1]
    for following in groups[1:]:
        longer = (*open_groups, following)
        if len(xdr_sentence(TALKER, longer)) > STANDARD_BYTES:
            done, longer = done + xdr_sentence(TALKER, open_groups), (following,)
        open_groups = longer
    return done + xdr_sentence(TALKER, open_groups) if open_groups else done
