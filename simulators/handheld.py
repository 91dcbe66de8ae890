"""The whole rehearsal in one hand: slice after slice of bytes, without a process, a line or a clock."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from shared.conductor import SLICE_MS
from simulators.gauges import Dial, group, sentences
from simulators.line_faults import BYTE_KINDS, FaultKind, LineFault, spoil
from simulators.scenario import Line, Scenario
from simulators.truth.dive import Moment


@dataclass(frozen=True, slots=True)
class Slice:
    """100 ms of a rehearsal, up to and with `at_ms`.

    Lines go by the station file's port, such as "rehearsal://PNEUMO-1". `sent` holds lines with bytes
    only. A line pulled in this slice says nothing in it, and a restored one speaks from the next on.
    `presses` are plain JSON with "by"; `moment` is the truth at `at_ms`.
    """

    at_ms: int
    moment: Moment
    sent: dict[str, bytes] = field(default_factory=dict)
    pulled: tuple[str, ...] = ()
    restored: tuple[str, ...] = ()
    presses: tuple[dict[str, Any], ...] = ()
    pictures: tuple[str, ...] = ()
    done: bool = False


def slices(scenario: Scenario) -> Iterator[Slice]:
    """Every slice of a scenario in order, the last one `done`; the same for the same scenario and seed."""
    speakers = tuple(_Speaker(line, scenario) for line in scenario.lines)
    for at_ms in range(SLICE_MS, scenario.end_ms + 1, SLICE_MS):
        moment = scenario.truth.at(at_ms)
        spoken = {speaker.port: speaker.speak(moment) for speaker in speakers}
        yield Slice(
            at_ms=at_ms,
            moment=moment,
            sent={port: data for port, data in spoken.items() if data},
            pulled=tuple(speaker.port for speaker in speakers if speaker.pulled_at(at_ms)),
            restored=tuple(speaker.port for speaker in speakers if speaker.restored_at(at_ms)),
            presses=tuple(press.act for press in scenario.presses if press.at_ms == at_ms),
            pictures=tuple(picture.name for picture in scenario.pictures if picture.at_ms == at_ms),
            done=at_ms == scenario.end_ms,
        )


class _Speaker:
    """One line with its gauges: what it says in each slice, as fast as it can carry it."""

    def __init__(self, line: Line, scenario: Scenario) -> None:
        self.port = line.port
        self._line = line
        self._seed = scenario.seed
        self._dials = [
            Dial(gauge, scenario.seed) for gauge in scenario.instruments if gauge.line == line.name
        ]
        faults = [fault for fault in scenario.faults if fault.line == line.name]
        self._spoilers = [fault for fault in faults if fault.kind in BYTE_KINDS]
        self._freezes = [fault for fault in faults if fault.kind is FaultKind.FROZEN]
        self._pulls = [fault for fault in faults if fault.kind is FaultKind.PULLED]
        self._waiting = b""

    def pulled_at(self, at_ms: int) -> bool:
        """Whether the cable is pulled in this slice."""
        return any(pull.from_ms == at_ms for pull in self._pulls)

    def restored_at(self, at_ms: int) -> bool:
        """Whether the cable is put back in this slice."""
        return any(pull.to_ms == at_ms for pull in self._pulls)

    def speak(self, moment: Moment) -> bytes:
        """The bytes of one slice. Call it for every slice: gauges follow the pressure, cable or not."""
        for dial in self._dials:
            dial.follow(moment)
        if _any_holds(self._pulls, moment.at_ms) or self.restored_at(moment.at_ms):
            self._waiting = b""
            return b""
        # A gauge whose last sentence is still going out leaves one out, as an instrument does.
        self._waiting = self._waiting or self._said(moment.at_ms)
        most = self._line.bytes_per_slice
        going, self._waiting = self._waiting[:most], self._waiting[most:]
        return going

    def _said(self, at_ms: int) -> bytes:
        frozen = _any_holds(self._freezes, at_ms)
        due = [dial for dial in self._dials if dial.due(at_ms)]
        payload = sentences(tuple(group(dial.instrument, dial.read(at_ms, frozen=frozen)) for dial in due))
        for fault in self._spoilers:
            if fault.holds(at_ms):
                payload = spoil(fault, payload, self._seed, at_ms)
        return payload


def _any_holds(faults: list[LineFault], at_ms: int) -> bool:
    return any(fault.holds(at_ms) for fault in faults)
