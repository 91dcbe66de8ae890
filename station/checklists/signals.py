"""Reads a code of line-pull signals from TOML and checks everything of it at once."""

import re

from shared.toml_file import Section, parse_toml
from station.prepare.signals import Answer, Giver, Signal, SignalCode

_PULLS = re.compile(r"[1-9](-[1-9])*")


def read_code(path: str, text: str) -> SignalCode:
    """The code of a TOML text; `path` names it in messages. Raises FileFault with every problem."""
    top = parse_toml(path, text)
    head = top.table("code")
    sections = top.tables("signal", least=1)
    signals = tuple(_signal(each) for each in sections)
    _complain_of_twins(sections, signals)
    code = SignalCode(
        key=head.text("key"),
        title=head.text("title"),
        source=head.text("source"),
        stands_above=head.text("stands_above"),
        switches=head.text("switches", ""),
        signals=signals,
    )
    top.finish()
    return code


def _signal(section: Section) -> Signal:
    pulls = section.text("pulls")
    if section.sound("pulls") and not _PULLS.fullmatch(pulls):
        section.complain("pulls", f"{pulls!r} is no signal such as 2-1")
    return Signal(
        pulls=pulls,
        giver=section.choice("giver", Giver),
        means=section.text("means"),
        answer=section.choice("answer", Answer, Answer.REPEAT),
        searching=section.flag("searching", default=False),
        urgent=section.flag("urgent", default=False),
    )


def _complain_of_twins(sections: tuple[Section, ...], signals: tuple[Signal, ...]) -> None:
    """Pulls that mean two things from one hand: nobody could tell which."""
    for place, (section, signal) in enumerate(zip(sections, signals, strict=True)):
        for other in signals[:place]:
            hands = {signal.giver, other.giver}
            both = len(hands) == 1 or Giver.EITHER in hands
            if signal.pulls == other.pulls and signal.searching == other.searching and both:
                section.complain("pulls", f"{signal.pulls} means {other.means!r} already")
