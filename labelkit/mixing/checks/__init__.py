"""What to beware of in a plan or a batch: one file for each kind of remark."""

from collections.abc import Callable, Iterable

from labelkit.mixing.bench import Settings
from labelkit.mixing.check import Check, Level
from labelkit.mixing.checks.leftover import check_leftover
from labelkit.mixing.checks.volume import check_volume
from labelkit.mixing.checks.weighing import check_weighing
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.plan import Plan

__all__ = ["CHECKS", "checks_for"]

CHECKS: tuple[Callable[[Plan, Handbook, Settings], Iterable[Check]], ...] = (
    check_leftover,
    check_volume,
    check_weighing,
)


def checks_for(plan: Plan, handbook: Handbook, settings: Settings) -> tuple[Check, ...]:
    """Every remark on a plan, the gravest first, then in step order."""
    found = [c for check in CHECKS for c in check(plan, handbook, settings)]
    ranks = list(Level)
    return tuple(sorted(found, key=lambda c: (ranks.index(c.level), c.step or 0)))
