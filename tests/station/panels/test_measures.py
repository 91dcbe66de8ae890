"""Sizes and places: large enough for the distance, and nothing over anything else."""

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from station.panels.layout import Box, diver_layout, keeper_layout, watch_layout, window_layout
from station.panels.measures import (
    LEAST_CAP_MM,
    NARROW,
    WIDE,
    cap_mm,
    measures_for,
    plausible_mm_per_px,
    shortfalls,
)
from station.panels.type import width_of

SCREENS = [
    (1920, 1080, 0.277),
    (1280, 800, 0.204),
    (2560, 1440, 0.233),
    (3840, 2160, 0.16),
    (1920, 1200, 0.27),
]


def apart(boxes: list[Box]) -> bool:
    """Whether no two boxes share a pixel."""
    return not any(one.overlaps(other) for one, other in combinations(boxes, 2))


def within(inner: Box, outer: Box) -> bool:
    """Whether a box stands wholly in another."""
    return (
        inner.x >= outer.x
        and inner.y >= outer.y
        and inner.right <= outer.right
        and inner.bottom <= outer.bottom
    )


def test_cap_height_for_a_distance_is_the_published_one():
    """H = 2 d tan(a/2): 17.5 mm for 30 minutes of arc at 2 m, 11.6 for 20, 4.1 at 0.7 m."""
    assert cap_mm(2.0, 30) == pytest.approx(17.5, abs=0.1)
    assert cap_mm(2.0, 20) == pytest.approx(11.6, abs=0.1)
    assert cap_mm(0.7, 20) == pytest.approx(4.1, abs=0.1)


@pytest.mark.parametrize("screen", SCREENS)
def test_type_is_large_enough_on_the_screens_that_are_meant(screen):
    """No role of type is under its least cap height, in the screen's own millimetres."""
    measures = measures_for(*screen)
    assert shortfalls(measures) == ()
    assert all(measures.cap_mm(role) >= least_mm - 0.05 for role, least_mm in LEAST_CAP_MM.items())


def test_the_digits_of_the_wide_arrangement_are_read_from_three_metres():
    """30 minutes of arc at 3 m on a 24 inch screen."""
    assert measures_for(1920, 1080, 0.277).cap_mm("digits") >= cap_mm(3.0, 30) - 0.1


@pytest.mark.parametrize("arrangement", [WIDE, NARROW])
def test_the_usual_numbers_fit_their_column_at_full_size(arrangement):
    """Five figures of a clock, bold, between the line and the unit; and the unit in its own column."""
    room = arrangement.diver - arrangement.line - arrangement.unit
    assert width_of("00:00", arrangement.type["digits"], bold=True) <= room
    assert width_of("min", arrangement.type["unit"]) <= arrangement.unit * 0.76 + 1


def test_a_screen_that_is_too_small_is_said_to_be():
    """A tablet of 8 inches: the digits are named with both sizes."""
    found = shortfalls(measures_for(1280, 800, 0.135))
    assert any(text.startswith("digits") and "least 11.6 mm" in text for text in found)


def test_the_arrangement_follows_millimetres_not_pixels():
    """A laptop of 14 inches with many pixels gets the narrow arrangement with its larger type."""
    assert measures_for(1920, 1080, 0.161).arrangement is NARROW
    assert measures_for(1920, 1080, 0.277).arrangement is WIDE


def test_a_screen_that_tells_nonsense_is_not_believed():
    """No millimetres, or a pixel of a centimetre: None, and the usual figure is taken."""
    assert plausible_mm_per_px(0, 1920) is None
    assert plausible_mm_per_px(20000, 1920) is None
    assert plausible_mm_per_px(531, 1920) == pytest.approx(0.277, abs=0.001)


@settings(deadline=None)
@given(
    width=st.integers(1024, 3840),
    share=st.floats(0.55, 0.75),
    mm_per_px=st.floats(0.1, 0.4),
    divers=st.integers(1, 3),
    standby=st.integers(0, 1),
    replay=st.booleans(),
)
def test_nothing_of_the_watch_overlaps(  # noqa: PLR0917 - drawn by hypothesis
    width, share, mm_per_px, divers, standby, replay
):
    """Strips and columns stand apart and within the window, at any size."""
    measures = measures_for(width, round(width * share), mm_per_px)
    strips = window_layout(measures, low_alarms=False, replay=replay)
    whole = Box(0, 0, measures.width_px, measures.height_px)
    boxes = [strips.top, strips.alarms, strips.body, strips.footer]
    if strips.transport is not None:
        boxes.append(strips.transport)
    assert apart(boxes)
    assert all(within(box, whole) for box in boxes)
    columns = watch_layout(measures, strips.body, divers, standby)
    watch = [*columns.divers, *columns.standby, columns.air]
    assert apart(watch)
    assert all(within(box, strips.body) for box in watch)
    for column in columns.divers:
        parts = diver_layout(measures, column.w, column.h)
        inner = [parts.name, parts.line, *parts.numbers, parts.sentence, parts.trace]
        assert apart(inner)
        assert all(within(part, Box(0, 0, column.w, column.h)) for part in inner)
        assert parts.trace.h > 0


@pytest.mark.parametrize("screen", SCREENS)
@pytest.mark.parametrize("replay", [False, True])
def test_nothing_of_the_timekeeper_overlaps(screen, replay: bool):
    """Clock, next mark, rows of keys, last mark, undo stand apart and within the body."""
    measures = measures_for(*screen)
    body = window_layout(measures, low_alarms=True, replay=replay).body
    parts = keeper_layout(measures, body)
    boxes = [parts.divers, parts.rule, parts.clock, parts.next_key, parts.marks, parts.others]
    boxes += [parts.last, parts.late, parts.amend, parts.undo]
    assert apart(boxes)
    assert all(within(box, body) for box in boxes)
    # What asks for a reason covers keys only: never clock, depth, air, alarms or the next mark.
    assert apart([parts.drawer, parts.divers, parts.clock, parts.next_key])


def test_keys_are_large_enough_for_a_glove():
    """At 1280 x 800 an event key is at least 104 px high, the next mark 230 px."""
    measures = measures_for(1280, 800, 0.204)
    parts = keeper_layout(measures, window_layout(measures, low_alarms=True, replay=False).body)
    assert min(parts.marks.h, parts.others.h, parts.undo.h, parts.amend.h, parts.late.h) >= 104
    assert parts.next_key.h >= 230


@pytest.mark.parametrize("screen", SCREENS[:2])
def test_numbers_stand_at_one_place_whatever_is_shown(screen):
    """With a trace beside them or under them, live or replayed, the first diver's numbers do not move."""
    measures = measures_for(*screen)
    places = set()
    for divers in (1, 2):
        for replay in (False, True):
            body = window_layout(measures, low_alarms=False, replay=replay).body
            column = watch_layout(measures, body, divers, 1).divers[0]
            parts = diver_layout(measures, column.w, column.h)
            places.add(tuple((column.x + box.x, column.y + box.y, box.h) for box in parts.numbers))
    assert len(places) == 1
