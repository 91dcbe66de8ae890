"""Finds the files: those that come with the program, and the user's own, which stand in their place."""

from collections.abc import Callable, Iterable
from importlib.resources import files
from pathlib import Path
from typing import Final, Protocol, TypeVar

from shared.toml_file import FileFault, Problem, read_text
from station.checklists.cards import read_card
from station.checklists.profiles import read_profile
from station.checklists.reading import read_checklist
from station.checklists.signals import read_code
from station.prepare.cards import Card
from station.prepare.checklist import Checklist
from station.prepare.profile import Profile
from station.prepare.signals import SignalCode

PACKAGE: Final = "station.checklists"


class _Keyed(Protocol):
    @property
    def key(self) -> str: ...


K = TypeVar("K", bound=_Keyed)


def load_checklists(own: Path | None = None) -> tuple[Checklist, ...]:
    """All lists: ours, and those of the folder `own` in their place. Raises FilesFault."""
    return _load(read_checklist, "", own)


def load_profiles(own: Path | None = None) -> tuple[Profile, ...]:
    """All profiles of rules. Raises FilesFault."""
    return _load(read_profile, "profiles", own)


def load_cards(own: Path | None = None) -> tuple[Card, ...]:
    """All emergency cards; a local procedure stands in the place of ours. Raises FilesFault."""
    return _load(read_card, "cards", own)


def copy_shipped(folder: Path, what: str = "") -> tuple[Path, ...]:
    """Lay our files ("" for lists, else "profiles", "cards", "signals") into a folder, to be changed there.

    A file that is there already is left alone; the paths written. Raises OSError.
    """
    folder.mkdir(parents=True, exist_ok=True)
    written = [folder / name for name, _ in _our_texts(what) if not (folder / name).exists()]
    for path in written:
        path.write_text(dict(_our_texts(what))[path.name], encoding="utf-8")
    return tuple(written)


def load_codes(own: Path | None = None) -> tuple[SignalCode, ...]:
    """All codes of line-pull signals. Raises FilesFault."""
    return _load(read_code, "signals", own)


def _load(read: Callable[[str, str], K], folder: str, own: Path | None) -> tuple[K, ...]:
    found = {each.key: each for each in _read(read, _our_texts(folder))}
    found.update({each.key: each for each in _read(read, _own_texts(own))})
    return tuple(found.values())


def _our_texts(folder: str) -> list[tuple[str, str]]:
    place = files(PACKAGE)
    inside = place.joinpath(folder) if folder else place
    named = sorted((each for each in inside.iterdir() if each.name.endswith(".toml")), key=lambda e: e.name)
    return [(each.name, each.read_text(encoding="utf-8")) for each in named]


def _own_texts(folder: Path | None) -> list[tuple[str, str]]:
    if folder is None or not folder.exists():
        return []
    return [(str(path), read_text(path)) for path in sorted(folder.glob("*.toml"))]


def _read(read: Callable[[str, str], K], texts: Iterable[tuple[str, str]]) -> list[K]:
    """Every text read; the problems of all files together, so that one look mends them all."""
    good: list[K] = []
    lines: list[str] = []
    for path, text in texts:
        try:
            each = read(path, text)
        except FileFault as fault:
            lines.append(str(fault))
            continue
        twin = next((other for other in good if other.key == each.key), None)
        if twin is not None:
            lines.append(Problem(0, "key", f"{each.key!r} stands in another file too").sentence(path))
        good.append(each)
    if lines:
        raise FilesFault(lines)
    return good


class FilesFault(Exception):  # noqa: N818 - faults of files, told to the person who wrote them
    """Some files cannot be used; the message lists every problem of every file, a line each."""

    def __init__(self, lines: list[str]) -> None:
        super().__init__("\n".join(lines))
        self.lines = tuple(lines)
