"""`overbottom ports`: which serial ports there are, and what one of them says."""

import argparse
import sys
from queue import SimpleQueue

from drivers.addresses import AddressFault, parse_address
from drivers.clock import SystemClock
from drivers.opening import open_port
from drivers.reader import Reader
from drivers.serial_port import list_ports
from shared.arrivals import LineArrival, PortFault, Received
from shared.clock import EPOCH, seconds_between
from shared.wire.nmea0183 import FrameFault, Sentence, feed, is_xdr, parse_xdr

DONE, BAD_ARGUMENTS = 0, 2


def ports_command(options: argparse.Namespace) -> int:
    """List the serial ports, or show what one says until it is left off."""
    if options.listen is None:
        return _list()
    try:
        return _listen(options.listen)
    except AddressFault as fault:
        sys.stderr.write(f"overbottom: {fault}\n")
        return BAD_ARGUMENTS


def _list() -> int:
    found = list_ports()
    for port in found:
        lasting = f"\n    stays the same in another socket: {port.lasting}" if port.lasting else ""
        sys.stdout.write(f"{port.address}  {port.title} {port.hardware}{lasting}\n")
    if not found:
        sys.stderr.write("overbottom: this computer has no serial port that it tells of\n")
    return DONE


def _listen(address: str) -> int:
    """Show raw bytes and decoded sentences until Ctrl-C."""
    parse_address(address)
    clock = SystemClock()
    heard: SimpleQueue[LineArrival | BaseException] = SimpleQueue()
    reader = Reader(address, open_port, clock, heard.put, lambda _, error: heard.put(error))
    reader.start()
    pending = b""
    try:
        while True:
            arrival = heard.get()
            if isinstance(arrival, BaseException):
                raise arrival
            lines, pending = _told(arrival, pending)
            stamp = f"{seconds_between(EPOCH, arrival.at):9.3f} s"
            sys.stdout.write("".join(f"{stamp}  {line}\n" for line in lines))
            sys.stdout.flush()
    except KeyboardInterrupt:
        return DONE
    finally:
        reader.stop()


def _told(arrival: LineArrival, pending: bytes) -> tuple[list[str], bytes]:
    match arrival:
        case PortFault(kind=kind, detail=detail):
            return [f"port {kind.value} {detail}".rstrip()], b""
        case Received(data=data):
            frames, pending = feed(pending, data)
            return [f"bytes    {data!r}", *(_frame(frame) for frame in frames)], pending
        case _:
            raise TypeError(f"a listened-to line brings no {type(arrival).__name__}")


def _frame(frame: Sentence | FrameFault) -> str:
    if isinstance(frame, FrameFault):
        return f"fault    {frame.kind.value}: {frame.detail}"
    if not is_xdr(frame):
        return f"sentence {frame.address} {','.join(frame.fields)}"
    groups = parse_xdr(frame)
    if isinstance(groups, FrameFault):
        return f"fault    {groups.kind.value}: {groups.detail}"
    told = (f"{group.name} {group.kind} {group.text} {group.unit}" for group in groups)
    return f"XDR      {'; '.join(told)}"
