"""What decides how a bottle's words are set: what they say, or only the room they take.

On a long run every label has a name, a number and figures of its own, and almost all of
them take the same room. Bottles of which this is equal are set alike.
"""

from collections.abc import Callable, Hashable, Iterator
from functools import lru_cache

from msgspec.structs import replace

from labelkit.errors import Misfit
from labelkit.mixing.words import BottleText
from labelkit.printing.boxes import Box, Text
from labelkit.printing.drawn import Choices, Setting
from labelkit.printing.fonts import figures_alike, min_size_pt
from labelkit.printing.hazardblock import room_for_again
from labelkit.printing.headline import is_in_name
from labelkit.printing.layouts import Conditions, Layout, LayoutBox, conditions_of
from labelkit.printing.place import draw_box, is_row
from labelkit.printing.remembered import WORDS_SHOWN

__all__ = ["Decisive", "decisive"]

Decisive = tuple[Hashable, ...]
Measure = Callable[[Layout, LayoutBox, BottleText], Hashable]


def decisive(text: BottleText, layout: Layout) -> Decisive:
    """All the words of a bottle, but for its name, its number and the headline.

    Of these, what decides the room they take in this layout: of a row, where its lines
    come to stand; of a figure, that there is one, since all are as wide.
    """
    headline = text.headline
    rest = replace(text, name="", number="", headline=replace(headline, text=""))
    measured = [
        measure(layout, box, text)
        for box, measure in _measured(layout, conditions_of(text))
    ]
    hung = headline.text.lstrip()[:1]  # how far it is hung depends on the figure
    named = is_in_name(headline, text.name)
    return (rest, named, hung, figures_alike(headline.text), *measured)


@lru_cache(maxsize=256)
def _measured(
    layout: Layout, conditions: Conditions
) -> tuple[tuple[LayoutBox, Measure], ...]:
    """The boxes that show a name or a number, and how what they take is measured."""
    found = []
    for box in layout.boxes_for(conditions):
        measure = _measure_of(box)
        if measure:
            found.append((box, measure))
    return tuple(found)


def _measure_of(box: LayoutBox) -> Measure | None:
    if box.words:
        return _words
    fields = [f for f in box.shows if _VARIES.intersection(WORDS_SHOWN[f])]
    if not set(fields) - {"substance"}:  # whether the name says it is known
        return None
    if fields == ["hazards"]:
        return _again
    return _lines if is_row(box) else _words


_VARIES = frozenset({"name", "number"})


def _words(_layout: Layout, _box: LayoutBox, text: BottleText) -> Hashable:
    return text.name, text.number, text.headline.text


def _again(_layout: Layout, box: LayoutBox, text: BottleText) -> Hashable:
    return room_for_again(box, text)


def _lines(layout: Layout, box: LayoutBox, text: BottleText) -> Hashable:
    """Where the lines of a row come to stand; the words where they find no room."""
    least = min_size_pt(float(text.volume_mL))
    kept = (True, False) if text.tally else (True,)
    settings = [
        Setting(text, Choices(0.0, tally=tally), least, "red", keyline=True)
        for tally in kept
    ]
    try:
        drawn = [draw_box(layout, box, box.y, setting) for setting in settings]
    except Misfit:
        return _words(layout, box, text)
    return tuple([tuple(_stand(one.boxes)) for one in drawn])


def _stand(boxes: tuple[Box, ...]) -> Iterator[Hashable]:
    """Of each block its height, and each line's baseline and largest type [mm, pt]."""
    for block in boxes:
        if isinstance(block, Text):
            yield block.h
            for line in block.lines:
                yield line.y
                yield max([size for _, _, size in line.pieces])
