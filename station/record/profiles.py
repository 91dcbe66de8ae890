"""What a record must hold, by whose rules: data, each line with its source and how well it is known.

Evidence: P the section's text was read, S read in a secondary source, M from memory, check before quoting.
Which rules bind is for local law and the licensed supervisor to say; a profile only lists what they name.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from station.core.decompression.rule import Evidence

_P, _S, _M = Evidence.PAGE, Evidence.SECONDARY, Evidence.MEMORY


class When(StrEnum):
    """For which dives something is required."""

    ALWAYS = "always"
    DEEP_OR_STOPS = "deep or with stops"  # deeper than the profile's depth, or outside the no-stop limits
    SICKNESS = "decompression sickness suspected"


@dataclass(frozen=True, slots=True)
class Required:
    """One thing that must be on record; `key` is what `station.record.completeness` knows it by."""

    key: str
    what: str
    source: str
    evidence: tuple[Evidence, ...]
    when: When = When.ALWAYS


@dataclass(frozen=True, slots=True)
class Retention:
    """How long a record is kept, in whole years from the dive; None where no figure was verified."""

    years: int | None
    after_sickness_years: int | None
    source: str
    evidence: tuple[Evidence, ...]


@dataclass(frozen=True, slots=True)
class RulesProfile:
    """The rules of one authority as far as they are known here.

    `deep_fsw` is the depth beyond which they ask for more. `assessment_days` is the time for a written
    assessment after decompression sickness, None where none is known.
    """

    name: str
    title: str
    dated: str
    deep_fsw: float | None
    required: tuple[Required, ...]
    retention: Retention
    assessment_days: int | None = None


_OSHA_1: Final = "29 CFR 1910.423(d)(1)"
_OSHA_2: Final = "29 CFR 1910.423(d)(2)"
_OSHA_3: Final = "29 CFR 1910.423(d)(3)"
_USCG: Final = "46 CFR 197.482"
_UK: Final = "HSE L104, Annex 1"

OSHA: Final = RulesProfile(
    "osha",
    "29 CFR 1910 subpart T (OSHA)",
    "as known in 2026",
    100.0,
    (
        Required("team", "names of the dive team", f"{_OSHA_1}(i)", (_M,)),
        Required("person_in_charge", "the designated person in charge", f"{_OSHA_1}(i)", (_M,)),
        Required("date", "date", f"{_OSHA_1}(ii)", (_M,)),
        Required("time", "time", f"{_OSHA_1}(ii)", (_M,)),
        Required("place", "location", f"{_OSHA_1}(ii)", (_M,)),
        Required("modes", "diving modes used", f"{_OSHA_1}(iii)", (_M,)),
        Required("work", "general nature of the work", f"{_OSHA_1}(iv)", (_M,)),
        Required("weather", "surface conditions", f"{_OSHA_1}(v)", (_M,)),
        Required("visibility", "visibility under water", f"{_OSHA_1}(v)", (_M,)),
        Required("water_temperature", "water temperature", f"{_OSHA_1}(v)", (_M,)),
        Required("current", "current", f"{_OSHA_1}(v)", (_M,)),
        Required("max_depth", "maximum depth of each diver", f"{_OSHA_1}(vi)", (_M,)),
        Required("bottom_time", "bottom time of each diver", f"{_OSHA_1}(vi)", (_M,)),
        Required("profile", "depth-time and gas profiles", _OSHA_2, (_M,), When.DEEP_OR_STOPS),
        Required("schedule", "decompression table and any change of it", _OSHA_2, (_M,), When.DEEP_OR_STOPS),
        Required(
            "last_exposure", "time since the last exposure, or group", _OSHA_2, (_M,), When.DEEP_OR_STOPS
        ),
        Required("symptoms", "symptoms with depth and time of onset", _OSHA_3, (_S,), When.SICKNESS),
        Required("onset", "day of the onset", _OSHA_3, (_S,), When.SICKNESS),
        Required("treatment", "treatment and its results", _OSHA_3, (_S,), When.SICKNESS),
        Required("assessment", "written assessment", "29 CFR 1910.423(e)", (_S,), When.SICKNESS),
    ),
    Retention(1, 5, "29 CFR 1910.440(b)(3)", (_S,)),
    45,
)
"""Occupational Safety and Health Administration. CPL 02-00-151: an entry per diver where exposures differ."""

USCG: Final = RulesProfile(
    "uscg",
    "46 CFR 197 subpart B (U.S. Coast Guard)",
    "text of 2004",
    130.0,
    (
        Required("date", "date at start and completion", f"{_USCG}(b)(1)", (_P,)),
        Required("time", "time at start and completion", f"{_USCG}(b)(1)", (_P,)),
        Required("place", "location", f"{_USCG}(b)(1)", (_P,)),
        Required("weather", "weather", f"{_USCG}(b)(2)", (_P,)),
        Required("visibility", "visibility under water", f"{_USCG}(b)(2)", (_P,)),
        Required("water_temperature", "temperatures", f"{_USCG}(b)(2)", (_P,)),
        Required("current", "currents", f"{_USCG}(b)(2)", (_P,)),
        Required("team", "names of the dive team", f"{_USCG}(b)(3)", (_P,)),
        Required("supervisor", "the diving supervisor", f"{_USCG}(b)(3)", (_P,)),
        Required("work", "general nature of the work", f"{_USCG}(b)(4)", (_P,)),
        Required("last_exposure", "repetitive designation, or hours since the last exposure under 24 h",
                 f"{_USCG}(b)(5)", (_P,)),
        Required("modes", "diving modes used", f"{_USCG}(b)(6)", (_P,)),
        Required("max_depth", "maximum depth of each diver", f"{_USCG}(b)(7)", (_P,)),
        Required("bottom_time", "bottom time of each diver", f"{_USCG}(b)(7)", (_P,)),
        Required("person_in_charge", "the person in charge", f"{_USCG}(b)(8)", (_P,)),
        Required("gas", "breathing gases", f"{_USCG}(b)(9)", (_P,), When.DEEP_OR_STOPS),
        Required("schedule", "decompression table", f"{_USCG}(b)(9)", (_P,), When.DEEP_OR_STOPS),
        Required("treatment", "treatment and its results", f"{_USCG}(b)(10)", (_P,), When.SICKNESS),
    ),
    Retention(None, None, "46 CFR 197.488: six months after a casualty; else not verified", (_S, _M)),
)  # fmt: skip
"""United States Coast Guard: what the diving supervisor enters."""

UK: Final = RulesProfile(
    "uk",
    "Diving at Work Regulations 1997, HSE L104 (UK inland and inshore)",
    "L104 second edition, 2014",
    None,
    (
        Required("contractor", "the contractor's name and address", f"{_UK}, items 1-12", (_P,)),
        Required("date", "date", f"{_UK}, items 1-12", (_P,)),
        Required("supervisor", "the supervisor", f"{_UK}, items 1-12", (_P,)),
        Required("place", "place or vessel", f"{_UK}, items 1-12", (_P,)),
        Required("team", "names of the team", f"{_UK}, items 1-12", (_P,)),
        Required("code", "which approved code applies", f"{_UK}, items 1-12", (_P,)),
        Required("work", "purpose of the operation", f"{_UK}, items 1-12", (_P,)),
        Required("modes", "apparatus of each diver", f"{_UK}, items 1-12", (_P,)),
        Required("gas", "breathing mixture of each diver", f"{_UK}, items 1-12", (_P,)),
        Required("time", "times of leaving and regaining atmospheric pressure", f"{_UK}, items 1-12", (_P,)),
        Required("bottom_time", "bottom time", f"{_UK}, items 1-12", (_P,)),
        Required("max_depth", "maximum depth", f"{_UK}, items 1-12", (_P,)),
        Required("schedule", "decompression schedule, depths and durations", f"{_UK}, items 1-12", (_P,)),
        Required("emergency", "emergency support arrangements", f"{_UK}, items 1-12", (_P,)),
        Required("incidents", "incidents, or none", f"{_UK}, items 1-12", (_P,)),
        Required("defects", "defects of plant, or none", f"{_UK}, further items", (_M,)),
    ),
    Retention(2, 2, "Diving at Work Regulations 1997, reg. 6(3)(f)", (_P,)),
)
"""Health and Safety Executive, United Kingdom: particulars that the supervisor enters during the dive."""

PROFILES: Final = {profile.name: profile for profile in (OSHA, USCG, UK)}
"""Every profile by the word that the command line uses."""
