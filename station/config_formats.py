r"""Reads the `format` table of a gauge: which bytes on its line are its own, and what they mean.

    { kind = "nmea-xdr", transducer = "PNEUMO1", unit = "bar" }              unit is bar or pascal
    { kind = "nmea-generic", transducer = "PNEUMO1", unit = "fsw" }          XDR of type G; letter, loop
    { kind = "nmea-proprietary", address = "PDSM", field = 3, unit = "fsw" } name_field with name,
                                 unit_field with unit_text, status_field with status, loop
    { kind = "nmea-dpt", talker = "SD", water_depth_is_diver_depth = true }
    { kind = "ascii", pattern = '(?P<value>\d+)', unit = "psi" }      preset and address, ending,
                                 poll, poll_ending, echo, unit_text, decimals, scale, offset, status, loop
    { kind = "modbus", device = 1, table = "input", register = 0, number = "float32", unit = "bar",
      order = "abcd", order_confirmed_on = 2031-03-02 }                      scale, offset, loop

Units are bar, pascal, kPa, MPa, psi, fsw and msw. `status` gives each status word its meaning:
{ OK = "good", OL = "out_of_range", ER = "fault", NA = "no_value" }. `loop = { at_4_ma = 0, at_20_ma = 250 }`
says that the number is a current. Registers count from 0: "40001" and "30001" of manuals are 0. Modbus is
Modbus RTU: through a socket:// line, too, its frames are those of a serial line.
"""

import re
from collections.abc import Callable, Mapping
from typing import Any, Final

from shared.gauges import (
    DEPTH_UNITS,
    AsciiText,
    ByteOrder,
    Channel,
    Format,
    LineEnding,
    Loop,
    Meaning,
    ModbusRegister,
    NmeaDepth,
    NmeaGeneric,
    NmeaProprietary,
    NmeaXdr,
    NumberKind,
    RegisterTable,
    Status,
    WireUnit,
    XdrUnit,
)
from shared.toml_file import Section
from shared.wire.modbus_numbers import WORDS_IN
from shared.wire.modbus_rtu import LAST_DEVICE, LAST_REGISTER
from shared.wire.pattern import PatternFault, compile_pattern

Presets = Mapping[str, Mapping[str, Any]]
"""Ready-made keys of ASCII formats, by the preset's name."""

MOST_FIELDS: Final = 40
MOST_POLL: Final = 32
MOST_DECIMALS: Final = 6
MOST_SCALE: Final = 1e6
MOST_VALUE: Final = 1e6
"""What a format may say: own choice, wide of any gauge."""

_RESERVED: Final = frozenset("!$*\\^~,")
_PROPRIETARY: Final = re.compile(r"P[A-Z]{3}[A-Z0-9]*")
_TALKER: Final = re.compile(r"[A-Z][A-Z0-9]")
_ADDRESS: Final = re.compile(r"[A-Za-z0-9]{1,8}")
_ADDRESS_MARK: Final = "{address}"


def read_format(section: Section, channel: Channel | None, presets: Presets) -> Format:
    """The format of a gauge of `channel`; what is wrong with it is complained of in its section."""
    kind = section.one_of("kind", tuple(_READERS))
    read = _READERS.get(kind)
    if read is None:
        section.pass_over()
        return NmeaXdr("", XdrUnit.BAR)
    wire = read(section, presets)
    if isinstance(wire, NmeaDepth) and channel not in (Channel.DEPTH, None):
        section.complain("kind", "DPT tells a depth and no pressure of air")
    unit = getattr(wire, "unit", None)
    if unit in DEPTH_UNITS and channel not in (Channel.DEPTH, None):
        section.complain("unit", f"a pressure of air is not told in {unit}")
    return wire


def _xdr(section: Section, _: Presets) -> Format:
    return NmeaXdr(_in_sentence(section, "transducer"), section.choice("unit", XdrUnit))


def _generic(section: Section, _: Presets) -> Format:
    return NmeaGeneric(
        transducer=_in_sentence(section, "transducer"),
        unit=section.choice("unit", WireUnit),
        letter=_in_sentence(section, "letter", ""),
        loop=_loop(section),
    )


def _proprietary(section: Section, _: Presets) -> Format:
    address = section.text("address")
    if address and not _PROPRIETARY.fullmatch(address):
        section.complain("address", f"{address!r} is no proprietary address, P and three letters at least")
    name_field, name = _pair(section, "name_field", "name")
    unit_field, unit_text = _pair(section, "unit_field", "unit_text")
    status_field = section.integer("status_field", 1, MOST_FIELDS) if section.has("status_field") else 0
    statuses = _statuses(section)
    if bool(statuses) != bool(status_field):
        section.complain("status", "status and status_field belong together")
    return NmeaProprietary(
        address=address,
        field=section.integer("field", 1, MOST_FIELDS),
        unit=section.choice("unit", WireUnit),
        name_field=name_field,
        name=name,
        unit_field=unit_field,
        unit_text=unit_text,
        status_field=status_field,
        statuses=statuses,
        loop=_loop(section),
    )


def _pair(section: Section, field_key: str, text_key: str) -> tuple[int, str]:
    """A field and what it must hold: both or neither."""
    if not section.has(field_key) and not section.has(text_key):
        return 0, ""
    return section.integer(field_key, 1, MOST_FIELDS), _in_sentence(section, text_key)


def _depth(section: Section, _: Presets) -> Format:
    talker = section.text("talker")
    if talker and not _TALKER.fullmatch(talker):
        section.complain("talker", f"{talker!r} is no talker, two capitals such as SD")
    if not section.flag("water_depth_is_diver_depth", default=False):
        section.complain(
            "water_depth_is_diver_depth",
            "DPT is the depth of water under a transducer, not a diver's: it is read only where this is true",
        )
    return NmeaDepth(talker)


def _ascii(section: Section, presets: Presets) -> Format:
    if section.has("preset"):
        section.fill(presets.get(section.one_of("preset", tuple(presets)), {}))
    address = _station_address(section)
    pattern = section.text("pattern").replace(_ADDRESS_MARK, address)
    poll = _poll(section).replace(_ADDRESS_MARK, address)
    names = _groups(section, pattern)
    statuses = _statuses(section)
    unit_text = section.text("unit_text", "")
    if "status" in names and section.sound("status") and not statuses:
        section.complain("status", "the pattern takes a status: say what its words mean")
    if "unit" in names and not unit_text:
        section.complain("unit_text", "the pattern takes a unit: say how the gauge writes it")
    ending = section.choice("ending", LineEnding, LineEnding.CRLF)
    if ending is LineEnding.NONE:
        section.complain("ending", "a line without an ending cannot be told from the next")
    return AsciiText(
        pattern=pattern,
        unit=section.choice("unit", WireUnit),
        ending=ending,
        poll=poll,
        poll_ending=section.choice("poll_ending", LineEnding, LineEnding.CR),
        echo=section.flag("echo", default=False),
        unit_text=unit_text,
        decimals=section.integer("decimals", 0, MOST_DECIMALS, default=0),
        scale=_scale(section),
        offset=section.number("offset", -MOST_VALUE, MOST_VALUE, default=0.0),
        statuses=statuses,
        loop=_loop(section),
    )


def _station_address(section: Section) -> str:
    """What stands for {address} in pattern and poll."""
    address = section.text("address", "")
    used = any(_ADDRESS_MARK in section.text(key, "") for key in ("pattern", "poll"))
    if address and not _ADDRESS.fullmatch(address):
        section.complain("address", f"{address!r}: one to eight letters and digits")
        return ""
    if used != bool(address):
        what = "missing: needed for {address}" if used else "neither pattern nor poll holds {address}"
        section.complain("address", what)
    return address


def _poll(section: Section) -> str:
    poll = section.text("poll", "")
    if len(poll) > MOST_POLL or not poll.isascii() or (poll and not poll.isprintable()):
        section.complain("poll", f"{poll!r}: printable ASCII, {MOST_POLL} characters at most")
        return ""
    return poll


def _groups(section: Section, pattern: str) -> tuple[str, ...]:
    """The names of the groups of a pattern that can be used."""
    if not pattern:
        return ()
    try:
        return tuple(compile_pattern(pattern).groupindex)
    except PatternFault as fault:
        section.complain("pattern", str(fault))
        return ()


def _modbus(section: Section, _: Presets) -> Format:
    number = section.choice("number", NumberKind)
    words = WORDS_IN[number]
    order, confirmed_on = _order(section, needed=words > 1)
    return ModbusRegister(
        device=section.integer("device", 1, LAST_DEVICE),
        table=section.choice("table", RegisterTable),
        register=section.integer("register", 0, LAST_REGISTER + 1 - words),
        number=number,
        unit=section.choice("unit", WireUnit),
        order=order,
        order_confirmed_on=confirmed_on,
        scale=_scale(section),
        offset=section.number("offset", -MOST_VALUE, MOST_VALUE, default=0.0),
        loop=_loop(section),
    )


def _order(section: Section, *, needed: bool) -> tuple[ByteOrder, str]:
    """The order of four bytes, and the day on which it was proved; nothing is guessed."""
    if not section.sound("number"):
        section.pass_over()
        return ByteOrder.ABCD, ""
    if not needed:
        for key in ("order", "order_confirmed_on"):
            if section.has(key):
                section.complain(key, "a number of 16 bits leaves no order to choose")
        return ByteOrder.ABCD, ""
    if not section.has("order_confirmed_on"):
        section.complain(
            "order_confirmed_on",
            "missing: read the register in all four orders, hold them against the gauge's own display, "
            "and write the day here",
        )
        return section.choice("order", ByteOrder), ""
    return section.choice("order", ByteOrder), section.day("order_confirmed_on")


def _scale(section: Section) -> float:
    scale = section.number("scale", -MOST_SCALE, MOST_SCALE, default=1.0)
    if scale == 0.0:
        section.complain("scale", "0 makes every value the same")
    return scale


def _loop(section: Section) -> Loop | None:
    if not section.has("loop"):
        return None
    inner = section.table("loop")
    loop = Loop(
        inner.number("at_4_ma", -MOST_VALUE, MOST_VALUE), inner.number("at_20_ma", -MOST_VALUE, MOST_VALUE)
    )
    if inner.has("at_4_ma") and inner.has("at_20_ma") and loop.at_4_ma == loop.at_20_ma:
        inner.complain("at_20_ma", "is the value at 4 mA too")
    return loop


def _statuses(section: Section) -> tuple[Status, ...]:
    if not section.has("status"):
        return ()
    inner = section.table("status")
    statuses = tuple(Status(word, inner.choice(word, Meaning)) for word in inner.present())
    if section.sound("status") and not any(status.meaning is Meaning.GOOD for status in statuses):
        section.complain("status", "no word means good: no value would ever be read")
    return statuses


def _in_sentence(section: Section, key: str, default: str | None = None) -> str:
    """A text that can stand in a field of an NMEA 0183 sentence."""
    text = section.text(key, default)
    if not text.isascii() or not text.isprintable() or _RESERVED & set(text):
        section.complain(key, f"{text!r} cannot stand in a sentence: printable ASCII without ! $ * \\ ^ ~ ,")
    return text


_READERS: Final[Mapping[str, Callable[[Section, Presets], Format]]] = {
    "nmea-xdr": _xdr,
    "nmea-generic": _generic,
    "nmea-proprietary": _proprietary,
    "nmea-dpt": _depth,
    "ascii": _ascii,
    "modbus": _modbus,
}
