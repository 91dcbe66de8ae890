"""What can be wrong with a log: a file that cannot serve, and a place in it that does not hold."""

from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path


class LogFault(Exception):  # noqa: N818 - a fault of the file, as the trade would say it
    """A log cannot be made, opened, read or closed; says which file and why."""

    def __init__(self, path: Path, reason: str) -> None:
        super().__init__(f"{path}: {reason}")
        self.path = path
        self.reason = reason


class Check(StrEnum):
    """The ways in which a log is looked at."""

    FILE = "file"  # the database below: pages that are missing or torn
    NUMBER = "number"  # batches count from 1 without a gap
    SEQUENCE = "sequence"  # arrivals count without a gap
    STAMP = "stamp"  # station time does not run back
    CHAIN = "chain"  # each batch carries the digest of itself and all before it
    PACKING = "packing"  # what a batch holds can be read and is as much as it says
    CHECKPOINT = "checkpoint"  # each checkpoint is the one that its batch names
    SEAL = "seal"  # a closed log ends where its seal says
    DIGEST = "digest"  # a closed file is the one whose digest stands beside it


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that does not hold; `batch` and `seq` say where, None where it is the file as a whole."""

    check: Check
    batch: int | None
    seq: int | None
    sentence: str
