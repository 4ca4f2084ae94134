"""A bottle that was found and nobody knows: its record, and what is said of it."""

from collections.abc import Callable, Mapping
from datetime import date, datetime
from typing import Any, NoReturn, Protocol, TypeVar

from msgspec import Struct

from labelkit.errors import BadInput, NoAnswer
from labelkit.mixing.bench import Settings
from labelkit.mixing.notices import Blank, NoticeText
from labelkit.mixing.payload import batch_payload
from labelkit.mixing.plain import from_plain, to_plain
from labelkit.mixing.ports import Record
from labelkit.mixing.said import AID_FULL, NBSP, first_words
from labelkit.mixing.words import Words

__all__ = [
    "NEVER",
    "UNKNOWN",
    "Fact",
    "Found",
    "FoundPage",
    "found_line",
    "found_notice",
    "found_page",
    "freeze_found",
    "is_found",
    "refuse_found",
    "room_of_found",
]

UNKNOWN = "UNKNOWN"
NEVER = "Do not open, smell, taste, pour out or throw away."
THEN = "then to hazardous waste"
CAP = ("Cap", "crust", "leaking", "swollen")
FORMAT = 1
LAYOUT = "unknown"
_Words = TypeVar("_Words")
NOT_KNOWN = "what is in it is not known"


class Found(Struct, frozen=True):
    """What a person can tell of the bottle without opening it; "" for nothing.

    Attributes:
        on: when it was found.
        where: where it stood.
        by: who found it.
        looks: what it looks like from outside.
        says: what old writing on it says.
        claim_by: until when somebody may come and say what it is.
    """

    on: datetime
    where: str = ""
    by: str = ""
    looks: str = ""
    says: str = ""
    claim_by: date | None = None

    def __post_init__(self) -> None:
        if self.claim_by is not None and self.claim_by < self.on.date():
            raise BadInput(
                f"{self.claim_by} is before the day it was found, {self.on:%Y-%m-%d}",
                place="claim by",
                remedy="Write a later day.",
            )


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
    aid_full: str = AID_FULL


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


def freeze_found(found: Found, number: str, settings: Settings) -> Record:
    """The bottle as it is kept for good, with the words of its label and its page."""
    notice, page = _notice(found, number, settings), _page(found, number, settings)
    data = {
        "format": FORMAT,
        "kind": "found",
        "found": _facts_json(found),
        "answer": _answer(found, number),
        "words": {"bottles": [to_plain(notice)], "page": to_plain(page)},
        "layouts": [LAYOUT],
    }
    return Record(
        number=number,
        recipe="",
        title=UNKNOWN,
        mixed_on=found.on,
        made_by=found.by,
        discard_after=None,
        bottles=1,
        data=data,
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
    """Frozen words; they may have come from another bench, or a newer labelkit."""
    try:
        return read(record.data["words"])
    except (KeyError, IndexError, TypeError, ValueError, AttributeError):
        raise BadInput(
            f"the words that {record.number}, {UNKNOWN}, was kept with cannot be read",
            remedy="Leave the bottle closed, and print its label where it was found.",
        ) from None


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


def _facts_json(found: Found) -> dict[str, str | None]:
    return {
        "on": f"{found.on:%Y-%m-%d %H:%M}",
        "where": found.where,
        "by": found.by,
        "looks": found.looks,
        "says": found.says,
        "claim_by": found.claim_by.isoformat() if found.claim_by else None,
    }


def _answer(found: Found, number: str) -> dict[str, Any]:
    """What ``show --json`` answers: every key of a batch, and why its figures are null.

    Nobody knows when it was mixed or by whom, so these are null; who found it and when
    stands under ``found``.
    """
    nothing = ("make", "strength", "headline", "ph", "warming", "density", "hazard")
    lists = ("weigh", "measure", "contents", "reaction", "checks", "planned", "weighed")
    unknown = ("ph", "strength", "density", "discard_after", "hazard", "contents")
    return {
        "recipe": "",
        "title": UNKNOWN,
        **dict.fromkeys(nothing),
        **{key: [] for key in lists},
        "discard_after": None,
        "reasons": dict.fromkeys(unknown, NOT_KNOWN),
        "batch": number,
        "mixed_on": None,
        "made_by": None,
        "bottles": [{"bottle": 1, "mL": None}],
        "acknowledged": [],
        "use": "",
        "found": _facts_json(found),
    }


def _notice(found: Found, number: str, settings: Settings) -> NoticeText:
    return NoticeText(
        kind=LAYOUT,
        word=UNKNOWN,
        lead=NEVER,
        blanks=_blanks(found),
        first_words=first_words(()),
        ticks=CAP,
        then=THEN,
        place=settings.disposal,
        extra=(f"{settings.room}.",) if settings.room else (),
        number=number,
        code=_code(found, number, settings),
        code_means=f"Code: what is known of {number}",
        emergency=settings.emergency,
    )


def _blanks(found: Found) -> tuple[Blank, ...]:
    claim_by = found.claim_by.isoformat() if found.claim_by else ""
    return (
        Blank("found", "Found", f"{found.on:%Y-%m-%d}"),
        Blank("where", "where", found.where),
        Blank("by", "by", found.by),
        Blank("looks", "looks like", found.looks),
        Blank("says", "Old writing says", found.says),
        Blank("tell", "If ticked do not touch; tell"),
        Blank("claim-by", f"Claim{NBSP}by", claim_by),
    )


def _code(found: Found, number: str, settings: Settings) -> str:
    """The address of its page, or what matters as text."""
    day = f"{found.on:%Y-%m-%d}"
    if not settings.base_url:
        return f"{number} {UNKNOWN} DO NOT OPEN FOUND {day}"
    return batch_payload(
        number, base_url=settings.base_url, title=UNKNOWN, equivalence="", mixed=day,
        discard="", signal="",
    )  # fmt: skip


def _page(found: Found, number: str, settings: Settings) -> FoundPage:
    claim_by = found.claim_by.isoformat() if found.claim_by else ""
    known = (
        ("Found", f"{found.on:%Y-%m-%d}"),
        ("Where", found.where),
        ("By", found.by),
        ("Looks like", found.looks),
        ("Old writing says", found.says),
    )
    place = f": {settings.disposal}" if settings.disposal else ""
    return FoundPage(
        name=UNKNOWN,
        number=number,
        never=NEVER,
        facts=tuple(Fact(term, text) for term, text in known if text),
        first_words=first_words((), what="page"),
        then=f"{THEN}{place}",
        claim_by=claim_by,
        room=settings.room,
        emergency=settings.emergency,
    )
