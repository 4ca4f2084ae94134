"""How surely the strength is known: from the balance, the cylinder and the assays."""

from collections.abc import Iterator, Mapping
from decimal import Decimal

from msgspec import Struct
from msgspec.structs import replace

from labelkit.chemistry.reactions import Run
from labelkit.chemistry.substances import State
from labelkit.chemistry.weighing import (
    Contribution,
    assay_u,
    combined,
    is_fine_enough,
    other_branch_is_near,
    volume_u_mL,
    weighing_u,
)
from labelkit.mixing.bench import Settings
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.doses import WATER, Dose
from labelkit.mixing.job import Job
from labelkit.mixing.solution import Solution, make_solution

__all__ = ["Weighing", "contributions", "may_limit_instead", "strength_u", "weighings"]

# A share by which a dose is moved to see how the strength follows: small enough to
# stay on the branch that limits at nominal values.
NUDGE = Decimal("1e-9")
GRADUATIONS = 50  # of a cylinder that a dose fills; common practice, no source


class Weighing(Struct, frozen=True):
    """How well one dose is known.

    Attributes:
        relative_u: standard uncertainty (k = 1) as a share; None for water and
            solutions, of which nothing is claimed.
        fine_enough: the instrument knows it to within 5 %.
    """

    step: int
    relative_u: float | None
    fine_enough: bool


def weighings(doses: tuple[Dose, ...], settings: Settings) -> tuple[Weighing, ...]:
    """How well each dose is known, in the order of the doses."""
    return tuple(_weighing(dose, settings) for dose in doses)


def strength_u(
    job: Job, solution: Solution, catalogue: Catalogue, settings: Settings
) -> float | None:
    """Relative standard uncertainty (k = 1) of the strength; None without one."""
    if solution.strength is None:
        return None
    parts = contributions(job, solution, catalogue, settings)
    return combined(parts.values())


def contributions(
    job: Job, solution: Solution, catalogue: Catalogue, settings: Settings
) -> Mapping[str, Contribution]:
    """What the strength depends on: weighings, assays and the final volume, by name.

    Sensitivities are taken on the branch that limits at nominal values.
    """
    found = dict(_of_doses(job, solution, catalogue, settings))
    if job.volume_mL is not None:
        share = volume_u_mL(settings.cylinder_mL) / float(job.volume_mL)
        found["final volume"] = Contribution("final volume", share, -1.0)
    return found


def may_limit_instead(
    job: Job, solution: Solution, settings: Settings
) -> tuple[str, ...]:
    """Reagents so nearly used up that, as far as is known, they may limit instead.

    The strength is reckoned on the branch that limits at nominal values; where another
    lies within twice the uncertainty of the reagents' ratio, that must be said.
    """
    found = []
    for run in solution.runs:
        ratio_u = combined(_of_reagents(job, run, settings))
        for species, _ in run.equation.reactants:
            if species.chemical == run.limiting:
                continue
            left_g = solution.ledger.present_g(species.chemical)
            excess = float(left_g / run.consumed_g[species.chemical])
            if other_branch_is_near(excess, ratio_u):
                found.append(species.chemical)
    return tuple(found)


def _of_reagents(job: Job, run: Run, settings: Settings) -> Iterator[Contribution]:
    reagents = {species.chemical for species, _ in run.equation.reactants}
    for dose in job.doses:
        if dose.chemical in reagents:
            yield Contribution(dose.chemical, _reading_u(dose, settings))
            yield Contribution(dose.chemical, assay_u(float(dose.assay_percent)))


def _of_doses(
    job: Job, solution: Solution, catalogue: Catalogue, settings: Settings
) -> Iterator[tuple[str, Contribution]]:
    for dose in job.doses:
        if dose.chemical == WATER:
            continue
        sensitivity = _sensitivity(job, dose, solution, catalogue)
        if sensitivity == 0:
            continue
        name = f"step {dose.step}, {dose.chemical}"
        share = _reading_u(dose, settings)
        yield name, Contribution(name, share, sensitivity)
        if _has_assay(dose, catalogue):
            assay = f"{name}, assay"
            share = assay_u(float(dose.assay_percent))
            yield assay, Contribution(assay, share, sensitivity)


def _sensitivity(
    job: Job, dose: Dose, solution: Solution, catalogue: Catalogue
) -> float:
    """Per cent by which the strength moves for one per cent of the dose."""
    moved = replace(job, doses=tuple(_nudged(d, dose) for d in job.doses))
    other = make_solution(moved, catalogue)
    assert solution.strength is not None and other.strength is not None
    change = other.strength.mass_g / solution.strength.mass_g - 1
    return float(round(change / NUDGE, 6))


def _nudged(dose: Dose, which: Dose) -> Dose:
    if dose is not which:
        return dose
    more = 1 + NUDGE
    return replace(
        dose,
        mass_g=None if dose.mass_g is None else dose.mass_g * more,
        volume_mL=None if dose.volume_mL is None else dose.volume_mL * more,
    )


def _has_assay(dose: Dose, catalogue: Catalogue) -> bool:
    if dose.chemical not in catalogue.entries:
        return False
    return catalogue.substance(dose.chemical).state is State.SOLID


def _weighing(dose: Dose, settings: Settings) -> Weighing:
    if dose.mass_g is None:
        return Weighing(dose.step, None, fine_enough=True)
    fine = is_fine_enough(dose.mass_g, settings.balance_g)
    return Weighing(dose.step, weighing_u(dose.mass_g, settings.balance_g), fine)


def _reading_u(dose: Dose, settings: Settings) -> float:
    if dose.mass_g is not None:
        return weighing_u(dose.mass_g, settings.balance_g)
    # a dose is taken with a cylinder of its own size, marked in fiftieths of it
    graduation_mL = min(settings.cylinder_mL, dose.poured_mL / GRADUATIONS)
    return volume_u_mL(graduation_mL) / float(dose.poured_mL)
