"""Where the station keeps what it writes, when nobody says otherwise."""

from datetime import UTC, datetime
from pathlib import Path

from platformdirs import user_data_path

from shared.units import NS_PER_S
from station.log.resuming import is_unfinished

APPLICATION = "overbottom"
LOG_ENDING = ".dive"


def logs_folder() -> Path:
    """The folder of the logs in the user's data folder, made when it is not there."""
    return user_data_path(APPLICATION, appauthor=False) / "logs"


def new_log(wanted: Path | None, name: str, utc_ns: int) -> Path:
    """The file of a new log: the one asked for, or a free name in the folder of the logs."""
    if wanted is not None:
        return wanted
    folder = logs_folder()
    folder.mkdir(parents=True, exist_ok=True)
    day = datetime.fromtimestamp(utc_ns // NS_PER_S, UTC).strftime("%Y-%m-%d")
    stem = f"{slug(name)}-{day}"
    count = 1
    while (path := folder / f"{stem}-{count:02d}{LOG_ENDING}").exists():
        count += 1
    return path


def day_log(station: str, utc_ns: int) -> Path:
    """The log of a real station's watch: the newest unfinished one of the station, else a new one."""
    folder = logs_folder()
    mine = sorted(folder.glob(f"{slug(station)}-*{LOG_ENDING}"))
    return mine[-1] if mine and is_unfinished(mine[-1]) else new_log(None, station, utc_ns)


def pictures_folder(scenario: str) -> Path:
    """The folder of a rehearsal's pictures, when nobody names one."""
    return user_data_path(APPLICATION, appauthor=False) / "pictures" / slug(Path(scenario).stem)


def slug(name: str) -> str:
    """A name as part of a file's name: letters, digits and hyphens."""
    kept = "".join(letter if letter.isalnum() else "-" for letter in name.lower())
    return "-".join(part for part in kept.split("-") if part)
