"""The steps of a recipe as rows: what to add, how much, and what to beware of."""

from collections.abc import Sequence
from decimal import Decimal

from labelkit.chemistry.display import plain, show_duration, show_temperature_C
from labelkit.mixing.bench import Settings
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.doses import WATER, Dose
from labelkit.mixing.plan import Plan
from labelkit.mixing.recipe import Step
from labelkit.mixing.said import NBSP, bound, capital
from labelkit.mixing.shown import shown_dose, shown_quantity
from labelkit.mixing.words import CardAmount, CardRow, Run, Words

__all__ = ["step_rows", "what_is_added"]

WATERS = {"boiled": "Boiled water", "distilled": "Distilled water"}


def step_rows(
    plans: Sequence[Plan], catalogue: Catalogue, settings: Settings
) -> tuple[CardRow, ...]:
    """The steps, with one amount for each of ``plans`` of the same recipe."""
    first = plans[0]
    return tuple(_row(step, plans, catalogue, settings) for step in first.recipe.steps)


def what_is_added(dose: Dose, plan: Plan, catalogue: Catalogue) -> str:
    """The name of what a step adds, as it is printed."""
    if dose.chemical == WATER:
        return WATERS.get(dose.kind, "Water")
    if dose.chemical.startswith("recipe:"):
        stock = plan.job.stocks[dose.chemical.removeprefix("recipe:")]
        return f"{stock.title} {stock.part}".strip()
    return capital(catalogue.substance(dose.chemical).name)


def _row(
    step: Step, plans: Sequence[Plan], catalogue: Catalogue, settings: Settings
) -> CardRow:
    doses = [_dose_of(plan, step.number) for plan in plans]
    if doses[0] is not None:
        return _adding(step, plans, doses, catalogue, settings)
    if step.make_up_to is not None:
        return _filling(step, plans, settings)
    kind, what = "text", step.text
    detail = ""
    if step.pour is not None:
        kind, what, detail = "pour", f"Pour in the {step.pour}", step.text
    elif step.cool_to_C is not None:
        what = f"Cool to {bound(show_temperature_C(step.cool_to_C))}"
        detail = step.text
    return CardRow(
        kind,
        step.number,
        (Run(what, strong=True),),
        _with_wait(detail, step),
        caution=step.caution,
        vessel=step.vessel,
    )


def _adding(
    step: Step,
    plans: Sequence[Plan],
    doses: Sequence[Dose | None],
    catalogue: Catalogue,
    settings: Settings,
) -> CardRow:
    dose = doses[0]
    assert dose is not None
    amounts = tuple(
        CardAmount(bound(shown_dose(d, settings))) for d in doses if d is not None
    )
    return CardRow(
        "step",
        step.number,
        _what(dose, plans[0], catalogue),
        _with_wait(_detail(step, dose), step),
        amounts,
        step.caution,
        step.vessel,
    )


def _what(dose: Dose, plan: Plan, catalogue: Catalogue) -> Words:
    told = what_is_added(dose, plan, catalogue)
    at = "" if dose.at_C is None else f", {bound(show_temperature_C(dose.at_C))}"
    return (Run(f"{told}{at}", strong=True),)


def _detail(step: Step, dose: Dose) -> str:
    """The step's own words, after the jar's assay where it matters."""
    if dose.assay_percent == Decimal(100):
        return step.text
    assay = f"{plain(dose.assay_percent)}{NBSP}%"
    return f"{assay}. {step.text}" if step.text else assay


def _filling(step: Step, plans: Sequence[Plan], settings: Settings) -> CardRow:
    amounts = tuple(
        CardAmount(bound(shown_quantity(plan.job, settings))) for plan in plans
    )
    water = _water_of(plans[0])
    what = (Run(f"Fill with {water} ", strong=True), Run("up to", strong=True))
    return CardRow(
        "fill", step.number, what, step.text, amounts, step.caution, step.vessel
    )


def _water_of(plan: Plan) -> str:
    """The water a recipe is filled up with: of the kind it begins with."""
    kinds = (dose.kind for dose in plan.job.doses if dose.chemical == WATER)
    kind = next((kind for kind in kinds if kind in WATERS), "")
    return f"{kind or 'cold'} water"


def _with_wait(text: str, step: Step) -> str:
    if step.wait is None:
        return text
    wait = f"Wait {bound(show_duration(step.wait))}."
    return f"{text} {wait}".strip()


def _dose_of(plan: Plan, step: int) -> Dose | None:
    return next((dose for dose in plan.job.doses if dose.step == step), None)
