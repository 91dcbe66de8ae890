"""What a decoder makes of bytes, and how a pressure becomes a reading of its gauge."""

from dataclasses import dataclass
from math import isfinite

from shared.clock import Instant
from shared.gauges import UNIT_OF, Channel, Gauge
from shared.readings import LinkFault, LinkFaultKind, Reading
from shared.units import fsw_from_pascal, psi_from_pascal


@dataclass(frozen=True, slots=True)
class Decoded:
    """Readings and faults in the order of their bytes, and the bytes of the frame still open."""

    readings: tuple[Reading, ...] = ()
    faults: tuple[LinkFault, ...] = ()
    pending: bytes = b""


@dataclass(frozen=True, slots=True)
class Measured:
    """A pressure as it stood on the wire: the number, its unit there, the same in pascal, its frame."""

    at: Instant
    raw: float
    unit: str
    pressure_pa: float
    data: bytes


def reading_of(gauge: Gauge, measured: Measured) -> Reading | LinkFault:
    """The calibrated reading in the unit of the gauge's channel, or a fault outside the gauge's range."""
    shown = _in_channel_unit(gauge.channel, measured.pressure_pa)
    value = (shown - gauge.calibration.zero) * gauge.calibration.span
    if isfinite(value) and gauge.low <= value <= gauge.high:
        return Reading(gauge.name, measured.at, value, measured.raw)
    unit = UNIT_OF[gauge.channel]
    detail = (
        f"{gauge.name}: {measured.raw:g} {measured.unit} on the wire is {value:.1f} {unit}, "
        f"outside {gauge.low:g} to {gauge.high:g} {unit}"
    )
    return LinkFault(gauge.port, gauge.name, measured.at, LinkFaultKind.OUT_OF_RANGE, detail, measured.data)


def _in_channel_unit(channel: Channel, pressure_pa: float) -> float:
    match channel:
        case Channel.DEPTH:
            return fsw_from_pascal(pressure_pa)
        case Channel.SUPPLY | Channel.BANK:
            return psi_from_pascal(pressure_pa)
