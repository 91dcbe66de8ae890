"""Reads a profile of rules from TOML and checks everything of it at once."""

from typing import Final

from shared.toml_file import Section, parse_toml
from station.checklists.reading import MOST_VERSION, words
from station.prepare.duties import Duty
from station.prepare.gear import GearKind, Work
from station.prepare.profile import Asked, Bound, Gauge, Profile, Threshold

MOST_FIGURE: Final = 2_000.0
MOST_MONTHS: Final = 600
"""What no rule goes beyond, so that a slip of the finger is told of. Own choice."""


def read_profile(path: str, text: str) -> Profile:
    """The profile of a TOML text; `path` names it in messages. Raises FileFault with every problem."""
    top = parse_toml(path, text)
    head = top.table("profile")
    profile = Profile(
        key=head.text("key"),
        title=head.text("title"),
        version=head.integer("version", 1, MOST_VERSION),
        dated=head.text("dated"),
        stands_above=head.text("stands_above"),
        thresholds=tuple(_threshold(each) for each in top.tables("threshold", least=1)),
        duties=tuple(_duty(each) for each in top.tables("duty")),
    )
    top.finish()
    return profile


def _threshold(section: Section) -> Threshold:
    short_min = _maybe(section, "short_dive_min")
    short_figure = _maybe(section, "short_dive_figure")
    if (short_min is None) != (short_figure is None):
        section.complain("short_dive_min", "short_dive_min and short_dive_figure go together")
    return Threshold(
        asked=section.choice("asked", Asked),
        gauge=section.choice("gauge", Gauge, Gauge.DEPTH_FSW),
        bound=section.choice("bound", Bound, Bound.OVER),
        figure=section.number("figure", 0.0, MOST_FIGURE),
        says=section.text("says"),
        source=section.text("source"),
        outside_no_stop=section.flag("outside_no_stop", default=False),
        short_dive_min=short_min,
        short_dive_figure=short_figure,
        not_heavy=section.flag("not_heavy", default=False),
        only_heavy=section.flag("only_heavy", default=False),
        wait_min=_maybe(section, "wait_min"),
    )


def _maybe(section: Section, key: str) -> float | None:
    return section.number(key, 0.0, MOST_FIGURE) if section.has(key) else None


def _duty(section: Section) -> Duty:
    return Duty(
        work=section.choice("work", Work),
        kinds=words(section, "kinds", GearKind),
        every_months=section.integer("every_months", 1, MOST_MONTHS) if section.has("every_months") else None,
        after_repair=section.flag("after_repair", default=True),
        says=section.text("says"),
        source=section.text("source"),
    )
