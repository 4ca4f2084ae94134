"""The water that a hydrate brings along."""

import re
from decimal import Decimal

from labelkit.chemistry.substances import Substance

__all__ = ["crystal_water_share"]

# 2 x 1.008 + 15.999 (CIAAW 2021, abridged)
WATER_G_PER_MOL = Decimal("18.015")

_WATER = re.compile(r"[.·](?P<times>\d+(?:\.\d+)?)?H2O$")


def crystal_water_share(substance: Substance) -> Decimal:
    """Grams of crystal water in one gram of the form; 0 without water or formula."""
    found = _WATER.search(substance.formula or "")
    if found is None or substance.molar_mass is None:
        return Decimal(0)
    return Decimal(found["times"] or 1) * WATER_G_PER_MOL / substance.molar_mass
