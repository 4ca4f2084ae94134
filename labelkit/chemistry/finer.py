"""Ways to dose what is too little for the balance, in figures a bench can measure."""

import math
from collections.abc import Iterator
from decimal import Decimal

from msgspec import Struct

from labelkit.chemistry.weighing import (
    FINE_ENOUGH,
    least_mass_g,
    volume_u_mL,
    weighing_u,
)

__all__ = [
    "Bench",
    "DilutionChain",
    "PercentStock",
    "batch_that_suits",
    "dilution_chain",
    "percent_stock",
]

# Strengths [% w/v] and volumes [mL] in which people keep stock solutions.
PERCENTS = (10.0, 5.0, 2.0, 1.0, 0.5, 0.2, 0.1)
STOCKS_mL = (50.0, 100.0, 250.0, 500.0, 1000.0)
# What is taken of a stock to dilute it once more [mL].
TAKEN_mL = (10.0, 20.0, 50.0, 100.0)
# Leading digits of a batch that a person would choose.
ROUND_BATCHES = (1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0)


class Bench(Struct, frozen=True):
    """What a bench measures with.

    Attributes:
        readability_g: of the balance [g].
        stock_graduation_mL: of the flask a stock is made up in [mL].
        dose_graduation_mL: of what doses are taken with [mL].
    """

    readability_g: Decimal | float
    stock_graduation_mL: Decimal | float
    dose_graduation_mL: Decimal | float


class PercentStock(Struct, frozen=True):
    """Weigh, make up, and take the dose from that.

    Attributes:
        percent: of the stock [% w/v].
        weigh_g, make_mL: what goes into it [g], and to what volume it is made up [mL].
        dose_mL: to take of it [mL], to one graduation.
        relative_u: standard uncertainty of the dose, as a share of it.
    """

    percent: float
    weigh_g: float
    make_mL: float
    dose_mL: float
    relative_u: float


class DilutionChain(Struct, frozen=True):
    """A percent stock that is diluted once more before the dose is taken.

    Attributes:
        stock: the first solution; its dose is what is diluted.
        make_mL: volume to which that dose is diluted [mL].
        dose_mL: to take of the second solution [mL].
        relative_u: standard uncertainty of the dose, as a share of it.
    """

    stock: PercentStock
    make_mL: float
    dose_mL: float
    relative_u: float


def percent_stock(
    mass_g: Decimal | float, bench: Bench, most_percent: float = PERCENTS[0]
) -> PercentStock | None:
    """The strongest round percent stock that doses ``mass_g`` [g] to within 5 %.

    Args:
        mass_g: what a recipe asks for.
        bench: what there is to measure with.
        most_percent: the strongest the chemical may be made up to [% w/v].

    Returns:
        None where no stock does: then a `dilution_chain` or a larger batch may.
    """
    strengths = (percent for percent in PERCENTS if percent <= most_percent)
    stocks = (_weighable(float(mass_g), percent, bench) for percent in strengths)
    return next((stock for stock in stocks if stock), None)


def dilution_chain(
    mass_g: Decimal | float, bench: Bench, most_percent: float = PERCENTS[0]
) -> DilutionChain | None:
    """The shortest chain that doses ``mass_g`` [g] to within 5 %, or None."""
    wanted = float(mass_g)
    chains = (
        chain
        for percent in PERCENTS
        if percent <= most_percent
        for chain in _chains(wanted, percent, bench)
    )
    return next((c for c in chains if c.relative_u <= FINE_ENOUGH), None)


def batch_that_suits(
    mass_g: Decimal | float, makes_mL: Decimal | float, readability_g: Decimal | float
) -> float:
    """The smallest round batch [mL] whose weighing is known to within 5 %.

    Args:
        mass_g: what a batch of ``makes_mL`` [mL] takes.
        makes_mL: the batch that was asked for.
        readability_g: of the balance [g].
    """
    least_mL = float(makes_mL) * least_mass_g(readability_g) / float(mass_g)
    power = 10.0 ** math.floor(math.log10(least_mL))
    return next(n * power for n in ROUND_BATCHES if n * power >= least_mL)


def _stock(
    wanted_g: float, percent: float, make_mL: float, bench: Bench
) -> PercentStock | None:
    """That stock with its dose; None where the dose cannot be taken from it."""
    dose_mL = _to_graduation(wanted_g / percent * 100, bench)
    if not 0 < dose_mL <= make_mL:
        return None
    weigh_g = percent * make_mL / 100
    relative_u = math.hypot(
        weighing_u(weigh_g, bench.readability_g),
        volume_u_mL(bench.stock_graduation_mL) / make_mL,
        volume_u_mL(bench.dose_graduation_mL) / dose_mL,
        _off(dose_mL * percent / 100, wanted_g),
    )
    return PercentStock(percent, weigh_g, make_mL, dose_mL, relative_u)


def _chains(wanted_g: float, percent: float, bench: Bench) -> Iterator[DilutionChain]:
    """Chains that start from one stock, the least diluted first."""
    for taken_g, make_mL in (
        (percent / 100 * taken_mL, make_mL)
        for make_mL in STOCKS_mL
        for taken_mL in TAKEN_mL
        if taken_mL <= make_mL / 2
    ):
        stock = _weighable(taken_g, percent, bench)
        dose_mL = _to_graduation(wanted_g / taken_g * make_mL, bench)
        if stock is None or not 0 < dose_mL <= make_mL:
            continue
        relative_u = math.hypot(
            stock.relative_u,
            volume_u_mL(bench.stock_graduation_mL) / make_mL,
            volume_u_mL(bench.dose_graduation_mL) / dose_mL,
            _off(dose_mL * taken_g / make_mL, wanted_g),
        )
        yield DilutionChain(stock, make_mL, dose_mL, relative_u)


def _weighable(wanted_g: float, percent: float, bench: Bench) -> PercentStock | None:
    """The smallest stock of that strength that is known to within 5 %."""
    stocks = (_stock(wanted_g, percent, make_mL, bench) for make_mL in STOCKS_mL)
    return next((s for s in stocks if s and s.relative_u <= FINE_ENOUGH), None)


def _to_graduation(volume_mL: float, bench: Bench) -> float:
    graduation = float(bench.dose_graduation_mL)
    return math.floor(volume_mL / graduation + 0.5) * graduation


def _off(dosed_g: float, wanted_g: float) -> float:
    """What rounding the dose to a graduation costs, as a share."""
    return dosed_g / wanted_g - 1
