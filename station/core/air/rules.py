"""The rules of air and hose in force, each with its source and how well it is known.

What "where from?" shows beside the rules of depth, time and ascent, in the same shape.
Paths of `computed_by` start at `station.core`.
"""

from types import MappingProxyType
from typing import Final

from station.core.decompression.rule import Evidence, Rule

_P, _C, _S, _M, _OWN = (
    Evidence.PAGE,
    Evidence.COMPUTED,
    Evidence.SECONDARY,
    Evidence.MEMORY,
    Evidence.OWN,
)
_R4 = "USN Diving Manual Rev 4 Change A"

_HOSE = (
    Rule(
        "D6",
        "A hose is blown only when it is marked so. It is unproven when its reading has risen by 0.5 fsw, "
        "five minutes later, or when slack is given: then the depth is at least the reading b + r, at most "
        "b + r (1 + L / (33 + b)).",
        f"{_R4}, p. 8-35: blow again after any descent; the bound by Boyle's law, the limits our own choice",
        (_P, _OWN),
        ("hose.trust.step", "hose.trust.hose_depth", "hose.squeeze.bound_fsw", "hose.trace.is_settled"),
    ),
    Rule(
        "D7",
        "Two gauges on one diver that differ by more than 2 % of full scale while steady must be tested.",
        "29 CFR 1910.430(g)(2); 46 CFR 197.458; steady below 5 fsw/min our own choice",
        (_P, _OWN),
        ("hose.pair.gauges_differ",),
    ),
)

_AIR = (
    Rule(
        "G1",
        "The manifold stands at depth x 0.445 and the over-bottom pressure of the dress, or at the floor "
        "that its source prints; the maker's own table stands above both.",
        "USN Diving Manual Rev 5, Table 8-1; TM 5-4220-225-14, para 2-15; deep-sea dress from memory",
        (_P, _M),
        ("air.setting.setting_at",),
    ),
    Rule(
        "G3",
        "Divers use (depth + 33) / 33 x acfm x divers of free air: 1.4 acfm in demand mode, 6 in the "
        "free-flow helmet, 4.5 in the deep-sea dress.",
        f"{_R4}, p. 7-14, 8-3; TM 5-4220-225-14, para 2-15; mask and deep-sea dress from memory",
        (_P, _M),
        ("air.flow.flow_scfm",),
    ),
    Rule(
        "G4",
        "A bank gives volume x (pressure - 200 - manifold minimum) / 14.7, or less where real air at its "
        "temperature is less; durations go down.",
        f"{_R4}, p. 7-14, 8-3; 200 psi from memory; real air by J. Phys. Chem. Ref. Data 29 (2000) 331",
        (_P, _M, _C, _OWN),
        ("air.bank.content_of", "air.bank.duration_min", "air.compressibility.compressibility"),
    ),
    Rule(
        "G5",
        "A supply must give bottom, ascent at average depth and each stop at its depth, in whole minutes, "
        "up, to every diver and the standby in full, with the profile's reserve; each supply by itself.",
        f"{_R4}, p. 8-2, 8-3, 8-18; reserve: 46 CFR 197.340, 29 CFR 1910.425(c)",
        (_P, _OWN),
        ("air.need.supply_need", "air.need.standby_breathing", "air.verdict.judge_supply"),
    ),
    Rule(
        "G6",
        "Minutes left are the fewer of the bank's measured fall and the flow that is needed, and must cover "
        "ascent and stops and a quarter more.",
        "our own choice",
        (_OWN,),
        ("air.endurance.endurance", "air.endurance.lines_cross_min", "air.endurance.is_short"),
    ),
    Rule(
        "G7",
        "The diver's own cylinder holds the time to get back at depth and the ascent at average depth, over "
        "the regulator's setting and the pressure of the last depth, up to the next 100 psi.",
        f"{_R4}, p. 8-2, 8-3, sample problem 1; the step of 100 psi our own choice",
        (_P, _OWN),
        ("air.emergency_gas.emergency_need", "air.emergency_gas.emergency_endurance"),
    ),
    Rule(
        "G8",
        "Contaminants act by their partial pressure, ppm x ata; exposure to oxygen is minutes over the "
        "minutes of the equal or next higher row.",
        "29 CFR 1910.430(b)(3), 46 CFR 197.340(i); NOAA Diving Manual, oxygen limits, secondary sources",
        (_P, _S, _M, _OWN),
        (
            "air.gas_limits.contaminant_findings",
            "air.oxygen.oxygen_standing",
            "air.oxygen.oxygen_dose",
        ),
    ),
    Rule(
        "R-28",
        "A hose is rated for its system and for 100 psi over the pressure of the depth, and bursts at four "
        "times its rating.",
        "46 CFR 197.312(a); 29 CFR 1910.430(c)",
        (_P,),
        ("air.hose_rating.judge_hose",),
    ),
)

AIR_RULES: Final = MappingProxyType({rule.id: rule for rule in _HOSE + _AIR})
"""Every rule of air and hose by its id."""
