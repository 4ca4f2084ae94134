"""Keeping a bottle that was found: its record, and the words of its label and page."""

from datetime import date, datetime
from typing import Any

from msgspec import Struct

from labelkit.errors import BadInput
from labelkit.mixing.bench import Settings
from labelkit.mixing.found import NOT_KNOWN, UNKNOWN, Fact, FoundPage
from labelkit.mixing.notices import Blank, NoticeText
from labelkit.mixing.payload import batch_payload
from labelkit.mixing.plain import to_plain
from labelkit.mixing.ports import Record
from labelkit.mixing.said import AID_FULL, NBSP, first_words

__all__ = ["NEVER", "Found", "freeze_found"]

NEVER = "Do not open, smell, taste, pour out or throw away."
THEN = "then to hazardous waste"
CAP = ("Cap", "crust", "leaking", "swollen")
FORMAT = 1
LAYOUT = "unknown"


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
        aid_full=AID_FULL,
    )
