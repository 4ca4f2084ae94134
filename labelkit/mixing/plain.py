"""Values as plain JSON and back, so that a batch can be frozen and read again."""

import dataclasses
import types
from collections.abc import Callable, Mapping
from decimal import Decimal
from functools import cache
from typing import Any, TypeVar, Union, get_args, get_origin, get_type_hints

__all__ = ["from_plain", "to_plain"]

T = TypeVar("T")
Reader = Callable[[Any], Any]


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
    result: T = _reader(kind)(data)  # type: ignore[arg-type]
    return result


# What a type is made of is looked up once, for pages read thousands of records.
@cache
def _reader(kind: Any) -> Reader:
    if dataclasses.is_dataclass(kind):
        return _dataclass_reader(kind)  # type: ignore[arg-type]
    if kind is Decimal:
        return Decimal
    if get_origin(kind) in (Union, types.UnionType):
        return _optional_reader(_reader(_without_none(kind)))
    if get_origin(kind) is tuple:
        return _tuple_reader(get_args(kind))
    if get_origin(kind) is Mapping:
        return _mapping_reader(_reader(get_args(kind)[1]))
    return _as_it_is


def _as_it_is(data: Any) -> Any:
    return data


def _dataclass_reader(kind: type[Any]) -> Reader:
    hints = get_type_hints(kind)
    readers = [(f.name, _reader(hints[f.name])) for f in dataclasses.fields(kind)]

    def read(data: Any) -> Any:
        return kind(**{n: reader(data[n]) for n, reader in readers if n in data})

    return read


def _optional_reader(inner: Reader) -> Reader:
    def read(data: Any) -> Any:
        return None if data is None else inner(data)

    return read


def _tuple_reader(kinds: tuple[Any, ...]) -> Reader:
    readers = [_reader(kind) for kind in kinds if kind is not Ellipsis]
    if len(kinds) == 2 and kinds[1] is Ellipsis:
        return lambda data: tuple(map(readers[0], data))
    return lambda data: tuple(
        reader(item) for reader, item in zip(readers, data, strict=True)
    )


def _mapping_reader(inner: Reader) -> Reader:
    def read(data: Any) -> Any:
        return {key: inner(item) for key, item in data.items()}

    return read


def _without_none(kind: Any) -> Any:
    return next(arg for arg in get_args(kind) if arg is not type(None))
