"""Every number of the air rules that decides something: one home, a unit, a source.

Tags: [P] page read, [S] secondary notes, [M] from memory, unverified, [C] computed, [own] our choice.
R4, R5: U.S. Navy Diving Manual, Revision 4 Change A (2001) and Revision 5 (2005).
The sentence under a number, or a group of numbers, is its unit, meaning and source. What a class of dress
breathes, and the limits of each profile, are tables beside their rules: `flow`, `gas_limits`, `reserve`.
"""

from typing import Final

PSI_PER_ATMOSPHERE: Final = 14.7
"""One atmosphere in psi as the handbook rounds it. R4 p. 7-14 [P]."""

ACFM_DEMAND: Final = 1.4
"""Free air a diver plans in demand mode, ft³/min at his depth. R4 p. 8-3 [P]."""

ACFM_FREE_FLOW_HELMET: Final = 6.0
"""Reference flow of the free-flow helmet with dry suit, ft³/min at depth. TM 5-4220-225-14, 2-15 [P]."""

ACFM_FREE_FLOW_DRESS: Final = 4.5
"""Flow of the free-flow deep-sea dress, ft³/min at depth. From memory, unverified [M]."""

PEAK_OVER_MEAN: Final = 3.141592653589793
"""Peak flow of a breath over the mean: half a sine in, nothing out. Own derivation [own]."""

MINIMUM_FLASK_PSI: Final = 200.0
"""Pressure that stays in a flask above the manifold's. USN air manual, ch. 8; from memory, unverified [M]."""

FREE_AIR_TEMPERATURE_F: Final = 70.0
"""Temperature that free air is reckoned at, as compressor plates do. R4 p. 8-19 [P]."""

BANK_TEMPERATURE_F: Final = 70.0
"""Temperature of a bank that nobody has measured [own]: 10 F more is 2 % less air."""

RANKINE_AT_0_F: Final = 459.67
"""Absolute temperature at 0 F in degrees Rankine. NIST Special Publication 811 (2008), app. B.8."""

KELVIN_PER_RANKINE: Final = 5.0 / 9.0
"""NIST Special Publication 811 (2008), appendix B.8 (exact)."""

COMPRESSIBILITY_PER_KPSI: Final = (
    (-0.024373, 0.039447, -0.01625),
    (0.011165, -0.004821, 0.001337),
    (0.000472, -0.001431, 0.001022),
    (-0.000109, 0.000201, -0.00014),
)
COMPRESSIBILITY_MIDDLE_F: Final = 70.0
COMPRESSIBILITY_SPAN_F: Final = 100.0
"""Z - 1 of dry air = sum of a[i][j] p^(i+1) t^j, p in thousands of psi absolute, t = (F - middle) / span.

Our own least-squares fit [C] to the reference equation for air of Lemmon, Jacobsen, Penoncello and Friend,
J. Phys. Chem. Ref. Data 29 (2000) 331, as CoolProp computes it. Error of Z below 0.22 % in the range
below, below 0.09 % from 20 to 120 F.
"""

COMPRESSIBILITY_HIGHEST_PSIG: Final = 5_000.0
COMPRESSIBILITY_COLDEST_F: Final = -10.0
COMPRESSIBILITY_HOTTEST_F: Final = 150.0
"""Where the fit was made; outside it there is no figure [C]."""

DUST_DECIMALS: Final = 6
"""Decimals a figure is cut to before it is rounded up or down, so that 30.0 stays 30 [own]."""

CYLINDER_PRESSURE_STEP_PSI: Final = 100.0
"""Needed pressure goes up to the next step: 2,580.95 is 2,600. R4 p. 8-3 [P]; the step itself [own]."""

EMERGENCY_REGULATOR_PSI: Final = 135.0
EMERGENCY_WHIP_REGULATOR_PSI: Final = 150.0
"""First stage of the emergency gas over the bottom; down a whip from the surface. R4 p. 8-2 [P]."""

FLOODABLE_CUFT: Final = (("72", 0.420), ("80", 0.399), ("90", 0.398), ("K", 1.620))
"""Floodable volume in ft³ of a cylinder by the trade's name for its size. R5 ch. 17 [P]."""

ASCENT_RATE_FSW_MIN: Final = 30.0
"""Ascent on emergency gas. R4 p. 8-3 [P]."""

ENDURANCE_MARGIN_SHARE: Final = 0.25
"""Minutes left must exceed ascent and stops by this share of them [own]."""

HOSE_OVER_DEPTH_PSI: Final = 100.0
HOSE_BURST_FACTOR: Final = 4.0
"""Working pressure over that of the depth; burst over working pressure. 46 CFR 197.312(a) [P]."""

HOSE_TEST_FACTOR: Final = 1.5
"""Test pressure over working pressure. 29 CFR 1910.430(c)(1)(iii); 46 CFR 197.456(a)(1) [P]."""

PLAN_STEP_FSW: Final = 10
"""Distance of the depths in a table of pressures to set [own]."""

AIR_OXYGEN_SHARE: Final = 0.21
"""Share of oxygen in air. Convention of the tables."""

OXYGEN_LEAST_ATA: Final = 0.16
OXYGEN_LOW_ATA: Final = 0.18
"""Oxygen below which a diver lacks it, old U.S. Navy text [S]; warned already below the second [own]."""

OXYGEN_MOST_ATA: Final = 1.40
"""Highest oxygen of a working dive. 29 CFR 1910, subpart T, appendix C; from memory, unverified [M]."""

OXYGEN_COUNTED_ATA: Final = 0.50
"""Oxygen up to this counts for no exposure. NOAA Diving Manual; from memory, unverified [M]."""

OXYGEN_LIMITS_ATA_MIN: Final = (
    (0.6, 720, 720),
    (0.7, 570, 570),
    (0.8, 450, 450),
    (0.9, 360, 360),
    (1.0, 300, 300),
    (1.1, 240, 270),
    (1.2, 210, 240),
    (1.3, 180, 210),
    (1.4, 150, 180),
    (1.5, 120, 180),
    (1.6, 45, 150),
)
"""Oxygen in ata, minutes in one exposure, minutes in 24 h. NOAA Diving Manual, "Normal Exposure Oxygen
Partial Pressure Limits", read in secondary sources that agree [S]."""

HOSE_ROUGHNESS_MM: Final = 0.01
"""Inside of a smooth rubber hose. Common practice, no source; own choice within it [own]."""

HOSE_TEMPERATURE_F: Final = 70.0
"""Air in the hose when nobody says otherwise; cold water only lessens the drop [own]."""

GAS_CONSTANT_J_MOL_K: Final = 8.314462618
"""Molar gas constant. CODATA 2018 (exact)."""

AIR_KG_PER_MOL: Final = 0.02896546
"""Molar mass of dry air. Lemmon and others, J. Phys. Chem. Ref. Data 29 (2000) 331."""

SUTHERLAND_BETA: Final = 1.458e-6
SUTHERLAND_K: Final = 110.4
"""Viscosity of air, Pa s = beta T^1.5 / (T + S), T in kelvin. U.S. Standard Atmosphere 1976, eq. 51; the
figures from memory, unverified, checked against CoolProp [C]."""

SOLVER_STEPS: Final = 60
"""Halvings of the interval in which a pressure is sought: its width falls below 1e-11 Pa in 1e7 [C]."""
