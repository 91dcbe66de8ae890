"""Reads an emergency card from TOML and checks everything of it at once."""

from collections import Counter

from shared.toml_file import Section, parse_toml
from station.checklists.reading import words
from station.prepare.cards import Card, CardStep, Known


def read_card(path: str, text: str) -> Card:
    """The card of a TOML text; `path` names it in messages. Raises FileFault with every problem."""
    top = parse_toml(path, text)
    head = top.table("card")
    sections = top.tables("step", least=1)
    steps = tuple(_step(each) for each in sections)
    counts = Counter(step.key for step in steps)
    for section, step in zip(sections, steps, strict=True):
        if counts[step.key] > 1 and step.key:
            section.complain("key", f"{step.key!r} stands {counts[step.key]} times on this card")
    card = Card(
        key=head.text("key"),
        title=head.text("title"),
        first=head.text("first"),
        alarms=head.texts("alarms", ()),
        knows=words(head, "knows", Known),
        never=head.texts("never", ()),
        source=head.text("source"),
        stands_above=head.text("stands_above"),
        local=head.flag("local", default=False),
        steps=steps,
    )
    top.finish()
    return card


def _step(section: Section) -> CardStep:
    return CardStep(
        key=section.text("key"),
        who=section.text("who"),
        text=section.text("text"),
        why=section.text("why", ""),
        source=section.text("source"),
    )
