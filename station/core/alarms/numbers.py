"""The numbers of announcing alarms: how long, how often, how many; each with its source.

They stand apart from the limits of a station file: no station may make an alarm quieter by a setting.
"""

from typing import Final

from station.core.state import Priority

RESOUND_S: Final = 30.0
"""Silenced and not acknowledged, it sounds again after so long. IMO MSC.302(87) 7.3.5, MSC.252(83) 20.2.5."""

ESCALATE_S: Final = 300.0
"""A warning that nobody acknowledges for so long is an alarm. IMO MSC.302(87) 7.5, at most five minutes;
from memory, unverified."""

SHELF_LONGEST_MIN: Final = 15
"""No alarm is shelved for longer. Own choice; that a shelf ends by itself: ISA-18.2-2016."""

NEVER_SHELVED: Final = frozenset({Priority.EMERGENCY})
"""Own choice: what endangers life at once is never put away."""

NEVER_SEEN: Final = frozenset({Priority.CAUTION})
"""Cautions ask for no acknowledgement and make no sound. IMO MSC.302(87) 7.6; from memory, unverified."""

FLOOD_WINDOW_S: Final = 600.0
FLOOD_BEGINS_ABOVE: Final = 10
FLOOD_ENDS_BELOW: Final = 5
"""A flood begins with more than 10 raises in 10 minutes, ends with fewer than 5. Summary of ISA-18.2-2016,
section 16; not read in the original."""

CHATTER_RAISES: Final = 3
CHATTER_WINDOW_S: Final = 60.0
"""Three raises of one alarm within a minute are chattering. ISA-18.2-2016; from memory, unverified."""

STALE_AFTER_S: Final = 86_400.0
"""An alarm that stands for longer than a day is stale. Summary of ISA-18.2-2016, section 16.4."""

SOUND_TEST_S: Final = 10.0
"""A test of the sound lasts so long, every pattern once: own choice, held by tests/station/sound."""

COMMS_KEY_LONGEST_S: Final = 60.0
"""A comms key that is held for longer is taken for stuck, and the horn comes back: own choice."""

VOLUME_FLOOR: Final = 4
VOLUME_FULL: Final = 10
"""Steps of the volume; none makes the horn silent. Own choice: the level on deck is tried with the test."""
