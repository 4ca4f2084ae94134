"""One bottle's label: from its words to a page of placed boxes."""

from labelkit.mixing.bench import Settings
from labelkit.mixing.words import BottleText
from labelkit.printing.fit import Placement, choose, fit
from labelkit.printing.layouts import Layout
from labelkit.printing.said import printable

__all__ = ["place_label"]


def place_label(
    text: BottleText,
    *,
    layout: Layout | None,
    settings: Settings,
    own: tuple[Layout, ...] = (),
    beside: tuple[BottleText, ...] = (),
) -> Placement:
    """The label of one bottle.

    Args:
        text: what it must say.
        layout: where; None for the one the settings name, else the smallest that does.
        settings: of the bench.
        own: layouts of the bench beside the built-in ones.
        beside: what the labels of the other parts of its set say.

    Raises:
        BadInput: a character that the printed type does not have.
        Misfit: the words do not fit; the remedy names a layout that carries them.
        Unknown: the settings name a layout that is not there.
    """
    words = printable(text)
    taken = layout or choose(
        words, own, settings.profile, settings.label, tuple(map(printable, beside))
    )
    return fit(
        words,
        taken,
        profile=settings.profile,
        mono=settings.mono,
        keyline=settings.draws_keyline,
    )
