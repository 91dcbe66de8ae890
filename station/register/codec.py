"""What is prepared as plain JSON and back, under stored names."""

from typing import Any, Final, cast

from cattrs import Converter

from station.conversion import strict_converter, structured
from station.plain import Plain
from station.register.teaching import teach_prepare


def _taught() -> Converter:
    converter = strict_converter()
    teach_prepare(converter)
    return converter


_CONVERTER: Final = _taught()


def to_plain(value: object) -> Plain:
    """Any value of `station.prepare` (an act, an entry, a desk) as plain JSON."""
    return cast(Plain, _CONVERTER.unstructure(value))


def from_plain(plain: Plain, kind: Any) -> object:  # noqa: ANN401 - a class or a union of classes
    """The value of this kind that `to_plain` wrote. Raises ValueError that names every fault."""
    return structured(_CONVERTER, plain, kind)
