"""Whether a solution that is not filled up comes to the volume it claims."""

from collections.abc import Iterator
from decimal import Decimal

from labelkit.chemistry.display import figures
from labelkit.mixing.bench import Settings
from labelkit.mixing.check import Check, Level
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.plan import Plan

__all__ = ["check_volume"]

FAR_OFF = Decimal("0.05")


def check_volume(plan: Plan, handbook: Handbook, settings: Settings) -> Iterator[Check]:
    """Masses over density, or masses against the mass claimed: more than 5 % apart."""
    if plan.recipe.fills_up:
        return
    got, claimed, unit = _got_and_claimed(plan)
    if got is None or abs(got - claimed) <= FAR_OFF * claimed:
        return
    yield Check(
        "volume",
        Level.WARN,
        None,
        f"The parts come to {figures(got, 3)} {unit}, the recipe says "
        f"{figures(claimed, 3)} {unit}: fill up to a mark, or mend what it makes.",
    )


def _got_and_claimed(plan: Plan) -> tuple[Decimal | None, Decimal, str]:
    volume_mL, density = plan.job.volume_mL, plan.solution.density
    mass_g = plan.solution.ledger.mass_g
    if volume_mL is None:
        return mass_g, plan.job.make.number, "g"
    return (mass_g / density.g_per_mL if density else None), volume_mL, "mL"
