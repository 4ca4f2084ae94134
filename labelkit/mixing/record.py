"""The words of a frozen batch, as they were first printed and shown."""

from collections.abc import Callable
from typing import Any, TypeVar

from labelkit.errors import BadInput
from labelkit.mixing.plain import from_plain
from labelkit.mixing.ports import Record
from labelkit.mixing.words import BottleText, PageText

__all__ = ["bottle_texts", "page_text", "read_words"]

T = TypeVar("T")


def bottle_texts(record: Record) -> tuple[BottleText, ...]:
    """The words of each bottle's label, as they were first printed.

    Raises:
        BadInput: they cannot be read.
    """
    return _read(
        record,
        lambda words: tuple(from_plain(BottleText, one) for one in words["bottles"]),
    )


def page_text(record: Record) -> PageText:
    """The words of the record page.

    Raises:
        BadInput: they cannot be read.
    """
    return _read(record, lambda words: from_plain(PageText, words["page"]))


def _read(record: Record, read: Callable[[Any], T]) -> T:
    return read_words(
        record,
        read,
        what=f"batch {record.number}",
        remedy="Update labelkit where they come from a newer one, or look where it was "
        "mixed.",
    )


def read_words(
    record: Record, read: Callable[[Any], T], *, what: str, remedy: str
) -> T:
    """Frozen words; they may have come from another bench, or a newer labelkit.

    Args:
        record: whose words they are.
        read: makes something of them.
        what: whose words they are, for a person.
        remedy: what to do where they cannot be read.

    Raises:
        BadInput: they cannot be read.
    """
    try:
        return read(record.data["words"])
    except (LookupError, TypeError, ValueError, ArithmeticError, AttributeError):
        problem = f"the words that {what} was kept with cannot be read"
        raise BadInput(problem, remedy=remedy) from None
