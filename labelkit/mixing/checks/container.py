"""Bottles that do not suit what goes into them, from the recipe's own words."""

import re
from collections.abc import Iterator

from labelkit.chemistry.amounts import Duration
from labelkit.mixing.bench import Settings
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.check import Check, Level
from labelkit.mixing.checks.holding import capital, tags_of
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.plan import Plan

__all__ = ["check_container"]

FOOD = re.compile(
    r"\b(food(?!.grade)|drinks?|drinking|beverage|milk|juice|beer|wine|cola|lemonade|squash|jam"
    r"|honey|pickle|sauce|ketchup|coffee|tea|whisky|(mineral|soda|spring) water"
    r"|water bottle|soda bottle|soft.drink|lunch ?box|mug|cup)\b",
    re.IGNORECASE,
)
NEVER_FOOD = re.compile(r"\b(no|not|never|without)\b", re.IGNORECASE)
GROUND = re.compile(r"\bground\b|\bglass.stopper", re.IGNORECASE)
CLEAR = re.compile(
    r"\b(clear|colou?rless|transparent|flint)\b.*\b(glass|bottle|jar)\b", re.I
)
POOR_BARRIER = re.compile(r"\b(hdpe|ldpe|pe|polythene|polyethylene)\b", re.IGNORECASE)
ALKALI = frozenset({"base", "strong-base", "carbonate"})
# Short-lived baths need no barrier; ours.
KEPT_LONG = Duration(1, "weeks")


def check_container(
    plan: Plan, handbook: Handbook, settings: Settings
) -> Iterator[Check]:
    """Food bottles, ground stoppers on alkali, clear bottles, air through HDPE.

    Silent where the recipe does not say what it is kept in.
    """
    words = plan.recipe.keep_in
    if not words or plan.solution.dry:
        return
    catalogue = handbook.catalogue
    if FOOD.search(words) and not NEVER_FOOD.search(words):
        text = (
            f"'{words}': never a food or drink container, not even with a label. "
            "Somebody drinks from it. Take a laboratory bottle."
        )
        yield Check("container", Level.WARN, None, text)
    for text in (
        _seized(plan, catalogue),
        _lit(plan, catalogue),
        _breathing(plan, catalogue),
    ):
        if text:
            yield Check("container", Level.NOTE, None, text)


def _seized(plan: Plan, catalogue: Catalogue) -> str:
    name = _first(plan, catalogue, tags=ALKALI)
    if not name or not GROUND.search(plan.recipe.keep_in):
        return ""
    return (
        f"{capital(name)} makes a ground glass stopper stick for good: take a plastic "
        "cap."
    )


def _lit(plan: Plan, catalogue: Catalogue) -> str:
    name = _first(plan, catalogue, flags=frozenset({"light_sensitive"}))
    if not name or not CLEAR.search(plan.recipe.keep_in):
        return ""
    return f"Light spoils {name}: take brown glass, or keep it in the dark."


def _breathing(plan: Plan, catalogue: Catalogue) -> str:
    name = _first(plan, catalogue, tags=frozenset({"developer"}))
    keeps = plan.recipe.keeps
    if not name or keeps is None or not POOR_BARRIER.search(plan.recipe.keep_in):
        return ""
    if keeps.after(plan.job.on) <= KEPT_LONG.after(plan.job.on):
        return ""
    return (
        f"Air gets through polyethylene and spoils {name}: take glass or PET, filled "
        "to the neck."
    )


def _first(
    plan: Plan,
    catalogue: Catalogue,
    tags: frozenset[str] = frozenset(),
    flags: frozenset[str] = frozenset(),
) -> str:
    """The name of the first solute with any of these tags or flags."""
    for content in plan.solution.contents:
        substance = catalogue.substance(content.chemical)
        if tags_of(substance.id, catalogue) & tags or substance.flags & flags:
            return substance.name
    return ""
