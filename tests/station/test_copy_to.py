"""The second medium in the station file, and what the watch says of it."""

import pytest

from shared.clock import EPOCH
from station.compose.copies import copier_for, observers_of
from station.compose.known import known_to_watch
from station.config import parse_station
from station.core.inputs import StationFactKind
from station.log.copying import BEHIND_S
from station.observing import CopyObserver

STATION = """
[station]
name = "Lock gate"
{more}
[[supply]]
name = "primary"
[[diver]]
name = "Diver 1"
person = "Tomas Reyne"
equipment = "demand-helmet"
supply = "primary"
"""


@pytest.mark.parametrize(("more", "folder"), [("", ""), ('copy_to = "/media/stick"', "/media/stick")])
def test_folder_of_the_copy_is_read_from_the_station_file(more: str, folder: str) -> None:
    """[station] copy_to names it; left out, no copy is made."""
    assert parse_station("s.toml", STATION.format(more=more), known_to_watch()).copy_to == folder


class _Copy:
    """A copy as an observer sees it."""

    failure = ""
    late_s = 0.0

    def behind_s(self) -> float:
        """How far it is behind."""
        return self.late_s


def test_loss_and_return_of_the_copy_are_each_told_once() -> None:
    """A failure, or a medium that hangs without one, is told when it begins and when it is over."""
    copy = _Copy()
    observer = CopyObserver(copy, BEHIND_S)
    told = []
    for copy.failure, copy.late_s in (
        ("", BEHIND_S),
        ("stick is gone", 2.0),
        ("stick is gone", 3.0),
        ("", 0.0),
        ("", BEHIND_S + 1),
    ):
        told.append([(fact.kind, fact.value, fact.detail) for fact in observer(EPOCH)])
    assert told == [
        [],
        [(StationFactKind.COPY_LOST, 2.0, "stick is gone")],
        [],
        [(StationFactKind.COPY_KEPT, None, "")],
        [(StationFactKind.COPY_LOST, BEHIND_S + 1, "")],
    ]


def test_no_copy_is_made_where_none_is_asked_for() -> None:
    """An empty folder name starts nothing."""
    assert observers_of(None) == ()
    assert copier_for("", None, lambda: 0.0) is None  # type: ignore[arg-type]  # never looked at
