"""The date of a bottle that was opened or is only part full: sooner, never later."""

from datetime import datetime

from labelkit.mixing.dates import Day
from labelkit.mixing.recipe import Recipe

__all__ = ["brought_forward"]


def brought_forward(recipe: Recipe, what: str, at: datetime) -> Day | None:
    """The date to discard it after, from what happened to it; None where unchanged.

    Opened, it keeps for ``keeps_opened``; once some was used it is part full and keeps
    for ``keeps_part_full``. The earlier of this and its first date counts; topping up
    never brings a later one.

    Args:
        recipe: of the batch, as it was frozen.
        what: what happened: ``opened``, ``used`` and so on.
        at: when it happened.
    """
    keeps = {"opened": recipe.keeps_opened, "used": recipe.keeps_part_full}.get(what)
    if keeps is None:
        return None
    return keeps.after(at if keeps.by_the_clock else at.date())
