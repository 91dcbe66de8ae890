"""Ready-made keys for ASCII gauges: data files, each an invented style of speaking and no maker's own."""

import tomllib
from importlib.resources import files
from typing import Any


def load_presets() -> dict[str, dict[str, Any]]:
    """The `format` keys of each preset, by its name, which is the name of its file."""
    return {
        entry.name.removesuffix(".toml"): tomllib.loads(entry.read_text("utf-8"))["format"]
        for entry in sorted(files(__name__).iterdir(), key=lambda entry: entry.name)
        if entry.name.endswith(".toml")
    }
