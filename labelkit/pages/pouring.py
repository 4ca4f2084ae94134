"""How much to pour: the table of doses, and any amount that is asked for."""

import re
from collections.abc import Mapping, Sequence
from decimal import Decimal

from msgspec import Struct

from labelkit.chemistry.amounts import parse_amount
from labelkit.chemistry.display import plain
from labelkit.chemistry.numbers import positive_number, quoted
from labelkit.errors import BadInput
from labelkit.mixing.headline import rounded_equivalence
from labelkit.mixing.said import NBSP
from labelkit.mixing.words import PageText

__all__ = ["Dose", "Entry", "Pouring", "doses", "entries"]

_MULTIPLES = (1, 2, 5, 10)
_LONGEST_ENTRY = 40
_REMEDY = {
    "g": "Write grams as a number, such as 2.5.",
    "mL": "Write millilitres as a number, such as 25.",
}


class Dose(Struct, frozen=True):
    """How much of the solution carries so many grams, with units."""

    grams: str
    volume: str


class Pouring(Struct, frozen=True):
    """What a dose is worked out from.

    Attributes:
        mL_per_g: of the solution [mL/g].
        relative_u: standard uncertainty of the strength, as a share of it.
        bottle_mL: what the largest bottle holds [mL]; None where that is not known.
        made_mL: what was mixed [mL]; the same.
    """

    mL_per_g: Decimal
    relative_u: float | None = None
    bottle_mL: Decimal | None = None
    made_mL: Decimal | None = None

    @property
    def over_bottle(self) -> str:
        """What is said of a dose that no single bottle holds."""
        return f"More than one bottle holds ({self._told(self.bottle_mL)})."

    @property
    def over_made(self) -> str:
        """What is said of a dose that was never mixed."""
        return f"More than was mixed ({self._told(self.made_mL)})."

    @property
    def short_fault(self) -> Mapping[str, str]:
        """What is said of an entry that cannot be read, by its field."""
        return _REMEDY

    def remark(self, mL: Decimal) -> str:
        """What is to be said of a dose of so many mL; "" for nothing."""
        if self.made_mL is not None and mL > self.made_mL:
            return self.over_made
        if self.bottle_mL is not None and mL > self.bottle_mL:
            return self.over_bottle
        return ""

    def _told(self, mL: Decimal | None) -> str:
        if mL is None:
            return ""
        grams = rounded_equivalence(mL / self.mL_per_g, self.relative_u)
        return f"{plain(mL)}{NBSP}mL carry {grams}{NBSP}g"


class Entry(Struct, frozen=True):
    """A field of the page and what it is answered.

    Attributes:
        name: of the field: ``g`` or ``mL``.
        label: what the field is called.
        written: what stands in it.
        told: the answer's figure; "" for none yet.
        unit: of the answer.
        fault: what was wrong, and what to write.
        remark: more than a bottle, or all that was mixed, holds.
    """

    name: str
    label: str
    unit: str
    written: str = ""
    told: str = ""
    fault: str = ""
    remark: str = ""


def doses(page: PageText, pouring: Pouring | None) -> tuple[Dose, ...]:
    """Volumes [mL] that carry 1, 2, 5 and 10 times the headline's mass.

    They are told to as many figures as the headline, and stop at the volume made.
    """
    told = re.fullmatch(r".* = ([\d.]+) g", page.headline.text)
    if pouring is None or not told:
        return ()
    masses = [Decimal(told[1]) * n for n in _MULTIPLES]
    volumes = [mass * pouring.mL_per_g for mass in masses]
    return tuple(
        Dose(
            f"{plain(mass)}{NBSP}g",
            f"{rounded_equivalence(mL, pouring.relative_u)}{NBSP}mL",
        )
        for mass, mL in zip(masses, volumes, strict=True)
        if pouring.made_mL is None or mL <= pouring.made_mL
    )


def entries(pouring: Pouring, query: Mapping[str, str]) -> Sequence[Entry]:
    """The two fields, grams wanted and mL poured, and what each is answered."""
    return (
        _answered(Entry("g", "Grams wanted", "mL"), pouring, query.get("g", "")),
        _answered(Entry("mL", "mL poured", "g"), pouring, query.get("mL", "")),
    )


def _answered(entry: Entry, pouring: Pouring, text: str) -> Entry:
    written = " ".join(text.split())[:_LONGEST_ENTRY]
    if not written:
        return entry
    try:
        number = _read(text, entry.name)
    except BadInput as error:
        (fault,) = error.faults
        told = f"{fault.problem}. {_remedy(fault.remedy, entry.name)}"
        return Entry(entry.name, entry.label, entry.unit, written, fault=told)
    mL = number * pouring.mL_per_g if entry.name == "g" else number
    answer = mL if entry.name == "g" else number / pouring.mL_per_g
    return Entry(
        entry.name,
        entry.label,
        entry.unit,
        written,
        told=rounded_equivalence(answer, pouring.relative_u),
        remark=pouring.remark(mL),
    )


def _read(text: str, unit: str) -> Decimal:
    """A number of ``unit``; the unit itself may stand behind it."""
    number, rest = positive_number(text)
    if rest and rest.casefold() != unit.casefold():
        raise BadInput(f"{quoted(text)} is not a number of {unit}")
    return parse_amount(f"{number} {unit}").number


def _remedy(general: str, unit: str) -> str:
    """The field's own, where the general one asks for a unit or nothing at all."""
    return _REMEDY[unit] if not general or "unit" in general else general
