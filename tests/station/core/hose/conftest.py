"""The libraries that the hose rules are checked against, imported once: one of them takes two seconds."""

from collections.abc import Callable
from types import ModuleType

import pytest


@pytest.fixture(scope="session")
def air_density_kg_m3() -> Callable[[float, float], float]:
    """Density of dry air at a temperature in K and a pressure in Pa, by CoolProp."""
    from CoolProp.CoolProp import PropsSI  # noqa: PLC0415 - two seconds, only where it is needed

    def value(kelvin: float, pascal: float) -> float:
        return float(PropsSI("D", "T", kelvin, "P", pascal, "Air"))

    return value


@pytest.fixture(scope="session")
def gsw() -> ModuleType:
    """The oceanographers' library that depth in metres is checked against."""
    import gsw  # noqa: PLC0415 - slow, only where it is needed

    return gsw
