"""Specific limits and generic cut-offs."""

from decimal import ROUND_DOWN, Context, Decimal
from fractions import Fraction

from labelkit.hazards.classes import HazardClass, read_class
from labelkit.hazards.data import HazardData

__all__ = [
    "CUT_OFFS",
    "EYE",
    "SKIN",
    "carried",
    "cut_off",
    "named",
    "own_limit",
    "rows",
    "shown",
]

SKIN = ("Skin Corr.", "Skin Irrit.")
EYE = ("Eye Dam.", "Eye Irrit.")

# Annex I, Table 1.1, generic cut-offs [% w/w]: below it an ingredient is left out
CUT_OFFS = {
    "Acute Tox. 1": Decimal("0.1"),
    "Acute Tox. 2": Decimal("0.1"),
    "Acute Tox. 3": Decimal("0.1"),
    "Acute Tox. 4": Decimal(1),
    "Acute Tox. 5": Decimal(1),  # UN only
    "Skin": Decimal(1),
    "Eye": Decimal(1),
    "STOT SE 3": Decimal(1),
    "Asp. Tox.": Decimal(1),
    "Aquatic 1": Decimal("0.1"),  # divided by M
    "Aquatic": Decimal(1),
}

_FIGURES = 4  # shown of a share; cut off, never rounded up to a limit


def carried(data: HazardData, *families: str) -> tuple[HazardClass, ...]:
    """The chemical's own classes of these families."""
    classes = (read_class(text) for text in data.classes or ())
    return tuple(one for one in classes if one.family in families)


def rows(data: HazardData, *families: str) -> tuple[tuple[HazardClass, Decimal], ...]:
    """The chemical's own limits [% w/w, inclusive] in these families, lowest first."""
    read = (
        (read_class(limit.hazard_class), limit.minimum)
        for limit in data.limits
        if not limit.hazard_class.startswith("EUH")
    )
    return tuple(
        sorted((row for row in read if row[0].family in families), key=lambda r: r[1])
    )


def named(data: HazardData, *families: str) -> bool:
    """Whether its entry names such a class, as its own or by a limit of its own."""
    return bool(carried(data, *families) or rows(data, *families))


def own_limit(
    data: HazardData,
    family: str,
    category: str | None = None,
    detail: str | None = None,
) -> Decimal | None:
    """The lowest of the chemical's own limits for a class [% w/w], if it has any."""
    for found, minimum in rows(data, family):
        if category in (None, found.category) and detail in (None, found.detail):
            return minimum
    return None


def cut_off(data: HazardData, generic: Decimal, *families: str) -> Decimal:
    """Below which share the chemical is left out [% w/w].

    Article 11(3) and 1.1.2.2.2(a): the lower of Table 1.1 and its own limits.
    """
    own = rows(data, *families)
    return min(generic, own[0][1]) if own else generic


def shown(value: Decimal | Fraction) -> str:
    """A share or a sum as it is written in reasons: four figures, cut off."""
    if isinstance(value, Fraction):
        value = Decimal(value.numerator) / Decimal(value.denominator)
    cut = Context(prec=_FIGURES, rounding=ROUND_DOWN).create_decimal(value)
    return format(cut.normalize() if cut else Decimal(0), "f")
