"""Invented views for looking at the windows without a station: `python -m station.panels --pictures DIR`."""

from dataclasses import replace
from math import sin

from station.caution import CAUTION
from station.core.state import Priority
from station.panels.trace import Point, Traces
from station.present.looks import (
    AirBoard,
    AlarmLine,
    AlarmStrip,
    BankLook,
    DiverLook,
    EventKey,
    Fact,
    Flash,
    KeyState,
    LastMark,
    Link,
    MarkStyle,
    Mode,
    Number,
    NumberState,
    Rung,
    Scale,
    Sentence,
    Shift,
    Sign,
    SoundingLine,
    Tail,
    Timekeeping,
    TopStrip,
    TraceFrame,
    Transport,
    View,
)

_GOOD, _NONE = NumberState.GOOD, NumberState.NONE
_EMERGENCY = Sign(Priority.EMERGENCY, Flash.FAST)
_WARNING = Sign(Priority.WARNING, Flash.FAST)


def calm(ground: str = "day") -> View:
    """Two divers at work, standby dressed, nothing abnormal."""
    return View(
        seq=18204,
        mode=Mode.LIVE,
        ground=ground,
        top=TopStrip(
            "LIVE",
            "Sennebrook Lock, gate 3",
            "Sill plate survey",
            "08:25:40",
            "UTC, 2 May 2031",
            "on watch 1:12:06",
            tuple(
                Link(name, age)
                for name, age in (
                    ("pneumo-1", "0.1 s"),
                    ("pneumo-2", "0.1 s"),
                    ("supply-1", "0.1 s"),
                    ("supply-2", "0.2 s"),
                    ("supply-s", "0.1 s"),
                    ("bank-a", "0.4 s"),
                    ("bank-b", "0.4 s"),
                )
            ),
            "logged",
            "0.3 s ago",
        ),
        alarms=AlarmStrip(
            (),
            "No alarm standing",
            "Last: warning, Diver 2 ascends at 44 fsw a minute, 08:17 to 08:19",
            "",
        ),
        scale=Scale("fsw", 88.0, 2.0, 10.0),
        divers=(_first(), _second(), _third()),
        people=(Fact("Tender 1", "P. Rusk"), Fact("Tender 2", "A. Morl"), Fact("Supervisor", "K. Dahlin")),
        air=_air(),
        caution=CAUTION,
    )


def _first() -> DiverLook:
    return DiverLook(
        "Diver 1",
        "T. Osk",
        "On the bottom",
        False,
        SoundingLine(60.0, 58.2, MarkStyle.SOLID, maximum=58.9, rungs=(Rung(20.0, "2", False),)),
        Number("Depth", "max 59.9, table depth 60", "58.2", "fsw", _GOOD),
        Number("Bottom time", "counts as 42 min", "41:20", "min", _GOOD),
        Number("Air margin", "supply 148, minimum 117", "+31", "psi", _GOOD),
        Sentence(
            "Leave bottom by 08:47:20",
            "21:40 left without stops.",
            "One second later costs 2 min at 20 fsw, row 60 / 65.",
        ),
        _frame(
            5640, 8940, ((5840, "07:50"), (6440, "08:00"), (7040, "08:10"), (7640, "08:20"), (8240, "08:30"))
        ),
        (),
        _keeping("On the bottom", "41:20", Number("Bottom time", "depth 58.2", "41:20", "min", _GOOD)),
    )


def _second() -> DiverLook:
    return DiverLook(
        "Diver 2",
        "M. Ferrow",
        "Stop at 20 fsw",
        False,
        SoundingLine(80.0, 20.2, MarkStyle.SOLID, maximum=78.4, rungs=(Rung(20.0, "17", True),)),
        Number("Depth", "max 79.4, table depth 80", "20.2", "fsw", _GOOD),
        Number("Stop time left", "of 17 from 08:21:20", "12:40", "min", _GOOD),
        Number("Air margin", "supply 132, minimum 99", "+33", "psi", _GOOD),
        Sentence(
            "Leave 20 fsw at 08:38:20",
            "Surface at 08:39:00.",
            "Leaving early is a missed stop; staying longer adds nothing.",
        ),
        _frame(
            4440,
            8940,
            (
                (4640, "07:30"),
                (5240, "07:40"),
                (5840, "07:50"),
                (6440, "08:00"),
                (7040, "08:10"),
                (7640, "08:20"),
                (8240, "08:30"),
            ),
            ((4440, 0), (4700, 0), (4800, 80), (7400, 80), (7500, 20), (8500, 20), (8560, 0)),
        ),
        (),
        _keeping(
            "Stop at 20 fsw", "12:40 left", Number("Stop time left", "depth 20.2", "12:40", "min", _GOOD)
        ),
    )


def _third() -> DiverLook:
    return DiverLook(
        "Standby",
        "J. Lindal",
        "Dressed",
        True,
        SoundingLine(80.0, 0.0, MarkStyle.SOLID),
        Number("Depth", "", "0.0", "fsw", _GOOD),
        Number("Bottom time", "", "", "min", _NONE),
        Number("Air margin", "supply 151", "+61", "psi", _GOOD),
        Sentence("Helmet at hand, air on.", "", ""),
        _frame(5640, 8940, ()),
        (
            Fact("Person", "J. Lindal"),
            Fact("State", "Dressed"),
            Fact("Depth", "0.0 fsw"),
            Fact("Supply", "151 psi"),
            Fact("Margin", "+61 psi"),
        ),
        _keeping("Dressed", "", Number("Bottom time", "not begun", "", "min", _NONE)),
    )


def _frame(
    start_s: float,
    end_s: float,
    ticks: tuple[tuple[float, str], ...],
    plan: tuple[tuple[float, float], ...] = ((5640, 0), (5840, 0), (5900, 60), (8600, 60), (8720, 0)),
) -> TraceFrame:
    return TraceFrame(start_s, end_s, 7980.0, ticks, 88.0, 20.0, plan)


def _keeping(status: str, detail: str, clock: Number) -> Timekeeping:
    done, shut = KeyState.DONE, KeyState.SHUT
    return Timekeeping(
        1,
        status,
        detail,
        clock,
        EventKey("left_stop", "Left 20 fsw", "due 08:38:20, one press marks it", KeyState.NEXT, 20.0),
        (
            EventKey("left_surface", "Left surface", "07:31:50", done),
            EventKey("reached_bottom", "Reached bottom", "07:33:30", done),
            EventKey("left_bottom", "Left bottom", "08:16:12", done),
            EventKey("reached_stop", "Reached 20", "08:21:20", KeyState.MARKING, 20.0),
            EventKey("left_stop", "Left 20", "next", KeyState.NEXT, 20.0),
            EventKey("reached_surface", "Reached surface", "then", shut),
        ),
        (
            EventKey("hose_blown", "Hose blown", "last 08:20:02", KeyState.OPEN),
            EventKey("voice_answered", "Voice answered", "50 s ago", KeyState.OPEN),
            EventKey("line_pull", "Line pull", "1 from the diver", KeyState.OPEN),
            EventKey("asks_to_come_up", "Asks to come up", "ends his work", KeyState.OPEN),
            EventKey("no_answer", "No answer", "ends his work", KeyState.OPEN),
        ),
        ((15, "15 s ago"), (30, "30 s ago"), (60, "60 s ago")),
        LastMark(
            14,
            "Reached 20 fsw, 08:21:20",
            "by P. Rusk, 4:20 ago, in the log",
            tuple(
                Shift(
                    round((7720 + shift) * 1e9),
                    f"{abs(shift)} s {'earlier' if shift < 0 else 'later'}",
                    "08:21:05",
                )
                for shift in (-60, -30, -15, 15, 30, 60)
            ),
        ),
    )


def _air() -> AirBoard:
    return AirBoard(
        "6.1 scf a minute",
        (
            BankLook(
                "Primary, bank A",
                "on line",
                Number("Pressure", "", "2110", "psi", _GOOD),
                Number("Minutes", "", "95", "min", _GOOD),
                "needed 27 min",
                "by computed use",
                0.79,
                0.22,
            ),
            BankLook(
                "Secondary, bank B",
                "ready",
                Number("Pressure", "", "2640", "psi", _GOOD),
                Number("Minutes", "", "82", "min", _GOOD),
                "needed 27 min",
                "by computed use",
                0.68,
                0.22,
            ),
        ),
        (Fact("Diver 1 carries", "9 min"), Fact("Diver 2 carries", "21 min")),
        Sentence("All up by 08:39:00", "", "if called now. Bank A covers it until 09:33."),
    )


def traces() -> Traces:
    """Depth-time traces to the sample divers."""
    kept = Traces()
    kept.take("Diver 1", [_point(second, 5840, 5900, 58.0, 99999) for second in range(5640, 7981)], full=True)
    kept.take("Diver 2", [_point(second, 4740, 4800, 77.5, 7400) for second in range(4440, 7981)], full=True)
    return kept


def _point(second: int, left_s: int, bottom_s: int, depth: float, up_s: int) -> Point:
    if second < left_s:
        return (float(second), 0.0)
    if second < bottom_s:
        return (float(second), depth * (second - left_s) / (bottom_s - left_s))
    if second > up_s:
        return (float(second), max(20.2, depth - (second - up_s) * 0.5))
    wave = 0.5 * sin(second / 7) + 0.4 * sin(second / 31) + (3.0 if 6300 < second < 6800 else 0.0)
    return (float(second), depth - wave)


def emergency(ground: str = "night") -> View:
    """Diver 1 short of air, Diver 2's depth not heard, both not acknowledged."""
    view = calm(ground)
    first, second, third = view.divers
    first = replace(
        first,
        air=Number("Air margin", "109, minimum 117", "−8", "psi", _GOOD, _EMERGENCY),
        sentence=Sentence(
            "Shift Diver 1 to the other supply",
            "Then end his work:",
            "no schedule here, read the printed table in force.",
        ),
    )
    second = replace(
        second,
        depth=Number("Depth, 14 s old", "last read", "", "fsw", NumberState.STALE, _WARNING, "20.4"),
        line=replace(second.line, style=MarkStyle.HATCHED),
        sentence=Sentence(
            "Keep at 20 fsw to 08:38:20",
            "The stop clock runs, the depth is not proved.",
            "Blow pneumo 2, or read the hand gauge and enter it.",
        ),
    )
    links = tuple(
        replace(link, age="14 s", sign=_WARNING) if link.name == "pneumo-2" else link
        for link in view.top.links
    )
    lines = (
        AlarmLine(
            "supply-below-minimum",
            "Diver 1",
            _EMERGENCY,
            "EMERGENCY",
            "Diver 1",
            "air 109 psi, minimum 117 psi.",
            "Shift Diver 1 to the other supply. Stop his work.",
            "7 s",
            True,
        ),
        AlarmLine(
            "depth-not-heard",
            "Diver 2",
            _WARNING,
            "WARNING",
            "Diver 2",
            "depth not heard for 14 s.",
            "Read the hand gauge of Diver 2. Check his gauge's cable and power.",
            "11 s",
            True,
        ),
    )
    return replace(
        view,
        divers=(first, second, third),
        top=replace(view.top, links=links),
        alarms=replace(view.alarms, lines=lines),
    )


def states(ground: str = "day") -> View:
    """At least, suspect, and a supply lost; acknowledged alarms and a caution; a diver coming up."""
    view = calm(ground)
    first, second, third = view.divers
    steady, caution = Sign(Priority.WARNING), Sign(Priority.CAUTION)
    first = replace(
        first,
        depth=Number(
            "Depth at least", "bound 61.4, last blown at 54 fsw", "58.2", "fsw", NumberState.AT_LEAST
        ),
        line=replace(first.line, style=MarkStyle.HOLLOW, at_least=True),
        air=Number("Air margin lost", "last supply", "", "psi", NumberState.LOST, steady, "148 psi"),
    )
    second = replace(
        second,
        phase="Coming up",
        depth=Number("Depth, suspect", "other says 34.1", "38.0", "fsw", NumberState.SUSPECT, steady),
        time=Number("Ascent", "up 29 fsw a minute", "0:36", "min", _GOOD),
        air=Number("Air margin", "M. Ferrow, 40 s old", "+33", "psi", NumberState.MANUAL),
        line=replace(second.line, mark=38.0, tail=Tail(9.0, 18.0, 0.0)),
    )
    lines = (
        AlarmLine(
            "x",
            "Diver 2",
            steady,
            "WARNING",
            "Diver 2",
            "two gauges differ by 3.9 fsw.",
            "Test both gauges.",
            "1:12",
            False,
        ),
        AlarmLine(
            "y",
            "Diver 1",
            caution,
            "CAUTION",
            "Diver 1",
            "depth is at least 58.2 fsw.",
            "Blow his hose and read again.",
            "1:04",
            False,
        ),
    )
    return replace(view, divers=(first, second, third), alarms=replace(view.alarms, lines=lines))


def rehearsal(ground: str = "day") -> View:
    """The calm watch, rehearsed."""
    view = calm(ground)
    top = replace(view.top, mode_word="REHEARSAL", job="Simulated, not live")
    return replace(view, mode=Mode.REHEARSAL, top=top)


def replay(ground: str = "day") -> View:
    """The watch with its states, replayed."""
    view = states(ground)
    transport = Transport(
        True, 4.0, 0.68,
        tuple((share / 8, f"07:{share}0") for share in range(1, 8)),
        ((0.36, Priority.WARNING), (0.64, Priority.WARNING), (0.66, Priority.CAUTION)),
        "recorded", "lock-gate-3, 2 May 2031", "whole, 61 204 records",
    )  # fmt: skip
    top = replace(
        view.top, mode_word="REPLAY", job="Recorded, not live", log_caption="log", log_value="proved whole"
    )
    return replace(view, mode=Mode.REPLAY, top=top, transport=transport)


def lone(ground: str = "day") -> View:
    """One diver and his standby: the trace stands beside the numbers."""
    view = calm(ground)
    return replace(view, divers=(view.divers[0], view.divers[2]))
