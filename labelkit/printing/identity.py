"""What the identity half of a tag or a pair shows of the hazards, and its hole."""

from collections.abc import Iterator

from msgspec import Struct

from labelkit.errors import Misfit
from labelkit.mixing.words import Pictogram
from labelkit.printing.boxes import Box, Ring, Text
from labelkit.printing.drawn import Drawn, Setting
from labelkit.printing.hazardblock import (
    BESIDE_PICTOGRAMS_MM,
    UNDER_PICTOGRAMS_MM,
    add_signal,
)
from labelkit.printing.layouts import LayoutBox
from labelkit.printing.rows import running_words
from labelkit.printing.symbols import (
    SymbolStyle,
    diamond_mm,
    place_symbols,
    symbols_size,
)
from labelkit.printing.typeset import Flow

__all__ = ["draw_hole", "draw_pictograms"]

HOLE_LINE_MM, HOLE_DASH_MM = 0.18, 0.6
# Where the hazards are said once more, the pictogram may be this small [mm].
_SMALLER = (13.0, 10.0)
_LARGEST_THAT_GIVES_WAY = 16.0
_SHARE_ABOVE = 0.6  # of the white that is left, above the pictograms

Candidate = tuple[tuple[Box, ...], float]  # the boxes, and where they end [mm]


class _Way(Struct, frozen=True):
    """One way to set it: what the pictograms look like, and where the fields stand.

    Attributes:
        side: of the pictograms [mm].
        worded: they have their words under them.
        signal: wanted and smallest size of the signal word [pt].
        beside: the fields stand beside the pictograms, not above.
    """

    side: float
    worded: bool
    signal: tuple[float, float]
    beside: bool


def draw_hole(box: LayoutBox, top: float, _setting: Setting) -> Drawn:
    """A fine circle that shows where to punch."""
    ring = Ring(box.x, top, box.w, HOLE_LINE_MM, HOLE_DASH_MM, "hole")
    return Drawn((ring,), top + box.h, float("inf"))


def draw_pictograms(box: LayoutBox, top: float, setting: Setting) -> Drawn:
    """Pictograms and signal word, and beside or above them the other fields.

    Of all the ways the first that fits, else the lowest; the words under the
    pictograms are the last but one to go, since the other half has them, then the
    size of the signal word.

    Raises:
        Misfit: a word or a pictogram is wider than the box.
    """
    way, ends = _best(box, top, setting)
    spare = box.bottom - ends
    if spare > 0 and setting.choices.tight:  # off the rows above, which stand close
        top += spare * _SHARE_ABOVE
    boxes, _ = _arranged(box, top, setting, way)
    return Drawn(boxes, box.bottom, spare)


def _best(box: LayoutBox, top: float, setting: Setting) -> tuple[_Way, float]:
    """The first way that fits, else the lowest; and where it ends [mm]."""
    best: tuple[_Way, float] | None = None
    wrong = Misfit("the pictograms are wider than their place")
    for way in _ways(box, setting):
        try:
            _, ends = _arranged(box, top, setting, way)
        except Misfit as misfit:
            wrong = misfit
            continue
        if ends <= box.bottom:
            return way, ends
        if best is None or ends < best[1] - 0.05:
            best = way, ends
    if best is None:
        raise wrong
    return best


def _ways(box: LayoutBox, setting: Setting) -> Iterator[_Way]:
    """Every way to set it, the one that is wanted first."""
    wanted = setting.choices.side
    smaller = _SMALLER if wanted <= _LARGEST_THAT_GIVES_WAY else ()
    sides = dict.fromkeys((wanted, *(side for side in smaller if side < wanted)))
    grown = setting.running_pt(box) > max(setting.least_pt, box.smallest)
    least = (box.signal[1], box.signal[1])
    looks = ((True, box.signal), (False, box.signal), (False, least))
    for worded, signal in looks[: 1 if grown or not setting.choices.tight else None]:
        for side in sides:
            yield _Way(side, worded, signal, beside=True)
            yield _Way(side, worded, signal, beside=False)


def _arranged(box: LayoutBox, top: float, setting: Setting, way: _Way) -> Candidate:
    hazard, size = setting.text.hazard, setting.running_pt(box)
    words = running_words(box.shows[1:], setting)
    above = Flow(box.x, top, box.w)
    if not way.beside:
        above.add(box.shows[-1], words, size)
        above.skip(UNDER_PICTOGRAMS_MM if above.blocks else 0.0)
    group, wide, high = _group(box, above.y, setting, way)
    shift = wide + BESIDE_PICTOGRAMS_MM if group else 0.0
    if shift >= box.w:
        raise Misfit("the pictograms leave no room beside them")
    column = Flow(box.x + shift, above.y, box.w - shift)
    add_signal(column, hazard.signal, way.signal)
    if way.beside:
        column.add(box.shows[-1], words, size)
    ends = max(above.y + high, column.y)
    return (*above.blocks, *group, *column.blocks), ends


def _group(
    box: LayoutBox, top: float, setting: Setting, way: _Way
) -> tuple[tuple[Box, ...], float, float]:
    """The pictograms in one row: boxes, width, height [mm]."""
    shown = setting.text.hazard.pictograms
    style = SymbolStyle(setting.frame, setting.keyline, setting.least_pt)
    if not shown:
        return (), 0.0, 0.0
    if not way.worded:
        shown = tuple(Pictogram(one.code, "") for one in shown)
    wide, high = symbols_size(shown, way.side, style)
    boxes = place_symbols(shown, way.side, style, x=box.x, y=top)
    if way.worded:
        return boxes, wide, high
    bare = tuple(one for one in boxes if not isinstance(one, Text))
    return bare, wide, diamond_mm(way.side)
