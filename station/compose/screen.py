"""Whether this computer has a screen to show windows on."""

import os
import sys
from collections.abc import Mapping

OFFSCREEN = "offscreen"
"""Qt's platform that draws into memory only."""


def has_screen(environment: Mapping[str, str] = os.environ, platform: str = sys.platform) -> bool:
    """Whether windows can be shown: Linux needs a display, and nobody has asked Qt to draw offscreen."""
    if environment.get("QT_QPA_PLATFORM", "").startswith(OFFSCREEN):
        return False
    if platform in {"win32", "darwin"}:
        return True
    return bool(environment.get("DISPLAY") or environment.get("WAYLAND_DISPLAY"))


def without_windows(asked: bool, say: str) -> bool:
    """Whether to run without windows; says so when that was not asked for."""
    if asked or has_screen():
        return asked
    sys.stderr.write(f"overbottom: no display: {say}\n")
    return True
