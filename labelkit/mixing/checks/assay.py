"""Jars that are not what the amounts were written for, or of unknown strength."""

from collections.abc import Iterator
from decimal import Decimal

from labelkit.chemistry.display import figures, plain
from labelkit.chemistry.substances import State
from labelkit.mixing.bench import Settings
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.check import Check, Level
from labelkit.mixing.checks.caustic import is_dry_lye
from labelkit.mixing.checks.holding import capital
from labelkit.mixing.doses import Dose
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.plan import Plan
from labelkit.mixing.recipe import Step

__all__ = ["carries_the_strength", "check_assay", "has_no_assay"]

PURE = Decimal(100)
# The jar is this far from what the amount was written for [share of it]; ours.
FAR_OFF = Decimal("0.10")
# Solids that run wet in air: their assay falls by many points (handbooks, recalled).
DRINKS = "deliquescent"


def check_assay(plan: Plan, handbook: Handbook, settings: Settings) -> Iterator[Check]:
    """A jar far from what was written, or a wet-running solid without an assay."""
    steps = {step.number: step for step in plan.recipe.steps}
    told: set[str] = set()
    for dose in plan.job.doses:
        if dose.chemical not in handbook.catalogue or dose.chemical in told:
            continue
        text = _far_off(dose, steps[dose.step], handbook.catalogue)
        text = text or _unknown(dose, steps[dose.step], plan, handbook)
        if text:
            told.add(dose.chemical)
            yield Check("assay", Level.NOTE, dose.step, text)


def has_no_assay(dose: Dose, step: Step, handbook: Handbook) -> bool:
    """Whether neither the step nor the jar says how pure it is."""
    return step.assay_percent is None and dose.chemical not in handbook.assays


def carries_the_strength(dose: Dose, plan: Plan, catalogue: Catalogue) -> bool:
    """Whether the strength told on the label moves with it.

    It does where it is a form of what the strength is of, or the reagent that limits
    how much of that is formed.
    """
    of = plan.recipe.strength_of
    if of is None:
        return False
    parent = catalogue.substance(of).parent
    limiting = {run.limiting for run in plan.solution.runs if of in run.formed_g}
    return (
        dose.chemical in limiting or catalogue.substance(dose.chemical).parent == parent
    )


def _far_off(dose: Dose, step: Step, catalogue: Catalogue) -> str:
    written = step.assay_percent or PURE
    if abs(dose.assay_percent - written) <= FAR_OFF * written or dose.mass_g is None:
        return ""
    name = catalogue.substance(dose.chemical).name
    before_g = dose.mass_g * dose.assay_percent / written
    return (
        f"The jar of {name} is {plain(dose.assay_percent)} %, the recipe was written "
        f"for {plain(written)} %: {figures(dose.mass_g, 3)} g do the work of "
        f"{figures(before_g, 3)} g. Read the jar's label once more."
    )


def _unknown(dose: Dose, step: Step, plan: Plan, handbook: Handbook) -> str:
    substance = handbook.catalogue.substance(dose.chemical)
    drinks = substance.state is State.SOLID and DRINKS in substance.flags
    if not drinks or substance.molar_mass is None:
        return ""
    lye = is_dry_lye(dose.chemical, handbook.catalogue)
    matters = lye or carries_the_strength(dose, plan, handbook.catalogue)
    if not matters or not has_no_assay(dose, step, handbook):
        return ""
    advice = f" ({substance.assay_advice})" if substance.assay_advice else ""
    return (
        f"{capital(substance.name)} draws water from the air, and no assay is known: "
        f"100 % is taken{advice}. Write what the jar says into jars.toml or --lot."
    )
