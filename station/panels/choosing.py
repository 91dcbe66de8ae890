"""What may be chosen or told of a diver, as questions for the drawer; the answers are acts."""

from collections.abc import Callable

from shared.gauges import Channel
from station.core.decompression.answers import Mode
from station.core.inputs import (
    Act,
    BindDivers,
    ChooseCold,
    ChooseMode,
    ChooseRow,
    EnterHistory,
    ManualDepth,
    ManualPressure,
    PartDivers,
    ReadBy,
    RowChoice,
    ShiftSupply,
)
from station.panels.drawer import Choice, Question
from station.present import labels
from station.present.choice_board import COLD
from station.present.choice_looks import ChoicesLook, Option
from station.present.looks import View
from station.present.typed_words import depth_fsw_of, interval_s_of, number_of, pressure_psig_of

_JOIN = " + "
_PART = "part"
_GROUPS_AT_ONCE = ("none",)
"""Words of a history that need no interval."""


class Chooser:
    """Asks in the drawer, one question after another, and sends the act that comes of it."""

    def __init__(self, ask: Callable[[Question], None], send: Callable[[Act], None]) -> None:
        self._ask = ask
        self._send = send
        self._view: View | None = None

    def begin(self, view: View, diver: str) -> None:
        """Ask for whom and what; the diver who is shown stands chosen."""
        self._view = view
        divers = tuple(each for each in view.divers if each.choices is not None)
        if not divers:
            return
        chosen = diver if any(each.name == diver for each in divers) else divers[0].name
        self._ask(
            Question(
                labels.CHOICES_TITLE,
                tuple(Choice(title, title) for title in self._steps()),
                lambda name, what: self._steps()[what](name),
                first=tuple(Choice(each.name, each.name, _told(each.choices)) for each in divers),
                chosen=chosen,
            )
        )

    def _steps(self) -> dict[str, Callable[[str], None]]:
        return {
            labels.HISTORY: self._ask_history,
            labels.MODE: self._ask_mode,
            labels.ROW: self._ask_row,
            labels.COLD: self._ask_cold,
            labels.BINDING: self._ask_binding,
            labels.SUPPLY: self._ask_supply,
            labels.TYPE_DEPTH: self._ask_depth,
            labels.TYPE_PRESSURE: self._ask_pressure,
        }

    def _choices(self, name: str) -> ChoicesLook:
        divers = () if self._view is None else self._view.divers
        found = next((each.choices for each in divers if each.name == name), None)
        if found is None:
            raise KeyError(f"nothing can be chosen for {name}")
        return found

    def _ask_history(self, name: str) -> None:
        choices = self._choices(name)

        def answered(_: str, group: str) -> None:
            if group in _GROUPS_AT_ONCE:
                self._send(EnterHistory(name, group))
            else:
                self._ask_interval(name, group)

        groups = tuple(
            Choice(group, group if len(group) > 1 else f"Group {group}") for group in choices.groups
        )
        self._ask(Question(f"{name}, {labels.GROUP_TITLE}", groups, answered))

    def _ask_interval(self, name: str, group: str) -> None:
        def answered(_: str, text: str) -> None:
            self._send(EnterHistory(name, group, interval_s_of(text)))

        def check(text: str) -> str:
            return "" if interval_s_of(text) else labels.INTERVAL_WRONG

        begins = Choice("", labels.BEGINS_IN_IT, labels.BEGINS_DETAIL)
        self._ask(
            Question(
                f"{name}, {group if len(group) > 1 else f'group {group}'}: {labels.INTERVAL_TITLE}",
                (*(Choice(text, text) for text in labels.INTERVALS), begins),
                answered,
                own_words=True,
                pad=labels.INTERVAL_PAD,
                hint=labels.INTERVAL_HINT,
                check=check,
            )
        )

    def _ask_mode(self, name: str) -> None:
        self._ask_option(
            f"{name}, {labels.MODE.lower()}: which, and why?",
            self._choices(name).modes,
            labels.MODE_REASONS,
            lambda mode, reason: ChooseMode(name, Mode(mode), reason),
        )

    def _ask_row(self, name: str) -> None:
        self._ask_option(
            f"{name}, {labels.ROW.lower()}: which, and why?",
            self._choices(name).rows,
            labels.ROW_REASONS,
            lambda row, reason: ChooseRow(name, RowChoice(row), reason),
        )

    def _ask_cold(self, name: str) -> None:
        self._ask_option(
            f"{name}, cold or strenuous dive: which, and why?",
            self._choices(name).cold,
            labels.COLD_REASONS,
            lambda cold, reason: ChooseCold(name, cold == COLD, reason),
        )

    def _ask_supply(self, name: str) -> None:
        self._ask_option(
            f"{name} breathes from: which, and why?",
            self._choices(name).supplies,
            labels.SUPPLY_REASONS,
            lambda supply, reason: ShiftSupply(name, supply, reason),
        )

    def _ask_option(
        self,
        title: str,
        options: tuple[Option, ...],
        reasons: tuple[str, ...],
        act: Callable[[str, str], Act],
    ) -> None:
        """What holds now is said and cannot be taken again."""
        taken = tuple(option for option in options if not option.in_force)
        now = next((option.title for option in options if option.in_force), "")
        self._ask(
            Question(
                f"{title} Now: {now}." if now else title,
                tuple(Choice(reason, reason) for reason in reasons),
                lambda value, reason: self._send(act(value, reason)),
                first=tuple(Choice(option.value, option.title, option.detail) for option in taken),
                own_words=True,
            )
        )

    def _ask_binding(self, name: str) -> None:
        """By one schedule with whom; or, when he is bound, each by his own again."""
        choices, divers = self._choices(name), () if self._view is None else self._view.divers
        others = tuple(each.name for each in divers if each.name != name)
        if choices.bound:
            reasons = labels.PART_REASONS
            first: tuple[Choice, ...] = (Choice(_PART, labels.EACH_BY_HIS_OWN, f"now {choices.bound}"),)
        else:
            reasons = labels.BIND_REASONS
            pairs = tuple((name, other) for other in others)
            together = (*pairs, (name, *others)) if len(others) > 1 else pairs
            first = tuple(Choice(_JOIN.join(names), " and ".join(names)) for names in together)

        def answered(value: str, reason: str) -> None:
            parted = value == _PART
            self._send(PartDivers(reason) if parted else BindDivers(tuple(value.split(_JOIN)), reason))

        answers = tuple(Choice(reason, reason) for reason in reasons)
        title = f"{name}, {labels.BINDING.lower()}: with whom, and why?"
        self._ask(Question(title, answers, answered, first=first, own_words=True))

    def _ask_depth(self, name: str) -> None:
        unit = self._choices(name).depth_unit

        def answered(read_by: str, text: str) -> None:
            depth_fsw = depth_fsw_of(text, unit)
            if depth_fsw is not None:
                self._send(ManualDepth(name, depth_fsw, ReadBy(read_by)))

        ways = (labels.BY_HAND_GAUGE, labels.BY_SOUNDING)
        self._ask_number(
            f"{name}, depth read by hand in {unit}",
            unit,
            tuple(Choice(*way) for way in ways),
            answered,
            chosen=ReadBy.HAND_GAUGE.value,
        )

    def _ask_pressure(self, name: str) -> None:
        choices = self._choices(name)
        unit = choices.pressure_unit
        places = {f"{each.channel}:{each.subject}": each for each in choices.pressures}

        def answered(place: str, text: str) -> None:
            psig = pressure_psig_of(text, unit)
            if psig is not None:
                where = places[place]
                self._send(ManualPressure(Channel(where.channel), where.subject, psig))

        self._ask_number(
            f"Pressure read by hand in {unit}: of what?",
            unit,
            tuple(Choice(key, each.title) for key, each in places.items()),
            answered,
            chosen=f"{Channel.SUPPLY.value}:{name}",
        )

    def _ask_number(
        self,
        title: str,
        unit: str,
        first: tuple[Choice, ...],
        answered: Callable[[str, str], None],
        chosen: str,
    ) -> None:
        self._ask(
            Question(
                title,
                (),
                answered,
                first=first,
                own_words=True,
                pad=labels.NUMBER_PAD,
                hint=f"{labels.NUMBER_HINT}, {unit}",
                check=lambda text: "" if number_of(text) is not None else labels.NUMBER_WRONG,
                chosen=chosen,
            )
        )


def _told(choices: ChoicesLook | None) -> str:
    """What is in force for a diver, in short."""
    if choices is None:
        return ""
    parts = [choices.history, choices.in_force(choices.modes), choices.in_force(choices.rows), choices.bound]
    return ", ".join(part[:1].lower() + part[1:] for part in parts if part)
