"""What a codec says of bytes that are no frame of its kind."""

from dataclasses import dataclass

from shared.readings import LinkFaultKind


@dataclass(frozen=True, slots=True)
class FrameFault:
    """Bytes that are no sound frame, and why."""

    kind: LinkFaultKind
    detail: str
    data: bytes
