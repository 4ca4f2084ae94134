"""A bottle that was found and nobody knows: what its record says of it."""

from collections.abc import Callable, Mapping
from typing import Any, NoReturn, Protocol, TypeVar

from msgspec import Struct

from labelkit.errors import NoAnswer
from labelkit.mixing.notices import NoticeText
from labelkit.mixing.plain import from_plain
from labelkit.mixing.ports import Record
from labelkit.mixing.record import read_words
from labelkit.mixing.words import Words

__all__ = [
    "NOT_KNOWN",
    "UNKNOWN",
    "Fact",
    "FoundPage",
    "found_line",
    "found_notice",
    "found_page",
    "is_found",
    "refuse_found",
    "room_of_found",
]

UNKNOWN = "UNKNOWN"
_Words = TypeVar("_Words")
NOT_KNOWN = "what is in it is not known"


class Fact(Struct, frozen=True):
    """Something known of the bottle: ``Found``, ``2031-03-14``."""

    term: str
    text: str


class FoundPage(Struct, frozen=True):
    """Everything its record page says; what happened since is added when it is shown.

    Attributes:
        facts: what is known, a term and a text each.
        claim_by: the day; "" where none was set.
        then: what becomes of it when nobody claims it.
    """

    name: str
    number: str
    never: str
    facts: tuple[Fact, ...]
    first_words: Words
    then: str
    claim_by: str = ""
    room: str = ""
    emergency: str = ""
    aid_full: str = ""


class Kept(Protocol):
    """A batch or a bottle on the shelf, as far as it is looked at here."""

    @property
    def recipe(self) -> str:
        """The recipe's name."""


def is_found(kept: Kept) -> bool:
    """Whether it is a bottle that was found: nothing else is without a recipe."""
    return not kept.recipe


def refuse_found(record: Record) -> None:
    """Refuse to reckon with a bottle that nobody knows.

    Raises:
        NoAnswer: it is one.
    """
    if is_found(record):
        _refuse(record.number)


def _refuse(number: str) -> NoReturn:
    raise NoAnswer(
        f"{number} is {UNKNOWN}: {NOT_KNOWN}",
        remedy=f"Leave it closed; labelkit show {number} says what is known.",
    )


def found_notice(record: Record) -> NoticeText:
    """The words of its label, as they were first printed.

    Raises:
        BadInput: they cannot be read.
    """
    return _read(record, lambda words: from_plain(NoticeText, words["bottles"][0]))


def found_page(record: Record) -> FoundPage:
    """The words of its record page.

    Raises:
        BadInput: they cannot be read.
    """
    return _read(record, lambda words: from_plain(FoundPage, words["page"]))


def _read(record: Record, read: Callable[[Any], _Words]) -> _Words:
    return read_words(
        record,
        read,
        what=f"{record.number}, {UNKNOWN},",
        remedy="Leave the bottle closed, and print its label where it was found.",
    )


def room_of_found(record: Record) -> str:
    """The room it was found in, as it was called then."""
    return found_page(record).room


def found_line(record: Record) -> str:
    """What is known of it, in one line for lists; only ever what can be read.

    ``Found 2031-03-14 by M. Osei, window sill. Claim by 2031-04-14.``
    """
    kept = record.data.get("found")
    known: Mapping[str, Any] = kept if isinstance(kept, Mapping) else {}
    by = f" by {record.made_by}" if record.made_by else ""
    where = f", {known['where']}" if known.get("where") else ""
    claim = f" Claim by {known['claim_by']}." if known.get("claim_by") else ""
    return f"Found {record.mixed_on:%Y-%m-%d}{by}{where}.{claim}"
