"""What to beware of in a plan or a batch: one file for each kind of remark."""

from collections.abc import Callable, Iterable

from labelkit.mixing.bench import Settings
from labelkit.mixing.check import Check, Level
from labelkit.mixing.checks.acid_order import check_acid_order
from labelkit.mixing.checks.assay import check_assay
from labelkit.mixing.checks.caustic import check_caustic
from labelkit.mixing.checks.container import check_container
from labelkit.mixing.checks.density import check_density
from labelkit.mixing.checks.expired_stock import check_expired_stock
from labelkit.mixing.checks.hygroscopic import check_hygroscopic
from labelkit.mixing.checks.incompatible import check_incompatible
from labelkit.mixing.checks.leftover import check_leftover
from labelkit.mixing.checks.look_alike import check_look_alike
from labelkit.mixing.checks.near_limit import check_near_limit
from labelkit.mixing.checks.order import check_order
from labelkit.mixing.checks.restricted import check_restricted
from labelkit.mixing.checks.shelf_life import check_shelf_life
from labelkit.mixing.checks.solubility import check_solubility
from labelkit.mixing.checks.volume import check_volume
from labelkit.mixing.checks.warming import check_warming
from labelkit.mixing.checks.weighing import check_weighing
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.plan import Plan

__all__ = ["CHECKS", "checks_for"]

CHECKS: tuple[Callable[[Plan, Handbook, Settings], Iterable[Check]], ...] = (
    check_incompatible,
    check_caustic,
    check_warming,
    check_acid_order,
    check_order,
    check_solubility,
    check_leftover,
    check_volume,
    check_weighing,
    check_assay,
    check_hygroscopic,
    check_container,
    check_expired_stock,
    check_shelf_life,
    check_near_limit,
    check_look_alike,
    check_restricted,
    check_density,
)


def checks_for(plan: Plan, handbook: Handbook, settings: Settings) -> tuple[Check, ...]:
    """Every remark on a plan, the gravest first, then in step order."""
    found = [c for check in CHECKS for c in check(plan, handbook, settings)]
    ranks = list(Level)
    return tuple(sorted(found, key=lambda c: (ranks.index(c.level), c.step or 0)))
