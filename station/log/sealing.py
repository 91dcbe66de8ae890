"""The digest beside a closed log: `LOG.sha256`, in the form that the common checking tools read."""

import os
from hashlib import file_digest
from pathlib import Path


def digest_beside(path: Path) -> Path:
    """Where the digest of this log stands."""
    return Path(f"{path}.sha256")


def digest_of_file(path: Path) -> str:
    """SHA-256 of the whole file, in hexadecimal. No connection to it may be open in this process."""
    with path.open("rb") as file:
        return file_digest(file, "sha256").hexdigest()


def write_digest(path: Path) -> None:
    """Put the digest beside the log, on the disk when this returns. Raises OSError."""
    beside = digest_beside(path)
    unfinished = Path(f"{beside}.new")
    with unfinished.open("w", encoding="utf-8", newline="\n") as file:
        file.write(f"{digest_of_file(path)}  {path.name}\n")
        file.flush()
        os.fsync(file.fileno())
    unfinished.replace(beside)


def read_digest(path: Path) -> str | None:
    """The digest that stands beside the log, None when there is none. Raises ValueError for anything else."""
    try:
        words = digest_beside(path).read_text(encoding="utf-8").split()
    except FileNotFoundError:
        return None
    if not words or len(words[0]) != 64:
        raise ValueError(f"{digest_beside(path).name} holds no digest")
    return words[0]
