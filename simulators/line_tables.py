"""The tables of a scenario file that make the lines: lines, instruments, faults."""

import re
from itertools import combinations
from typing import Final

from shared.conductor import SLICE_MS
from shared.gauges import Channel, XdrUnit
from shared.toml_file import Section
from simulators.gauges import Instrument
from simulators.line_faults import FaultKind, LineFault
from simulators.scenario import Line
from simulators.truth.dive import Truth

_LINE_NAME: Final = re.compile(r"[A-Za-z0-9_-]+")
_TRANSDUCER: Final = re.compile(r"[A-Za-z0-9_-]{1,20}")
_MOST_PRESSURE: Final = 10_000.0
_SPEEDS: Final = (1200, 115_200)


def read_lines(top: Section) -> tuple[Line, ...]:
    """The tables [[line]]: their names become parts of addresses and file names."""
    lines: list[Line] = []
    for table in top.tables("line", least=1):
        line = Line(table.text("name"), table.integer("baud", *_SPEEDS, default=9600))
        if line.name and not _LINE_NAME.fullmatch(line.name):
            table.complain("name", f"{line.name!r}: only letters, digits, - and _")
        if line.name in [other.name for other in lines]:
            table.complain("name", f"{line.name!r} is named twice")
        lines.append(line)
    return tuple(lines)


def read_instruments(top: Section, lines: tuple[Line, ...], truth: Truth) -> tuple[Instrument, ...]:
    """The tables [[instrument]]: each measures something that the dive has, on a line that it has."""
    found: list[Instrument] = []
    for table in top.tables("instrument", least=1):
        instrument = _instrument(table, lines, truth)
        taken = [(other.line, other.transducer) for other in found]
        if (instrument.line, instrument.transducer) in taken:
            table.complain("transducer", f"{instrument.transducer!r} is on line {instrument.line} already")
        found.append(instrument)
    return tuple(found)


def _instrument(table: Section, lines: tuple[Line, ...], truth: Truth) -> Instrument:
    channel = table.choice("channel", Channel)
    transducer = table.text("transducer")
    if transducer and not _TRANSDUCER.fullmatch(transducer):
        table.complain("transducer", f"{transducer!r}: 1 to 20 letters, digits, - and _")
    # The suffix of these keys is the channel's unit, as in a station file.
    unit = "fsw" if channel is Channel.DEPTH else "psi"
    instrument = Instrument(
        line=table.one_of("line", [line.name for line in lines]),
        transducer=transducer,
        channel=channel,
        subject=_subject(table, channel, truth),
        unit=table.choice("unit", XdrUnit),
        every_ms=_every_ms(table),
        low=table.number(f"low_{unit}", -100.0, _MOST_PRESSURE),
        high=table.number(f"high_{unit}", 0.0, _MOST_PRESSURE),
        resolution=table.number(f"resolution_{unit}", 0.0, 100.0, default=0.0),
        noise=table.number(f"noise_{unit}", 0.0, 100.0, default=0.0),
        lag_s=table.number("lag_s", 0.0, 60.0, default=0.0),
        zero=table.number(f"zero_{unit}", -100.0, 100.0, default=0.0),
        span=table.number("span", 0.5, 2.0, default=1.0),
        drift_per_min=table.number(f"drift_{unit}_min", -100.0, 100.0, default=0.0),
    )
    if instrument.high <= instrument.low:
        table.complain(f"high_{unit}", f"{instrument.high:g} is not above low_{unit} = {instrument.low:g}")
    return instrument


def _subject(table: Section, channel: Channel, truth: Truth) -> str:
    """The bank's supply, or the diver."""
    if channel is Channel.BANK:
        return table.one_of("supply", [bank.supply for bank in truth.banks])
    return table.one_of("diver", [diver.name for diver in truth.divers])


def _every_ms(table: Section) -> int:
    """The period, a whole number of slices."""
    every_ms = round(table.number("every_s", SLICE_MS / 1000.0, 60.0) * 1000.0)
    if every_ms % SLICE_MS:
        table.complain("every_s", f"{every_ms / 1000.0:g} is no multiple of {SLICE_MS / 1000.0:g} s")
    return max(every_ms // SLICE_MS, 1) * SLICE_MS


def read_faults(top: Section, lines: tuple[Line, ...], end_s: float) -> tuple[LineFault, ...]:
    """The tables [[fault]]: a cable is not pulled twice at a time."""
    tables = top.tables("fault")
    faults = tuple(_fault(table, lines, end_s) for table in tables)
    pulls = [(fault, table) for fault, table in zip(faults, tables, strict=True) if _pulls(fault)]
    for (one, _), (other, table) in combinations(pulls, 2):
        if one.line == other.line and one.from_ms <= other.to_ms and other.from_ms <= one.to_ms:
            table.complain("from_s", f"the cable of {other.line} is already pulled then")
    return faults


def _pulls(fault: LineFault) -> bool:
    return fault.kind is FaultKind.PULLED


def _fault(table: Section, lines: tuple[Line, ...], end_s: float) -> LineFault:
    from_s = table.number("from_s", 0.0, end_s)
    to_s = table.number("to_s", 0.0, end_s, default=end_s)
    if to_s <= from_s:
        table.complain("to_s", f"{to_s:g} is not after from_s = {from_s:g}")
    return LineFault(
        kind=table.choice("kind", FaultKind),
        line=table.one_of("line", [line.name for line in lines]),
        from_ms=_on_slice_ms(from_s),
        # What lasts to the end holds in the last slice, too.
        to_ms=_on_slice_ms(to_s) + (SLICE_MS if to_s >= end_s else 0),
        share=table.number("share", 0.0, 1.0, default=1.0),
        bits=table.integer("bits", 1, 64, default=1),
    )


def _on_slice_ms(at_s: float) -> int:
    """The slice nearest to an instant; nothing happens before the first."""
    return max(round(at_s * 1000.0 / SLICE_MS), 1) * SLICE_MS
