"""Whatever is pressed: an emergency that can be known stands in sight, sounds again, and replays the same."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from station import plain
from station.core.alarms.catalogue import BY_ID
from station.core.alarms.sounding import Pattern, sounding
from station.core.fold import fold, initial_state
from station.core.inputs import (
    Acknowledge,
    BackInService,
    CommsKey,
    MarkKind,
    OutOfService,
    SetVolume,
    Shelve,
    Silence,
    SoundTest,
    StationFactKind,
    Unshelve,
)
from station.core.state import Priority, Standing
from station.present.sentences import standing_alarms
from station.table_files import load_books

ONE = "Diver 1"
SHORT = "supply-below-minimum"
IN_SIGHT = (Standing.UNACKNOWLEDGED, Standing.ACKNOWLEDGED)
BOOKS = load_books()

_NAMED = st.sampled_from([(SHORT, ONE), ("depth-not-heard", ONE), ("log-not-durable", "Station")])
_GAUGES = st.sampled_from([f"supply {ONE}", f"depth {ONE}", "bank primary"])
_REASONS = st.sampled_from(["", "noise", "is being mended"])
ACTS = st.one_of(
    st.builds(lambda named, n: Acknowledge(*named, n), _NAMED, st.sampled_from([None, 1, 2])),
    st.builds(
        lambda named, minutes, why: Shelve(*named, minutes, why), _NAMED, st.integers(-1, 16), _REASONS
    ),
    st.builds(lambda named: Unshelve(*named), _NAMED),
    st.builds(OutOfService, _GAUGES, _REASONS),
    st.builds(BackInService, _GAUGES),
    st.builds(Silence),
    st.builds(SoundTest),
    st.builds(SetVolume, st.integers(0, 11)),
    st.builds(CommsKey, st.booleans()),
)
STEPS = st.lists(st.tuples(ACTS, st.sampled_from([0.0, 0.5, 3.0])), max_size=12)


@pytest.fixture(name="short_of_air", scope="module")
def _short_of_air(new_watch):
    """A state in which diver 1 is short of air, his depth silent and the log failing."""
    watch = new_watch(every_s=0.5, step_s=0.5, names=(ONE,))
    watch.run(2)
    watch.mark(MarkKind.LEFT_SURFACE)
    watch.fact(StationFactKind.SOUND_BACK, detail="loudspeaker")
    watch.fact(StationFactKind.LOG_FAILED, detail="disk full")
    watch.depth(20.0)
    watch.supply(60.0)
    watch.run(12)
    return watch.state, tuple(watch.inputs)


@settings(deadline=None, max_examples=20)
@given(steps=STEPS)
def test_no_sequence_of_acts_hides_an_emergency(new_watch, short_of_air, steps) -> None:
    """It stands unacknowledged or acknowledged, first of the strip; unseen, it sounds again in 30 s."""
    watch = new_watch(every_s=0.5, step_s=0.5, names=(ONE,))
    watch.state, watch.inputs = short_of_air[0], list(short_of_air[1])
    watch.depth(20.0)
    watch.supply(lambda t: 60.0 + 0.1 * (round(2 * t) % 2))
    for act, wait_s in steps:
        watch.act(act)
        watch.run(wait_s)
        assert watch.standing(SHORT) in IN_SIGHT
        assert standing_alarms(watch.state)[0].priority is Priority.EMERGENCY
    watch.act(CommsKey(down=False))
    watch.run(31, step_s=1.0)
    wish = sounding(watch.state)
    seen = watch.standing(SHORT) is Standing.ACKNOWLEDGED
    assert seen or (wish.pattern is Pattern.EMERGENCY and wish.volume > 0 and not wish.dropped)
    assert all(
        alarm.standing is not Standing.SHELVED
        for alarm in watch.state.alarms
        if BY_ID[alarm.id].priority is Priority.EMERGENCY
    )
    _replays(watch)


def _replays(watch) -> None:
    """The same inputs give the same state, and the state comes back from its plain form."""
    state = initial_state(watch.settings, 0)
    for seq, arrived in enumerate(watch.inputs, 1):
        state, _ = fold(state, arrived, seq, BOOKS)
    assert state == watch.state
    assert plain.state_from_plain(plain.state_to_plain(state)) == state
