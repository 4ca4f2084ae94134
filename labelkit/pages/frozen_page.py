"""What a record page says that never changes: the frozen words, made into HTML once."""

import re
from collections import Counter
from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

from msgspec import Struct

from labelkit.chemistry.amounts import Dimension, parse_amount
from labelkit.errors import BadInput
from labelkit.mixing.found import FoundPage, found_page, is_found
from labelkit.mixing.ports import Record
from labelkit.mixing.record import page_text
from labelkit.mixing.said import AID_FULL, NBSP
from labelkit.mixing.words import PageCaution, PageContent, PageText
from labelkit.pages.pouring import Pouring, doses, entries
from labelkit.pages.renderer import pieces

__all__ = [
    "Call",
    "FrozenPage",
    "call_for",
    "counted",
    "frozen_page",
    "pouring_of",
    "words_of",
]

_TELEPHONE = re.compile(r"\+?[\d ().-]{3,}")
_UNITS = ("g/L", "mol/L", "% w/w")
_PIECES = ("headline", "unasked", "hazard", "foot", "contents", "followed")


class Call(Struct, frozen=True):
    """Whom to call; ``href`` is "" where what is written is not one number."""

    number: str
    href: str


class FrozenPage(Struct, frozen=True):
    """The half of a record page that depends on the record and the number to call.

    Attributes:
        template: of the page.
        values: what it is told, the pieces that are HTML already among them.
        discard: the batch's own date in words; "" where there are none.
        use_mark: HOLD, ASK with a name, SHARED, or "".
        pouring: what a dose is worked out from; None without an equivalence.
    """

    template: str
    values: Mapping[str, Any]
    discard: str = ""
    use_mark: str = ""
    pouring: Pouring | None = None


def frozen_page(record: Record, emergency: str, *, live: bool) -> FrozenPage:
    """What never changes on the page of a batch.

    A record whose words cannot be read still gets a page with what is known of it, so
    that nobody with the bottle in hand is left with nothing.

    Args:
        record: the batch.
        emergency: the number to call, as the bench says it now; "" leaves the one that
            was frozen.
        live: whether the page is answered by a server, which works doses out.
    """
    page = words_of(record)
    if page is None:
        return FrozenPage("bare", {"call": call_for(emergency), "aid": AID_FULL})
    call = call_for(emergency or page.emergency)
    if isinstance(page, FoundPage):
        return FrozenPage("found", {"page": page, "call": call, "aid": page.aid_full})
    return _batch(record, page, call, live=live)


def words_of(record: Record) -> PageText | FoundPage | None:
    """The frozen words; None where this version cannot read them."""
    try:
        return found_page(record) if is_found(record) else page_text(record)
    except BadInput:
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


def counted(bottles: Sequence[str]) -> str:
    """``12 × 10 mL, 2 × 250 mL``."""
    return ", ".join(
        f"{count} × {size}" if count > 1 else size
        for size, count in Counter(bottles).items()
    )


def _batch(record: Record, page: PageText, call: Call, *, live: bool) -> FrozenPage:
    pouring = pouring_of(page, record)
    told = {
        "page": page,
        "call": call,
        "live": live,
        "pouring": pouring,
        "entries": entries(pouring, {}) if pouring else (),
        "doses": doses(page, pouring),
        "known_to": _known_to(page, record),
        "acknowledged": (record.data.get("answer") or {}).get("acknowledged") or (),
        "handling": _by_term(page.handling),
        **_contents(page),
    }
    values = {
        "name": page.name,
        "part": page.part,
        "number": page.number,
        "recipe": page.recipe,
        "off_when": page.off_when,
        "made": page.made,
        "bottles": counted(page.bottles),
        "aid": page.aid_full,
        **pieces("batch_frozen", _PIECES, **told),
    }
    return FrozenPage("batch", values, page.discard, page.use_mark, pouring)


def _contents(page: PageText) -> dict[str, Any]:
    units = [unit for n, unit in enumerate(_UNITS) if any(_column(page, n))]
    return {
        "units": units,
        "solutes": [_content(content, units) for content in page.contents],
        "made_from": any("Made from" in run.text for run in page.contents_sentence),
    }


def _figures(content: PageContent) -> tuple[str, str, str]:
    return content.g_per_L, content.mol_per_L, content.percent_ww


def _column(page: PageText, n: int) -> list[str]:
    return [_figures(content)[n] for content in page.contents]


def _content(content: PageContent, units: Sequence[str]) -> tuple[str, list[str]]:
    """A solute's name and its figures without their units, which head the columns."""
    figures = dict(zip(_UNITS, _figures(content), strict=True))
    return content.name, [figures[unit].removesuffix(unit).strip() for unit in units]


def _by_term(cautions: Sequence[PageCaution]) -> list[tuple[str, list[PageCaution]]]:
    """Cautions under what they are about, in alphabetical order."""
    by_term: dict[str, list[PageCaution]] = {}
    for caution in sorted(cautions, key=lambda caution: caution.term.lower()):
        by_term.setdefault(caution.term, []).append(caution)
    return list(by_term.items())


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
