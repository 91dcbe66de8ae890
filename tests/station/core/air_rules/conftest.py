"""The libraries that the air rules are checked against, imported once: one of them takes two seconds."""

from collections.abc import Callable
from types import ModuleType

import pytest

Property = Callable[[str, float, float], float]


@pytest.fixture(scope="session")
def air_property() -> Property:
    """A property of dry air at a temperature in K and a pressure in Pa, by CoolProp."""
    from CoolProp.CoolProp import PropsSI  # noqa: PLC0415 - two seconds, only where it is needed

    def value(name: str, kelvin: float, pascal: float) -> float:
        return float(PropsSI(name, "T", kelvin, "P", pascal, "Air"))

    return value


@pytest.fixture(scope="session")
def fluids() -> ModuleType:
    """The library of fluid mechanics that friction and isothermal flow are checked against."""
    import fluids  # noqa: PLC0415 - slow, only where it is needed

    return fluids
