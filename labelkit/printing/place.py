"""Every box of a layout in its place, each pushed down by what has grown above it."""

from collections.abc import Callable, Iterator, Mapping
from math import inf

from labelkit.chemistry.numbers import quoted
from labelkit.errors import Misfit
from labelkit.mixing.words import Run
from labelkit.printing.boxes import Box
from labelkit.printing.cap import draw_cap
from labelkit.printing.drawn import Drawn, Setting
from labelkit.printing.foot import draw_foot
from labelkit.printing.hazardblock import draw_hazards
from labelkit.printing.identity import draw_hole, draw_pictograms
from labelkit.printing.layouts import (
    Layout,
    LayoutBox,
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
from labelkit.printing.remembered import remembered
from labelkit.printing.rows import draw_paragraph, draw_row, draw_stack
from labelkit.printing.typeset import paragraph

__all__ = ["SLACK_MM", "draw_box", "fits", "is_row", "place"]

Draw = Callable[[LayoutBox, float, Setting], Drawn]

SLACK_MM = 1e-6


def place(layout: Layout, setting: Setting) -> tuple[tuple[Box, ...], float]:
    """The boxes in reading order and the room to spare [mm]; below 0, what is missing.

    Raises:
        Misfit: something is wider than its box.
    """
    drawn: dict[int, Drawn] = {}
    spare = inf
    for rank, one, left in _stack(layout, setting):
        drawn[rank] = one
        spare = min(spare, left)
    return tuple([box for rank in sorted(drawn) for box in drawn[rank].boxes]), spare


def fits(layout: Layout, setting: Setting) -> bool:
    """Whether everything has room."""
    try:
        return all(left >= -SLACK_MM for _, _, left in _stack(layout, setting))
    except Misfit:
        return False


def _stack(layout: Layout, setting: Setting) -> Iterator[tuple[int, Drawn, float]]:
    """From the top down: each box's rank, the box as drawn, and its room to spare."""
    moved: list[float] = []
    tight = setting.choices.tight
    for spot in stacked(layout, conditions_of(setting.text)):
        box, top = spot.box, spot.box.y
        if spot.above:
            top = max(
                [moved[a.place] + (a.tight if tight else a.loose) for a in spot.above]
            )
        one = remembered(layout, box, top, setting, _drawn)
        moved.append(one.bottom - box.bottom)
        left = inf if one.spare is None else one.spare
        if one.spare is None and one.boxes and box.kind not in _ON_THE_FLOOR:
            left = layout.floor - one.bottom
        yield spot.rank, one, left


def draw_box(layout: Layout, box: LayoutBox, top: float, setting: Setting) -> Drawn:
    """One box, its top at ``top`` [mm].

    Raises:
        Misfit: something is wider than it.
    """
    return remembered(layout, box, top, setting, _drawn)


def is_row(box: LayoutBox) -> bool:
    """Whether its fields stand side by side, whatever they are."""
    return box.kind not in _BY_KIND and box.arranged == "row"


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
        raise Misfit(f"{quoted(said)} takes {block.h:.1f} mm, its place has {box.h:g}")
    return Drawn((block,), top + box.h)


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
    "pictograms": draw_pictograms,
    "hole": draw_hole,
    "cap": draw_cap,
    "words": _draw_own_words,
}
_BY_ARRANGEMENT: Mapping[str, Draw] = {
    "row": draw_row,
    "paragraph": draw_paragraph,
    "stack": draw_stack,
}
