"""Values as plain JSON and back, so that a batch can be frozen and read again."""

from typing import Any, TypeVar

from msgspec import convert, to_builtins

__all__ = ["from_plain", "to_plain"]

T = TypeVar("T")


def to_plain(value: object) -> Any:
    """A frozen value as JSON writes it; a Decimal becomes its own text."""
    return to_builtins(value, enc_hook=dict)


def from_plain(kind: type[T], data: Any) -> T:
    """The value of type ``kind`` that `to_plain` made ``data`` of.

    Fields that a later version added keep their defaults; fields that it no longer
    knows are passed over.

    Raises:
        ValueError: it is no such value.
    """
    return convert(data, kind)
