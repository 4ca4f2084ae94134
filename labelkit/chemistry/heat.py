"""How warm a vessel gets: what dissolves in it, and what is poured together."""

from collections.abc import Iterable
from decimal import Decimal

from msgspec import Struct

from labelkit.chemistry.substances import Substance

__all__ = ["Warming", "mixed_C", "rise_K", "warming"]

# Of water, taken for every solution [J/(g K)].
SPECIFIC_HEAT = 4.18
# Above this share by mass heats of solution for very dilute solutions, and the heat
# capacity of water, begin to err.
DILUTE = 0.10
NEVER_COUNTED = (
    "heat of reaction and of dilution",
    "heat lost to the vessel and the air",
)


class Warming(Struct, frozen=True):
    """What dissolving does to the temperature of one vessel at one step.

    Attributes:
        rise_K: negative where it cools.
        peak_C: the temperature it comes to, before any of it is lost.
        heat_J: given off; negative where taken up.
        not_counted: what the figure leaves out, in words.
    """

    rise_K: float
    peak_C: float
    heat_J: float
    not_counted: tuple[str, ...] = NEVER_COUNTED


def warming(
    dissolving: Iterable[tuple[Substance, Decimal | float]],
    mass_g: Decimal | float,
    start_C: float,
) -> Warming:
    """Reckon the warming of a vessel when substances dissolve in it.

    Args:
        dissolving: each substance with how much of the form as it stands in the jar
            [g], assay already taken off.
        mass_g: of everything in the vessel once it has dissolved [g].
        start_C: temperature of the vessel before [degC].
    """
    parts = [(substance, float(grams)) for substance, grams in dissolving]
    heat_J = sum(_heat_J(substance, grams) for substance, grams in parts)
    rise = rise_K(heat_J, mass_g)
    return Warming(rise, start_C + rise, heat_J, _not_counted(parts, float(mass_g)))


def rise_K(heat_J: float, mass_g: Decimal | float) -> float:
    """How far ``heat_J`` [J] warms ``mass_g`` [g] of solution [K]."""
    return heat_J / (float(mass_g) * SPECIFIC_HEAT)


def mixed_C(parts: Iterable[tuple[Decimal | float, float]]) -> float:
    """Temperature of what is poured together from (mass [g], temperature [degC]).

    Nothing is lost to the vessel, and everything has the specific heat of water.
    """
    weighed = [(float(mass_g), at_C) for mass_g, at_C in parts]
    return sum(mass * at_C for mass, at_C in weighed) / sum(m for m, _ in weighed)


def _heat_J(substance: Substance, grams: float) -> float:
    """Given off by that much of the form; 0 where no figure is known."""
    if substance.heat_of_solution is None or substance.molar_mass is None:
        return 0.0
    moles = grams * float(substance.solute_share / substance.molar_mass)
    return -1000 * moles * float(substance.heat_of_solution.value)


def _not_counted(
    parts: list[tuple[Substance, float]], mass_g: float
) -> tuple[str, ...]:
    unknown = tuple(
        f"heat of solution of {substance.name}: no figure"
        for substance, _ in parts
        if substance.heat_of_solution is None and substance.id != "water"
    )
    strong = sum(grams for _, grams in parts) > DILUTE * mass_g
    caveat = ("that strong solutions give off less than dilute ones",) if strong else ()
    return unknown + caveat + NEVER_COUNTED
