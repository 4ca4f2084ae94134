"""What the labels of a set's other parts would say, so that the parts look alike."""

from msgspec.structs import replace

from labelkit.cli.workplace import Workplace
from labelkit.errors import LabelkitError
from labelkit.mixing.batch import Batch
from labelkit.mixing.bottle_text import bottle_texts_for
from labelkit.mixing.words import BottleText

__all__ = ["beside", "other_parts"]


def other_parts(place: Workplace, batch: Batch) -> tuple[BottleText, ...]:
    """The labels of the other parts of a batch's set, mixed alike into such bottles.

    A part whose recipe is not at hand or has faults is left out.
    """
    recipe = batch.plan.recipe
    if not recipe.part or recipe.use is None or place.settings.label:
        return ()
    texts: list[BottleText] = []
    for name in recipe.use.goes_with:
        try:
            texts += _labels_of(place, name, batch)
        except LabelkitError:
            continue
    return tuple(texts)


def beside(words: BottleText, others: tuple[BottleText, ...]) -> tuple[BottleText, ...]:
    """Of the other parts' labels, those of the bottles that stand beside this one."""
    return tuple(other for other in others if other.bottle == words.bottle)


def _labels_of(place: Workplace, name: str, batch: Batch) -> tuple[BottleText, ...]:
    other = place.book.read(name)
    if not other.part:
        return ()
    plan = place.plan(other, on=batch.mixed_on)
    mixed_alike = replace(batch, planned=(), plan=plan, acknowledged=())
    return bottle_texts_for(mixed_alike, place.handbook(other), place.settings)
