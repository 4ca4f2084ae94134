"""How surely a bench knows what it weighed and measured, and what would mend it.

Uncertainties are standard uncertainties (k = 1), evaluated and combined to first order
as in JCGM 100:2008 (the GUM), 4.3.7 to 4.3.9, 5.1.2 and F.2.2.1.
"""

import math
from collections.abc import Iterable
from decimal import Decimal

from msgspec import Struct

__all__ = [
    "ASSAY_HALF_WIDTH",
    "COVERAGE",
    "FINE_ENOUGH",
    "Contribution",
    "assay_u",
    "combined",
    "headline_figures",
    "is_fine_enough",
    "least_mass_g",
    "net_mass_u_g",
    "other_branch_is_near",
    "reading_u",
    "rectangular",
    "triangular",
    "volume_u_mL",
    "weighing_u",
]

# A weighing known worse than this is not fine enough. Common practice, no source.
FINE_ENOUGH = 0.05
# What is not known of an assay: a point either way [%]. Common practice, no source.
ASSAY_HALF_WIDTH = 1.0
# A strength known better than this is told in three figures, else in two.
KNOWN_WELL = 0.01
# A limit lies near where it is no further than the expanded uncertainty, k = 2.
COVERAGE = 2


class Contribution(Struct, frozen=True):
    """One thing a strength depends on.

    Attributes:
        relative_u: standard uncertainty as a share of the value.
        sensitivity: per cent by which the strength moves for one per cent of it: 1 for
            the mass of the limiting reagent, -1 for the volume, 0 for an excess.
    """

    name: str
    relative_u: float
    sensitivity: float = 1.0


def combined(contributions: Iterable[Contribution]) -> float:
    """The relative standard uncertainty of what depends on all of them.

    They are taken as independent of one another (JCGM 100:2008, 5.1.2).
    """
    return math.hypot(*(c.sensitivity * c.relative_u for c in contributions))


def rectangular(half_width: float) -> float:
    """Of a value anywhere within ± ``half_width`` (JCGM 100:2008, 4.3.7)."""
    return half_width / math.sqrt(3)


def triangular(half_width: float) -> float:
    """Of a value more likely in the middle of ± ``half_width`` (4.3.9)."""
    return half_width / math.sqrt(6)


def reading_u(division: Decimal | float) -> float:
    """Of one reading of an instrument, in the unit of its ``division`` (F.2.2.1)."""
    return rectangular(float(division) / 2)


def net_mass_u_g(readability_g: Decimal | float) -> float:
    """Of a tared mass, which is the difference of two readings [g]."""
    return math.sqrt(2) * reading_u(readability_g)


def volume_u_mL(graduation_mL: Decimal | float) -> float:
    """Of a volume read to one graduation either way [mL]."""
    return rectangular(float(graduation_mL))


def assay_u(assay_percent: float, half_width: float = ASSAY_HALF_WIDTH) -> float:
    """Of an assay [%] known to ± ``half_width`` points, as a share of it."""
    return rectangular(half_width) / assay_percent


def weighing_u(mass_g: Decimal | float, readability_g: Decimal | float) -> float:
    """Of one weighing, as a share of ``mass_g`` [g]."""
    return net_mass_u_g(readability_g) / float(mass_g)


def is_fine_enough(mass_g: Decimal | float, readability_g: Decimal | float) -> bool:
    """Whether a balance knows ``mass_g`` [g] to within 5 %."""
    return weighing_u(mass_g, readability_g) <= FINE_ENOUGH


def least_mass_g(readability_g: Decimal | float) -> float:
    """The least mass [g] that a balance knows to within 5 %."""
    return net_mass_u_g(readability_g) / FINE_ENOUGH


def other_branch_is_near(excess: float, ratio_u: float) -> bool:
    """Whether another reagent may be the one that limits.

    Args:
        excess: of the nominal excess, as a share of what is needed: 0.02 for 2 %.
        ratio_u: relative standard uncertainty of the ratio of the two reagents.
    """
    return abs(excess) <= COVERAGE * ratio_u


def headline_figures(relative_u: float | None) -> int:
    """How many significant figures of a strength are honest: 3 below 1 %, else 2."""
    return 3 if relative_u is not None and relative_u < KNOWN_WELL else 2
