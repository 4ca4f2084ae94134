"""Diluting: a ratio poured together, or a strength brought down to another."""

import re
from collections.abc import Iterable, Sequence
from decimal import Decimal
from enum import StrEnum

from msgspec import Struct

from labelkit.chemistry.amounts import Amount, Dimension
from labelkit.chemistry.density import WATER_G_PER_ML
from labelkit.chemistry.numbers import positive_number, quoted
from labelkit.chemistry.percents import parse_percent
from labelkit.chemistry.substances import State, Substance
from labelkit.chemistry.weighing import FINE_ENOUGH, volume_u_mL
from labelkit.errors import BadInput
from labelkit.mixing.recipe import Capacity

__all__ = [
    "Basis",
    "Concentration",
    "Diluted",
    "Liquid",
    "Pour",
    "dilute_ratio",
    "dilute_strength",
    "fine_enough_mL",
    "least_stock_mL",
    "liquid_of",
    "measurable_batches",
    "parse_concentration",
    "readable",
]

WATER = "water"
# Batches offered, how much larger than asked, and graduations of the smallest part.
OFFERED, MOST_TIMES = 2, 3
COUNTS = (1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 16, 20, 25, 30, 40, 50, 60, 80, 100)
# Of what rooms measure with, coarsest first [mL]; common practice, no source.
GRADUATIONS_mL = tuple(Decimal(g) for g in ("10", "5", "2", "1", "0.5", "0.2", "0.1"))
# A dose that its cylinder would round by more than this is not measured with it.
TOO_FAR_OFF = Decimal("0.05")
_LARGEST_MOLAR = Decimal(100)


class Basis(StrEnum):
    """What a strength is counted in; the three percentages are never mixed."""

    MASS_IN_VOLUME = "% w/v"
    MASS_IN_MASS = "% w/w"
    VOLUME_IN_VOLUME = "% v/v"
    GRAMS_PER_LITRE = "g/L"
    MOLES_PER_LITRE = "mol/L"


class Concentration(Struct, frozen=True):
    """A strength with its basis: ``20 % w/v``."""

    value: Decimal
    basis: Basis

    def __str__(self) -> str:
        return f"{self.value.normalize():f} {self.basis}"


class Liquid(Struct, frozen=True):
    """A solution of some strength.

    Attributes:
        strength: of it.
        density_g_per_mL: of the solution; None where nobody said.
        molar_mass: of the solute [g/mol]; None where no chemical is named.
        solute_g_per_mL: density of the pure solute, for % v/v.
    """

    strength: Concentration
    density_g_per_mL: Decimal | None = None
    molar_mass: Decimal | None = None
    solute_g_per_mL: Decimal | None = None


class Pour(Struct, frozen=True):
    """One thing to measure out [mL]; the last fills up to the whole."""

    part: str
    volume_mL: Decimal
    mass_g: Decimal | None = None


class Diluted(Struct, frozen=True):
    """What to measure, and what comes of it.

    Attributes:
        make_mL: of the finished solution [mL].
        fills: the last one is filled up to the mark, and not measured by itself.
        notes: what a person should know, each a sentence.
    """

    make_mL: Decimal
    pours: tuple[Pour, ...]
    fills: bool = False
    notes: tuple[str, ...] = ()


def parse_concentration(text: str) -> Concentration:
    """The strength that ``text`` means: a percentage of what, g/L or mol/L.

    Raises:
        BadInput: it does not say of what, or is no strength.
    """
    number, unit = positive_number(text)
    for basis in (Basis.GRAMS_PER_LITRE, Basis.MOLES_PER_LITRE):
        if re.sub(r"\s", "", unit) == basis:
            if basis is Basis.MOLES_PER_LITRE and number > _LARGEST_MOLAR:
                raise BadInput(
                    f"{quoted(text)} is more than there can be",
                    remedy=f"Write at most {_LARGEST_MOLAR} mol/L.",
                )
            return Concentration(number, basis)
    if not unit.startswith("%"):
        what = "is no strength" if unit else "has no unit"
        raise BadInput(
            f"{quoted(text)} {what}",
            remedy="Write it as 20 % w/v, 37 % w/w, 70 % v/v, 50 g/L or 0.5 mol/L.",
        )
    percent = parse_percent(text)
    return Concentration(percent.value, Basis(f"% {percent.basis}"))


def dilute_ratio(
    ratio: Sequence[Decimal], make_mL: Decimal, parts: Sequence[str] = ()
) -> Diluted:
    """So much of each part of a ratio, for ``make_mL`` [mL] in all.

    Args:
        ratio: at least two parts; the last is water where ``parts`` does not say.
        make_mL: of the whole [mL].
        parts: what each is called; the usual names where it is left out.
    """
    names = tuple(parts) or _usual_names(len(ratio))
    total = sum(ratio, Decimal(0))
    volumes = [make_mL * share / total for share in ratio]
    return Diluted(
        make_mL, tuple(Pour(n, mL) for n, mL in zip(names, volumes, strict=True))
    )


def dilute_strength(strong: Liquid, weak: Liquid, make: Amount) -> Diluted:
    """So much of a strong solution and water for ``make`` of a weaker one.

    Raises:
        BadInput: the second is not weaker, or a density or molar mass is missing.
    """
    if make.dimension is Dimension.MASS:
        return _by_mass(strong, weak, make.number)
    share = _share(strong, weak)
    if share >= 1:
        raise BadInput(
            f"{strong.strength} is not stronger than {weak.strength}",
            place="--to",
            remedy="Water only makes it weaker: name a smaller strength.",
        )
    stock_mL = make.number * share
    water_mL, by_mass = make.number - stock_mL, None
    if strong.density_g_per_mL and weak.density_g_per_mL:
        by_mass = (
            make.number * weak.density_g_per_mL - stock_mL * strong.density_g_per_mL
        )
        water_mL = by_mass / WATER_G_PER_ML
    pours = (
        Pour("stock", stock_mL, _mass_g(stock_mL, strong)),
        Pour(WATER, water_mL, by_mass),
    )
    return Diluted(make.number, pours, fills=True, notes=tuple(_shrinking(weak)))


def least_stock_mL(capacity: Capacity | None) -> Decimal | None:
    """How much stock one unit takes, where a recipe says what it lasts for [mL]."""
    if capacity is None or capacity.per.dimension is Dimension.MASS:
        return None
    return capacity.per.number / capacity.amount


def readable(volume_mL: Decimal, graduation_mL: Decimal) -> bool:
    """Whether a cylinder tells ``volume_mL`` [mL] from what it would be rounded to.

    Both the reading and the rounding must be within 5 %.
    """
    if volume_u_mL(graduation_mL) / float(volume_mL) > FINE_ENOUGH:
        return False
    nearest = (volume_mL / graduation_mL).to_integral_value() * graduation_mL
    return abs(nearest - volume_mL) <= TOO_FAR_OFF * volume_mL


def measurable_batches(
    ratio: Sequence[Decimal], graduation_mL: Decimal, least_mL: Decimal
) -> tuple[Diluted, ...]:
    """Batches of at least ``least_mL`` [mL] whose parts are whole graduations.

    The smallest part is taken as a whole number of graduations that can be read; none
    of more than three times what was asked for is offered.
    """
    smallest, total = min(ratio), sum(ratio, Decimal(0))
    found: list[Diluted] = []
    for count in COUNTS:
        make_mL = count * graduation_mL / smallest * total
        if not least_mL <= make_mL <= least_mL * MOST_TIMES or len(found) == OFFERED:
            continue
        batch = dilute_ratio(ratio, make_mL)
        even = all(p.volume_mL % graduation_mL == 0 for p in batch.pours)
        if even and all(readable(p.volume_mL, graduation_mL) for p in batch.pours):
            found.append(batch)
    return tuple(found)


def fine_enough_mL(volumes_mL: Iterable[Decimal]) -> Decimal | None:
    """The coarsest graduation of a cylinder or syringe that tells all of them [mL]."""
    measured = list(volumes_mL)
    return next(
        (g for g in GRADUATIONS_mL if all(readable(mL, g) for mL in measured)), None
    )


def _usual_names(count: int) -> tuple[str, ...]:
    if count == 2:
        return ("stock", WATER)
    letters = "ABCDEFGHIJ"
    return (*letters[: count - 1], WATER)


def _share(strong: Liquid, weak: Liquid) -> Decimal:
    """Volume of the strong one in one volume of the weak one."""
    same = strong.strength.basis is weak.strength.basis
    if same and strong.strength.basis is not Basis.MASS_IN_MASS:
        return weak.strength.value / strong.strength.value
    return _solute(weak, "--density-to") / _solute(strong, "--density-from")


def _solute(liquid: Liquid, option: str) -> Decimal:
    """Grams of solute in one mL of the solution [g/mL]."""
    value, basis = liquid.strength.value, liquid.strength.basis
    if basis is Basis.MASS_IN_VOLUME:
        return value / 100
    if basis is Basis.GRAMS_PER_LITRE:
        return value / 1000
    if basis is Basis.MASS_IN_MASS:
        return value / 100 * _known(liquid.density_g_per_mL, liquid, option)
    if basis is Basis.MOLES_PER_LITRE:
        return value / 1000 * _known(liquid.molar_mass, liquid, "--chemical")
    return value / 100 * _known(liquid.solute_g_per_mL, liquid, "--chemical")


def _known(figure: Decimal | None, liquid: Liquid, option: str) -> Decimal:
    if figure is not None:
        return figure
    needs = {
        Basis.MASS_IN_MASS: "the density of the solution",
        Basis.MOLES_PER_LITRE: "the molar mass of what is in it",
        Basis.VOLUME_IN_VOLUME: "the density of the pure liquid in it",
    }[liquid.strength.basis]
    remedy = f"Give {option} such as 1.19g/mL, or a chemical sold at that strength."
    if not option.startswith("--density"):
        remedy = "Name the chemical with --chemical."
    raise BadInput(
        f"{liquid.strength} cannot be turned into grams in a volume without {needs}",
        place=option,
        remedy=remedy,
    )


def _by_mass(strong: Liquid, weak: Liquid, make_g: Decimal) -> Diluted:
    """By weight alone, which needs no density where both are % w/w."""
    both = {strong.strength.basis, weak.strength.basis}
    if both != {Basis.MASS_IN_MASS}:
        raise BadInput(
            f"{make_g.normalize():f} g of {weak.strength} is asked for by mass",
            place="--make",
            remedy="Ask for it in mL, or give both strengths in % w/w.",
        )
    if weak.strength.value >= strong.strength.value:
        raise BadInput(
            f"{strong.strength} is not stronger than {weak.strength}",
            place="--to",
            remedy="Water only makes it weaker: name a smaller strength.",
        )
    stock_g = make_g * weak.strength.value / strong.strength.value
    density = strong.density_g_per_mL
    water_g = make_g - stock_g
    pours = (
        Pour("stock", stock_g / density if density else Decimal(0), stock_g),
        Pour(WATER, water_g / WATER_G_PER_ML, water_g),
    )
    whole = weak.density_g_per_mL
    return Diluted(make_g / whole if whole else Decimal(0), pours)


def _mass_g(volume_mL: Decimal, liquid: Liquid) -> Decimal | None:
    density = liquid.density_g_per_mL
    return None if density is None else volume_mL * density


def _shrinking(weak: Liquid) -> Iterable[str]:
    if weak.strength.basis is Basis.VOLUME_IN_VOLUME:
        yield "Spirit and water shrink together: fill up to the mark."


def liquid_of(chemical: Substance) -> Liquid:
    """A chemical that is sold as a solution, or a pure liquid, as it is sold.

    Raises:
        BadInput: it is a solid, or its density is not known.
    """
    if chemical.state is State.SOLID or chemical.density is None:
        raise BadInput(
            f"{chemical.id} is no solution with a known density",
            place="--from",
            remedy="Write a strength such as 20 % w/v, or prepare a stock first.",
        )
    percent = chemical.percent_by_mass or Decimal(100)
    return Liquid(
        Concentration(percent, Basis.MASS_IN_MASS),
        chemical.density.value,
        chemical.molar_mass,
    )
