"""Invented ascents for looking at the windows: a late arrival, oxygen, an omitted stop, no answer."""

# ruff: noqa: E501 - rows of invented times are read as a table

from dataclasses import replace

from station.core.decompression.gas_model.opinion import CHECK_THE_COPY, WHAT_IT_IS, WHAT_IT_IS_NOT
from station.core.state import Priority
from station.panels import samples
from station.present.ascent_looks import (
    AscentLook,
    AscentRow,
    CardLook,
    CardsLook,
    ChangeLook,
    Origin,
    PlanLook,
    RateLook,
    RowState,
)
from station.present.choice_looks import ChoicesLook, Option, TypedPlace
from station.present.labels import MODEL_AGREES, MODEL_DIFFERS
from station.present.looks import DiverLook, Flash, Number, NumberState, Sentence, Sign, Tail, View
from station.present.opinion_looks import OpinionLook, OpinionStop

_GOOD = NumberState.GOOD
_DONE, _HERE, _DUE = RowState.DONE, RowState.HERE, RowState.DUE

ROWS = (
    AscentRow("to 64 fsw", "travel", "air", "0:28", "–", "08:16:12 to 08:16:40", _DONE),
    AscentRow("64 fsw", "held at 64 fsw", "air", "3:12", "–", "08:16:40 to 08:19:52", _DONE),
    AscentRow("to 20 fsw", "travel", "air", "1:28", "08:16:12 to 08:18:08", "08:19:52 to 08:21:20", _DONE),
    AscentRow("20 fsw", "stop", "air", "17:00", "08:18:08 to 08:28:08", "08:21:20 to 08:38:20", _HERE),
    AscentRow(
        "to the surface", "travel", "air", "0:40", "08:28:08 to 08:28:48", "08:38:20 to 08:39:00", _DUE
    ),
)

LATE = ChangeLook(
    "A4",
    "3:12 late at the first stop, all of it deeper than 50 fsw: 4 min are added to the bottom time, 45 and 4 "
    "give row 80/50.",
    PlanLook("80/45", "10:00 at 20", "08:28:48"),
    PlanLook("80/50", "17:00 at 20", "08:39:00"),
    running=False,
)

ORIGINS = (
    Origin(
        "Maximum depth",
        "80 fsw",
        "D2",
        "The pneumofathometer correction of the reading's band is added: to 100 fsw 1, to 200 2, to 300 4, to "
        "400 7; a reading up to 0.2 fsw over a whole foot counts as that foot.",
        "USN Diving Manual Rev 4 Change A, Table 14-1, p. 14-3",
        "P: read in the source, own: our own choice",
        "deepest 78.4 fsw",
    ),
    Origin(
        "Schedule",
        "17 min at 20",
        "S2",
        "Both axes go up: the next deeper depth, the next longer time, never between.",
        "USN Diving Manual Rev 7, Table 9-9",
        "P: read in the source",
        "USN Rev 7 9-9, 80/50",
        (
            "table 9-9, 80/50: in-water oxygen or surface decompression on oxygen is recommended.",
            "table 9-9, 80/50: this row was checked by adding its times, not against a second print.",
        ),
    ),
    Origin(
        "Stop time left",
        "12:40",
        "A2",
        "The clock of the first stop starts on arrival, of the next ones on leaving the one before.",
        "USN Diving Manual Rev 7, 9-7; study notes",
        "S: study notes, the page itself not read",
        "17:00 due at 20 fsw",
    ),
    Origin(
        "Air margin",
        "33 psi",
        "G1",
        "The manifold stands at depth x 0.445 and the over-bottom pressure of the dress, or at the floor that "
        "its source prints; the maker's own table stands above both.",
        "USN Diving Manual Rev 5, Table 8-1; TM 5-4220-225-14, para 2-15; deep-sea dress from memory",
        "P: read in the source, M: from memory, unverified",
        "supply 132 psi less the minimum",
    ),
)

CHOICES = ChoicesLook(
    "brings nothing along",
    ("none", "not given", *"ABCDEFGHIJKLMNOZ"),
    (
        Option("air", "On air", "", in_force=True),
        Option("air-o2", "Air and oxygen"),
        Option("chamber", "Surface decompression", "no chamber in the station file"),
    ),
    (
        Option("normal", "Normal row", "", in_force=True),
        Option("next_longer", "Next longer"),
        Option("next_deeper", "Next deeper"),
    ),
    (Option("not cold", "Neither", "his own time", in_force=True), Option("cold", "Cold or strenuous")),
    (
        Option("primary", "Bank A", "primary", in_force=True),
        Option("secondary", "Bank B", "secondary"),
        Option("emergency gas", "His own cylinder", "ends his work"),
    ),
    "",
    "fsw",
    "psi",
    (
        TypedPlace("supply", "Diver 1", "Supply, Diver 1"),
        TypedPlace("supply", "Diver 2", "Supply, Diver 2"),
        TypedPlace("supply", "Standby", "Supply, Standby"),
        TypedPlace("bank", "primary", "Bank A"),
        TypedPlace("bank", "secondary", "Bank B"),
    ),
)


def with_more(view: View, second: DiverLook) -> View:
    """The view with choices and origins for everybody, and another second diver."""
    first = replace(view.divers[0], origins=ORIGINS[:1])
    second = replace(second, origins=ORIGINS)
    divers = tuple(replace(diver, choices=CHOICES) for diver in (first, second, *view.divers[2:]))
    return replace(view, divers=divers)


def at_stop(ground: str = "dusk") -> View:
    """At the 20 fsw stop after a delay deeper than 50 fsw: the plan is another one."""
    clock = Number("Stop time left", "of 17:00 at 20 fsw", "12:40", "min", _GOOD)
    ascent = AscentLook(
        "USN Rev 7 9-9, 80/50", clock, "air", "the surface", "08:39:00", "13:20", ROWS, (LATE,), None, "",
        0.255, 17.0,
    )  # fmt: skip
    view = samples.calm(ground)
    return with_more(view, replace(view.divers[1], ascent=ascent, phase="Stop at 20 fsw"))


def coming_up(ground: str = "day") -> View:
    """On the way to the first stop, late, the delay still runs; the rate is shown against its band."""
    rows = (
        AscentRow("to 64 fsw", "travel", "air", "0:28", "–", "08:16:12 to 08:16:40", _DONE),
        AscentRow("64 fsw", "held at 64 fsw", "air", "1:42", "–", "08:16:40 to 08:18:22", _HERE),
        *(replace(row, state=_DUE) for row in ROWS[2:]),
    )
    view = samples.calm(ground)
    ascent = AscentLook(
        "USN Rev 7 9-9, 80/50",
        Number("Since left bottom", "1:42 late", "2:10", "min", _GOOD),
        "air", "20 fsw, 17:00", "08:39:00", "20:38", rows, (replace(LATE, running=True),),
    )  # fmt: skip
    second = replace(
        view.divers[1],
        ascent=ascent,
        phase="Coming up",
        depth=Number("Depth", "max 79.4, table depth 80", "58.0", "fsw", _GOOD),
        time=ascent.clock,
        line=replace(view.divers[1].line, mark=58.0, tail=Tail(30.0, 38.0, 18.0)),
        rate=RateLook("Up 28 fsw a minute", "right: 20 to 40", "fsw a minute", 28.0, 20.0, 40.0, 60.0),
        sentence=Sentence("Reach 20 fsw at 08:19:40, 30 fsw a minute", "1:42 late.", "17:00 at 20 fsw."),
    )
    return with_more(view, second)


def on_oxygen(ground: str = "night") -> View:
    """Oxygen at 30 and 20 with an air break; more legs than have room."""
    rows = [
        AscentRow("to 30 fsw", "travel", "air", "2:20", "08:01:00 to 08:03:20", "08:01:00 to 08:03:24", _DONE),
        AscentRow("30 fsw", "wait", "air", "1:10", "–", "08:03:24 to 08:04:34", _DONE),
        AscentRow("30 fsw", "stop", "oxygen", "8:00", "08:03:20 to 08:11:20", "08:04:34 to 08:12:34", _DONE),
        AscentRow("20 fsw", "stop", "oxygen", "22:00", "08:11:20 to 08:33:20", "08:12:34 to 08:34:34", _HERE),
        AscentRow("20 fsw", "air break", "air", "5:00", "08:33:20 to 08:38:20", "08:34:34 to 08:39:34", _DUE),
    ]  # fmt: skip
    for start in range(39, 55, 4):
        span = f"08:{start:02d}:34 to 08:{start + 4:02d}:34"
        rows.append(AscentRow("20 fsw", "stop", "oxygen", "4:00", "–", span, _DUE))
    rows.append(AscentRow("to the surface", "travel", "oxygen", "0:40", "–", "08:55:34 to 08:56:14", _DUE))
    ascent = AscentLook(
        "USN Rev 7 9-9, 120/60",
        Number("Stop time left", "of 22:00 at 20 fsw on oxygen", "8:54", "min", _GOOD),
        "oxygen", "the surface", "08:56:14", "30:34", tuple(rows),
        (
            ChangeLook("A3", "0:04 late at the first stop: nothing is added.",
                       PlanLook("120/60", "8:00 at 30, 38:00 at 20", "08:55:10"),
                       PlanLook("120/60", "8:00 at 30, 38:00 at 20", "08:55:10"), running=False),
            ChangeLook("X1", "Oxygen confirmed 1:10 after arrival: the stop's time starts there.",
                       PlanLook("120/60", "8:00 at 30, 38:00 at 20", "08:55:10"),
                       PlanLook("120/60", "8:00 at 30, 38:00 at 20", "08:56:14"), running=False),
        ),
        None, "", 0.595, 22.0,
    )  # fmt: skip
    view = samples.calm(ground)
    second = replace(
        view.divers[1],
        ascent=ascent,
        phase="Stop at 20 fsw",
        sentence=Sentence("Keep at 20 fsw until 08:34:34", "8:54 left.", "Then an air break of 5:00."),
    )
    return with_more(view, second)


def omitted(ground: str = "night") -> View:
    """At the surface with a stop missed: cards with their condition and whom to call."""
    sign = Sign(Priority.EMERGENCY, Flash.FAST)
    rows = (
        *ROWS[:3],
        replace(ROWS[3], minutes="4:20", actual="08:21:20 to 08:25:40", state=_DONE),
        AscentRow("to the surface", "travel", "air", "0:20", "–", "08:25:40 to 08:26:00", _DONE),
    )
    cards = CardsLook(
        "Rule O1: deepest stop missed 20 fsw, 0:50 since",
        "Only without symptoms; with any symptom: treat.",
        "Call the diving medical officer: 0111 5550 142",
        (
            CardLook("a", "Back to 20 fsw within 1:00 at the surface: lengthen the stop by 1 min.", False),
            CardLook(
                "b", "1:00 to 5:00: repeat the stops from 40 fsw, or treat in a chamber by table 5.", True
            ),
            CardLook("c", "Later than 5:00: treat in a chamber by table 6.", True),
        ),
    )
    ascent = AscentLook(
        "USN Rev 7 9-9, 80/50",
        Number("Since the stop was left", "12:40 missed", "0:50", "min", _GOOD, sign),
        "air", "20 fsw, 17:00", "", "", rows, (LATE,), cards,
    )  # fmt: skip
    view = samples.emergency(ground)
    second = replace(
        view.divers[1],
        ascent=ascent,
        phase="At the surface",
        time=ascent.clock,
        depth=Number("Depth", "deepest 78.4", "0.3", "fsw", _GOOD),
        sentence=Sentence(
            "Decide by the cards", "A stop was missed.", "They advise; the supervisor decides."
        ),
    )
    return with_more(view, second)


def refused(ground: str = "day") -> View:
    """The tables have no answer."""
    clock = Number("No schedule", "", "", "min", NumberState.NONE)
    ascent = AscentLook(
        "", clock, "", "", "", "", (), (), None,
        "No schedule for 190 fsw and 65 min: the table ends at 60 min. Ask the diving medical officer.",
    )  # fmt: skip
    view = samples.calm(ground)
    return with_more(view, replace(view.divers[1], ascent=ascent, phase="Coming up", time=clock))


def with_opinion(ground: str = "day", *, differs: bool = False) -> View:
    """A dive replayed beside the model: it agrees, or differs by two minutes."""
    model_min = 15 if differs else 17
    verdict = f"{MODEL_DIFFERS} 2 min" if differs else MODEL_AGREES
    look = OpinionLook(
        "USN Rev 7 9-9, 80/50",
        (OpinionStop("30 fsw", 4, 4), OpinionStop("20 fsw", 17, model_min)),
        verdict,
        (WHAT_IT_IS, WHAT_IT_IS_NOT, *((CHECK_THE_COPY,) if differs else ())),
    )
    view = at_stop(ground)
    return replace(view, divers=(replace(view.divers[0], opinion=look), *view.divers[1:]))
