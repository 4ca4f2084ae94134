"""What is offered after an overshoot, in words."""

from collections.abc import Collection, Sequence

from labelkit.mixing.bench import Settings
from labelkit.mixing.doses import WATER
from labelkit.mixing.overshoot import Rescue
from labelkit.mixing.said import NBSP
from labelkit.mixing.shown import shown_dose, shown_quantity
from labelkit.mixing.words import CardRow

__all__ = ["offer_words"]


def offer_words(
    rescue: Rescue,
    rows: Sequence[CardRow],
    done: Collection[int],
    settings: Settings,
) -> str:
    """The offer: ``To keep the strength: 5.0 g more of Borax, 625 mL in all.``.

    Args:
        rescue: the larger mix.
        rows: the steps.
        done: numbers of the steps that are in already.
        settings: of the bench.
    """
    names = {row.number: "".join(run.text for run in row.what) for row in rows}
    more = [f"{shown_dose(d, settings)} more of {names[d.step]}" for d in rescue.more]
    fills_up = rescue.job.recipe.fills_up
    rest = [
        f"{shown_dose(d, settings)} of {names[d.step]}"
        for d in rescue.job.doses
        if d.step not in done and not (fills_up and d.chemical == WATER)
    ]
    whole = f"{shown_quantity(rescue.job, settings)} in all"
    told = ", ".join((*more, *rest, whole)).replace(NBSP, " ")
    return f"To keep the strength: {told}."
