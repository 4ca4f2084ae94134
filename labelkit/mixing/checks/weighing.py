"""Weights that are too small for the balance, with what mends it."""

from collections.abc import Iterator
from decimal import Decimal

from labelkit.chemistry.amounts import Amount, Dimension
from labelkit.chemistry.display import figures, show_amount
from labelkit.chemistry.finer import Bench, batch_that_suits, percent_stock
from labelkit.mixing.bench import Settings
from labelkit.mixing.check import Check, Level
from labelkit.mixing.doses import Dose
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.plan import Plan

__all__ = ["check_weighing"]

DOSE_GRADUATION_mL = Decimal("0.5")  # a small cylinder or syringe; common practice


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
    name = handbook.catalogue.substance(dose.chemical).name
    return (
        f"{figures(dose.mass_g, 3)} g of {name} is too little for a balance that reads "
        f"{settings.balance_g:f} g: {_mend(dose.mass_g, plan, settings)}."
    )


def _mend(mass_g: Decimal, plan: Plan, settings: Settings) -> str:
    bench = Bench(settings.balance_g, settings.cylinder_mL, DOSE_GRADUATION_mL)
    stock = percent_stock(mass_g, bench)
    if stock is not None:
        return (
            f"dissolve {stock.weigh_g:g} g to {stock.make_mL:g} mL and take "
            f"{stock.dose_mL:g} mL"
        )
    made = plan.job.volume_mL or plan.job.make.number
    size = batch_that_suits(mass_g, made, settings.balance_g)
    dimension = Dimension.MASS if plan.job.volume_mL is None else Dimension.VOLUME
    return f"make {show_amount(Amount(Decimal(str(size)), dimension))} or more"
