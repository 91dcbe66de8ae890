"""How a rehearsal is kept in step: the messages between the simulator's process and the station.

One JSON object a line on the simulator's standard output (to the station) and input (from it).
The simulator writes a slice of station time to its lines, then grants the slice; the station waits for
the bytes that the grant counts (or for the line to go), takes them at the granted instant, and answers.
"""

import json
from dataclasses import asdict, dataclass, field
from typing import Any, Final

SLICE_MS: Final = 100
"""One slice of station time in milliseconds: one tick, one batch of bytes per line."""


@dataclass(frozen=True, slots=True)
class Ready:
    """Simulator: the lines exist. `lines` maps the station file's port to the address to open."""

    scenario: str
    station_file: str
    starts_utc: str
    ends_s: float
    lines: dict[str, str]


@dataclass(frozen=True, slots=True)
class Grant:
    """Simulator: station time may run to `at_ms`.

    `sent` counts the bytes written to each line in this slice; `pulled` and `restored` name lines whose
    cable was pulled or put back in it (a restored line speaks only after `Opened`); `presses` are the
    scripted acts of the operator (plain JSON as `station.core.inputs` reads them), `pictures` the names
    of the moments to be pictured after the slice, `done` ends the rehearsal.
    """

    at_ms: int
    sent: dict[str, int] = field(default_factory=dict)
    pulled: tuple[str, ...] = ()
    restored: dict[str, str] = field(default_factory=dict)
    presses: tuple[dict[str, Any], ...] = ()
    pictures: tuple[str, ...] = ()
    done: bool = False


@dataclass(frozen=True, slots=True)
class Opened:
    """Station: these lines are open, the simulator may speak on them."""

    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Taken:
    """Station: the slice up to `at_ms` is taken in; the next may come."""

    at_ms: int


Message = Ready | Grant | Opened | Taken

_KINDS: Final[dict[str, type[Message]]] = {"ready": Ready, "grant": Grant, "opened": Opened, "taken": Taken}
_NAMES: Final = {kind: name for name, kind in _KINDS.items()}


def encode(message: Message) -> bytes:
    """One line of JSON for the pipe."""
    return (
        json.dumps({"kind": _NAMES[type(message)], **asdict(message)}, separators=(",", ":")) + "\n"
    ).encode()


def decode(line: bytes) -> Message:
    """The message of one line. Raises ValueError, naming the line, when it is none."""
    try:
        fields = json.loads(line)
        kind = _KINDS[fields.pop("kind")]
        return kind(**{key: _frozen(value) for key, value in fields.items()})
    except (ValueError, KeyError, TypeError, AttributeError) as error:
        raise ValueError(f"not a conductor's message: {line[:200]!r} ({error})") from error


def _frozen(value: Any) -> Any:  # noqa: ANN401 - plain JSON
    return tuple(value) if isinstance(value, list) else value
