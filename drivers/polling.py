"""Who is asked next on a polled line: a pure schedule; nothing is opened and nothing waits.

Each question is due one period after it was last asked. The one that has been due longest comes first, so
that nobody starves on a line that is asked for more than it can carry. A question without an answer is asked
again at once, twice; one that got no answer from three is asked once a period until it answers, so that a
dead gauge costs its neighbours one timeout a period and not three.
"""

from dataclasses import dataclass
from typing import Final

from drivers.bus_timing import Timing
from drivers.formats.asking import reply_bytes_of, request_of
from shared.clock import Instant, after
from shared.gauges import Format, Gauge, is_polled

RETRIES: Final = 2
"""Tries after the first that got no answer: own choice."""


@dataclass(frozen=True, slots=True)
class Question:
    """What is asked on a line, for all gauges that its answer serves.

    `wire` is the format of the first of them; `every_s` is the shortest of their periods.
    """

    request: bytes
    wire: Format
    every_s: float
    timeout_s: float


@dataclass(frozen=True, slots=True)
class Asked:
    """What is known of one question: when its turn came, the tries of this turn, whether the last failed.

    `silent` says that a whole turn went without an answer.
    """

    turn_at: Instant | None = None
    tries: int = 0
    unanswered: bool = False
    silent: bool = False


History = tuple[Asked, ...]
"""One for each question of a line, in the same order."""


def questions_of(gauges: tuple[Gauge, ...], timing: Timing) -> tuple[Question, ...]:
    """What the polled gauges of one line need asked, each question once, in the order of the station file."""
    found: dict[bytes, Question] = {}
    for gauge in gauges:
        if not is_polled(gauge.format):
            continue
        request = request_of(gauge.format)
        known = found.get(request)
        found[request] = Question(
            request,
            gauge.format if known is None else known.wire,
            gauge.every_s if known is None else min(known.every_s, gauge.every_s),
            timing.timeout_s(len(request), reply_bytes_of(gauge.format)),
        )
    return tuple(found.values())


def next_question(questions: tuple[Question, ...], history: History) -> tuple[int, Instant | None]:
    """The place of the question that is asked next, and when it is due; None is now.

    Raises ValueError when there is no question.
    """
    if not questions:
        raise ValueError("a polled line without any question")
    for place, asked in enumerate(history):
        if _has_retry(asked):
            return place, None
    never = [place for place, asked in enumerate(history) if asked.turn_at is None]
    if never:
        return never[0], None
    due = [_due(question, asked) for question, asked in zip(questions, history, strict=True)]
    place = min(range(len(due)), key=due.__getitem__)
    return place, due[place]


def _has_retry(asked: Asked) -> bool:
    return asked.unanswered and asked.tries <= RETRIES and not asked.silent


def _due(question: Question, asked: Asked) -> Instant:
    """One period after its last turn came."""
    assert asked.turn_at is not None
    return after(asked.turn_at, question.every_s)


def with_turn(history: History, place: int, at: Instant, *, answered: bool) -> History:
    """The history after the question at `place` was asked at `at` and answered, or not."""
    before = history[place]
    again = _has_retry(before)
    tries = before.tries + 1 if again else 1
    asked = Asked(
        turn_at=before.turn_at if again else at,
        tries=tries,
        unanswered=not answered,
        silent=not answered and (before.silent or tries > RETRIES),
    )
    return (*history[:place], asked, *history[place + 1 :])


def load(questions: tuple[Question, ...], timing: Timing) -> float:
    """Share of the line's time that the questions take when all are answered; above 1 it cannot keep up."""
    return sum(
        timing.exchange_s(len(question.request), reply_bytes_of(question.wire)) / question.every_s
        for question in questions
    )
