"""What a reaction leaves over, and how much of the other would use it up."""

from collections.abc import Iterator
from decimal import Decimal

from labelkit.chemistry.display import figures
from labelkit.chemistry.reactions import Run
from labelkit.chemistry.substances import Substance
from labelkit.mixing.bench import Settings
from labelkit.mixing.check import Check, Level
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.plan import Plan

__all__ = ["check_leftover"]

# A strong acid or base left above either of these is serious.
SERIOUS_SHARE = Decimal("0.05")  # of what was added
SERIOUS_G_PER_L = Decimal(1)
NOTED_SHARE = Decimal("0.01")
STRONG = frozenset({"strong-acid", "strong-base"})


def check_leftover(
    plan: Plan, handbook: Handbook, settings: Settings
) -> Iterator[Check]:
    """A reagent left over: serious for a strong acid or base, else noted above 1 %."""
    for run in plan.solution.runs:
        for species, _ in run.equation.reactants:
            substance = handbook.catalogue.substance(species.chemical)
            level = _level(substance, plan, settings)
            if level:
                text = _text(substance, run, plan, handbook)
                yield Check("leftover", level, None, text)


def _level(substance: Substance, plan: Plan, settings: Settings) -> Level | None:
    line = plan.solution.ledger.lines[substance.id]
    left_g, share = line.present_g, line.present_g / (line.added_g + line.formed_g)
    if left_g < settings.balance_g:
        return None
    volume_mL = plan.job.volume_mL
    per_litre = left_g / volume_mL * 1000 if volume_mL else Decimal(0)
    strong = bool(substance.tags & STRONG)
    if strong and (share > SERIOUS_SHARE or per_litre > SERIOUS_G_PER_L):
        return Level.WARN
    return Level.NOTE if share > NOTED_SHARE else None


def _text(substance: Substance, run: Run, plan: Plan, handbook: Handbook) -> str:
    left_g = plan.solution.ledger.present_g(substance.id)
    other = handbook.catalogue.substance(run.limiting)
    more_g = run.consumed_g[run.limiting] * left_g / run.consumed_g[substance.id]
    return (
        f"{figures(left_g, 2)} g of {substance.name} are left over; "
        f"{figures(more_g, 2)} g more of {other.name} would use them up."
    )
