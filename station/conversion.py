"""How dataclasses become plain JSON and come back: the strict rules, without any name of ours.

`station.plain` says which names there are. Whole numbers lie within 64 bits with a sign, which SQLite and
other tools can hold; numbers are finite; nothing is coerced except a whole number where a number belongs.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import is_dataclass
from enum import StrEnum
from functools import partial
from math import isfinite
from operator import attrgetter
from typing import Any, Final, cast, get_origin

from cattrs import Converter, transform_error
from cattrs.errors import BaseValidationError, ForbiddenExtraKeysError
from cattrs.gen import make_dict_structure_fn, make_dict_unstructure_fn

WHOLE_LIMIT: Final = 2**63
"""Whole numbers lie below this and not below its negative."""


def strict_converter() -> Converter:
    """A converter between dataclasses and plain JSON that coerces nothing and lets no key pass unknown."""
    converter = Converter(unstruct_collection_overrides={Sequence: list})
    for kind, read in _SIMPLE.items():
        converter.register_structure_hook(kind, read)
    for kind, write in _WRITTEN.items():
        converter.register_unstructure_hook(kind, write)
    converter.register_structure_hook_factory(is_dataclass, _object_reader)
    converter.register_structure_hook_factory(_is_row, _list_reader)
    return converter


def teach(converter: Converter, whole: Any, names: Mapping[str, type], key: str) -> None:  # noqa: ANN401
    """Teach the members of a closed set to stand under their stored names."""
    for name, kind in names.items():
        converter.register_unstructure_hook(kind, _named_writer(kind, key, name, converter))
        converter.register_structure_hook(kind, _named_reader(kind, key, name, converter))
    if whole not in names.values():
        converter.register_structure_hook(whole, _member_reader(names, key, converter))


def structured(converter: Converter, plain: object, kind: Any) -> object:  # noqa: ANN401 - a class or a union
    """The value of this kind. Raises ValueError that names every fault with its place."""
    try:
        return converter.structure(plain, kind)
    except BaseValidationError as error:
        raise ValueError("; ".join(transform_error(error, path="$", format_exception=_what))) from error


def _what(error: BaseException, kind: type | None) -> str:
    match error:
        case KeyError():
            return f"the key {error.args[0]} is missing"
        case ForbiddenExtraKeysError():
            return f"unknown keys {', '.join(sorted(error.extra_fields))}"
        case ValueError():
            return str(error)
        case _:
            return f"not {getattr(kind, '__name__', kind)}: {error}"


def within(number: int) -> int:
    """The whole number, refused with ValueError when it needs more than 64 bits."""
    if not -WHOLE_LIMIT <= number < WHOLE_LIMIT:
        raise ValueError(f"{number} does not fit into 64 bits")
    return number


def _text(value: object, _: object = None) -> str:
    if type(value) is not str:
        raise ValueError(f"{_shown(value)} where text belongs")
    return value


def _truth(value: object, _: object = None) -> bool:
    if value is not True and value is not False:
        raise ValueError(f"{_shown(value)} where true or false belongs")
    return value


def _whole(value: object, _: object = None) -> int:
    if type(value) is not int:
        raise ValueError(f"{_shown(value)} where a whole number belongs")
    return within(value)


def _number(value: object, _: object = None) -> float:
    if type(value) is int:
        return float(within(value))
    if type(value) is not float:
        raise ValueError(f"{_shown(value)} where a number belongs")
    if not isfinite(value):
        raise ValueError(f"{value} is not a finite number")
    return value


def bytes_of(value: object, _: object = None) -> bytes:
    """The bytes that stand as text of their Latin-1 characters; ValueError when it is no such text."""
    if type(value) is not str:
        raise ValueError(f"{_shown(value)} where bytes as text belong")
    try:
        return value.encode("latin-1")
    except UnicodeEncodeError as error:
        raise ValueError(f"{value[error.start]!r} at {error.start} is no byte") from error


def _member_of(value: object, kind: Any) -> StrEnum:  # noqa: ANN401 - a class of StrEnum
    if type(value) is str and value in {member.value for member in kind}:
        return cast(StrEnum, kind(value))
    raise ValueError(f"{_shown(value)} is not one of {', '.join(member.value for member in kind)}")


_SIMPLE: Final[dict[type, Callable[[object, Any], object]]] = {
    str: _text,
    bool: _truth,
    int: _whole,
    float: _number,
    bytes: bytes_of,
    StrEnum: _member_of,
}

_WRITTEN: Final[dict[type, Callable[[Any], object]]] = {
    bool: _truth,
    int: _whole,
    float: _number,
    bytes: partial(bytes.decode, encoding="latin-1"),
    StrEnum: attrgetter("value"),
}


def _shown(value: object) -> str:
    return f"{type(value).__name__} {str(value)[:80]!r}"


def _object_reader(kind: type[Any], converter: Converter) -> Callable[[object, object], object]:
    read = make_dict_structure_fn(kind, converter, _cattrs_forbid_extra_keys=True)

    def take(value: object, _: object) -> object:
        if type(value) is not dict:
            raise ValueError(f"{_shown(value)} where an object belongs")
        return read(value, kind)

    return take


def _list_reader(kind: Any, converter: Converter) -> Callable[[object, object], tuple[object, ...]]:  # noqa: ANN401
    inner = list[kind.__args__[0]]
    read = converter.get_structure_hook(inner)

    def take(value: object, _: object) -> tuple[object, ...]:
        if type(value) is not list:
            raise ValueError(f"{_shown(value)} where a list belongs")
        return tuple(read(value, inner))

    return take


def _is_row(kind: Any) -> bool:  # noqa: ANN401 - any annotation
    return get_origin(kind) is tuple and kind.__args__[-1] is Ellipsis


def _named_writer(
    kind: type[Any], key: str, name: str, converter: Converter
) -> Callable[[object], dict[str, Any]]:
    write = make_dict_unstructure_fn(kind, converter)
    return lambda value: {key: name, **write(value)}


def _named_reader(
    kind: type[Any], key: str, name: str, converter: Converter
) -> Callable[[object, object], object]:
    read = _object_reader(kind, converter)

    def take(value: object, _: object) -> object:
        if not isinstance(value, dict) or value.get(key) != name:
            raise ValueError(f"{_shown(value)} where an object with {key} = {name} belongs")
        return read({other: field for other, field in value.items() if other != key}, kind)

    return take


def _member_reader(
    names: Mapping[str, type], key: str, converter: Converter
) -> Callable[[object, object], object]:
    def take(value: object, _: object) -> object:
        if type(value) is not dict:
            raise ValueError(f"{_shown(value)} where an object with the key {key} belongs")
        name = value.get(key)
        if not isinstance(name, str) or name not in names:
            raise ValueError(f"{key} is {_shown(name)}, not one of {', '.join(names)}")
        return converter.structure(value, names[name])

    return take
