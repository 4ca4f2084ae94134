"""An estimate of a solution's density from what is dissolved in it."""

from collections.abc import Iterable
from decimal import Decimal

from msgspec import Struct

from labelkit.chemistry.crystal_water import crystal_water_share
from labelkit.chemistry.substances import Substance

__all__ = ["WATER_G_PER_ML", "DensityEstimate", "Dissolved", "estimate_density"]

# CRC Handbook, table "Standard Density of Water", 20 degC; recalled.
WATER_G_PER_ML = Decimal("0.9982")
# What one gram of an anhydrous solute takes up. Common practice, no source.
ML_PER_G = Decimal("0.35")
BAND = Decimal("0.02")
# Where the rule of thumb ends. Common practice, no source.
MOST_DISSOLVED_G_PER_L = Decimal(400)
MOST_ALCOHOL = Decimal("0.10")
ALCOHOL = "alcohol"


class Dissolved(Struct, frozen=True):
    """One part of a solution.

    Attributes:
        mass_g: of the form; of the solute alone for what is sold as a solution.
        liquid: it takes up room by its own density.
    """

    substance: Substance
    mass_g: Decimal
    liquid: bool = False

    @property
    def crystal_water_g(self) -> Decimal:
        """What a solid brings along as water [g]."""
        if self.liquid:
            return Decimal(0)
        return self.mass_g * crystal_water_share(self.substance)

    @property
    def room_mL(self) -> Decimal:
        """What it takes up besides its crystal water [mL], by the rule of thumb."""
        density = self.substance.density
        if self.liquid and density is not None:
            return self.mass_g / density.value
        return ML_PER_G * (self.mass_g - self.crystal_water_g)

    @property
    def volume_mL(self) -> Decimal:
        """What it takes up in all [mL], by the rule of thumb."""
        return self.room_mL + self.crystal_water_g / WATER_G_PER_ML


class DensityEstimate(Struct, frozen=True):
    """The density [g/mL] within ``low`` and ``high``, or the reason for None."""

    g_per_mL: Decimal | None
    reason: str = ""

    @property
    def low(self) -> Decimal | None:
        """2 % less [g/mL]."""
        return None if self.g_per_mL is None else self.g_per_mL * (1 - BAND)

    @property
    def high(self) -> Decimal | None:
        """2 % more [g/mL]."""
        return None if self.g_per_mL is None else self.g_per_mL * (1 + BAND)


def estimate_density(volume_mL: Decimal, parts: Iterable[Dissolved]) -> DensityEstimate:
    """Estimate the density of ``volume_mL`` [mL] of solution at about 20 degC.

    Every gram of anhydrous solute takes up 0.35 mL, a liquid what its own density
    says, and water the rest. Crystal water is water. No estimate is made above 400 g
    of solute in a litre, above 10 % of alcohol by mass, for a liquid of unknown
    density, or where no room is left for water. Water may be among the parts.

    The rule is common practice, no source: good to 2 % up to about 100 g of a salt in a
    litre. Strong lye, carbonate and thiosulfate are up to 3 % denser, organic solutes
    lighter.
    """
    others = [part for part in parts if part.substance.id != "water"]
    reason = _no_room(others, volume_mL)
    if reason:
        return DensityEstimate(None, reason)
    water_mL = volume_mL - sum((part.room_mL for part in others), Decimal(0))
    if water_mL < 0:
        return DensityEstimate(None, "what is dissolved leaves no room for water")
    mass_g = _anhydrous_g(others) + water_mL * WATER_G_PER_ML
    alcohol_g = sum(
        (part.mass_g for part in others if ALCOHOL in part.substance.tags), Decimal(0)
    )
    if alcohol_g > mass_g * MOST_ALCOHOL:
        return DensityEstimate(None, "no estimate above 10 % of alcohol")
    return DensityEstimate(mass_g / volume_mL)


def _anhydrous_g(parts: Iterable[Dissolved]) -> Decimal:
    return sum((part.mass_g - part.crystal_water_g for part in parts), Decimal(0))


def _no_room(parts: Iterable[Dissolved], volume_mL: Decimal) -> str:
    solutes_g = _anhydrous_g(part for part in parts if not part.liquid)
    if solutes_g / volume_mL * 1000 > MOST_DISSOLVED_G_PER_L:
        return "no estimate above 400 g of solutes in a litre"
    for part in parts:
        if part.liquid and part.substance.density is None:
            return f"the density of {part.substance.name} is not known"
    return ""
