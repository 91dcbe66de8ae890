"""Lines of ASCII text, sent freely or as answers: a pattern of the station file picks value, unit, status.

Such a line carries no checksum: a digit that the line changed cannot be told here. Range, rate and a
second look by people stand behind it.
"""

from drivers.formats.asking import request_of, text_answer
from drivers.formats.decoded import (
    Decoded,
    Sent,
    Told,
    bad_status,
    decoded,
    fault_of,
    line_fault,
    no_number,
    reading_of,
)
from shared.arrivals import Exchanged, Received
from shared.clock import Instant
from shared.gauges import AsciiText, Gauge
from shared.readings import LinkFaultKind
from shared.wire.frame_fault import FrameFault
from shared.wire.number_text import gauge_number
from shared.wire.pattern import compile_pattern
from shared.wire.text_lines import ENDING_BYTES, TextLine, feed_lines


def hear(gauges: tuple[Gauge, ...], pending: bytes, arrival: Received | Exchanged) -> Decoded:
    """What the bytes say of the gauges on their line. Raises TypeError for a gauge of another format.

    A free line is tried with the pattern of each gauge; a line that fits none is a fault. An answer is
    tried with the patterns of those gauges that were asked.
    """
    if isinstance(arrival, Exchanged):
        return decoded(item for gauge in gauges for item in _answered(gauge, arrival))
    endings = {ENDING_BYTES[_wire(gauge).ending] for gauge in gauges}
    if len(endings) > 1:
        raise ValueError(f"{arrival.port}: more than one line ending on one line")
    found, still_pending = feed_lines(pending, arrival.data, endings.pop())
    return decoded((item for line in found for item in _heard(gauges, arrival, line)), still_pending)


def _wire(gauge: Gauge) -> AsciiText:
    if not isinstance(gauge.format, AsciiText):
        raise TypeError(f"{gauge.name}: {type(gauge.format).__name__} is no line of text")
    return gauge.format


def _heard(gauges: tuple[Gauge, ...], arrival: Received, line: TextLine | FrameFault) -> list[Told]:
    if isinstance(line, FrameFault):
        return [line_fault(arrival.port, arrival.at, line)]
    told = [_of_gauge(gauge, _wire(gauge), arrival.at, line.data) for gauge in gauges]
    fitting = [item for item in told if item is not None]
    strange = FrameFault(LinkFaultKind.GARBLED, "a line that fits no gauge's pattern", line.data)
    return fitting or [line_fault(arrival.port, arrival.at, strange)]


def _answered(gauge: Gauge, arrival: Exchanged) -> list[Told]:
    wire = _wire(gauge)
    if request_of(wire) != arrival.request:
        return []
    answer = text_answer(wire, arrival.reply)
    if isinstance(answer, FrameFault):
        return [fault_of(gauge, arrival.at, answer.kind, answer.detail, arrival.reply)]
    told = _of_gauge(gauge, wire, arrival.at, answer.data)
    strange = "an answer that does not fit its pattern"
    return [told or fault_of(gauge, arrival.at, LinkFaultKind.GARBLED, strange, arrival.reply)]


def _of_gauge(gauge: Gauge, wire: AsciiText, at: Instant, line: bytes) -> Told | None:
    """What one line says of one gauge; None when its pattern does not fit."""
    found = compile_pattern(wire.pattern).fullmatch(line)
    if found is None:
        return None
    groups = {name: (text or b"").decode("ascii") for name, text in found.groupdict().items()}
    bad = bad_status(wire.statuses, groups["status"]) if "status" in groups else None
    if bad is not None:
        return fault_of(gauge, at, *bad, line)
    if "unit" in groups and groups["unit"] != wire.unit_text:
        what = f"unit {groups['unit']!r}, the station file says {wire.unit_text!r}"
        return fault_of(gauge, at, LinkFaultKind.WRONG_UNIT, what, line)
    number = gauge_number(groups["value"], wire.decimals)
    if isinstance(number, LinkFaultKind):
        return no_number(gauge, at, number, groups["value"], line)
    return reading_of(gauge, Sent(at, wire.scale * number + wire.offset, wire.unit, line, wire.loop))
