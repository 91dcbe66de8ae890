"""The view when the station is not heard: every number withdrawn, every press that needs it shut."""

from station.core.state import Priority
from station.panels import samples
from station.present.looks import KeyState, MarkStyle, NumberState, View
from station.present.unheard import unheard


def silent() -> View:
    """The emergency view, four seconds old."""
    return unheard(samples.emergency(), 4)


def test_every_number_is_withdrawn():
    """Depth, time, air, clock of the timekeeper, banks: no value, the last one struck through."""
    for diver in silent().divers:
        for number in (diver.depth, diver.time, diver.air, diver.keeping.clock):
            assert (number.value, number.state) == ("", NumberState.LOST)
        assert diver.line.style is MarkStyle.GONE
        assert diver.trace.now_s is None
    assert all(bank.pressure.value == bank.minutes.value == "" for bank in silent().air.banks)
    assert silent().divers[0].depth.struck == "58.2"


def test_it_says_so_first_and_tells_what_to_do():
    """An ALARM before all others, "station not heard for 4 s", read the gauges."""
    first, *others = silent().alarms.lines
    assert first.sign.priority is Priority.ALARM
    assert first.what == "Station not heard for 4 s."
    assert first.action == "Read the gauges on the panel."
    assert not first.to_acknowledge
    assert len(others) == 2
    assert silent().divers[0].sentence.head == "Station not heard for 4 s"


def test_no_clock_runs_on():
    """Clock, ages and the log's age are dashes."""
    top = silent().top
    assert not any(character.isdigit() for character in top.clock)
    assert {link.age for link in top.links} == {"---"}
    assert top.log_value == "not known"


def test_nothing_can_be_marked_while_nobody_hears():
    """A press would be lost: keys are shut, alarms are not acknowledged."""
    for diver in silent().divers:
        keys = [*diver.keeping.marks, *diver.keeping.others]
        assert all(key.state in (KeyState.SHUT, KeyState.DONE) for key in keys)
        assert diver.keeping.next_key is not None
        assert diver.keeping.next_key.state is KeyState.SHUT
    assert not any(line.to_acknowledge for line in silent().alarms.lines)
