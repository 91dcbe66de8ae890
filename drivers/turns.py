"""What a reader does on an open line, one turn at a time: listen, or ask and take the answer.

A turn waits a fraction of a second at most when nothing is to be done, and gives what it brought. On a
polled line an answer is known by its length and its checksum or its line ending; silence serves only to
find the beginning again. What comes without a request, or after its time, is told as `Received` and never
taken for an answer: a Modbus reply does not name its register, so a late one would be read as another's.
"""

from collections.abc import Callable
from threading import Event
from typing import Final

from drivers.bus_timing import Timing, timing_of
from drivers.formats.asking import MOST_REPLY_BYTES, is_answer
from drivers.polling import Asked, History, Question, next_question, questions_of, with_turn
from shared.arrivals import Exchanged, LineArrival, Received
from shared.clock import Clock, Instant, after, seconds_between
from shared.gauges import Gauge, is_polled
from shared.ports import Port

READ_TIMEOUT_S: Final = 0.2
"""Longest time until a reader notices that it shall stop: own choice."""

SHORT_S: Final = 0.05
"""So short a pause is waited for by the clock, for a port may round a read up to it: own choice."""

Sink = Callable[[LineArrival], None]
Turn = Callable[[Port, Sink], None]
"""One turn on an open line. Raises PortTrouble when the line is gone."""


class Listening:
    """Takes what a line brings by itself."""

    def __init__(self, port: str, clock: Clock) -> None:
        self._port = port
        self._clock = clock

    def __call__(self, line: Port, sink: Sink) -> None:
        """Wait for bytes."""
        data = line.read(READ_TIMEOUT_S)
        if data:
            sink(Received(self._clock.now(), self._port, data))


class Polling:
    """Asks the gauges of a line in turn; each try is told as one `Exchanged`, an empty one for silence."""

    def __init__(
        self,
        port: str,
        questions: tuple[Question, ...],
        timing: Timing,
        clock: Clock,
        wait: Callable[[float], object] | None = None,
    ) -> None:
        self._port = port
        self._questions = questions
        self._timing = timing
        self._clock = clock
        self._wait = Event().wait if wait is None else wait
        self._line: Port | None = None
        self._history: History = ()
        self._quiet_until: Instant | None = None

    def __call__(self, line: Port, sink: Sink) -> None:
        """Ask whoever is due, or listen until then for what should not come; a new line begins anew."""
        if line is not self._line:
            self._line = line
            self._history = tuple(Asked() for _ in self._questions)
            self._quiet_until = None
        place, due = next_question(self._questions, self._history)
        idle_s = max(self._idle_s(due), self._idle_s(self._quiet_until))
        strays = self._strays(line, idle_s)
        if strays:
            self._quiet_until = after(self._clock.now(), self._timing.silence_s)
            sink(Received(self._clock.now(), self._port, strays))
        elif idle_s <= SHORT_S:
            self._ask(line, place, sink)

    def _strays(self, line: Port, idle_s: float) -> bytes:
        """What comes while the line is idle; at most READ_TIMEOUT_S of it."""
        if idle_s > SHORT_S:
            return line.read(min(idle_s - SHORT_S, READ_TIMEOUT_S))
        self._wait(idle_s)
        return line.read(0.0)

    def _idle_s(self, until: Instant | None) -> float:
        return 0.0 if until is None else max(0.0, seconds_between(self._clock.now(), until))

    def _ask(self, line: Port, place: int, sink: Sink) -> None:
        question = self._questions[place]
        exchange = ask_once(self._port, line, question, self._clock)
        sink(exchange)
        answered = is_answer(question.wire, exchange.reply)
        self._history = with_turn(self._history, place, exchange.asked_at, answered=answered)
        # After a failure the line is left alone for as long again: a late answer must come before the
        # next question, or it would be taken for the answer to that.
        quiet_s = self._timing.silence_s if answered else question.timeout_s
        self._quiet_until = after(self._clock.now(), quiet_s)


def ask_once(port: str, line: Port, question: Question, clock: Clock) -> Exchanged:
    """One question and what came in its time, stamped at the first byte, or at the end of the waiting.

    Raises PortTrouble when the line is gone.
    """
    asked_at = clock.now()
    until = after(asked_at, question.timeout_s)
    line.write(question.request)
    reply, first_at = b"", asked_at
    while not is_answer(question.wire, reply) and len(reply) < MOST_REPLY_BYTES:
        left_s = seconds_between(clock.now(), until)
        data = line.read(left_s) if left_s > 0 else b""
        if not data:
            break
        first_at = first_at if reply else clock.now()
        reply += data
    return Exchanged(first_at if reply else clock.now(), port, asked_at, question.request, reply)


def turn_on(port: str, gauges: tuple[Gauge, ...], clock: Clock, address: str | None = None) -> Turn:
    """How the line `port` is read: asked when its gauges are polled, listened to when not.

    `gauges` may be all gauges of the station. `address` is where the line stands, when not under its name.
    """
    here = tuple(gauge for gauge in gauges if gauge.port == port)
    if not any(is_polled(gauge.format) for gauge in here):
        return Listening(port, clock)
    timing = timing_of(port if address is None else address)
    return Polling(port, questions_of(here, timing), timing, clock)
