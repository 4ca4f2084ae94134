"""Every box of a layout in its place, each pushed down by what has grown above it."""

from collections.abc import Callable, Mapping

from labelkit.errors import Misfit
from labelkit.mixing.words import Run
from labelkit.printing.boxes import Box
from labelkit.printing.drawn import TIGHT, Drawn, Setting
from labelkit.printing.foot import draw_foot
from labelkit.printing.hazardblock import draw_hazards
from labelkit.printing.layouts import (
    Layout,
    LayoutBox,
    Place,
    conditions_of,
    stacked,
)
from labelkit.printing.marks import (
    draw_code,
    draw_headline,
    draw_part,
    draw_rule,
    draw_scale,
    draw_tally,
    draw_write_in,
)
from labelkit.printing.noclassframe import draw_no_class
from labelkit.printing.ownwords import own_words
from labelkit.printing.rows import draw_paragraph, draw_row, draw_stack
from labelkit.printing.typeset import paragraph

__all__ = ["place"]

Draw = Callable[[LayoutBox, float, Setting], Drawn]


def place(layout: Layout, setting: Setting) -> tuple[tuple[Box, ...], float]:
    """The boxes in reading order and the room to spare [mm]; below 0, what is missing.

    Raises:
        Misfit: something is wider than its box.
    """
    drawn: list[tuple[int, Drawn]] = []
    moved: list[float] = []
    spare = float("inf")
    places = stacked(layout, conditions_of(setting.text))
    for spot in places:
        box = spot.box
        one = _drawn(box, _top(spot, places, moved, setting), setting)
        moved.append(one.bottom - box.bottom)
        drawn.append((spot.rank, one))
        if box.kind not in _ON_THE_FLOOR:
            room = layout.floor - one.bottom if one.boxes else spare
            spare = min(spare, room if one.spare is None else one.spare)
    drawn.sort(key=lambda ranked: ranked[0])
    return tuple(box for _, one in drawn for box in one.boxes), spare


def _top(
    spot: Place, places: tuple[Place, ...], moved: list[float], setting: Setting
) -> float:
    """Where a box begins: as far below those above it as in the layout, or nearer."""
    box = spot.box
    if box.kind == "foot" or not spot.above:
        return box.y
    ends = []
    for k in spot.above:
        upper = places[k].box
        gap = box.y - upper.bottom
        stands = not setting.choices.tight or {upper.kind, box.kind} & _STANDS
        ends.append(upper.bottom + moved[k] + gap * (1 if stands else TIGHT))
    return max(ends)


def _drawn(box: LayoutBox, top: float, setting: Setting) -> Drawn:
    draw = _BY_KIND.get(box.kind) or _BY_ARRANGEMENT[box.arranged]
    return draw(box, top, setting)


def _draw_hazards(box: LayoutBox, top: float, setting: Setting) -> Drawn:
    draw = draw_no_class if setting.text.hazard.none_reached else draw_hazards
    return draw(box, top, setting)


def _draw_own_words(box: LayoutBox, top: float, setting: Setting) -> Drawn:
    said = own_words(box.words, setting.text)
    if not said.strip(" "):
        return Drawn((), top)
    size = max(box.wanted, box.smallest)
    while True:
        block = paragraph(
            "words", (Run(said),), size, x=box.x, y=top, w=box.w, align=box.align
        )
        if block.h <= box.h or size <= box.smallest:
            break
        size = max(size - 0.5, box.smallest)
    if block.h > box.h:
        raise Misfit(f"'{said}' takes {block.h:.1f} mm, its place has {box.h:g}")
    return Drawn((block,), top + box.h)


# White round these is needed, or is a minimum.
_STANDS = frozenset({"headline", "code", "part", "hazards"})
_ON_THE_FLOOR = frozenset({"foot", "rule"})
_BY_KIND: Mapping[str, Draw] = {
    "headline": draw_headline,
    "code": draw_code,
    "part": draw_part,
    "scale": draw_scale,
    "tally": draw_tally,
    "write-in": draw_write_in,
    "rule": draw_rule,
    "hazards": _draw_hazards,
    "foot": draw_foot,
    "words": _draw_own_words,
}
_BY_ARRANGEMENT: Mapping[str, Draw] = {
    "row": draw_row,
    "paragraph": draw_paragraph,
    "stack": draw_stack,
}
