"""How a fact says where it comes from when no published page stands behind it."""

from typing import Final

COMMON_PRACTICE: Final = "common practice, no source"
"""A fact of the trade that is handed on by word of mouth."""

FROM_MEMORY: Final = "from memory, unverified"
"""A published value that was not read again; ends a source so that nobody takes it for proved."""

STANDS_ABOVE: Final = "The maker's manual and the local rules stand above this."
"""Said on everything that people act by."""
