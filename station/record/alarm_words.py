"""What an alarm said, in the station's units, also one that this program's catalogue does not hold."""

from station.core.alarms.catalogue import BY_ID
from station.core.facts import AlarmChanged
from station.core.settings import Units
from station.present.figures import figure_text


def words_of(fact: AlarmChanged, units: Units) -> tuple[str, str]:
    """The sentence of an alarm as it was raised, and what it asked for."""
    entry = BY_ID.get(fact.id)
    if entry is None:
        return f"{fact.id}: measured {fact.measured}, limit {fact.limit}", ""
    what = entry.sentence.format(
        subject=fact.subject,
        measured=figure_text(entry.figure, fact.measured, units),
        limit=figure_text(entry.figure, fact.limit, units),
    )
    return what, entry.action.format(subject=fact.subject)
