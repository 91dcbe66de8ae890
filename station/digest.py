"""The digest of a watch: SHA-256 over the status as canonical JSON, with the keys that it covers.

A program of another version may know more keys: it digests only those that were recorded, and reports
recorded keys that it no longer makes, so that a new key is never taken for a changed watch.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import sha256
from typing import Any

from station.core.books import Books
from station.core.state import State
from station.plain import canonical
from station.present.looks import Mode
from station.present.status import LogLine, status, watch_part


@dataclass(frozen=True, slots=True)
class Digest:
    """`hex` over the values under `keys`: dotted paths, where a list's members share one path."""

    hex: str
    keys: tuple[str, ...]


def watch_digest(state: State, books: Books, keys: tuple[str, ...] | None = None) -> Digest:
    """The digest of a state; over `keys` only where they are given."""
    whole = watch_part(status(state, Mode.LIVE, LogLine("", 0, None), books))
    found = tuple(sorted(set(_paths(whole))))
    covered = found if keys is None else keys
    return Digest(sha256(canonical(_only(whole, frozenset(covered)))).hexdigest(), covered)


def _paths(value: Any, path: str = "") -> Iterator[str]:  # noqa: ANN401 - plain JSON
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from _paths(inner, f"{path}.{key}" if path else key)
    elif isinstance(value, list) and value:
        for inner in value:
            yield from _paths(inner, path)
    else:
        yield path


def _only(value: Any, keys: frozenset[str], path: str = "") -> Any:  # noqa: ANN401 - plain JSON
    if isinstance(value, dict):
        inner = {key: _only(v, keys, f"{path}.{key}" if path else key) for key, v in value.items()}
        return {key: v for key, v in inner.items() if _known(f"{path}.{key}" if path else key, keys)}
    if isinstance(value, list):
        return [_only(inner, keys, path) for inner in value]
    return value


def _known(path: str, keys: frozenset[str]) -> bool:
    return path in keys or any(key.startswith(f"{path}.") for key in keys)
