"""Station time runs from its start, UTC only labels it, and a jump of UTC is noticed."""

from pathlib import Path

import pytest

from drivers.clock import BOOT_ID_FILE, Sources, StepWatch, SystemClock, boot_id, computer
from shared.clock import EPOCH, Instant

S = 1_000_000_000


class Hands:
    """Clocks that a test sets by hand."""

    def __init__(self) -> None:
        self.steady_ns = 900 * S
        self.utc_ns = 2_000_000 * S
        self.sources = Sources(lambda: self.steady_ns, lambda: self.utc_ns, counts_in_suspend=True)

    def run(self, seconds: int) -> None:
        """Both clocks go on alike."""
        self.steady_ns += seconds * S
        self.utc_ns += seconds * S


def test_station_time_begins_at_the_epoch_and_counts_nanoseconds():
    """The instant of making the clock is the epoch."""
    hands = Hands()
    clock = SystemClock(sources=hands.sources)
    assert clock.now() == EPOCH
    hands.steady_ns += 1
    assert clock.now() == Instant(1)
    assert clock.utc_at_start_ns == 2_000_000 * S


def test_a_resumed_watch_goes_on_from_its_instant():
    """A clock given a start runs on from there."""
    hands = Hands()
    clock = SystemClock(Instant(77 * S), hands.sources)
    hands.run(3)
    assert clock.now() == Instant(80 * S)


def test_setting_the_wall_clock_does_not_move_station_time():
    """UTC jumps, station time does not; the jump is told once, with its sign."""
    hands = Hands()
    clock = SystemClock(sources=hands.sources)
    watch = StepWatch(clock, 2.0)
    hands.run(10)
    assert watch.step_s() is None
    hands.utc_ns -= 3600 * S
    assert clock.now() == Instant(10 * S)
    assert clock.utc_ns() == (2_000_010 - 3600) * S
    assert watch.step_s() == -3600.0
    assert watch.step_s() is None
    hands.utc_ns += 5 * S
    assert watch.step_s() == 5.0


@pytest.mark.parametrize(("step_ns", "told"), [(2 * S, None), (2 * S + 1, 2.000000001), (-2 * S, None)])
def test_a_step_is_told_only_beyond_the_least_step(step_ns, told):
    """A correction of the size of the limit is none."""
    hands = Hands()
    watch = StepWatch(SystemClock(sources=hands.sources), 2.0)
    hands.utc_ns += step_ns
    assert watch.step_s() == told


def test_the_clocks_of_this_computer_go_forward():
    """Two looks at the real clock never run back, and UTC is after the year 2020."""
    clock = SystemClock()
    first, second = clock.now(), clock.now()
    assert EPOCH <= first <= second
    assert clock.utc_ns() > 1_577_836_800 * S
    assert clock.counts_in_suspend is computer().counts_in_suspend


def test_the_boot_is_named_or_not(tmp_path: Path):
    """The boot id is the file's one line; a system without the file has none."""
    file = tmp_path / "boot_id"
    file.write_text("8c4d-x\n")
    assert boot_id(file) == "8c4d-x"
    assert boot_id(tmp_path / "none") == ""
    assert (boot_id() != "") is BOOT_ID_FILE.exists()
