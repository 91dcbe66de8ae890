"""Files of a record on the disk: each whole or not at all, and on the disk when it is told of."""

import os
from pathlib import Path


def write_whole(path: Path, text: str) -> None:
    """Write a text in UTF-8 as it is, or leave what was there. Raises OSError."""
    unfinished = path.with_name(f"{path.name}.new")
    try:
        with unfinished.open("w", encoding="utf-8", errors="backslashreplace", newline="") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        unfinished.replace(path)
    except OSError:
        unfinished.unlink(missing_ok=True)
        raise
