"""From a batch to what is kept of it: the words of its label and page, frozen."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from labelkit.mixing.batch import Batch
from labelkit.mixing.bench import Settings
from labelkit.mixing.bottle_text import bottle_texts_for
from labelkit.mixing.freezing import freeze
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.page_text import page_text_for
from labelkit.mixing.ports import Record
from labelkit.mixing.words import BottleText

__all__ = ["keep"]


def keep(
    batch: Batch,
    handbook: Handbook,
    settings: Settings,
    *,
    layout_for: Callable[[BottleText], str],
    chemicals: Sequence[Mapping[str, Any]],
    choices: Mapping[str, str],
) -> Record:
    """The record of a batch, ready for the shelf.

    Args:
        batch: worked out from the weights as read.
        handbook: what was looked up.
        settings: of the bench.
        layout_for: names the layout that takes a bottle's words, "" where none does.
        chemicals: the entries of what it holds, as tables.
        choices: which form each unclear word of the recipe was settled to mean.
    """
    bottles = bottle_texts_for(batch, handbook, settings)
    return freeze(
        batch,
        settings,
        chemicals=chemicals,
        choices=choices,
        bottles=bottles,
        layouts=[layout_for(words) for words in bottles],
        page=page_text_for(batch, handbook, settings),
    )
