"""The public door `overbottom-status/1`: every key that other programs may rely on, and its kind."""

import pytest

NUMBER = (int, float, type(None))
TEXT = (str,)
MAYBE_TEXT = (str, type(None))

TOP = {
    "schema": TEXT,
    "caution": TEXT,
    "mode": TEXT,
    "utc": TEXT,
    "elapsed_s": (int,),
    "divers": (list,),
    "air": (list,),
    "alarms": (list,),
    "links": (list,),
    "log": (dict,),
    "sound": (dict,),
    "out_of_service": (list,),
}
DIVER = {
    "name": TEXT,
    "phase": TEXT,
    "depth": (dict,),
    "times": (dict,),
    "schedule": (dict, type(None)),
    "ascent": (dict,),
    "supply": (dict,),
    "next": TEXT,
}
DEPTH = {
    "gauge_fsw": NUMBER,
    "corrected_fsw": NUMBER,
    "max_fsw": NUMBER,
    "table_fsw": NUMBER,
    "rate_fsw_min": NUMBER,
    "trust": TEXT,
    "at_least_fsw": NUMBER,
    "bound_fsw": NUMBER,
    "max_by": TEXT,
    "deepest_read_fsw": NUMBER,
    "other_fsw": NUMBER,
    "typed_fsw": NUMBER,
    "typed_by": MAYBE_TEXT,
    "typed_age_s": NUMBER,
}
HOSE = {
    "state": TEXT,
    "why": MAYBE_TEXT,
    "blown_at": MAYBE_TEXT,
    "blown_fsw": NUMBER,
    "blow_seen_at": MAYBE_TEXT,
}
TIMES = {
    "left_surface": MAYBE_TEXT,
    "reached_bottom": MAYBE_TEXT,
    "left_bottom": MAYBE_TEXT,
    "reached_surface": MAYBE_TEXT,
    "bottom_s": NUMBER,
    "bottom_min": NUMBER,
}
SUPPLY = {
    "source": TEXT,
    "pressure_psig": NUMBER,
    "required_psig": NUMBER,
    "margin_psi": NUMBER,
    "trust": TEXT,
}
ASCENT = {"legs": (list,), "stop_left_s": NUMBER, "surface_utc": MAYBE_TEXT}
AIR = {
    "name": TEXT,
    "pressure_psig": NUMBER,
    "left_min": NUMBER,
    "left_by": MAYBE_TEXT,
    "needed_min": NUMBER,
    "trust": TEXT,
    "title": TEXT,
    "kind": TEXT,
    "role": TEXT,
    "typed": (bool,),
    "breathing": (list,),
    "falls_psi_min": NUMBER,
    "least_psig": NUMBER,
    "usable_scf": NUMBER,
    "needed_scf": NUMBER,
    "reserve_scf": NUMBER,
    "enough": (bool, type(None)),
    "covers_until_utc": MAYBE_TEXT,
}
ALARM = {
    "id": TEXT,
    "subject": TEXT,
    "priority": TEXT,
    "state": TEXT,
    "since": TEXT,
    "text": TEXT,
    "action": TEXT,
    "occurrence": (int,),
    "first_out": (bool,),
    "escalated": (bool,),
    "aside": (dict, type(None)),
}
LINK = {"name": TEXT, "trust": TEXT, "age_s": NUMBER, "faults": (int,)}
SOUND = {
    "output": TEXT,
    "detail": TEXT,
    "sounding": TEXT,
    "silenced": (bool,),
    "dropped": (bool,),
    "volume": (int,),
}
LOG = {"file": TEXT, "records": (int,), "committed_s_ago": NUMBER}

PHASES = {"dressed", "descending", "on_bottom", "ascending", "at_stop", "surfaced", "chamber", "done"}
TRUSTS = {"good", "at_least", "suspect", "stale", "lost"}
PRIORITIES = {"emergency", "alarm", "warning", "caution"}
STANDINGS = {"unacknowledged", "acknowledged", "returned", "shelved", "out_of_service"}


def holds(found, shape, where):
    """Every key of the shape is there with its kind; more keys are welcome."""
    for key, kinds in shape.items():
        assert key in found, f"{where}.{key} is missing"
        assert isinstance(found[key], kinds), f"{where}.{key} is {found[key]!r}"


@pytest.mark.parametrize("dive", ["lock_gate", "line_trouble"])
def test_every_line_has_every_key(dive, request):
    """Every line of a whole dive holds the documented keys, each of its kind."""
    for line in request.getfixturevalue(dive).ran.lines:
        holds(line, TOP, "$")
        assert line["schema"] == "overbottom-status/1"
        assert line["caution"].startswith("An aid only")
        for diver in line["divers"]:
            holds(diver, DIVER, "divers")
            holds(diver["depth"], DEPTH, "depth")
            holds(diver["hose"], HOSE, "hose")
            holds(diver["times"], TIMES, "times")
            holds(diver["supply"], SUPPLY, "supply")
            holds(diver["ascent"], ASCENT, "ascent")
            assert diver["phase"] in PHASES
            assert {diver["depth"]["trust"], diver["supply"]["trust"]} <= TRUSTS
        for found, shape, where in (
            (line["air"], AIR, "air"),
            (line["alarms"], ALARM, "alarms"),
            (line["links"], LINK, "links"),
        ):
            for each in found:
                holds(each, shape, where)
        for alarm in line["alarms"]:
            assert alarm["priority"] in PRIORITIES
            assert alarm["state"] in STANDINGS
        holds(line["log"], LOG, "log")
        holds(line["sound"], SOUND, "sound")


def test_what_is_not_known_is_null(lock_gate, seen):
    """A gauge that is not heard gives null, never 0."""
    silent = lock_gate.ran.lines[1255]
    assert seen(silent)["depth"]["gauge_fsw"] is None
    assert seen(silent)["depth"]["rate_fsw_min"] is None
    # What was deepest stays known.
    assert seen(silent)["depth"]["max_fsw"] is not None
