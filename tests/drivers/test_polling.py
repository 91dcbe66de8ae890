"""Who is asked next, and how long an answer may take: pure schedules, no line."""

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drivers.addresses import AddressFault
from drivers.bus_timing import LEAST_TIMEOUT_S, NETWORK_S, Timing, timing_of
from drivers.polling import Asked, Question, load, next_question, questions_of, with_turn
from shared.clock import Instant, after, seconds_between
from shared.gauges import (
    AsciiText,
    Channel,
    Format,
    Gauge,
    ModbusRegister,
    NumberKind,
    RegisterTable,
    WireUnit,
)

LINE = "serial:///dev/ttyUSB0?baud=9600&parity=even"
ZERO = Instant(0)
BUS = timing_of(LINE)


def gauge_of(name: str, wire: Format, every_s: float = 1.0) -> Gauge:
    """A gauge of this format and period."""
    return Gauge(name, Channel.SUPPLY, "Diver 1", LINE, wire, 0.0, 300.0, every_s)


def register_of(device: int, register: int = 0) -> ModbusRegister:
    """A float of this device."""
    return ModbusRegister(device, RegisterTable.INPUT, register, NumberKind.FLOAT32, WireUnit.PSI)


def bus_of(*periods_s: float) -> tuple[Question, ...]:
    """One question a device, each of its own period."""
    gauges = tuple(gauge_of(f"g{n}", register_of(n + 1), every_s) for n, every_s in enumerate(periods_s))
    return questions_of(gauges, BUS)


@pytest.mark.parametrize(
    ("address", "character_ms", "silence_ms", "exchange_ms"),
    [
        # A character of 11 bits; 3.5 of them of silence; an exchange of 8 and 9 bytes with two silences.
        ("serial:///dev/x?baud=4800&parity=even", 2.29, 8.02, 55.0),
        ("serial:///dev/x?baud=9600&parity=even", 1.146, 4.01, 27.5),
        ("serial:///dev/x?baud=9600&stopbits=2", 1.146, 4.01, 27.5),
        ("serial:///dev/x?baud=9600", 1.042, 3.65, 25.0),
        ("serial:///dev/x?baud=19200&parity=odd", 0.573, 2.005, 13.75),
        ("serial:///dev/x?baud=38400&parity=even", 0.286, 1.750, 8.37),
        ("socket://127.0.0.1:4001", 1.146, 4.01, 27.5),
    ],
)
def test_times_of_a_line_are_computed_from_its_address(address, character_ms, silence_ms, exchange_ms):
    """Published times of 4800, 9600 and 19200 baud; above that the silence is fixed."""
    timing = timing_of(address)
    assert timing.character_s * 1000 == pytest.approx(character_ms, rel=2e-3)
    assert timing.silence_s * 1000 == pytest.approx(silence_ms, rel=2e-3)
    assert timing.exchange_s(8, 9) * 1000 == pytest.approx(exchange_ms, rel=3e-3)


def test_a_timeout_is_three_exchanges_and_a_tenth_of_a_second_at_least():
    """Slow lines take longer; a network adds its own."""
    assert timing_of("serial:///dev/x?baud=1200&parity=even").timeout_s(8, 9) == pytest.approx(0.66, rel=1e-2)
    assert BUS.timeout_s(8, 9) == LEAST_TIMEOUT_S
    assert timing_of("socket://127.0.0.1:4001").timeout_s(8, 9) == LEAST_TIMEOUT_S + NETWORK_S


def test_no_timing_without_a_line():
    """A rehearsal's line is never asked; what is no address has no timing."""
    with pytest.raises(ValueError, match="never asked"):
        timing_of("rehearsal://PNEUMO")
    with pytest.raises(AddressFault):
        timing_of("nowhere")


def test_a_poll_is_asked_once_for_all_its_gauges():
    """Gauges of one poll share a question, at the shortest of their periods; free ones have none."""
    first = AsciiText("T (?P<value>.)", WireUnit.PSI, poll="T")
    second = AsciiText("T . (?P<value>.)", WireUnit.PSI, poll="T")
    free = AsciiText("(?P<value>.)", WireUnit.PSI)
    gauges = (
        gauge_of("a", first, 2.0),
        gauge_of("b", second, 0.5),
        gauge_of("c", free),
        gauge_of("d", register_of(1)),
    )
    polled, modbus = questions_of(gauges, BUS)
    assert (polled.request, polled.wire, polled.every_s) == (b"T\r", first, 0.5)
    assert modbus.request[0] == 1


def test_nothing_to_ask_is_a_mistake_of_ours():
    """A polled line has a gauge."""
    with pytest.raises(ValueError, match="without any question"):
        next_question((), ())


def test_each_is_asked_once_a_period_in_the_order_of_the_file():
    """Three gauges of one second: one round, a pause, another round."""
    questions, history = bus_of(1.0, 1.0, 1.0), (Asked(),) * 3
    for turn in range(3):
        place, due = next_question(questions, history)
        assert (place, due) == (turn, None)
        history = with_turn(history, place, after(ZERO, 0.03 * turn), answered=True)
    assert next_question(questions, history) == (0, after(ZERO, 1.0))


def asked_in(
    questions: tuple[Question, ...], seconds: float, dead: frozenset[int] = frozenset()
) -> list[int]:
    """Whose turns come in so many seconds; a dead gauge costs twice its timeout."""
    now, turns, history = ZERO, [], (Asked(),) * len(questions)
    while True:
        place, due = next_question(questions, history)
        now = max(now, due or now)
        if seconds_between(ZERO, now) >= seconds:
            return turns
        turns.append(place)
        history = with_turn(history, place, now, answered=place not in dead)
        question = questions[place]
        now = after(now, 2 * question.timeout_s if place in dead else BUS.exchange_s(8, 9))


def test_a_gauge_without_an_answer_is_asked_twice_again_and_then_once_a_period():
    """Three tries at first; a dead gauge does not starve the living, and its first answer makes all well."""
    questions = bus_of(1.0, 1.0)
    turns = asked_in(questions, 3.0, dead=frozenset({0}))
    assert turns[:4] == [0, 0, 0, 1]
    assert Counter(turns) == {0: 5, 1: 3}
    silent = (Asked(ZERO, 1, unanswered=True, silent=True), Asked(ZERO, 1))
    heard = with_turn(silent, 0, after(ZERO, 1.0), answered=True)
    assert heard[0] == Asked(after(ZERO, 1.0), 1)
    lost = with_turn(heard, 0, after(ZERO, 2.0), answered=False)
    assert next_question(questions, lost) == (0, None)


def test_tries_belong_to_the_turn_that_came():
    """A late answer to the third try does not put the next turn off."""
    history = (Asked(),)
    for seconds, answered in ((0.0, False), (0.2, False), (0.4, True)):
        history = with_turn(history, 0, after(ZERO, seconds), answered=answered)
    assert history == (Asked(ZERO, 3),)


@given(st.lists(st.sampled_from([0.05, 0.2, 1.0, 5.0]), min_size=1, max_size=8), st.sets(st.integers(0, 7)))
def test_nobody_starves(periods_s, dead):
    """However much is asked of a line, every gauge has a turn at least every so often."""
    questions = bus_of(*periods_s)
    turns = asked_in(questions, 30.0, frozenset(dead) & frozenset(range(len(questions))))
    worst_round_s = sum(2 * question.timeout_s for question in questions)
    for place, question in enumerate(questions):
        assert Counter(turns)[place] >= 30.0 / (question.every_s + 3 * worst_round_s) - 1


@given(st.lists(st.sampled_from([0.5, 1.0, 2.0]), min_size=1, max_size=8))
def test_all_have_their_pace_where_the_line_can_carry_it(periods_s):
    """Eight gauges once a second fit on a bus of 9600 baud, by the computed exchange."""
    questions = bus_of(*periods_s)
    assert load(questions, BUS) < 0.5
    counted = Counter(asked_in(questions, 20.0))
    for place, question in enumerate(questions):
        assert counted[place] >= 20.0 / question.every_s * 0.75


def test_eight_gauges_at_five_a_second_do_not_fit():
    """The load says so before anybody dives on it."""
    assert load(bus_of(*[0.2] * 8), BUS) > 1.0
    assert load(bus_of(*[1.0] * 8), BUS) == pytest.approx(8 * BUS.exchange_s(8, 9))


def test_a_timing_is_plain():
    """Seconds in, seconds out."""
    assert Timing(0.001, 0.004, 0.3).timeout_s(100, 100) == pytest.approx(0.924)
