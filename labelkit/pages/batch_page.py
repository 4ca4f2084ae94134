"""What a record page says: the frozen words, and what happened since."""

import re
from collections import Counter
from collections.abc import Mapping, Sequence
from datetime import datetime
from decimal import Decimal
from typing import Any

from msgspec import Struct

from labelkit.chemistry.amounts import Dimension, parse_amount
from labelkit.errors import BadInput
from labelkit.mixing.bench import Settings
from labelkit.mixing.dates import is_past
from labelkit.mixing.found import FoundPage, found_page, is_found
from labelkit.mixing.ports import Event, Record
from labelkit.mixing.record import page_text
from labelkit.mixing.said import AID_FULL, NBSP
from labelkit.mixing.words import PageContent, PageText
from labelkit.pages.bottles import (
    DateLine,
    bottle_lines,
    date_lines,
    for_the_clock,
    gone,
    happenings,
    states_of,
)
from labelkit.pages.pouring import Pouring, doses, entries

__all__ = ["Call", "DateShown", "batch_values", "call_for", "pouring_of"]

_TELEPHONE = re.compile(r"\+?[\d ().-]{3,}")
_UNITS = ("g/L", "mol/L", "% w/w")


class Call(Struct, frozen=True):
    """Whom to call; ``href`` is "" where what is written is not one number."""

    number: str
    href: str


class DateShown(Struct, frozen=True):
    """A discard date ready to be shown.

    Attributes:
        machine: for the badge; "" where no date is known.
        past: whether it has passed; None where the page does not know the day.
    """

    bottles: str
    text: str
    machine: str
    why: str
    past: bool | None


def batch_values(
    record: Record,
    events: Sequence[Event],
    settings: Settings,
    *,
    query: Mapping[str, str] | None = None,
    now: datetime | None = None,
) -> tuple[str, dict[str, Any]]:
    """The template of a batch's page and what it is told.

    A record whose words cannot be read still gets a page with what is known of it, so
    that nobody with the bottle in hand is left with nothing.

    Args:
        record: the batch.
        events: what happened to it.
        settings: of the bench.
        query: ``g`` or ``mL``, a dose that is asked for.
        now: the moment dates are compared with; None where the page is kept.
    """
    page = _words_of(record)
    states = states_of(record, events)
    lines = bottle_lines(states)
    values = {
        "record": record,
        "mixed": f"{record.mixed_on:%Y-%m-%d}",
        "dates": [_shown(d, page, record, now) for d in date_lines(record, states)],
        "discarded": gone(states),
        "bottle_lines": lines,
        "over": any(line.over for line in lines),
        "happenings": happenings(record, events),
    }
    if page is None:
        return "bare", {**values, "call": call_for(settings.emergency), "aid": AID_FULL}
    if isinstance(page, FoundPage):
        call = call_for(settings.emergency or page.emergency)
        return "found", {**values, "page": page, "call": call, "aid": page.aid_full}
    return "batch", {**values, **_from_words(page, record, settings, query or {})}


def _words_of(record: Record) -> PageText | FoundPage | None:
    """The frozen words; None where this version cannot read them."""
    try:
        return found_page(record) if is_found(record) else page_text(record)
    except (KeyError, TypeError, ValueError, ArithmeticError, AttributeError):
        return None


def call_for(number: str) -> Call:
    """The number to call, as a link where it is one number and nothing else."""
    number = number.strip()
    digits = re.sub(r"[^\d+]", "", number)
    return Call(number, f"tel:{digits}" if _TELEPHONE.fullmatch(number) else "")


def pouring_of(page: PageText, record: Record) -> Pouring | None:
    """What a dose of the batch is worked out from; None without an equivalence."""
    if page.headline.kind != "equivalence" or not page.mL_per_g:
        return None
    relative_u = _strength(record).get("relative_u")
    made_mL = record.data.get("volume_mL")
    return Pouring(
        page.mL_per_g,
        None if relative_u is None else float(relative_u),
        max(_volumes_mL(page.bottles), default=None),
        None if made_mL is None else Decimal(made_mL),
    )


def _from_words(
    page: PageText, record: Record, settings: Settings, query: Mapping[str, str]
) -> dict[str, Any]:
    units = [unit for n, unit in enumerate(_UNITS) if any(_column(page, n))]
    pouring = pouring_of(page, record)
    return {
        "page": page,
        "call": call_for(settings.emergency or page.emergency),
        "units": units,
        "contents": [_content(content, units) for content in page.contents],
        "made_from": any("Made from" in run.text for run in page.contents_sentence),
        "pouring": pouring,
        "entries": entries(pouring, query) if pouring else (),
        "doses": doses(page, pouring),
        "known_to": _known_to(page, record),
        "bottles": _counted(page.bottles),
        "acknowledged": (record.data.get("answer") or {}).get("acknowledged") or (),
        "aid": page.aid_full,
    }


def _known_to(page: PageText, record: Record) -> str:
    """How well the strength is known, ``±1.4 %``; "" where that is not."""
    relative_u = _strength(record).get("relative_u")
    if relative_u is None or not page.strength:
        return ""
    return f"±{float(relative_u) * 100:.2g}{NBSP}%"


def _strength(record: Record) -> Mapping[str, Any]:
    return (record.data.get("answer") or {}).get("strength") or {}


def _volumes_mL(bottles: Sequence[str]) -> list[Decimal]:
    """What the bottles hold [mL]; those of a dry mixture are left out."""
    found = []
    for written in set(bottles):
        try:
            amount = parse_amount(written)
        except BadInput:
            continue
        if amount.dimension is Dimension.VOLUME:
            found.append(amount.number)
    return found


def _shown(
    line: DateLine,
    page: PageText | FoundPage | None,
    record: Record,
    now: datetime | None,
) -> DateShown:
    if line.date == record.discard_after and isinstance(page, PageText):
        text = page.discard
    else:
        text = (line.date or "no date known: test before use").replace("T", " ")
    past = None if now is None or not line.date else is_past(line.date, now)
    return DateShown(line.bottles, text, for_the_clock(line.date), line.why, past)


def _figures(content: PageContent) -> tuple[str, str, str]:
    return content.g_per_L, content.mol_per_L, content.percent_ww


def _column(page: PageText, n: int) -> list[str]:
    return [_figures(content)[n] for content in page.contents]


def _content(content: PageContent, units: Sequence[str]) -> tuple[str, list[str]]:
    """A solute's name and its figures without their units, which head the columns."""
    figures = dict(zip(_UNITS, _figures(content), strict=True))
    return content.name, [figures[unit].removesuffix(unit).strip() for unit in units]


def _counted(bottles: Sequence[str]) -> str:
    """``12 × 10 mL, 2 × 250 mL``."""
    return ", ".join(
        f"{count} × {size}" if count > 1 else size
        for size, count in Counter(bottles).items()
    )
