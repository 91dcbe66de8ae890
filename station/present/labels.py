"""The words that stand on keys and windows whatever happens."""

from typing import Final

WATCH: Final = "Watch"
TIMEKEEPER: Final = "Timekeeper"
WINDOWS: Final = (("F1", WATCH), ("F2", TIMEKEEPER))
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
