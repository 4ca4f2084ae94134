"""Percentages as people write them: always of what, except for an assay."""

import re
from decimal import Decimal
from enum import StrEnum

from msgspec import Struct

from labelkit.chemistry.numbers import positive_number, quoted
from labelkit.errors import BadInput

__all__ = ["Basis", "Percent", "parse_assay", "parse_percent"]

_PURE = Decimal(100)
# [% w/v] our own bound: nothing that is mixed here dissolves to more.
_STRONGEST = Decimal(300)
# Mass is written w or m: the same.
_BASIS = re.compile(r"%\s*\(?\s*(?P<part>[wmv])\s*/\s*(?P<whole>[wmv])\s*\)?", re.I)


class Basis(StrEnum):
    """What a percentage is of."""

    MASS_IN_VOLUME = "w/v"
    MASS_IN_MASS = "w/w"
    VOLUME_IN_VOLUME = "v/v"


class Percent(Struct, frozen=True):
    """A strength in percent that says of what.

    Attributes:
        value: [g per 100 mL] for w/v, [g per 100 g] for w/w, [mL per 100 mL] for v/v.
    """

    value: Decimal
    basis: Basis

    def __str__(self) -> str:
        return f"{self.value.normalize():f} % {self.basis}"


def parse_percent(text: str) -> Percent:
    """The percentage that ``text`` means, such as ``20 % w/v``.

    Raises:
        BadInput: it does not say of what, or is out of reach.
    """
    value, unit = positive_number(text)
    if not unit.startswith("%"):
        what = "is no percentage" if unit else "has no unit"
        raise BadInput(f"{quoted(text)} {what}", remedy="Write it as 20 % w/v.")
    if unit == "%":
        raise _bare(value, text)
    basis = _basis(unit)
    if basis is None:
        raise BadInput(
            f"{quoted(text)} is a percentage of something unknown",
            remedy="Write % w/v, % w/w or % v/v.",
        )
    largest = _STRONGEST if basis is Basis.MASS_IN_VOLUME else _PURE
    if value > largest:
        raise BadInput(
            f"{quoted(text)} is more than there can be",
            remedy=f"Write at most {largest} % {basis}.",
        )
    return Percent(value, basis)


def parse_assay(text: str) -> Decimal:
    """How much of what is in a jar is the chemical [%], more than 0 and at most 100.

    Raises:
        BadInput: it is no percentage by mass, or more than 100 %.
    """
    value, unit = positive_number(text)
    if unit != "%" and _basis(unit) is not Basis.MASS_IN_MASS:
        what = "is no share by mass" if unit else "has no unit"
        raise BadInput(f"{quoted(text)} {what}", remedy="Write an assay as 98 %.")
    if value > _PURE:
        raise BadInput(
            f"{quoted(text)} is more than there can be",
            remedy="Write at most 100 %; a hydrate that has dried out is over 100 % of "
            "itself: name the drier form instead.",
        )
    return value


def _basis(unit: str) -> Basis | None:
    found = _BASIS.fullmatch(unit)
    if found is None:
        return None
    written = f"{found['part']}/{found['whole']}".lower().replace("m", "w")
    return Basis(written) if written in set(Basis) else None


def _bare(value: Decimal, text: str) -> BadInput:
    """The refusal of a bare percentage, with its readings worked out."""
    of = f"{value.normalize():f}"
    per_litre = f"{(value * 10).normalize():f}"
    return BadInput(
        f"{quoted(text)} does not say of what: w/v is {of} g in 100 mL "
        f"({per_litre} g/L), w/w is {of} g in 100 g of solution, "
        f"v/v is {of} mL in 100 mL",
        remedy=f"Write {of} % w/v, {of} % w/w or {of} % v/v.",
    )
