"""Banks: the air that can still be drawn from flasks, a cylinder or a volume tank. Rules G4, G5."""

from dataclasses import dataclass

from station.core.air.compressibility import free_air_per_volume, is_covered
from station.core.air.numbers import BANK_TEMPERATURE_F, MINIMUM_FLASK_PSI, PSI_PER_ATMOSPHERE
from station.core.air.quantity import Quantity, lesser, not_below_zero
from station.core.air.rounding import down


@dataclass(frozen=True, slots=True)
class Flasks:
    """What a supply is stored in: so many flasks of one floodable volume."""

    count: int
    floodable_cuft: float

    @property
    def volume_cuft(self) -> float:
        """Volume of all flasks together."""
        return self.count * self.floodable_cuft


@dataclass(frozen=True, slots=True)
class Content:
    """Air that can be drawn down to the least pressure, in scf: by the handbook, as real air, the smaller.

    Above 5,000 psig, or outside -10 to 150 F, the handbook's figure is too large by an unknown amount:
    `real_scf` and `usable_scf` are None there.
    """

    handbook_scf: float
    real_scf: float | None
    usable_scf: float | None


def least_bank_psig(manifold_minimum_psig: Quantity) -> Quantity:
    """Bank pressure in psig at which a flask no longer feeds the manifold: 200 psi over its minimum.

    Rule G4. Source: USN air manual, ch. 8; from memory, unverified [M].
    """
    return manifold_minimum_psig + MINIMUM_FLASK_PSI


def handbook_scf(volume_cuft: float, pressure_psig: Quantity, least_psig: float) -> Quantity:
    """Air that can be drawn from a pressure down to the least, in scf: volume x (P - least) / 14.7.

    Rule G4. Source: USN Diving Manual Rev 4 Change A, p. 7-14 [P]. Never below 0.
    """
    return not_below_zero(volume_cuft * (pressure_psig - least_psig) / PSI_PER_ATMOSPHERE)


def real_scf(
    volume_cuft: float, pressure_psig: Quantity, least_psig: float, temperature_f: float
) -> Quantity:
    """The same as real air at the bank's temperature, in scf at 70 F. Never below 0.

    Rule G4 [own]: what is in the flask less what must stay in it. Holds where `compressibility.is_covered`.
    """
    left = free_air_per_volume(least_psig, temperature_f)
    return not_below_zero(volume_cuft * (free_air_per_volume(pressure_psig, temperature_f) - left))


def smaller_scf(
    volume_cuft: float, pressure_psig: Quantity, least_psig: float, temperature_f: float
) -> Quantity:
    """The smaller of the handbook's figure and real air's, in scf. Rule G4 [own]."""
    handbook = handbook_scf(volume_cuft, pressure_psig, least_psig)
    return lesser(handbook, real_scf(volume_cuft, pressure_psig, least_psig, temperature_f))


def content_of(
    volume_cuft: float,
    pressure_psig: float,
    least_psig: float,
    temperature_f: float = BANK_TEMPERATURE_F,
) -> Content:
    """Both figures and the one to use, by the pressure and temperature of the bank. Rule G4."""
    handbook = handbook_scf(volume_cuft, pressure_psig, least_psig)
    covered = is_covered(max(pressure_psig, least_psig, 0.0), temperature_f)
    if not covered:
        return Content(handbook, None, None)
    real = real_scf(volume_cuft, pressure_psig, least_psig, temperature_f)
    return Content(handbook, real, min(handbook, real))


def duration_min(available_scf: float, flow_scfm: float) -> int | None:
    """Whole minutes that so much air lasts, down; None while nobody breathes from it.

    Rule G4. Source: USN Diving Manual Rev 4 Change A, p. 7-14, rounding p. 8-3 [P].
    """
    return down(available_scf / flow_scfm) if flow_scfm > 0 else None


def volume_tank_scf(volume_cuft: float, pressure_psig: float, manifold_minimum_psig: float) -> float:
    """Air that a compressor's volume tank gives after the compressor stopped, in scf.

    Rule G5: a compressor's endurance is its tank alone. The tank stands at the manifold's pressure, so no
    flask minimum is kept back. Source: USN Diving Manual Rev 4 Change A, p. 7-14, 8-19 [P].
    """
    return handbook_scf(volume_cuft, pressure_psig, manifold_minimum_psig)
