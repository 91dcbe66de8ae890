"""A horn on a relay: shut and opened in time with its pattern, and its line's trouble told."""

import pytest

from shared.arrivals import PortFaultKind
from shared.ports import PortTrouble
from station.core.alarms.sounding import Pattern
from station.sound.annunciator import NoSound
from station.sound.relay import Relay


class Line:
    """A signal that remembers how it was set."""

    def __init__(self) -> None:
        self.set_to: list[bool] = []
        self.fault = ""
        self.closed = False

    def set(self, on: bool) -> None:
        """Remember, or fail as a line does."""
        if self.fault:
            raise PortTrouble("COM9", PortFaultKind.GONE, self.fault)
        self.set_to.append(on)

    def close(self) -> None:
        """Given back."""
        self.closed = True


@pytest.mark.parametrize(
    ("pattern", "spans"),
    [
        (Pattern.EMERGENCY, [(0.0, True, 1.0), (1.0, False, 0.5), (1.5, True, 1.0), (2.25, True, 0.25)]),
        (Pattern.ALARM, [(0.0, True, 1.0), (1.0, False, 4.0), (5.0, True, 1.0)]),
        (Pattern.WARNING, [(0.0, True, 0.5), (0.5, False, 29.5), (30.0, True, 0.5)]),
    ],
)
def test_the_relay_follows_its_pattern(pattern, spans) -> None:
    """On and off by the clock, and how long until the next change."""
    line, now = Line(), [100.0]
    relay = Relay(lambda: line, "COM9", lambda: now[0])
    assert relay.open() == "relay on COM9"
    relay.play(pattern, 8)
    for at_s, on, wait_s in spans:
        now[0] = 100.0 + at_s
        assert relay.step() == pytest.approx(wait_s)
        assert line.set_to[-1] is on
    relay.play(Pattern.SILENT, 8)
    assert relay.step() is None
    assert line.set_to[-1] is False
    relay.close()
    assert line.closed


def test_a_line_that_is_gone_is_no_sound() -> None:
    """At the opening and on the way; the message names the line."""
    line = Line()
    relay = Relay(lambda: line, "COM9", lambda: 0.0)
    line.fault = "no such signal"
    with pytest.raises(NoSound, match="COM9: no such signal"):
        relay.open()
    line.fault = ""
    relay.open()
    relay.play(Pattern.ALARM, 8)
    line.fault = "unplugged"
    with pytest.raises(NoSound, match="unplugged"):
        relay.step()
