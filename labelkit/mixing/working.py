"""Working a recipe out: from its amounts to a plan, from readings to a batch."""

from collections.abc import Mapping
from datetime import datetime
from decimal import Decimal

from msgspec.structs import replace

from labelkit.chemistry.amounts import Amount
from labelkit.chemistry.display import figures
from labelkit.errors import BadInput
from labelkit.hazards.as_formed import classify_as_formed
from labelkit.mixing.acidity import acidity_of
from labelkit.mixing.bench import Settings
from labelkit.mixing.checks import checks_for
from labelkit.mixing.dates import Day
from labelkit.mixing.doses import (
    WATER,
    Dose,
    Stock,
    doses_for,
    mass_of,
    poured,
    scaling,
    volume_of,
)
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.headline import headline_for, part_mark
from labelkit.mixing.job import Job
from labelkit.mixing.plan import Plan
from labelkit.mixing.recipe import Recipe
from labelkit.mixing.solution import Solution, make_solution
from labelkit.mixing.uncertainty import strength_u, weighings
from labelkit.mixing.vessels import walk
from labelkit.mixing.warming import warming_of

__all__ = ["as_stock", "plan_recipe", "work_out"]


def plan_recipe(
    recipe: Recipe,
    make: Amount | None,
    handbook: Handbook,
    settings: Settings,
    *,
    on: datetime,
    stocks: Mapping[str, Stock] | None = None,
) -> Plan:
    """Work a recipe out for a quantity.

    Args:
        recipe: as read.
        make: how much; the recipe's own quantity where None.
        handbook: what is looked up.
        settings: of the bench, for its balance and cylinder.
        on: when it is to be mixed.
        stocks: the solutions it takes, by recipe name.

    Raises:
        BadInput: the quantity, a reaction or the strength cannot be as asked.
    """
    make = make or recipe.makes
    catalogue, stocks = handbook.catalogue, dict(stocks or {})
    factor = scaling(recipe, make)
    batches = {name: stock.batch for name, stock in stocks.items()}
    doses = doses_for(recipe, factor, catalogue, handbook.assays, batches)
    made = replace(recipe.makes, number=recipe.makes.number * factor)
    volume_mL = volume_of(made, recipe.measured.density_g_per_mL)
    job = Job(recipe, make, doses, volume_mL, recipe.measured, on, stocks)
    _refuse_overfull(job, handbook)
    return work_out(job, handbook, settings)


def work_out(job: Job, handbook: Handbook, settings: Settings) -> Plan:
    """Work out what comes of a job, planned or as it was read.

    Raises:
        BadInput: a reaction cannot run, or the strength asked for is not in it.
    """
    catalogue = handbook.catalogue
    solution = make_solution(job, catalogue)
    relative_u = strength_u(job, solution, catalogue, settings)
    ph, bounds, ph_reason = acidity_of(
        solution, job.measured, catalogue, handbook.acidity
    )
    hazard = classify_as_formed(
        solution.parts(catalogue),
        ph=ph,
        ph_bounds=bounds,
        regime=settings.regime,
        solid=solution.dry,
    )
    headline = headline_for(
        job.recipe, solution.strength, relative_u, job.volume_mL, job.doses,
        catalogue, handbook.parts,
    )  # fmt: skip
    moments = walk(job, catalogue)
    plan = Plan(
        job,
        moments,
        solution,
        weighings(job.doses, settings),
        relative_u,
        headline,
        part_mark(job.recipe, handbook.parts),
        ph,
        warming_of(moments, catalogue),
        hazard,
        checks=(),
        discard_after=_discard_after(job),
        reasons=_reasons(job, solution, ph_reason),
        ph_bounds=bounds,
    )
    return replace(plan, checks=checks_for(plan, handbook, settings))


def as_stock(plan: Plan, *, batch: str = "") -> Stock:
    """What a worked-out solution is to a recipe that takes it by the mL.

    Raises:
        BadInput: no volume of it is known.
    """
    if plan.job.volume_mL is None:
        raise BadInput(
            f"{plan.recipe.name} is made by mass, so no mL of it can be poured",
            remedy="Name a recipe that makes a volume.",
        )
    recipe = plan.recipe
    return Stock(
        recipe.name,
        recipe.title,
        plan.solution.ledger,
        plan.job.volume_mL,
        batch,
        recipe.part,
        plan.discard_after,
    )


def _refuse_overfull(job: Job, handbook: Handbook) -> None:
    """Refuse to fill up to less than what was already put in."""
    fill = next((step for step in job.recipe.steps if step.make_up_to), None)
    if fill is None:
        return
    if job.by_mass:
        inside = poured(job.doses, handbook.catalogue, job.stocks).mass_g
        full, unit, what = job.make.number, "g", "go in"
    else:
        inside = sum((_liquid_mL(d, handbook) for d in job.doses), Decimal(0))
        full, unit, what = job.volume_mL or Decimal(0), "mL", "of liquids go in"
    if inside > full:
        raise BadInput(
            f"{figures(inside, 4)} {unit} {what}, more than the "
            f"{figures(full, 4)} {unit} it is made up to",
            place=f"step {fill.number}, make_up_to",
            remedy="Take less water at the start, or make more.",
        )


def _liquid_mL(dose: Dose, handbook: Handbook) -> Decimal:
    if dose.volume_mL is not None:
        return dose.volume_mL
    if dose.chemical == WATER:
        return dose.mass_g or Decimal(0)
    substance = handbook.catalogue.substance(dose.chemical)
    if substance.density is None:
        return Decimal(0)
    return mass_of(dose, substance) / substance.density.value


def _discard_after(job: Job) -> Day | None:
    lasts = job.recipe.lasts
    if lasts is None:
        return None
    return lasts.after(job.on if lasts.by_the_clock else job.on.date())


def _reasons(job: Job, solution: Solution, ph_reason: str) -> dict[str, str]:
    told = {"ph": ph_reason, "density": solution.density_reason}
    if solution.strength is None:
        told["strength"] = "the recipe names no [strength]"
    if _discard_after(job) is None:
        told["discard_after"] = "the recipe does not say how long it keeps"
    return {name: reason for name, reason in told.items() if reason}
