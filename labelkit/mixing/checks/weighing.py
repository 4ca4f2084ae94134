"""Weights that are too small for the balance, with what mends it."""

from collections.abc import Iterator
from decimal import Decimal

from labelkit.chemistry.amounts import Amount
from labelkit.chemistry.display import figures, show_amount
from labelkit.chemistry.finer import (
    PERCENTS,
    Bench,
    PercentStock,
    batch_that_suits,
    dilution_chain,
    percent_stock,
)
from labelkit.chemistry.refusal import Refusal
from labelkit.chemistry.solubility import saturation
from labelkit.chemistry.substances import Substance
from labelkit.mixing.bench import Settings
from labelkit.mixing.check import Check, Level
from labelkit.mixing.doses import Dose
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.plan import Plan

__all__ = ["check_weighing"]

DOSE_GRADUATION_mL = Decimal("0.5")  # a small cylinder or syringe; common practice
# Where a stock would stand, and the temperature of most tables [degC].
ROOM_C, USUAL_TABLE_C = 20.0, 25.0


def check_weighing(
    plan: Plan, handbook: Handbook, settings: Settings
) -> Iterator[Check]:
    """A weighing the balance knows worse than to 5 %."""
    for dose, weighing in zip(plan.job.doses, plan.weighings, strict=True):
        if not weighing.fine_enough:
            yield Check(
                "weighing", Level.WARN, dose.step, _text(dose, plan, handbook, settings)
            )


def _text(dose: Dose, plan: Plan, handbook: Handbook, settings: Settings) -> str:
    assert dose.mass_g is not None
    substance = handbook.catalogue.substance(dose.chemical)
    return (
        f"{figures(dose.mass_g, 3)} g of {substance.name} is too little for a balance "
        f"that reads {settings.balance_g:f} g: "
        f"{_mend(dose.mass_g, substance, plan, settings)}."
    )


def _mend(mass_g: Decimal, substance: Substance, plan: Plan, settings: Settings) -> str:
    bench = Bench(settings.balance_g, settings.cylinder_mL, DOSE_GRADUATION_mL)
    strongest = _strongest_percent(substance)
    wet = not plan.solution.dry
    stock = percent_stock(mass_g, bench, strongest) if wet else None
    if stock is not None:
        return f"{_stock_words(stock)} and take {stock.dose_mL:g} mL"
    chain = dilution_chain(mass_g, bench, strongest) if wet else None
    if chain is not None:
        return (
            f"{_stock_words(chain.stock)}, make {chain.stock.dose_mL:g} mL of that up "
            f"to {chain.make_mL:g} mL, and take {chain.dose_mL:g} mL"
        )
    made = plan.job.make
    size = batch_that_suits(mass_g, made.number, settings.balance_g)
    return f"make {show_amount(Amount(Decimal(str(size)), made.dimension))} or more"


def _stock_words(stock: PercentStock) -> str:
    return f"dissolve {stock.weigh_g:g} g to {stock.make_mL:g} mL"


def _strongest_percent(substance: Substance) -> float:
    """The strongest stock that dissolves [% w/v]; the usual 10 where none is known."""
    held = saturation(substance, ROOM_C)
    if isinstance(held, Refusal):
        held = saturation(substance, USUAL_TABLE_C)
    if isinstance(held, Refusal):
        return PERCENTS[0]
    return min(PERCENTS[0], held.percent)
