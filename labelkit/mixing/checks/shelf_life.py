"""Promised to keep for longer than practice has seen."""

from collections.abc import Iterator
from datetime import datetime

from labelkit.chemistry.amounts import Duration
from labelkit.chemistry.display import show_duration
from labelkit.mixing.bench import Settings
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.check import Check, Level
from labelkit.mixing.checks.holding import tags_of
from labelkit.mixing.checks.practice import Held, practice_for
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.plan import Plan

__all__ = ["check_shelf_life"]

# Any diluted developer; community darkrooms' rule.
DILUTED = Duration(24, "hours")


def check_shelf_life(
    plan: Plan, handbook: Handbook, settings: Settings
) -> Iterator[Check]:
    """A solution that is to keep for longer than its kind is seen to keep."""
    if plan.solution.dry:
        return
    held = _held(plan, handbook.catalogue)
    text = _kept_too_long(plan, held) or _used_too_long(plan, held)
    if text:
        yield Check("shelf-life", Level.NOTE, None, text)


def _kept_too_long(plan: Plan, held: Held) -> str:
    practice, recipe, on = practice_for(held), plan.recipe, plan.job.on
    if practice is None:
        return ""
    for keeps, longest, how in (
        (recipe.keeps, practice.longest, ""),
        (recipe.keeps_part_full, practice.part_full, " part-full"),
    ):
        if keeps and longest and _is_longer(keeps, longest, on):
            return (
                f"Kept {show_duration(keeps)}{how}; seen for {practice.kind}: "
                f"{practice.says}. Test before use."
            )
    return ""


def _used_too_long(plan: Plan, held: Held) -> str:
    keeps = plan.recipe.keeps_working
    if (
        keeps is None
        or not held.develops
        or not _is_longer(keeps, DILUTED, plan.job.on)
    ):
        return ""
    return (
        f"Diluted for use it is to keep {show_duration(keeps)}; community darkrooms "
        "throw a diluted developer away after 24 hours."
    )


def _is_longer(keeps: Duration, than: Duration, on: datetime) -> bool:
    return keeps.after(on) > than.after(on)


def _held(plan: Plan, catalogue: Catalogue) -> Held:
    contents = [content.chemical for content in plan.solution.contents]
    use = plan.recipe.use
    poured = [d.chemical for d in plan.job.doses if d.chemical.startswith("recipe:")]
    return Held(
        tags=frozenset[str]().union(*(tags_of(c, catalogue) for c in contents)),
        parents=frozenset(catalogue.substance(c).parent for c in contents),
        poured=bool(poured),
        used_as_is=use is None or not use.ratio,
        alone=len(contents) == 1,
    )
