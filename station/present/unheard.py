"""What the windows show when the station has not been heard: dashes, never a number that has stopped."""

from dataclasses import replace

from station.core.state import Priority
from station.present.gauge_looks import GaugesLook
from station.present.labels import NOT_HEARD
from station.present.looks import (
    AlarmLine,
    AscentLook,
    BankLook,
    DiverLook,
    Flash,
    KeyState,
    Link,
    MarkStyle,
    Number,
    NumberState,
    Sentence,
    Sign,
    View,
)

_SIGN = Sign(Priority.ALARM, Flash.FAST)
_STEADY = Sign(Priority.ALARM)


def unheard(view: View, silent_s: int) -> View:
    """The last view with every number withdrawn, `silent_s` whole seconds after it came."""
    words = f"{NOT_HEARD} {silent_s} s"
    row = AlarmLine(
        "",
        "",
        _SIGN,
        Priority.ALARM.upper(),
        "",
        f"{words.capitalize()}.",
        "Read the gauges on the panel.",
        f"{silent_s} s",
        False,
    )
    top = replace(
        view.top,
        clock="--:--:--",
        clock_detail="---",
        links=tuple(Link(link.name, "---", None) for link in view.top.links),
        log_value="not known",
        log_sign=_STEADY,
    )
    lines = (row, *(replace(line, to_acknowledge=False, age="---") for line in view.alarms.lines))
    return replace(
        view,
        top=top,
        alarms=replace(view.alarms, lines=lines),
        divers=tuple(_diver(diver, words) for diver in view.divers),
        gauges=None if view.gauges is None else _gauges(view.gauges, words),
        air=replace(
            view.air,
            banks=tuple(_bank(bank) for bank in view.air.banks),
            detail="",
            facts=tuple(replace(fact, value="---") for fact in view.air.facts),
            sentence=Sentence(words.capitalize(), "", ""),
        ),
    )


def _diver(diver: DiverLook, words: str) -> DiverLook:
    keeping = diver.keeping
    return replace(
        diver,
        ascent=None if diver.ascent is None else _ascent(diver.ascent),
        rate=None,
        origins=(),
        trace=replace(diver.trace, now_s=None),
        line=replace(diver.line, style=MarkStyle.GONE, tail=None, at_least=False),
        depth=_number(diver.depth),
        time=_number(diver.time),
        air=_number(diver.air),
        sentence=Sentence(
            words.capitalize() if not diver.standby else "Not heard",
            "Read the panel gauge, stopwatch and printed table.",
            "",
        ),
        short=tuple(
            replace(fact, value="---") if any(map(str.isdigit, fact.value)) else fact for fact in diver.short
        ),
        keeping=replace(
            keeping,
            status_detail="---",
            clock=_number(keeping.clock),
            next_key=None
            if keeping.next_key is None
            else replace(keeping.next_key, state=KeyState.SHUT, detail=words),
            marks=tuple(
                replace(key, state=KeyState.SHUT) if key.state is not KeyState.DONE else key
                for key in keeping.marks
            ),
            others=tuple(replace(key, state=KeyState.SHUT, detail="---") for key in keeping.others),
        ),
    )


def _ascent(ascent: AscentLook) -> AscentLook:
    """The plan stays to be read; nothing that runs does."""
    return replace(
        ascent,
        clock=_number(ascent.clock),
        gas="",
        next_stop="---",
        left="---",
        surface="---",
        stop_done=None,
    )


def _gauges(look: GaugesLook, words: str) -> GaugesLook:
    return replace(
        look,
        summary=words.capitalize(),
        gauges=tuple(
            replace(gauge, value="---", raw="---", trust="not known", age="---", sign=_STEADY)
            for gauge in look.gauges
        ),
        lines=tuple(replace(line, standing="not known", detail="", sign=_STEADY) for line in look.lines),
        health=tuple(replace(row, value="---") for row in look.health),
    )


def _number(number: Number) -> Number:
    return replace(
        number,
        value="",
        detail="last" if number.value else "",
        struck=number.value,
        state=NumberState.LOST,
        sign=_STEADY,
    )


def _bank(bank: BankLook) -> BankLook:
    return replace(
        bank,
        pressure=replace(bank.pressure, value="", state=NumberState.LOST, sign=_STEADY),
        minutes=replace(bank.minutes, value="", state=NumberState.NONE),
        note="",
        note_detail="",
        full=None,
        needed=None,
    )
