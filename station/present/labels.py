"""The words that stand on keys and windows whatever happens."""

from typing import Final

WATCH: Final = "Watch"
TIMEKEEPER: Final = "Timekeeper"
ASCENT: Final = "Ascent"
GAUGES: Final = "Gauges"
WINDOWS: Final = (("F1", WATCH), ("F2", TIMEKEEPER), ("F3", ASCENT), ("F4", GAUGES))
OPINION: Final = "Second opinion"
REPLAY_WINDOWS: Final = (("F7", OPINION),)
"""Pages that a replay has and a watch never."""

GROUND_KEYS: Final = (("F9", "day", "Day"), ("F10", "dusk", "Dusk"), ("F11", "night", "Night"))

ACKNOWLEDGE: Final = "Acknowledge"
ACKNOWLEDGE_KEY: Final = "F8"

AIR: Final = "Air"
NEXT_MARK: Final = "Next mark"
NO_NEXT_MARK: Final = "nothing to mark now"
LAST_MARK: Final = "Last mark"
NO_LAST_MARK: Final = "No mark in this dive"
MARKING: Final = "marking"
NOT_TAKEN: Final = "not taken, press again"
LATE: Final = "Next mark, but it was"

SET_TIME: Final = "Set the time"
SET_TIME_DETAIL: Final = "first mark stays"
UNDO: Final = "Undo"
UNDO_DETAIL: Final = "asks for a reason"
CANCEL: Final = "Cancel"
CANCEL_DETAIL: Final = "nothing changes"
OWN_WORDS: Final = "Or in your own words"
USE_OWN_WORDS: Final = "Use these words"

BY_KEY: Final = "Alt and its figure presses a key"

UNDO_TITLE: Final = "Undo the last mark: why?"
UNDO_REASONS: Final = ("Pressed by mistake", "Wrong diver", "Wrong event", "It did not happen")
SET_TIME_TITLE: Final = "Set the last mark to"
SET_TIME_REASONS: Final = ("Pressed late", "By the stopwatch", "By the depth trace", "Supervisor says so")

STOP_TITLE: Final = "Reached which stop?"
STOPS: Final = ("10", "20", "30", "40", "50", "60", "70", "80", "90", "100")
STOP_UNIT: Final = "fsw"

LINE_PULL_TITLE: Final = "Line-pull signal: how many pulls?"
LINE_PULLS: Final = ("1", "2", "3", "4", "2-1", "3-2", "4-3", "2-2-2", "3-3-3", "4-4-4")
FROM_DIVER: Final = "from the diver"
TO_DIVER: Final = "to the diver"

CLOSE_LIVE_TITLE: Final = "End the watch?"
CLOSE_LIVE: Final = "End the watch"
CLOSE_LIVE_DETAIL: Final = "closes windows and log"
KEEP_WATCH: Final = "Go on"

CHOICES: Final = "Choose or enter"
CHOICES_KEY: Final = "F5"
WHERE_FROM: Final = "Where from?"
WHERE_FROM_KEY: Final = "F6"

CHOICES_TITLE: Final = "For whom, and what?"
HISTORY: Final = "History"
MODE: Final = "Decompression"
ROW: Final = "Table row"
COLD: Final = "Cold"
BINDING: Final = "One schedule"
SUPPLY: Final = "Supply"
TYPE_DEPTH: Final = "Depth by hand"
TYPE_PRESSURE: Final = "Pressure by hand"
MODE_REASONS: Final = ("Supervisor's order", "Weather or current", "Oxygen has failed", "Chamber has failed")
ROW_REASONS: Final = ("Supervisor's order", "Hard work", "Depth in doubt", "Time in doubt")
COLD_REASONS: Final = ("Cold water", "Strenuous work", "Entered by mistake", "Supervisor's order")
BIND_REASONS: Final = ("One stage", "Standby went in to him", "Supervisor's order")
PART_REASONS: Final = ("Not on one stage", "One of them was bound by mistake", "Supervisor's order")
SUPPLY_REASONS: Final = ("Supply fails", "Bank is low", "Air is foul", "Supervisor's order", "Test")
EACH_BY_HIS_OWN: Final = "Each by his own"
GROUP_TITLE: Final = "which group did he surface in?"
INTERVAL_TITLE: Final = "how long ago did he surface?"
INTERVALS: Final = ("0:30", "1:00", "1:30", "2:00", "3:00", "4:00", "6:00", "9:00")
BEGINS_IN_IT: Final = "Begins in it"
BEGINS_DETAIL: Final = "no interval"
INTERVAL_HINT: Final = "Hours and minutes, as 2:45"
INTERVAL_WRONG: Final = "An interval is hours and minutes, as 2:45."
INTERVAL_PAD: Final = "0123456789:"
NUMBER_HINT: Final = "Read as"
NUMBER_WRONG: Final = "That is no figure. Type digits, as 58 or 58.5."
NUMBER_PAD: Final = "0123456789."
BACK: Final = "Back"
ENTER: Final = "Enter"
BY_HAND_GAUGE: Final = ("hand_gauge", "Hand gauge", "correction is added")
BY_SOUNDING: Final = ("sounding", "Sounding", "true depth")

NO_ORIGINS: Final = "No figure here rests on a rule yet: no schedule, no air to work out."
FIGURE_BEFORE: Final = "Figure before"
FIGURE_AFTER: Final = "Next figure"
CLOSE: Final = "Close"
RULE: Final = "Rule"
SOURCE: Final = "Source"
EVIDENCE: Final = "Known"
INPUTS: Final = "From"
NOTES: Final = "Note of the row"

WHY_CHANGED: Final = "Why the plan changed"
PLAN_STANDS: Final = "The plan stands"
PLAN_STANDS_DETAIL: Final = "as made on leaving the bottom"
RUNNING: Final = "while it lasts"
OLD_PLAN: Final = "Old plan"
NEW_PLAN: Final = "New plan"
STOPS_DUE: Final = "Stops"
SURFACE_AT: Final = "Surface at"
NEXT_STOP: Final = "Then"
TOTAL_LEFT: Final = "Total left"
EARLIER_CHANGES: Final = "Before that"
LEG: Final = "Leg"
PLANNED: Final = "planned"
PLANNED_END: Final = "by plan"
ACTUAL: Final = "actual or due"
MINUTES: Final = "min"
CARDS: Final = "To decide"
MEDICAL_OFFICER_FIRST: Final = "Medical officer first."
NOT_COMING_UP: Final = "is not coming up"
NOT_COMING_UP_DETAIL: Final = "The ascent stands here from the moment he leaves the bottom."

MODEL_AGREES: Final = "The model agrees with the table"
MODEL_DIFFERS: Final = "The model differs from the table by"
NO_OPINION: Final = "No row of the table yet: nothing to compare"
NO_STOP_BOTH: Final = "No stop by the table, none by the model."
BY_TABLE: Final = "table"
BY_MODEL: Final = "model"

GAUGES_TITLE: Final = "Gauges"
LINES_TITLE: Final = "Lines"
HEALTH_TITLE: Final = "Log and station"
MORE_GAUGES: Final = "More gauges"
NOW: Final = "now"
RAW: Final = "raw"
AGE: Final = "age"
PERIOD: Final = "due each"
FAULTS: Final = "faults"
PROVED: Final = "Calibrated"
DUE: Final = "Due"

ALARM_BEFORE: Final = "alarm before"
ALARM_AFTER: Final = "next alarm"
PLAY: Final = "play"
PAUSE: Final = "pause"
SPEEDS: Final = (1, 4, 16, 60, 300)

STARTING: Final = "Waiting for the station"
NOT_TAKEN_TITLE: Final = "Not taken"
NOT_HEARD: Final = "station not heard for"


def more_alarms(count: int) -> str:
    """How many alarms stand that have no row; nothing where none does."""
    return f"{count} more" if count > 0 else ""


def more_done(count: int) -> str:
    """How many legs are past that have no row."""
    return f"{count} done before" if count > 0 else ""


def more_to_come(count: int) -> str:
    """How many legs are due that have no row."""
    return f"{count} more to come" if count > 0 else ""
