"""Where the registers lie when nobody says otherwise: in the user's data folder."""

from pathlib import Path
from typing import Final

from platformdirs import user_data_path

APPLICATION: Final = "overbottom"
GEAR_FILE: Final = "gear.register"
PEOPLE_FILE: Final = "people.register"


def registers_folder() -> Path:
    """The folder of the registers."""
    return user_data_path(APPLICATION, appauthor=False) / "registers"


def gear_register() -> Path:
    """The gear register's file."""
    return registers_folder() / GEAR_FILE


def people_register() -> Path:
    """The file of the register of people."""
    return registers_folder() / PEOPLE_FILE


def own_folder(what: str) -> Path:
    """Where the user's own files of a sort lie: "checklists", "profiles", "cards" or "signals"."""
    return user_data_path(APPLICATION, appauthor=False) / what
