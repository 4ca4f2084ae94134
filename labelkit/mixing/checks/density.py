"""A density that must be measured before shares can be told."""

from collections.abc import Iterator

from labelkit.mixing.bench import Settings
from labelkit.mixing.check import Check, Level
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.plan import Plan

__all__ = ["check_density"]

TEXT = (
    "It holds so much alcohol that its density must be measured: until then every "
    "share is reckoned as if it were as light as pure spirit, never too low. Weigh "
    "100 mL of it and say so with --density."
)


def check_density(
    plan: Plan, handbook: Handbook, settings: Settings
) -> Iterator[Check]:
    """Rich in alcohol without a measured density: one is asked for."""
    if plan.solution.density is not None or plan.job.volume_mL is None:
        return
    held = (handbook.catalogue.substance(c) for c in plan.solution.ledger.lines)
    if any("alcohol" in substance.tags for substance in held):
        yield Check("near-limit", Level.NOTE, None, TEXT)
