"""Values as plain JSON and back, so that a batch can be frozen and read again."""

import dataclasses
import types
from collections.abc import Mapping
from decimal import Decimal
from functools import cache
from typing import Any, TypeVar, Union, get_args, get_origin, get_type_hints

__all__ = ["from_plain", "to_plain"]

T = TypeVar("T")


def to_plain(value: object) -> Any:
    """A frozen dataclass of plain values as JSON; a Decimal becomes its own text."""
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {
            f.name: to_plain(getattr(value, f.name)) for f in dataclasses.fields(value)
        }
    if isinstance(value, Decimal):
        return str(value)
    if isinstance(value, Mapping):
        return {key: to_plain(item) for key, item in value.items()}
    if isinstance(value, tuple | list):
        return [to_plain(item) for item in value]
    return value


def from_plain(kind: type[T], data: Any) -> T:
    """The value of type ``kind`` that `to_plain` made ``data`` of.

    Fields that a later version added keep their defaults; fields that it no longer
    knows are passed over.
    """
    result: T = _read(kind, data)
    return result


def _read(kind: Any, data: Any) -> Any:
    if dataclasses.is_dataclass(kind):
        hints = _hints(kind)  # type: ignore[arg-type]
        known = {
            f.name: _read(hints[f.name], data[f.name])
            for f in dataclasses.fields(kind)
            if f.name in data
        }
        return kind(**known)  # type: ignore[operator]
    if kind is Decimal:
        return Decimal(data)
    if get_origin(kind) in (Union, types.UnionType):
        return None if data is None else _read(_without_none(kind), data)
    if get_origin(kind) is tuple:
        return _read_tuple(get_args(kind), data)
    if get_origin(kind) is Mapping:
        inner = get_args(kind)[1]
        return {key: _read(inner, item) for key, item in data.items()}
    return data


@cache
def _hints(kind: type[Any]) -> dict[str, Any]:
    return get_type_hints(kind)


def _without_none(kind: Any) -> Any:
    return next(arg for arg in get_args(kind) if arg is not type(None))


def _read_tuple(kinds: tuple[Any, ...], data: Any) -> tuple[Any, ...]:
    if len(kinds) == 2 and kinds[1] is Ellipsis:
        return tuple(_read(kinds[0], item) for item in data)
    return tuple(_read(kind, item) for kind, item in zip(kinds, data, strict=True))
