"""What a record page says: the frozen words, and what happened since."""

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from labelkit.mixing.bench import Settings
from labelkit.mixing.headline import rounded_equivalence
from labelkit.mixing.ports import Event, Record
from labelkit.mixing.record import page_text
from labelkit.mixing.said import AID_FULL
from labelkit.mixing.words import PageContent, PageText
from labelkit.pages.bottles import (
    DateLine,
    date_lines,
    for_the_clock,
    gone,
    happenings,
)

__all__ = ["Call", "Dose", "batch_values", "call_for", "doses"]

_TELEPHONE = re.compile(r"\+?[\d ().-]{3,}")
_UNITS = ("g/L", "mol/L", "% w/w")
_MULTIPLES = (1, 2, 5, 10)


@dataclass(frozen=True, slots=True)
class Call:
    """Whom to call; ``href`` is "" where what is written is not one number."""

    number: str
    href: str


@dataclass(frozen=True, slots=True)
class Dose:
    """How much of the solution carries so many grams, with units."""

    grams: str
    volume: str


@dataclass(frozen=True, slots=True)
class DateShown:
    """A discard date ready to be shown; ``machine`` is for the badge."""

    bottles: str
    text: str
    machine: str
    why: str


def batch_values(
    record: Record, events: Sequence[Event], settings: Settings
) -> tuple[str, dict[str, Any]]:
    """The template of a batch's page and what it is told.

    A record whose words cannot be read still gets a page with what is known of it, so
    that nobody with the bottle in hand is left with nothing.
    """
    try:
        page = page_text(record)
    except (KeyError, TypeError, ValueError, ArithmeticError, AttributeError):
        page = None
    values = {
        "record": record,
        "mixed": f"{record.mixed_on:%Y-%m-%d}",
        "dates": [_shown(d, page, record) for d in date_lines(record, events)],
        "discarded": _discarded(record, events),
        "happenings": happenings(record, events),
    }
    if page is None:
        return "bare", {**values, "call": call_for(settings.emergency), "aid": AID_FULL}
    return "batch", {**values, **_from_words(page, record, settings)}


def call_for(number: str) -> Call:
    """The number to call, as a link where it is one number and nothing else."""
    number = number.strip()
    digits = re.sub(r"[^\d+]", "", number)
    return Call(number, f"tel:{digits}" if _TELEPHONE.fullmatch(number) else "")


def doses(
    page: PageText, relative_u: float | None, made_mL: Decimal | None
) -> tuple[Dose, ...]:
    """Volumes [mL] that carry 1, 2, 5 and 10 times the headline's mass.

    They are told to as many figures as the headline, and stop at the volume made.
    """
    told = re.fullmatch(r".* = ([\d.]+) g", page.headline.text)
    if page.headline.kind != "equivalence" or page.mL_per_g is None or not told:
        return ()
    masses = [Decimal(told[1]) * n for n in _MULTIPLES]
    volumes = [mass * page.mL_per_g for mass in masses]
    return tuple(
        Dose(f"{mass.normalize():f} g", f"{rounded_equivalence(mL, relative_u)} mL")
        for mass, mL in zip(masses, volumes, strict=True)
        if made_mL is None or mL <= made_mL
    )


def _from_words(page: PageText, record: Record, settings: Settings) -> dict[str, Any]:
    data = record.data
    made_mL = data.get("volume_mL")
    strength = (data.get("answer") or {}).get("strength") or {}
    relative_u = strength.get("relative_u")
    units = [unit for n, unit in enumerate(_UNITS) if any(_column(page, n))]
    return {
        "page": page,
        "call": call_for(settings.emergency or page.emergency),
        "units": units,
        "contents": [_content(content, units) for content in page.contents],
        "made_from": any("Made from" in run.text for run in page.contents_sentence),
        "doses": doses(
            page,
            None if relative_u is None else float(relative_u),
            None if made_mL is None else Decimal(made_mL),
        ),
        "bottles": _counted(page.bottles),
        "acknowledged": (data.get("answer") or {}).get("acknowledged") or (),
        "aid": page.aid_full,
    }


def _shown(line: DateLine, page: PageText | None, record: Record) -> DateShown:
    if line.date == record.discard_after and page is not None:
        text = page.discard
    else:
        text = (line.date or "no date known: test before use").replace("T", " ")
    return DateShown(line.bottles, text, for_the_clock(line.date), line.why)


def _discarded(record: Record, events: Sequence[Event]) -> str:
    """``all``, ``bottle 2``, or "" where none is."""
    numbers = sorted(gone(record, events))
    if not numbers:
        return ""
    if len(numbers) >= record.bottles:
        return "all"
    told = ", ".join(map(str, numbers))
    return f"bottle{'s' if len(numbers) > 1 else ''} {told}"


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
