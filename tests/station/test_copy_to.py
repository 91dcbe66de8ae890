"""The second medium in the station file, and what the watch says of it."""

from pathlib import Path

import pytest

from shared.clock import EPOCH
from station.compose.copies import CopyTeller, copier_for
from station.compose.known import known_to_watch
from station.config import parse_station
from station.log.copying import Copier

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


class _Log:
    """A log that holds nothing yet."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.committed_seq = 0


def test_loss_and_return_of_the_copy_are_each_said_once(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Standard error tells when the copy fails and when it is kept again, and not at every look."""
    copier = Copier(_Log(tmp_path / "x.dive"), tmp_path / "stick", monotonic=lambda: 0.0)
    teller = CopyTeller(copier)
    said: list[str] = []
    for failure in ("", "stick is gone", "stick is gone", ""):
        monkeypatch.setattr(Copier, "failure", property(lambda _, failure=failure: failure))
        assert list(teller(EPOCH)) == []
        said.append(capsys.readouterr().err)
    assert [bool(told) for told in said] == [False, True, False, True]
    assert "stick is gone" in said[1]


def test_no_copy_is_made_where_none_is_asked_for() -> None:
    """An empty folder name starts nothing."""
    assert copier_for("", None, lambda: 0.0) is None  # type: ignore[arg-type]  # never looked at
