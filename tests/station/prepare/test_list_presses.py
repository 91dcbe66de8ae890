"""A list under random presses: no path passes a hold point, a second name or a proof."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shared.clock import Instant
from station.checklists.shipped import load_checklists
from station.prepare.checklist import About, Checklist, Measured, Proof, Seen, SerialRead, Stage, Step, Turn
from station.prepare.gear import GearKind
from station.prepare.pressing import Hand, press_step
from station.prepare.progress import progress_of, step_view
from station.prepare.refusal import Refusal
from station.prepare.run import (
    WITH_SUPERVISOR,
    Begin,
    Done,
    Doubt,
    Fail,
    Note,
    Photo,
    Press,
    Rule,
    Ruling,
    Run,
    Sign,
    StepStatus,
    Unanswered,
    Undo,
    begin_run,
)
from station.prepare.team import Crew, Post, Seat

CREW = Crew(
    (
        Seat(Post.SUPERVISOR, "Sup"),
        Seat(Post.TENDER, "Ten A", "Diver 1"),
        Seat(Post.TENDER, "Ten B", "Diver 1"),
        Seat(Post.DIVER, "Div", "Diver 1"),
    )
)
NO_SUPERVISOR = replace(CREW, seats=CREW.seats[1:])
NAMES = ("Sup", "Ten A", "ten  a", "Ten B", "Div", "Stranger", "")
SERIALS = ((GearKind.HELMET, "H-1"),)
S = 1_000_000_000

proofs: st.SearchStrategy[Proof] = st.sampled_from(
    (Seen(), Measured("weight", "lb", 160, 500), SerialRead(GearKind.HELMET))
)


@st.composite
def lists(draw: st.DrawFn) -> Checklist:
    """Any list of a few steps that the reader would take."""
    count = draw(st.integers(1, 6))
    steps = tuple(
        Step(
            f"s{place}",
            f"step {place}",
            "why",
            (Post.TENDER,),
            draw(proofs),
            "test",
            hold=draw(st.booleans()),
            persons=draw(st.integers(1, 2)),
            after=tuple(
                f"s{draw(st.integers(0, place - 1))}" for _ in range(draw(st.integers(0, 1))) if place
            ),
            least_s=draw(st.sampled_from((None, None, 30.0))),
            most_s=draw(st.sampled_from((None, None, 60.0))),
        )
        for place in range(count)
    )
    ordered = draw(st.booleans())
    return Checklist(
        "t",
        "List",
        1,
        "above",
        "test",
        Stage.GEAR,
        About.DIVER,
        Turn.ANY,
        ordered,
        standby=False,
        steps=steps,
    )


presses: st.SearchStrategy[Press] = st.one_of(
    st.just(Begin()),
    st.builds(Done, st.sampled_from((None, 200.0, 160.0, 159.9, 501.0)), st.sampled_from(("", "H-1", "X"))),
    st.just(Done(200.0, "H-1")),
    st.just(Done(200.0, "H-1")),
    st.just(Sign()),
    st.just(Sign()),
    st.sampled_from(
        (
            Doubt("d"),
            Unanswered(),
            Fail("f"),
            Note("n"),
            Photo("p"),
            Undo("u"),
            Undo(""),
            Rule(Ruling.DO_AGAIN, "r"),
            Rule(Ruling.DO_AGAIN, "r"),
            Rule(Ruling.STOP, "r"),
        )
    ),
)


def _sound(checklist: Checklist, run: Run) -> None:
    """What must hold of a run however it came about."""
    for place, (step, state) in enumerate(zip(checklist.steps, run.steps, strict=True)):
        if state.status is not StepStatus.PASSED:
            assert not state.signed_by
            continue
        earlier = [run.steps[other] for other in checklist.rests_on(place)]
        assert all(each.status is StepStatus.PASSED for each in earlier), "passed before what it rests on"
        names = {" ".join(name.split()).casefold() for name in state.names}
        assert len(names) == len(state.names) == step.persons
        assert names <= {"sup", "ten a", "ten b"}
        assert (state.signed_by == "Sup") == step.hold
        assert not step.hold or "sup" not in names, "he signed his own work"
        if isinstance(step.proof, Measured):
            assert state.value is not None
            assert step.proof.low <= state.value <= step.proof.high
        if isinstance(step.proof, SerialRead):
            assert state.serial == "H-1"


def _fair(key: str, press: Press, by: str, before: Run, after: Run) -> None:
    """What one press may do."""
    for old, new in zip(before.steps, after.steps, strict=True):
        if new.status is StepStatus.PASSED and old.status is not StepStatus.PASSED:
            assert new.key == key
            assert isinstance(press, Done | Sign), "only Done and Sign pass a step"
        if old.status in WITH_SUPERVISOR and new.status not in WITH_SUPERVISOR:
            assert isinstance(press, Rule)
            assert by == "Sup", "a doubt ended without the supervisor"
        assert new.notes[: len(old.notes)] == old.notes, "words were lost"


@settings(max_examples=150, deadline=None)
@given(st.data(), lists())
def test_no_presses_pass_a_hold_point_a_second_name_or_a_proof(
    data: st.DataObject, checklist: Checklist
) -> None:
    """Whatever is pressed, by whom, whenever: a passed step was done, proved and signed as it asks."""
    run = begin_run(checklist, "Diver 1", 1, Instant(0), "Ten A", serials=SERIALS)
    now = 0
    for _ in range(data.draw(st.integers(1, 40))):
        now += data.draw(st.sampled_from((0, 31 * S, 90 * S)))
        likely = progress_of(checklist, run).next_place or 0
        place = data.draw(st.sampled_from((likely, likely, likely, 0, len(run.steps) - 1)))
        press, by = data.draw(presses), data.draw(st.sampled_from(NAMES))
        crew = data.draw(st.sampled_from((CREW, CREW, CREW, NO_SUPERVISOR)))
        key = checklist.steps[place].key
        after = press_step(checklist, run, key, press, Hand(by, Instant(now), crew))
        if isinstance(after, Refusal):
            assert after.reason
            continue
        _sound(checklist, after)
        _fair(key, press, by, run, after)
        run = after
        view = step_view(checklist, run, place, Instant(now))
        assert view.left_s >= 0


SHIPPED = load_checklists()


@pytest.mark.parametrize("checklist", SHIPPED, ids=lambda each: each.key)
def test_a_hold_point_keeps_everything_behind_it_shut(checklist: Checklist) -> None:
    """In every shipped list: behind an open hold point nothing can be done, by anybody."""
    everybody = Crew(tuple(Seat(post, f"{post} {turn}", "Diver 1") for post in Post for turn in (1, 2)))
    run = begin_run(checklist, "Diver 1", 1, Instant(0), "x", serials=())
    for place, step in enumerate(checklist.steps):
        if not step.hold:
            continue
        for later in checklist.steps[place + 1 :]:
            for seat in everybody.seats:
                for press in (Begin(), Done(1.0, "x"), Sign()):
                    hand = Hand(seat.person, Instant(0), everybody)
                    assert isinstance(press_step(checklist, run, later.key, press, hand), Refusal)


def _one(step: Step, *more: Step, ordered: bool = False) -> tuple[Checklist, Run]:
    steps = (step, *more)
    checklist = Checklist(
        "t",
        "List",
        1,
        "above",
        "test",
        Stage.GEAR,
        About.DIVER,
        Turn.ANY,
        ordered,
        standby=False,
        steps=steps,
    )
    return checklist, begin_run(checklist, "Diver 1", 1, Instant(0), "Ten A", serials=SERIALS)


def _press(
    checklist: Checklist, run: Run, press: Press, by: str, key: str = "a", *, at_s: int = 0
) -> Run | Refusal:
    return press_step(checklist, run, key, press, Hand(by, Instant(at_s * S), CREW))


def _taken(found: Run | Refusal) -> Run:
    assert isinstance(found, Run), found
    return found


def _step(key: str = "a", **more: object) -> Step:
    plain = Step(key, "text", "why", (Post.TENDER,), Seen(), "test")
    return replace(plain, **more)  # type: ignore[arg-type] # the test names fields that there are


def test_two_persons_are_two_names() -> None:
    """One tender pressing twice, in whatever spelling, is one person; the second tender passes it."""
    checklist, run = _one(_step(persons=2))
    run = _taken(_press(checklist, run, Done(), "Ten A"))
    assert run.steps[0].status is StepStatus.HALF
    again = _press(checklist, run, Done(), "TEN A")
    assert isinstance(again, Refusal)
    assert "second person" in again.reason
    assert _taken(_press(checklist, run, Done(), "Ten B")).complete


@pytest.mark.parametrize(
    ("value", "status"), [(160.0, "passed"), (159.9, "failed"), (500.0, "passed"), (501, "failed")]
)
def test_a_value_beyond_its_limits_fails_the_step_and_is_kept(value: float, status: str) -> None:
    """The harness strap holds a man of 160 lb hung from it (common practice, no source): less is no proof."""
    checklist, run = _one(_step(proof=Measured("weight", "lb", 160, 500)))
    run = _taken(_press(checklist, run, Done(value=value), "Ten A"))
    assert run.steps[0].status == status
    assert run.steps[0].value == value


def test_a_wrong_serial_goes_to_the_supervisor() -> None:
    """Another helmet than the outfit's: failed, with both numbers in words."""
    checklist, run = _one(_step(proof=SerialRead(GearKind.HELMET)))
    run = _taken(_press(checklist, run, Done(serial="H-2"), "Ten A"))
    assert run.steps[0].status is StepStatus.FAILED
    assert "H-2" in run.steps[0].reason
    assert "H-1" in run.steps[0].reason


def test_a_missing_answer_goes_to_the_supervisor_and_only_he_opens_the_step() -> None:
    """Asked and no answer: nobody can do or undo the step before the supervisor has ruled, with a reason."""
    checklist, run = _one(_step())
    run = _taken(_press(checklist, run, Unanswered(), "Ten A"))
    for press in (Done(), Undo("never mind"), Rule(Ruling.DO_AGAIN, "ok")):
        assert isinstance(_press(checklist, run, press, "Ten B"), Refusal)
    assert isinstance(_press(checklist, run, Rule(Ruling.DO_AGAIN, " "), "Sup"), Refusal)
    run = _taken(_press(checklist, run, Rule(Ruling.DO_AGAIN, "asked again, he is well"), "Sup"))
    assert not run.complete, "a ruling passes nothing"
    assert _taken(_press(checklist, run, Done(), "Ten A")).complete


def test_a_doubt_about_the_air_opens_the_helmet_again() -> None:
    """Air on before the helmet is closed: when the first falls, what rests on it falls with it."""
    checklist, run = _one(_step("air"), _step("helmet"), ordered=True)
    assert isinstance(_press(checklist, run, Done(), "Ten A", "helmet"), Refusal)
    run = _taken(_press(checklist, run, Done(), "Ten A", "air"))
    run = _taken(_press(checklist, run, Done(), "Ten B", "helmet"))
    assert run.complete
    run = _taken(_press(checklist, run, Undo("shut to mend a leak"), "Ten A", "air"))
    assert [state.status for state in run.steps] == [StepStatus.OPEN, StepStatus.OPEN]
    assert run.steps[0].notes == ("Ten A: shut to mend a leak",)


def test_a_timed_step_runs_its_time_and_not_longer() -> None:
    """Done opens after 30 s and not before; over 60 s it is a doubt. Begun again, the clock runs anew."""
    checklist, run = _one(_step(least_s=30.0, most_s=60.0))
    assert isinstance(_press(checklist, run, Done(), "Ten A"), Refusal)
    run = _taken(_press(checklist, run, Begin(), "Ten A", at_s=0))
    early = _press(checklist, run, Done(), "Ten A", at_s=29)
    assert isinstance(early, Refusal)
    assert "1 s" in early.reason
    assert _taken(_press(checklist, run, Done(), "Ten A", at_s=30)).complete
    assert _taken(_press(checklist, run, Done(), "Ten A", at_s=60)).complete
    late = _taken(_press(checklist, run, Done(), "Ten A", at_s=61))
    assert late.steps[0].status is StepStatus.DOUBT
    again = _taken(_press(checklist, run, Begin(), "Ten A", at_s=100))
    assert _taken(_press(checklist, again, Done(), "Ten A", at_s=131)).complete
    assert step_view(checklist, again, 0, Instant(110 * S)).left_s == 20


def test_only_the_post_signs_and_the_supervisor_signs_last() -> None:
    """A diver signs no tender's step; at a hold point the supervisor signs, last, and does not do it."""
    checklist, run = _one(_step(hold=True))
    for press, by in ((Done(), "Div"), (Done(), "Sup"), (Sign(), "Sup"), (Done(), "Stranger"), (Done(), " ")):
        assert isinstance(_press(checklist, run, press, by), Refusal), (press, by)
    run = _taken(_press(checklist, run, Done(), "Ten A"))
    assert run.steps[0].status is StepStatus.AWAITS
    assert isinstance(_press(checklist, run, Sign(), "Ten B"), Refusal)
    assert _taken(_press(checklist, run, Sign(), "Sup")).complete


def test_anybody_may_doubt_and_no_words_are_no_doubt() -> None:
    """Somebody outside the crew may stop a step; a doubt without words is asked for its words."""
    checklist, run = _one(_step())
    assert isinstance(_press(checklist, run, Doubt(" "), "Ten A"), Refusal)
    assert (
        _taken(_press(checklist, run, Doubt("smells of oil"), "Stranger")).steps[0].reason == "smells of oil"
    )


def test_a_step_waits_for_the_one_it_names_and_for_no_other() -> None:
    """In a list without order: shut until the step that it names is passed; others stay open all the time."""
    checklist, run = _one(_step("a"), _step("b", after=("a",)), _step("c"))
    assert isinstance(_press(checklist, run, Done(), "Ten A", "b"), Refusal)
    run = _taken(_press(checklist, run, Done(), "Ten A", "c"))
    run = _taken(_press(checklist, run, Done(), "Ten A", "a"))
    run = _taken(_press(checklist, run, Done(), "Ten A", "b"))
    run = _taken(_press(checklist, run, Doubt("which one was it?"), "Ten B", "a"))
    assert [state.status for state in run.steps] == [StepStatus.DOUBT, StepStatus.OPEN, StepStatus.PASSED]
