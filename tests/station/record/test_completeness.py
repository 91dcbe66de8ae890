"""What a record lacks: required fields by profile, stated gaps, what makes it complete."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from shared.toml_file import FileFault
from station.core.decompression.rule import Evidence
from station.log.fault import Check, Finding
from station.record import read_record
from station.record.completeness import Standing, completeness_of
from station.record.model import Record, Told
from station.record.particulars import BY_KEY, PARTICULARS, read_particulars, told_in
from station.record.profiles import OSHA, PROFILES, UK, USCG, RulesProfile, When

ALL = tuple(f"{one.label}: {'none' if one.key == 'dcs' else 'something'}" for one in PARTICULARS)


def _missing(record: Record, profile: RulesProfile, *added: Told) -> list[str]:
    return [one.required.key for one in completeness_of(record, record.dives[0], profile, added).missing]


def test_bare_dive_lacks_what_no_gauge_tells(short_log: Callable[..., Path]) -> None:
    """Team, date, place, depth and times come from the log; the rest is listed by profile."""
    record = read_record(short_log())
    assert _missing(record, OSHA) == [
        "person_in_charge", "weather", "visibility", "water_temperature", "current",
    ]  # fmt: skip
    assert _missing(record, USCG) == [
        "weather", "visibility", "water_temperature", "current", "last_exposure", "person_in_charge",
    ]  # fmt: skip
    assert _missing(record, UK) == ["contractor", "code", "emergency", "incidents", "defects"]


@pytest.mark.parametrize("profile", PROFILES.values(), ids=lambda profile: profile.name)
def test_record_with_every_particular_is_complete(
    short_log: Callable[..., Path], profile: RulesProfile
) -> None:
    """Remarks that name each particular make a closed log complete."""
    record = read_record(short_log(*ALL))
    found = completeness_of(record, record.dives[0], profile)
    assert (found.standing, found.missing) == (Standing.COMPLETE, ())


def test_stated_gap_is_a_gap_with_its_reason(short_log: Callable[..., Path]) -> None:
    """A value that begins with "not known" is no value; the list gives its reason."""
    record = read_record(short_log("Visibility: not known, no line at hand"))
    (gap,) = [
        one
        for one in completeness_of(record, record.dives[0], OSHA).missing
        if one.required.key == "visibility"
    ]
    assert gap.stated == "not known, no line at hand"


def test_last_word_on_a_particular_holds(short_log: Callable[..., Path]) -> None:
    """A later remark takes the place of an earlier one, which stays among the particulars."""
    record = read_record(short_log("Visibility: not known", "visibility : 4 ft"))
    assert "visibility" not in _missing(record, OSHA)
    assert [told.value for told in record.dives[0].particulars] == ["not known", "4 ft"]


def test_dive_with_stops_asks_for_more(stops: Record) -> None:
    """Profile, table and last exposure are asked for outside the no-stop limits, and found in the log."""
    asked = {one.key for one in OSHA.required if one.when is When.DEEP_OR_STOPS}
    assert asked == {"profile", "schedule", "last_exposure"}
    assert not asked & set(_missing(stops, OSHA))
    bare = replace(stops.dives[0], schedule=None, entries=())
    record = replace(stops, dives=(bare,))
    assert {"schedule", "last_exposure"} <= set(_missing(record, OSHA))


def test_suspected_sickness_asks_for_symptoms_treatment_and_assessment(
    short_log: Callable[..., Path],
) -> None:
    """29 CFR 1910.423(d)(3) and (e): asked for as soon as it is suspected, not where it is none."""
    sick = read_record(short_log("Decompression sickness: suspected, left elbow"))
    assert {"symptoms", "onset", "treatment", "assessment"} <= set(_missing(sick, OSHA))
    well = read_record(short_log("Decompression sickness: none"))
    assert not {"symptoms", "treatment"} & set(_missing(well, OSHA))


def test_log_that_is_open_or_damaged_is_never_called_closed(short_log: Callable[..., Path]) -> None:
    """Completeness stands below the log's own state."""
    record = read_record(short_log(*ALL, finished=False))
    assert completeness_of(record, record.dives[0], OSHA).standing is Standing.OPEN
    finding = Finding(Check.CHAIN, 1, 1, "changed")
    damaged = replace(record, integrity=replace(record.integrity, closed=True, findings=(finding,)))
    assert completeness_of(damaged, damaged.dives[0], OSHA).standing is Standing.DAMAGED


def test_particulars_added_later_count_but_never_go_before_the_log(
    short_log: Callable[..., Path], tmp_path: Path
) -> None:
    """A file of particulars fills gaps; what the log holds stands."""
    path = tmp_path / "later.toml"
    path.write_text('added_by = "Ines Varga"\nvisibility = "10 ft"\nweather = "calm"\n')
    added = read_particulars(path)
    record = read_record(short_log("Visibility: 3 ft"))
    assert _missing(record, OSHA, *added) == ["person_in_charge", "water_temperature", "current"]
    found = {told.key: told.value for told in record.dives[0].particulars}
    assert found == {"visibility": "3 ft"}


def test_particulars_file_with_an_unknown_key_is_refused(tmp_path: Path) -> None:
    """A misspelt key is told of with file, key and line."""
    path = tmp_path / "later.toml"
    path.write_text('added_by = "Ines Varga"\nvisibilty = "10 ft"\n')
    with pytest.raises(FileFault, match="visibilty"):
        read_particulars(path)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("Visibility: 3 ft", ("visibility", "3 ft")),
        ("  water   TEMPERATURE :  41 F ", ("water_temperature", "41 F")),
        ("Visibility:", None),
        ("On the sill: silt to the knee", None),
        ("x" * 100 + ": y", None),
        ("no colon", None),
    ],
)
def test_remark_is_a_particular_only_by_its_label(text: str, told: tuple[str, str] | None) -> None:
    """Plain words with a colon stay plain words."""
    assert told_in(text) == told


@pytest.mark.parametrize("profile", PROFILES.values(), ids=lambda profile: profile.name)
def test_every_requirement_names_its_source_and_its_evidence(profile: RulesProfile) -> None:
    """What a profile asks for can be found: in the log, or as a particular; its source is on record."""
    figured = {"team", "date", "time", "modes", "max_depth", "bottom_time", "profile", "schedule"}
    for one in profile.required:
        assert one.source
        assert one.evidence
        assert set(one.evidence) <= {Evidence.PAGE, Evidence.SECONDARY, Evidence.MEMORY}
        assert one.key in figured or one.key in BY_KEY, one.key


def test_depth_beyond_which_more_is_asked_is_the_profile_s_own() -> None:
    """29 CFR 1910.423(d)(2): 100 fsw; 46 CFR 197.482(b)(9): 130 fsw."""
    assert (OSHA.deep_fsw, USCG.deep_fsw) == (100.0, 130.0)
    assert (OSHA.assessment_days, OSHA.retention.years, OSHA.retention.after_sickness_years) == (45, 1, 5)
    assert UK.retention.years == 2


@pytest.mark.parametrize(
    ("max_fsw", "asked"), [(100.0, False), (100.1, True), (None, True)], ids=["at", "beyond", "unknown"]
)
def test_more_is_asked_beyond_the_depth_and_where_it_is_unknown(
    short_log: Callable[..., Path], max_fsw: float | None, asked: bool
) -> None:
    """29 CFR 1910.423(d)(2): deeper than 100 fsw, not at it; a depth that nobody knows is taken for deep."""
    record = read_record(short_log())
    dive = replace(record.dives[0], depth=replace(record.dives[0].depth, max_fsw=max_fsw))
    assert ("last_exposure" in _missing(replace(record, dives=(dive,)), OSHA)) is asked
