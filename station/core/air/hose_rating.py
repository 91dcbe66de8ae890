"""Hoses: what a breathing hose must bear, against what it is made for. Requirement of 46 CFR 197.312."""

from shared.units import PSI_PER_FSW
from station.core.air.numbers import HOSE_BURST_FACTOR, HOSE_OVER_DEPTH_PSI, HOSE_TEST_FACTOR
from station.core.air.verdict import Reason, Verdict


def least_working_psig(system_psig: float, depth_fsw: float) -> float:
    """Least working pressure of a hose: that of the system, and 100 psi over the pressure of the depth.

    Source: 46 CFR 197.312(a) [P]; 29 CFR 1910.430(c) [P in part].
    """
    return max(system_psig, depth_fsw * PSI_PER_FSW + HOSE_OVER_DEPTH_PSI)


def least_burst_psig(working_psig: float) -> float:
    """Least burst pressure of a hose: four times its working pressure. Source: 46 CFR 197.312(a) [P]."""
    return working_psig * HOSE_BURST_FACTOR


def proof_pressure_psig(working_psig: float) -> float:
    """Pressure a hose is tested at: 1.5 times its working pressure.

    Source: 29 CFR 1910.430(c)(1)(iii), yearly; 46 CFR 197.456(a)(1), every 24 months [P].
    """
    return working_psig * HOSE_TEST_FACTOR


def judge_hose(
    name: str,
    working_psig: float | None,
    burst_psig: float | None,
    system_psig: float,
    depth_fsw: float,
) -> Verdict:
    """A hose judged for the system it hangs on and the depth it goes to.

    Rule R-28. Burst is judged by the pressure the hose is rated for; where that is not known, by what it
    must bear.
    Source: 46 CFR 197.312(a) [P].
    """
    least_psig = least_working_psig(system_psig, depth_fsw)
    rated_psig = least_psig if working_psig is None else working_psig
    return Verdict(
        name,
        (
            Reason("working pressure of the hose", working_psig, least_psig, "psig"),
            Reason("burst pressure of the hose", burst_psig, least_burst_psig(rated_psig), "psig"),
        ),
    )
