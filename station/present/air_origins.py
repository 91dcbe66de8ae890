"""Where from? For a diver's depth by his hose, and for his air: rule, source, what went in."""

from station.core.air.rules import AIR_RULES
from station.core.air.supply import required_at_fsw, supply_of
from station.core.decompression.rule import EVIDENCE_WORDS
from station.core.depth import depth_of
from station.core.finding import diver_settings
from station.core.state import DiverState, State, Trust
from station.present.ascent_looks import Origin
from station.present.figures import depth_text, pressure_text


def air_origins_of(state: State, diver: DiverState) -> tuple[Origin, ...]:
    """The figures of a diver that hose and air stand behind."""
    return (*_depth(state, diver), *_margin(state, diver))


def _depth(state: State, diver: DiverState) -> tuple[Origin, ...]:
    depth, units = depth_of(state, diver.name), state.settings.units
    if depth.gauge_fsw is None or depth.trust is not Trust.AT_LEAST:
        return ()
    bound = (
        "nothing bounds it" if depth.bound_fsw is None else f"at most {depth_text(depth.bound_fsw, units)}"
    )
    blown = "never blown in this dive"
    if diver.blown is not None:
        blown = f"last blown at {depth_text(diver.blown.value, units)}"
    return (_origin("D6", "Depth at least", depth_text(depth.gauge_fsw, units), f"{blown}, {bound}"),)


def _margin(state: State, diver: DiverState) -> tuple[Origin, ...]:
    supply, units = supply_of(state, diver.name), state.settings.units
    at_fsw = required_at_fsw(state, diver.name)
    if supply.required_psig is None or at_fsw is None:
        return ()
    dress = diver_settings(state, diver.name).equipment
    made = [
        _origin(
            "G1",
            "Minimum supply",
            pressure_text(supply.required_psig, units),
            f"{dress} at {depth_text(at_fsw, units)}, the deepest of plan, maximum and present depth",
        )
    ]
    if supply.margin_psi is not None and supply.pressure_psig is not None:
        inputs = f"supply {pressure_text(supply.pressure_psig, units)} less the minimum"
        made.append(_origin("G1", "Air margin", pressure_text(supply.margin_psi, units), inputs))
    return tuple(made)


def _origin(rule: str, figure: str, value: str, inputs: str) -> Origin:
    known = AIR_RULES[rule]
    evidence = ", ".join(f"{tag}: {EVIDENCE_WORDS[tag]}" for tag in known.evidence)
    return Origin(figure, value, rule, known.sentence, known.source, evidence, inputs)
