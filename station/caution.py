"""The one sentence that stands on the first screen, in every log, summary and JSON object."""

from typing import Final

CAUTION: Final = "An aid only: printed table, maker's manual, local law and licensed supervisor govern"
