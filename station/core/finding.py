"""Finding one thing of the state by its name or its place."""

from shared.gauges import Channel, Gauge, GaugeRole
from station.core.settings import DiverSettings, SupplySettings
from station.core.state import DiverState, GaugeState, State


def diver_named(state: State, name: str) -> DiverState:
    """The state of a diver. Raises KeyError when there is none of that name."""
    for diver in state.divers:
        if diver.name == name:
            return diver
    raise KeyError(name)


def diver_settings(state: State, name: str) -> DiverSettings:
    """The settings of a diver. Raises KeyError when there is none of that name."""
    for diver in state.settings.divers:
        if diver.name == name:
            return diver
    raise KeyError(name)


def supply_settings(state: State, name: str) -> SupplySettings:
    """The settings of a supply. Raises KeyError when there is none of that name."""
    for supply in state.settings.supplies:
        if supply.name == name:
            return supply
    raise KeyError(name)


def gauge_of(state: State, channel: Channel, subject: str, role: GaugeRole = GaugeRole.MAIN) -> Gauge | None:
    """The gauge that measures `channel` for a diver or a supply, None where the station has none."""
    for gauge in state.settings.gauges:
        if gauge.channel is channel and gauge.subject == subject and gauge.role is role:
            return gauge
    return None


def gauge_state(state: State, name: str) -> GaugeState:
    """What is known of a gauge. Raises KeyError when there is none of that name."""
    for heard in state.gauges:
        if heard.name == name:
            return heard
    raise KeyError(name)


def place_of(state: State, name: str) -> int:
    """The place of a gauge in settings and state. Raises KeyError when there is none of that name."""
    for place, gauge in enumerate(state.gauges):
        if gauge.name == name:
            return place
    raise KeyError(name)
