"""What the trace keeps of his level: nothing while air flows in his hose and the gauge reads deep."""

from dataclasses import replace

from shared.clock import EPOCH, after
from station.core.by_table.levels import with_levels
from station.core.hose.trust import Flow, HoseState
from station.core.parameters import Parameters
from station.core.state import DiverState

P = Parameters()
BLOWN = HoseState(blown_at=EPOCH, blown_fsw=20.0, full_at_fsw=20.0, doubt=None)
FLOWING = replace(BLOWN, flow=Flow(EPOCH, 15.0))


def stood(diver, seconds, shown_fsw, hose, start_s=0):
    """The diver after so many looks, one a second, at a stop of 20 fsw."""
    for second in range(start_s, start_s + seconds):
        diver = replace(diver, shown_fsw=shown_fsw, hose=hose)
        diver = with_levels(diver, 20.0, after(EPOCH, second), P)
    return diver


def test_flowing_air_does_not_bring_him_back_to_his_stop():
    """He is above the stop; a blow that makes the gauge read 20 does not end that time."""
    risen = stood(DiverState("Diver 1"), 15, 15.0, BLOWN)
    assert risen.away[-1].end is None
    blowing = stood(risen, 8, 20.5, FLOWING, 15)
    assert blowing.away == risen.away
    back = stood(blowing, 1, 20.5, BLOWN, 23)
    assert back.away[-1].end is not None


def test_flowing_air_is_no_depth_deeper_than_fifty():
    """A gauge that reads 52 because air flows says nothing of where he was last deeper than 50."""
    assert stood(DiverState("Diver 1"), 3, 52.0, FLOWING).deeper_50_at is None
    assert stood(DiverState("Diver 1"), 3, 52.0, BLOWN).deeper_50_at == after(EPOCH, 2)
