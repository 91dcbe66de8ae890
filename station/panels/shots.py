"""Every picture that `--pictures` draws: a view, a page, what is asked over it."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from station.panels import samples, samples_ascent, samples_gauges
from station.panels.figures import Figure
from station.panels.palette import GROUNDS
from station.panels.window import Window
from station.present.labels import ASCENT, GAUGES, OPINION, TIMEKEEPER, WATCH
from station.present.looks import View
from station.present.unheard import unheard


@dataclass(frozen=True, slots=True)
class Shot:
    """One picture; `ask` opens what is to be seen over the view."""

    name: str
    view: View
    page: str
    ask: Callable[[Window], None] | None = None


def _as_rehearsal(view: View) -> View:
    other = samples.rehearsal(view.ground)
    return replace(view, mode=other.mode, top=other.top)


def _as_replay(view: View) -> View:
    other = samples.replay(view.ground)
    return replace(view, mode=other.mode, top=other.top, transport=other.transport)


def _where(diver: str, figure: Figure) -> Callable[[Window], None]:
    return lambda window: window.ask_where_from(diver, figure.value)


def _choose(*steps: int) -> Callable[[Window], None]:
    """Open the choices and go on by the answers with these numbers."""

    def ask(window: Window) -> None:
        window.ask_choices()
        for step in steps:
            window.drawer.answers[step].went.emit()

    return ask


_WATCH = (
    Shot("calm-day", samples.calm("day"), WATCH),
    Shot("calm-dusk", samples.calm("dusk"), WATCH),
    Shot("emergency-night", samples.emergency("night"), WATCH),
    Shot("states-day", samples.states("day"), WATCH),
    Shot("one-diver-dusk", samples.lone("dusk"), WATCH),
    Shot("rehearsal-day", samples.rehearsal("day"), WATCH),
    Shot("replay-day", samples.replay("day"), WATCH),
    Shot("not-heard-day", unheard(samples.calm("day"), 4), WATCH),
    Shot("timekeeper-day", samples.calm("day"), TIMEKEEPER),
    Shot("timekeeper-emergency-night", samples.emergency("night"), TIMEKEEPER),
)
_ASCENT = (
    *(Shot(f"ascent-stop-{ground}", samples_ascent.at_stop(ground), ASCENT) for ground in GROUNDS),
    *(Shot(f"ascent-late-{ground}", samples_ascent.coming_up(ground), ASCENT) for ground in GROUNDS),
    Shot("ascent-oxygen-night", samples_ascent.on_oxygen("night"), ASCENT),
    *(Shot(f"ascent-omitted-{ground}", samples_ascent.omitted(ground), ASCENT) for ground in GROUNDS),
    Shot("ascent-refused-day", samples_ascent.refused("day"), ASCENT),
    Shot("ascent-none-day", samples.calm("day"), ASCENT),
    Shot("ascent-not-heard-day", unheard(samples_ascent.at_stop("day"), 4), ASCENT),
    Shot("ascent-rehearsal-dusk", _as_rehearsal(samples_ascent.at_stop("dusk")), ASCENT),
    Shot("ascent-replay-day", _as_replay(samples_ascent.at_stop("day")), ASCENT),
    Shot("ascent-replay-night", _as_replay(samples_ascent.omitted("night")), ASCENT),
)
_GAUGES = (
    *(Shot(f"gauges-{ground}", samples_gauges.gauges_well(ground), GAUGES) for ground in GROUNDS),
    *(
        Shot(f"gauges-troubled-{ground}", samples_gauges.gauges_troubled(ground), GAUGES)
        for ground in GROUNDS
    ),
    Shot("gauges-not-heard-day", unheard(samples_gauges.gauges_well("day"), 4), GAUGES),
    Shot("gauges-replay-dusk", _as_replay(samples_gauges.gauges_troubled("dusk")), GAUGES),
)
_DRAWERS = (
    Shot("where-depth-day", samples_ascent.at_stop("day"), WATCH, _where("Diver 2", Figure.DEPTH)),
    Shot("where-schedule-night", samples_ascent.at_stop("night"), WATCH, _where("Diver 2", Figure.SCHEDULE)),
    Shot("where-ascent-dusk", samples_ascent.at_stop("dusk"), ASCENT, _where("Diver 2", Figure.SCHEDULE)),
    Shot("where-keeper-day", samples_ascent.at_stop("day"), TIMEKEEPER, _where("Diver 2", Figure.AIR)),
    Shot("where-replay-day", _as_replay(samples_ascent.at_stop("day")), WATCH, _where("", Figure.DEPTH)),
    Shot("where-none-day", samples.calm("day"), WATCH, _where("", Figure.DEPTH)),
    Shot("choose-watch-day", samples_ascent.at_stop("day"), WATCH, _choose()),
    Shot("choose-keeper-dusk", samples_ascent.at_stop("dusk"), TIMEKEEPER, _choose()),
    Shot("choose-group-night", samples_ascent.at_stop("night"), WATCH, _choose(0)),
    Shot("choose-interval-day", samples_ascent.at_stop("day"), WATCH, _choose(0, 4)),
    Shot("choose-mode-ascent-day", samples_ascent.at_stop("day"), ASCENT, _choose(1)),
    Shot("choose-bind-night", samples_ascent.at_stop("night"), WATCH, _choose(4)),
    Shot("choose-supply-day", samples_ascent.at_stop("day"), WATCH, _choose(5)),
    Shot("choose-depth-day", samples_ascent.at_stop("day"), WATCH, _choose(6)),
    Shot("choose-pressure-keeper-day", samples_ascent.at_stop("day"), TIMEKEEPER, _choose(7)),
)

_OPINION = (
    Shot("opinion-agrees-day", _as_replay(samples_ascent.with_opinion("day")), OPINION),
    Shot("opinion-differs-night", _as_replay(samples_ascent.with_opinion("night", differs=True)), OPINION),
    Shot("opinion-none-dusk", _as_replay(samples.calm("dusk")), OPINION),
)

SHOTS: tuple[Shot, ...] = (*_WATCH, *_ASCENT, *_GAUGES, *_DRAWERS, *_OPINION)
