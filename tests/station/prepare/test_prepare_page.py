"""The page of preparing, and the same page again after a kill at any point."""

from typing import Any

from station.demo.crew import DIVER, SUPERVISOR
from station.plain import canonical, parse
from station.prepare.acts import BeginList, DeskAct
from station.prepare.desk import Desk
from station.prepare.page import page_of
from station.prepare.ready import Group, Sight
from station.prepare.refusal import Refusal
from station.prepare.run import Begin, Done, Sign
from station.prepare.taking import take_act
from station.prepare.team import Assign, Leave, Post, Seat
from station.register.codec import from_plain, to_plain


def _page(deck: Any, **more: Any) -> Any:
    return page_of(deck.desk, DIVER, 1, Sight(deck.now, deck.day, deck.dives), **more)


def test_the_page_opens_where_the_work_is(deck: Any) -> None:
    """First the first list, not begun; then its next step; a hold point waits for the supervisor."""
    page = _page(deck)
    assert page.chosen == "deep_sea_inspection"
    assert page.step is None
    assert page.passed == 0
    assert page.of == sum(row.progress.of for row in page.lists) > 0
    assert "maker's manual" in page.stands_above
    deck.act(BeginList("air_plant", ""), "A. Morl")
    page = _page(deck, chosen="air_plant")
    assert page.step.step.key == "intake"
    assert page.step.shut_by == ()
    deck.press("air_plant", "", "intake", Done(), "A. Morl")
    page = _page(deck, chosen="air_plant")
    assert page.step.step.key == "purity"
    (row,) = [row for row in page.lists if row.key == "air_plant"]
    assert (row.progress.passed, row.progress.of, row.subject, row.last_by) == (1, 11, "", "A. Morl")


def test_a_timed_hold_point_shows_what_is_left_and_who_signs(deck: Any) -> None:
    """Held 22 of 30 seconds: 8 are left; done, it waits for the supervisor, and what is behind stays shut."""
    deck.act(BeginList("air_plant", ""), "A. Morl")
    deck.press("air_plant", "", "primary", Done(150.0), "A. Morl")
    deck.press("air_plant", "", "secondary", Begin(), "A. Morl")
    deck.later(22)
    step = _page(deck, chosen="air_plant", place=6).step
    assert (step.held_s, step.left_s, step.needs_supervisor) == (22, 8, False)
    deck.later(8)
    deck.press("air_plant", "", "secondary", Done(), "A. Morl")
    assert _page(deck, chosen="air_plant", place=6).step.needs_supervisor
    assert _page(deck, chosen="air_plant", place=7).step.shut_by == (6,)
    deck.press("air_plant", "", "secondary", Sign(), SUPERVISOR)
    assert _page(deck, chosen="air_plant", place=7).step.shut_by == ()


def test_when_all_is_done_the_board_is_met_row_by_row(deck: Any) -> None:
    """Every list complete: all steps counted, no row with anything missing but what the core has not told."""
    deck.work_off_all()
    page = _page(deck)
    assert page.passed == page.of
    assert page.chosen == page.lists[0].key
    assert [row.group for row in page.rows if row.missing] == [Group.AIR, Group.GAUGES, Group.VOICE]


def test_killed_at_any_point_the_journal_leads_back_to_the_same_step(deck: Any) -> None:
    """Every act through JSON and folded again: after each of them the same desk and the same page."""
    start = deck.desk
    deck.work_off_all()
    desk = start
    for number, (act, moment) in enumerate(deck.journal):
        stored = from_plain(parse(canonical(to_plain(act))), DeskAct)
        assert stored == act
        taken = take_act(desk, stored, moment)
        assert not isinstance(taken, Refusal)
        desk = taken
        if number % 25 == 0:
            checkpoint = from_plain(parse(canonical(to_plain(desk))), Desk)
            assert checkpoint == desk
    assert desk == deck.desk


def test_the_standby_has_his_own_lists(deck: Any) -> None:
    """The standby is proved and dressed as far as the lists for him go; as a diver he has all of them."""
    sight = Sight(deck.now, deck.day, deck.dives)
    as_standby = page_of(deck.desk, "Standby", 1, sight)
    assert [row.key for row in as_standby.lists] == ["demand_setup", "crossed_hoses"]
    deck.act(Leave("J. Lindal"))
    deck.act(Assign(Seat(Post.DIVER, "J. Lindal", "Standby")))
    as_diver = page_of(deck.desk, "Standby", 1, sight)
    assert {"water_entry", "light_dressing"} <= {row.key for row in as_diver.lists}
