"""A replay under somebody's hand gives at each place the state that playing through gives."""

import pytest

from drivers.decode import hear
from shared.clock import EPOCH, Instant, after
from shared.units import NS_PER_S
from station.log.outline import outline_of
from station.log.reading import LogReader
from station.player import BEFORE_ALARM_S, FASTEST, LONGEST_STEP_S, SLOWEST, Player
from station.replaying import Playback


@pytest.fixture
def reader(line_trouble):
    """The short log, open."""
    with LogReader(line_trouble.log) as opened:
        yield opened


@pytest.fixture
def player(reader):
    """A replay at its beginning."""
    return Player(reader, hear, outline_of(reader), EPOCH)


def played_to(reader, at):
    """The state when everything up to `at` is played from the beginning."""
    playback = Playback(reader, hear, lambda *_: None)
    playback.play_until(Instant(at + 1))
    return playback.state


@pytest.mark.parametrize("share", [0.9, 0.1, 0.55])
def test_seeking_gives_the_state_of_playing_through(reader, player, share):
    """A jump forward or back lands in the very state that playing from the start gives."""
    player.command("seek", share)
    player.go_on(0.1)
    assert player.state == played_to(reader, player.at)


def test_speed_multiplies_real_time_within_its_bounds(player):
    """A tenth of a second at 60 is six seconds; no speed goes below 1 or above 300."""
    player.command("speed", 60)
    player.go_on(0.1)
    assert player.at == after(EPOCH, 6.0)
    for asked, got in ((0.0, SLOWEST), (1e9, FASTEST)):
        player.command("speed", asked)
        assert player.speed == got


def test_pause_holds_the_place(player):
    """While it is paused no real time moves it."""
    player.go_on(0.1)
    player.command("pause", 0.0)
    player.go_on(0.1)
    assert player.at == after(EPOCH, 0.1)
    player.command("play", 0.0)
    player.go_on(0.1)
    assert player.at == after(EPOCH, 0.2)


def test_slow_computer_plays_slower_and_answers(player):
    """A step after a long stall is no longer than the longest, so that no step makes the next one longer."""
    player.command("speed", FASTEST)
    player.go_on(60.0)
    assert player.at == after(EPOCH, LONGEST_STEP_S * FASTEST)


def test_end_of_the_log_pauses(player, reader):
    """At the end the replay stops at the last instant, and play does nothing more."""
    player.command("speed", FASTEST)
    player.command("seek", 0.99)
    player.go_on(LONGEST_STEP_S)
    assert not player.playing
    assert player.at == outline_of(reader).ends
    player.command("play", 0.0)
    assert not player.playing


def test_alarm_keys_go_from_one_alarm_to_the_next(player, reader):
    """Next alarm lands shortly before it, the one after further on, and back again."""
    moments = [alarm.at for alarm in outline_of(reader).alarms]
    assert len(moments) > 2
    player.command("alarm_after", 0.0)
    first = player.at
    assert first == max(0, moments[0] - round(BEFORE_ALARM_S * NS_PER_S))
    player.command("alarm_after", 0.0)
    assert player.at > first
    player.command("alarm_before", 0.0)
    assert player.at == first


def test_unknown_command_is_a_mistake_of_ours(player):
    """A replay that is asked for something else says so loudly."""
    with pytest.raises(ValueError, match="rewind"):
        player.command("rewind", 0.0)
