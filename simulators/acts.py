"""The operator acts that a scenario may script: names and fields as the station reads them.

Written out here because a simulator does not know the station; a test holds the two together.
"""

from typing import Any, Final

Kinds = type | tuple[type, ...]

NUMBER: Final = (int, float)

ACTS: Final[dict[str, dict[str, Kinds]]] = {
    "set_mark": {"diver": str, "dive": int, "kind": str, "stop_fsw": NUMBER, "back_s": int},
    "undo_mark": {"diver": str, "mark": int, "reason": str},
    "amend_mark": {"diver": str, "mark": int, "to": int, "reason": str},
    "hose_blown": {"diver": str},
    "voice_answered": {"diver": str},
    "no_answer": {"diver": str},
    "asks_to_come_up": {"diver": str},
    "line_pull": {"diver": str, "pulls": str, "from_diver": bool},
    "plan_dive": {"diver": str, "depth_fsw": NUMBER, "bottom_min": int},
    "next_dive": {"diver": str},
    "enter_history": {"diver": str, "group": str, "interval_s": int, "surfaced_utc": str},
    "choose_mode": {"diver": str, "mode": str, "reason": str},
    "choose_row": {"diver": str, "row": str, "reason": str},
    "choose_cold": {"diver": str, "cold": bool, "reason": str},
    "bind_divers": {"divers": list, "reason": str},
    "part_divers": {"reason": str},
    "manual_depth": {"diver": str, "depth_fsw": NUMBER, "read_by": str},
    "manual_pressure": {"channel": str, "subject": str, "pressure_psig": NUMBER},
    "shift_supply": {"diver": str, "supply": str, "reason": str},
    "acknowledge": {"alarm": str, "subject": str, "occurrence": int},
    "shelve": {"alarm": str, "subject": str, "minutes": int, "reason": str},
    "unshelve": {"alarm": str, "subject": str},
    "out_of_service": {"gauge": str, "reason": str},
    "back_in_service": {"gauge": str},
    "silence": {},
    "sound_test": {},
    "set_volume": {"step": int},
    "comms_key": {"down": bool},
    "remark": {"diver": str, "text": str},
    "choose_ground": {"ground": str},
}
"""Each act's fields and their kinds."""

MAY_BE_LEFT_OUT: Final = frozenset(
    {
        ("set_mark", "stop_fsw"),
        ("set_mark", "back_s"),
        ("enter_history", "interval_s"),
        ("enter_history", "surfaced_utc"),
        ("manual_depth", "read_by"),
        ("acknowledge", "occurrence"),
    }
)
"""Fields that have a default at the station."""


def faults_of_act(act: dict[str, Any]) -> tuple[str, ...]:
    """Everything that is wrong with a scripted act, in words; nothing when it can be pressed."""
    fields = ACTS.get(act.get("act", ""))
    if fields is None:
        return (f"act {act.get('act')!r} is none of {', '.join(sorted(ACTS))}",)
    given = {key: value for key, value in act.items() if key != "act"}
    strangers = [f"{act['act']} has no field {key!r}" for key in given if key not in fields]
    missing = [
        f"{act['act']} needs {key!r}"
        for key in fields
        if key not in given and (act["act"], key) not in MAY_BE_LEFT_OUT
    ]
    wrong = [
        f"{act['act']}: {key} cannot be {value!r}"
        for key, value in given.items()
        if key in fields and not _is_of(value, fields[key])
    ]
    return (*strangers, *missing, *wrong)


def _is_of(value: object, kinds: Kinds) -> bool:
    """Whether the value is of a kind; true and false are no numbers."""
    return isinstance(value, kinds) and (kinds is bool or not isinstance(value, bool))
