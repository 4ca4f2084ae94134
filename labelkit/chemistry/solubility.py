"""How much dissolves, read from a table between its points and never beyond them."""

import math
from collections.abc import Iterable
from decimal import Decimal
from itertools import pairwise

from msgspec import Struct

from labelkit.chemistry.crystal_water import crystal_water_share
from labelkit.chemistry.density import ML_PER_G, WATER_G_PER_ML
from labelkit.chemistry.refusal import Refusal
from labelkit.chemistry.substances import Confidence, Solubility, Substance

__all__ = [
    "Dissolution",
    "Saturation",
    "as_form",
    "dissolve",
    "nearest_saturation",
    "per_100_g_water",
    "percent_ww",
    "saturation",
    "temperature_to_dissolve",
]

THIS_FORM, ANHYDROUS = "this form", "anhydrous"
# [g] of water to which the number of a table belongs; a mL is taken as a gram.
WATER_OF_UNIT = {
    "g per 100 g water": 100.0,
    "g per 100 mL of water": 100.0,
    "g per L of water": 1000.0,
}
OF_SOLUTION = "g per 100 mL"
TRUST = (Confidence.FOUND, Confidence.COMPUTED, Confidence.MEMORY)
COMMON_IONS = "ions that other solutes bring are not reckoned"
WARMEST_STEP_K = 0.01


class Saturation(Struct, frozen=True):
    """How much of a form a water holds at most.

    Attributes:
        g_per_100_g_water: of this form, for 100 g of water poured in; infinite where
            it dissolves in its own crystal water.
        at_C: the temperature it is read for [degC].
        notes: what it rests on beyond the table.
    """

    g_per_100_g_water: float
    at_C: float
    source: str
    confidence: Confidence
    notes: tuple[str, ...] = ()

    @property
    def percent(self) -> float:
        """The saturated solution [% w/w of this form]."""
        return percent_ww(self.g_per_100_g_water)


class Dissolution(Struct, frozen=True):
    """Whether an amount dissolves, and what would help.

    Attributes:
        fits: it dissolves at ``saturation.at_C``.
        most_g: of this form, in the water there is [g].
        water_g: that would dissolve it at that temperature [g].
        warm_to_C: lowest temperature of the table at which it dissolves; None where
            none does, or where it dissolves as it is.
    """

    fits: bool
    most_g: float
    water_g: float
    warm_to_C: float | None
    saturation: Saturation


def dissolve(
    substance: Substance,
    mass_g: Decimal | float,
    water_g: Decimal | float,
    at_C: float,
) -> Dissolution | Refusal | None:
    """Whether ``mass_g`` [g] of the form dissolves in ``water_g`` [g] at ``at_C``.

    ``water_g`` is the water in the vessel before; the form's own crystal water comes
    on top. Returns None for what mixes with water in any proportion, and a refusal
    where no table reaches to ``at_C`` [degC].
    """
    if substance.miscible:
        return None
    held = saturation(substance, at_C)
    if isinstance(held, Refusal):
        return held
    mass, water, per_100 = float(mass_g), float(water_g), held.g_per_100_g_water
    most_g = per_100 * water / 100 if water > 0 else 0.0
    fits = mass <= most_g
    warm = None if fits else temperature_to_dissolve(substance, mass, water, at_C)
    needed_g = mass / per_100 * 100 if per_100 > 0 else math.inf
    return Dissolution(fits, most_g, needed_g, warm, held)


def saturation(substance: Substance, at_C: float) -> Saturation | Refusal:
    """How much of the form 100 g of water hold at ``at_C`` [degC].

    The most trusted table that reaches to the temperature is taken, linear between its
    points; beyond them there is no answer, and the refusal tells where it ends.
    """
    tables = list(_usable(substance.solubility))
    if not tables:
        return Refusal(f"no solubility of {substance.name} is known")
    reaching = [t for t in tables if t.points[0][0] <= at_C <= t.points[-1][0]]
    if not reaching:
        return Refusal(_where_it_ends(substance, tables, at_C))
    best = min(reaching, key=lambda t: (TRUST.index(t.confidence), -len(t.points)))
    value = _between(best, at_C)
    return Saturation(
        _per_100_g(value, best, substance),
        at_C,
        best.source,
        best.confidence,
        _notes(best),
    )


def nearest_saturation(substance: Substance, at_C: float) -> Saturation | None:
    """The saturation at the temperature of a table that is nearest to ``at_C``."""
    ends = [
        float(point[0])
        for table in _usable(substance.solubility)
        for point in table.points
    ]
    if not ends:
        return None
    held = saturation(substance, min(ends, key=lambda end: (abs(end - at_C), end)))
    return held if isinstance(held, Saturation) else None


def temperature_to_dissolve(
    substance: Substance, mass_g: float, water_g: float, from_C: float
) -> float | None:
    """The lowest temperature from ``from_C`` up at which it dissolves [degC].

    Returns None where no temperature of a table will do.
    """
    needed = mass_g / water_g * 100 if water_g > 0 else math.inf
    stops = sorted(
        float(at)
        for table in _usable(substance.solubility)
        for at, _ in table.points
        if at > from_C
    )
    cold = from_C
    for warm in stops:
        if _held(substance, warm) >= needed:
            return _first_between(substance, needed, cold, warm)
        cold = warm
    return None


def percent_ww(per_100_g: float) -> float:
    """% w/w of a solution of that many grams in 100 g of water."""
    return 100.0 if math.isinf(per_100_g) else 100 * per_100_g / (100 + per_100_g)


def per_100_g_water(percent: float) -> float:
    """Grams in 100 g of water of a solution of that many % w/w.

    CRC Handbook, table "Aqueous Solubility of Inorganic Compounds", preface:
    r2 = 100 w2 / (1 - w2).
    """
    return 100 * percent / (100 - percent)


def as_form(anhydrous_per_100_g: float, substance: Substance) -> float:
    """Grams of the form for 100 g of water poured in, from an anhydrous figure.

    The crystal water joins the solvent: x = 100 s R / (100 - s (R - 1)), R being grams
    of the form for one gram of anhydrous salt; infinite where it needs no other water.
    """
    ratio = 1 / (1 - float(crystal_water_share(substance)))
    left = 100 - anhydrous_per_100_g * (ratio - 1)
    return 100 * anhydrous_per_100_g * ratio / left if left > 0 else math.inf


def _usable(tables: Iterable[Solubility]) -> Iterable[Solubility]:
    """Those with a unit and a basis that can be reckoned with."""
    for table in tables:
        known_unit = table.unit == OF_SOLUTION or table.unit in WATER_OF_UNIT
        known_basis = table.basis == THIS_FORM or table.basis.startswith(ANHYDROUS)
        if known_unit and known_basis and table.points:
            yield table


def _between(table: Solubility, at_C: float) -> float:
    """The table's own number at a temperature within it."""
    points = [(float(at), float(value)) for at, value in table.points]
    for (cold, low), (warm, high) in pairwise(points):
        if cold <= at_C <= warm:
            return low + (high - low) * (at_C - cold) / (warm - cold)
    return points[0][1]


def _per_100_g(value: float, table: Solubility, substance: Substance) -> float:
    """A table's number as grams of the form for 100 g of water poured in."""
    if table.unit == OF_SOLUTION:
        return _from_solution(value, table, substance)
    per_100 = value / WATER_OF_UNIT[table.unit] * 100
    return per_100 if table.basis == THIS_FORM else as_form(per_100, substance)


def _from_solution(value: float, table: Solubility, substance: Substance) -> float:
    """From grams in 100 mL of solution, by the rule of thumb of `estimate_density`."""
    dry_share = 1 - float(crystal_water_share(substance))
    dry_g = value * dry_share if table.basis == THIS_FORM else value
    water_g = (100 - float(ML_PER_G) * dry_g) * float(WATER_G_PER_ML)
    return as_form(100 * dry_g / water_g, substance) if water_g > 0 else math.inf


def _notes(table: Solubility) -> tuple[str, ...]:
    notes = [COMMON_IONS]
    if table.unit == OF_SOLUTION:
        notes.append("from g per 100 mL of solution, by an estimate of its density")
    if table.note:
        notes.append(table.note)
    return tuple(notes)


def _held(substance: Substance, at_C: float) -> float:
    held = saturation(substance, at_C)
    return held.g_per_100_g_water if isinstance(held, Saturation) else 0.0


def _first_between(
    substance: Substance, needed: float, cold: float, warm: float
) -> float:
    while warm - cold > WARMEST_STEP_K:
        middle = (cold + warm) / 2
        if _held(substance, middle) >= needed:
            warm = middle
        else:
            cold = middle
    return warm


def _where_it_ends(substance: Substance, tables: list[Solubility], at_C: float) -> str:
    spans = sorted({(t.points[0][0], t.points[-1][0]) for t in tables})
    known = " and ".join(
        f"{cold:g} °C" if cold == warm else f"{cold:g} to {warm:g} °C"
        for cold, warm in spans
    )
    return f"the solubility of {substance.name} is known for {known}, not {at_C:g} °C"
