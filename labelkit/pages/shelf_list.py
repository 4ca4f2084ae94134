"""The shelf as it is looked through: a list, what was searched, and page by page."""

from collections.abc import Mapping
from datetime import datetime
from urllib.parse import urlencode

from msgspec import Struct

from labelkit.chemistry.numbers import quoted
from labelkit.errors import BadInput
from labelkit.mixing.numbers import read_number
from labelkit.mixing.ports import Listed, Shelf
from labelkit.pages.addresses import FRONT
from labelkit.pages.lists import BatchLine, batch_line

__all__ = ["A_PAGE", "Choice", "ShelfList", "shelf_list"]

A_PAGE = 50
_LISTS = {
    "standing": ("What stands", "What stands on it"),
    "due": ("Due in 14 days", "Bottles whose last day is within 14 days"),
    "past": ("Past its date", "Bottles past their date"),
    "in-date": ("In date", "Bottles in date"),
    "held": ("On hold", "Bottles marked HOLD"),
    "found": ("Found", "Bottles that were found"),
    "discarded": ("Discarded", "Batches of which no bottle stands"),
    "all": ("All batches", "All batches"),
}
_LONGEST_WORDS = 200
_LAST_PAGE = 999_999
_MOST_DIGITS = 6


class Choice(Struct, frozen=True):
    """One of the lists and the way to it."""

    name: str
    label: str
    href: str
    chosen: bool


class ShelfList(Struct, frozen=True):
    """A page of a list.

    Attributes:
        title: what the list is of.
        words: what was searched; "" for nothing.
        show: which list it is.
        choices: the lists there are, with the same words.
        told: how many there are and which of them these are.
        fault: what was wrong with what was asked, and what to write; or "".
        previous: the way to the page before; "" where there is none.
        following: the way to the next page; the same.
    """

    title: str
    words: str
    show: str
    choices: tuple[Choice, ...]
    lines: tuple[BatchLine, ...]
    told: str
    fault: str = ""
    previous: str = ""
    following: str = ""


def shelf_list(
    shelf: Shelf, query: Mapping[str, str], root: str, now: datetime
) -> ShelfList:
    """The page of the shelf that is asked for.

    Args:
        shelf: what is looked through.
        query: ``q``, the words searched; ``show``, the list; ``page``, from 1.
        root: the way to the front.
        now: what dates are compared with.
    """
    words = " ".join(query.get("q", "").split())[:_LONGEST_WORDS]
    show, fault = _show(query.get("show", ""), words)
    page = _page_number(query.get("page", ""))
    found = _listed(shelf, show, words, page, now)

    def way(page: int) -> str:
        return _way(root, words, show, page)

    title = f"Searched for {quoted(words)}" if words else _LISTS[show][1]
    return ShelfList(
        title=title,
        words=words,
        show=show,
        choices=tuple(
            Choice(name, label, _way(root, words, name, 1), name == show)
            for name, (label, _) in _LISTS.items()
        ),
        lines=tuple(
            batch_line(batch.record, batch.dates, now) for batch in found.batches
        ),
        told=_told(found, page),
        fault=fault,
        previous=way(min(page - 1, -(-found.count // A_PAGE))) if page > 1 else "",
        following=way(page + 1) if _goes_on(found, page) else "",
    )


def _show(asked: str, words: str) -> tuple[str, str]:
    """The list that is meant, and what is wrong with what was asked."""
    usual = "all" if words else "standing"
    show = asked.strip().casefold()
    if not show or show in _LISTS:
        return show or usual, ""
    return usual, f"There is no list {quoted(asked)}. Choose one of those above."


def _page_number(text: str) -> int:
    """From 1; what is no page is the first."""
    digits = text.strip()
    if not (digits.isascii() and digits.isdigit()) or len(digits) > len(
        str(_LAST_PAGE)
    ):
        return 1
    return min(max(int(digits), 1), _LAST_PAGE)


def _listed(shelf: Shelf, show: str, words: str, page: int, now: datetime) -> Listed:
    skip = (page - 1) * A_PAGE
    number = _number_in(words)
    if number:
        found = shelf.listed(show, now, words=number, skip=skip, limit=A_PAGE)
        if found.count:
            return found
    return shelf.listed(show, now, words=words, skip=skip, limit=A_PAGE)


def _number_in(words: str) -> str:
    """The batch number in what is searched, as printed; "" where there is none."""
    try:
        return read_number(words) if words else ""
    except BadInput:
        return ""


def _goes_on(found: Listed, page: int) -> bool:
    return found.count > page * A_PAGE or (found.or_more and bool(found.batches))


def _told(found: Listed, page: int) -> str:
    """``12 batches``, ``51 to 100 of more than 1000``."""
    if not found.count:
        return "None."
    count = f"more than {found.count}" if found.or_more else str(found.count)
    first = (page - 1) * A_PAGE + 1
    if not found.batches:
        return f"No page {page}: there are {count}."
    if page == 1 and len(found.batches) == found.count:
        return f"{count} batch{'es' if found.count > 1 else ''}."
    return f"{first} to {first + len(found.batches) - 1} of {count}."


def _way(root: str, words: str, show: str, page: int) -> str:
    asked = {"q": words, "show": show, "page": str(page) if page > 1 else ""}
    return f"{root}{FRONT}?{urlencode({k: v for k, v in asked.items() if v})}"
