"""What is put aside, in words: shelved alarms with their time, gauges out of service with name and reason."""

from shared.clock import seconds_between
from station.core.state import Aside, State
from station.present.figures import span_text
from station.present.sentences import clock_text


def aside_words(state: State, aside: Aside) -> str:
    """What stands in the place of the action of an alarm that is put aside."""
    if aside.until is None:
        return f"Read by hand. Out of service by {aside.by}: {aside.reason}"
    left_s = max(0.0, seconds_between(state.now, aside.until))
    return f"Back in {span_text(left_s)}. Shelved by {aside.by}: {aside.reason}"


def out_of_service_words(state: State) -> tuple[str, ...]:
    """Each gauge that is given up, on one line."""
    return tuple(
        f"{out.gauge} out of service since {clock_text(state, out.at)[:5]}, "
        f"read by hand ({out.by}: {out.reason})"
        for out in state.out_of_service
    )
