"""Reads the `[[gauge]]` tables of a station file.

    name, channel ("depth", "supply" or "bank"), port, every_s (1 s when left out)
    diver = "Diver 1"       for depth and supply
    supply = "primary"      for a bank
    role = "check"          for a second depth gauge of a diver, held against his first; "main" when left out
    format = { kind = "nmea-xdr", transducer = "PNEUMO1", unit = "bar" }     see `station.config_formats`
    range = { low_fsw = -5, high_fsw = 250 }         what the instrument can show; low_psi, high_psi for air
    calibration = { zero = 0.0, span = 1.0, on = 2031-03-02, due = 2031-09-01, by = "", certificate = "" }

`calibration` may be left out, and so may each of its keys; its zero is in the unit of the range. A polled
gauge is asked every `every_s`. At the surface a depth gauge shows a little less than 0 now and then: so its
`low_fsw` is some feet below.
"""

from collections.abc import Callable, Collection
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from shared.gauges import Calibration, Channel, Gauge, GaugeRole
from shared.toml_file import Section
from station.config_formats import Presets, read_format
from station.config_lines import same_thing, why_not_rehearsed, why_not_together

FASTEST_S: Final = 0.05
SLOWEST_S: Final = 60.0
"""Periods of a gauge, own choice: faster no line carries, slower nobody dives on."""

LEAST_SPAN: Final = 0.5
MOST_SPAN: Final = 2.0
"""A gauge that is off by more is broken and not out of calibration: own choice."""


@dataclass(frozen=True, slots=True)
class _Scale:
    """The unit in the keys of a channel's range, and what these may say: own choice."""

    unit: str
    low: float
    high: float

    @property
    def keys(self) -> tuple[str, str]:
        """The keys of the range."""
        return f"low_{self.unit}", f"high_{self.unit}"


_SCALES: Final = {
    Channel.DEPTH: _Scale("fsw", -33.0, 1_000.0),
    Channel.SUPPLY: _Scale("psi", -15.0, 10_000.0),
    Channel.BANK: _Scale("psi", -15.0, 10_000.0),
}


def read_gauges(
    top: Section,
    divers: Collection[str],
    supplies: Collection[str],
    check_port: Callable[[str], object],
    presets: Presets = MappingProxyType({}),
) -> tuple[Gauge, ...]:
    """The gauges of a station file; what is wrong with them is complained of in their sections."""
    sections = top.tables("gauge")
    gauges = tuple(_read_gauge(section, divers, supplies, check_port, presets) for section in sections)
    for later in range(len(gauges)):
        for earlier in range(later):
            _compare(sections[later], gauges[later], sections[earlier], gauges[earlier])
    return gauges


def _read_gauge(
    section: Section,
    divers: Collection[str],
    supplies: Collection[str],
    check_port: Callable[[str], object],
    presets: Presets,
) -> Gauge:
    channel = section.choice("channel", Channel)
    scale = _SCALES[channel]
    subject, low, high = "", 0.0, 0.0
    if section.sound("channel"):
        subject = _read_subject(section, channel, divers, supplies)
        low, high = _read_range(section.table("range"), scale)
    else:
        _pass_over_what_hangs_on_the_channel(section)
    known_channel = channel if section.sound("channel") else None
    gauge = Gauge(
        name=section.text("name"),
        channel=channel,
        subject=subject,
        port=_read_port(section, check_port),
        format=read_format(section.table("format"), known_channel, presets),
        low=low,
        high=high,
        every_s=section.number("every_s", FASTEST_S, SLOWEST_S, default=1.0),
        calibration=_read_calibration(section.table("calibration", required=False), scale),
        role=_read_role(section, known_channel),
    )
    if (why := why_not_rehearsed(gauge)) is not None:
        section.complain("format", why)
    return gauge


def _read_role(section: Section, channel: Channel | None) -> GaugeRole:
    role = section.choice("role", GaugeRole, GaugeRole.MAIN)
    if role is GaugeRole.CHECK and channel not in (None, Channel.DEPTH):
        section.complain("role", "only a depth gauge is held against another")
    return role


def _pass_over_what_hangs_on_the_channel(section: Section) -> None:
    """What cannot be checked before the channel is right is not complained of either."""
    for key in ("diver", "supply"):
        section.has(key)
    within = section.table("range")
    for key in (key for scale in _SCALES.values() for key in scale.keys):
        within.has(key)


def _read_subject(
    section: Section, channel: Channel, divers: Collection[str], supplies: Collection[str]
) -> str:
    key, other, known = (
        ("supply", "diver", supplies) if channel is Channel.BANK else ("diver", "supply", divers)
    )
    if section.has(other):
        section.complain(other, f"a gauge of channel {channel.value} belongs to a {key}")
    name = section.text(key)
    if name and name not in known:
        section.complain(key, f"no {key} is named {name!r}")
    return name


def _read_port(section: Section, check_port: Callable[[str], object]) -> str:
    port = section.text("port")
    if port:
        try:
            check_port(port)
        except ValueError as error:
            section.complain("port", str(error))
    return port


def _read_range(section: Section, scale: _Scale) -> tuple[float, float]:
    low_key, high_key = scale.keys
    low = section.number(low_key, scale.low, scale.high)
    high = section.number(high_key, scale.low, scale.high)
    if section.has(low_key) and section.has(high_key) and low >= high:
        section.complain(high_key, f"{high:g} is not above {low_key} = {low:g}")
    return low, high


def _read_calibration(section: Section, scale: _Scale) -> Calibration:
    on = section.day("on") if section.has("on") else None
    due = section.day("due") if section.has("due") else None
    if on and due and due < on:
        section.complain("due", f"{due} is before on = {on}")
    return Calibration(
        zero=section.number("zero", scale.low, -scale.low, default=0.0),
        span=section.number("span", LEAST_SPAN, MOST_SPAN, default=1.0),
        on=on,
        due=due,
        by=section.text("by", ""),
        certificate=section.text("certificate", ""),
    )


def _measures(gauge: Gauge) -> tuple[Channel, str, GaugeRole]:
    return gauge.channel, gauge.subject, gauge.role


def _compare(section: Section, gauge: Gauge, other_section: Section, other: Gauge) -> None:
    """Complain where two gauges cannot both be as they are written."""

    def too(what: str, key: str) -> str:
        return f"{what} on line {other_section.line(key)} too"

    if gauge.name and gauge.name == other.name:
        section.complain("name", too(f"{gauge.name!r} is the name", "name"))
    if gauge.subject and _measures(gauge) == _measures(other):
        section.complain(
            "channel", too(f"{gauge.subject!r} has a gauge of channel {gauge.channel.value}", "channel")
        )
    formats_read = section.sound_within("format") and other_section.sound_within("format")
    if gauge.port and gauge.port == other.port and formats_read:
        if (why := why_not_together(gauge.format, other.format)) is not None:
            section.complain("format", too(f"{why}: another gauge of it stands", "format"))
        if (what := same_thing(gauge.format, other.format)) is not None:
            section.complain("format", too(f"{what} is read from this line", "format"))
    if gauge.port != other.port and gauge.port.partition("?")[0] == other.port.partition("?")[0]:
        section.complain("port", too("the same line stands with other settings", "port"))
