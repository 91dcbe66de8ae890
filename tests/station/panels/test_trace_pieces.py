"""Thinning a trace for the screen loses no excursion and joins no gap."""

from hypothesis import given
from hypothesis import strategies as st

from station.panels.trace import Point, Thinned, Traces


def pieces(
    points: list[Point], start_s: float, end_s: float, columns: int
) -> list[list[tuple[float, float]]]:
    """The pieces of a trace that is taken at once."""
    thinned = Thinned(start_s, end_s, columns)
    thinned.take(points)
    return thinned.pieces()


@given(
    st.lists(st.one_of(st.none(), st.floats(0, 200)), max_size=100), st.integers(0, 100), st.integers(1, 60)
)
def test_a_trace_that_grows_is_the_trace_taken_at_once(depths: list[float | None], cut: int, columns: int):
    """Wherever it is cut into increments, and though it was drawn between them."""
    points = [(float(second), depth) for second, depth in enumerate(depths)]
    grown = Thinned(0.0, 100.0, columns)
    grown.take(points[:cut])
    grown.pieces()
    grown.take(points[cut:])
    assert grown.pieces() == pieces(points, 0.0, 100.0, columns)


@given(st.lists(st.floats(0, 200), min_size=1, max_size=400), st.integers(1, 60))
def test_the_extremes_survive(depths: list[float], columns: int):
    """Whatever the number of columns, the deepest and the shallowest point are drawn."""
    points = [(float(second), depth) for second, depth in enumerate(depths)]
    drawn = [depth for piece in pieces(points, 0.0, float(len(points)), columns) for _, depth in piece]
    assert min(drawn) == min(depths)
    assert max(drawn) == max(depths)
    assert len(drawn) <= 2 * (columns + 2)


@given(st.lists(st.one_of(st.none(), st.floats(0, 200)), min_size=1, max_size=200))
def test_silence_breaks_the_line(depths: list[float | None]):
    """As many pieces as there are runs of heard points; each runs forward in time."""
    points = [(float(second), depth) for second, depth in enumerate(depths)]
    found = pieces(points, 0.0, float(len(points)), len(points))
    runs = sum(
        1
        for place, depth in enumerate(depths)
        if depth is not None and (place == 0 or depths[place - 1] is None)
    )
    assert len(found) == runs
    assert all(list(piece) == sorted(piece) for piece in found)


def test_only_the_span_is_drawn():
    """Points before and after the frame are left out."""
    points = [(float(second), 10.0) for second in range(100)]
    drawn = [at_s for piece in pieces(points, 40.0, 60.0, 20) for at_s, _ in piece]
    assert min(drawn) >= 38.0
    assert max(drawn) <= 61.0


def test_increments_grow_a_trace_and_a_full_one_replaces_it():
    """What the station sends in parts is the trace that it would send whole."""
    traces = Traces()
    traces.take("Diver 1", [(0.0, 1.0)], full=True)
    traces.take("Diver 1", [(1.0, 2.0)], full=False)
    assert traces.of("Diver 1") == [(0.0, 1.0), (1.0, 2.0)]
    traces.take("Diver 1", [(5.0, 3.0)], full=True)
    assert traces.of("Diver 1") == [(5.0, 3.0)]
    assert traces.of("Diver 2") == []
