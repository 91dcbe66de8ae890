"""The closed set of what people do before and after a dive, by stored names; each enters at the head."""

from dataclasses import dataclass

from station.prepare.after_dive import AnswerCheck
from station.prepare.cards import CloseCard, OpenCard, TickCard
from station.prepare.checklist import Checklist
from station.prepare.gear_acts import BringGear, GearAct
from station.prepare.locks import CheckLock, HandKey, LiftLock, PlaceLock, ReportClear
from station.prepare.people import BringPeople, PersonAct
from station.prepare.plan import SetPlan
from station.prepare.profile import ChooseProfile
from station.prepare.run import Press
from station.prepare.signals import BringCode, GivePull
from station.prepare.team import Assign, Leave, Relieve


@dataclass(frozen=True, slots=True)
class BringLists:
    """The lists that hold today, whole: the record can be replayed when the files have changed."""

    lists: tuple[Checklist, ...]


@dataclass(frozen=True, slots=True)
class EnterGear:
    """An entry of the gear register, which takes it over under `uid` once it stands in the log."""

    uid: str
    entered: GearAct


@dataclass(frozen=True, slots=True)
class EnterPerson:
    """An entry of the register of people, as `EnterGear`."""

    uid: str
    entered: PersonAct


@dataclass(frozen=True, slots=True)
class WearOutfit:
    """A diver of the station wears an outfit of the register; empty: none."""

    diver: str
    outfit: str


@dataclass(frozen=True, slots=True)
class BeginList:
    """A list is begun for a diver, or for the station; one in work is begun anew with a reason."""

    list_key: str
    subject: str
    reason: str = ""


@dataclass(frozen=True, slots=True)
class PressStep:
    """A press on one step of a list in work."""

    list_key: str
    subject: str
    step: str
    press: Press


@dataclass(frozen=True, slots=True)
class Waived:
    """A condition of the ready board as the supervisor read it when he let a diver go without it."""

    key: str
    what: str


@dataclass(frozen=True, slots=True)
class Override:
    """The supervisor lets a diver go without these conditions, in his name, with his reason."""

    diver: str
    conditions: tuple[Waived, ...]
    reason: str


DeskAct = (
    BringGear
    | EnterGear
    | BringPeople
    | EnterPerson
    | BringLists
    | WearOutfit
    | BeginList
    | PressStep
    | Assign
    | Leave
    | Relieve
    | SetPlan
    | ChooseProfile
    | Override
    | PlaceLock
    | CheckLock
    | HandKey
    | ReportClear
    | LiftLock
    | BringCode
    | GivePull
    | OpenCard
    | TickCard
    | CloseCard
    | AnswerCheck
)

DESK_ACTS: dict[str, type] = {
    "bring_gear": BringGear,
    "enter_gear": EnterGear,
    "bring_people": BringPeople,
    "enter_person": EnterPerson,
    "bring_lists": BringLists,
    "wear_outfit": WearOutfit,
    "begin_list": BeginList,
    "press_step": PressStep,
    "assign": Assign,
    "leave": Leave,
    "relieve": Relieve,
    "set_dive_plan": SetPlan,
    "choose_profile": ChooseProfile,
    "override": Override,
    "place_lock": PlaceLock,
    "check_lock": CheckLock,
    "hand_key": HandKey,
    "report_clear": ReportClear,
    "lift_lock": LiftLock,
    "bring_code": BringCode,
    "give_pull": GivePull,
    "open_card": OpenCard,
    "tick_card": TickCard,
    "close_card": CloseCard,
    "answer_check": AnswerCheck,
}
"""The acts by their stored names; a later version only adds."""
