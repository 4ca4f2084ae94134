"""The front of a mixing card: what is made, how much of it, and the steps to tick."""

from collections.abc import Iterator

from labelkit.errors import Misfit
from labelkit.mixing.words import CardText, HazardText, Run
from labelkit.printing.boxes import Bar, Box, Page
from labelkit.printing.card_columns import HAIRLINE
from labelkit.printing.card_foot import foot_at
from labelkit.printing.card_heads import place_heads
from labelkit.printing.card_layout import CardLayout
from labelkit.printing.card_rows import place_rows
from labelkit.printing.card_top import place_top
from labelkit.printing.card_warning import no_pictogram_words
from labelkit.printing.fonts import MM_PER_PT, width_mm
from labelkit.printing.scale import twin_scale
from labelkit.printing.symbols import SymbolStyle
from labelkit.printing.typeset import DESCENT, fold, leading_mm, one_line, paragraph

__all__ = ["place_card_foot", "place_front"]

# Where the three write-in lines begin, as a share of the width.
_WRITE_IN = (("Batch", 0.0), ("Date", 0.395), ("By", 0.7))
_BETWEEN_LINES = 4.0  # [mm]
_OVER_FOOT = 1.6  # [mm]

Boxes = tuple[Box, ...]


def place_front(text: CardText, layout: CardLayout, style: SymbolStyle) -> Page:
    """The front, everything measured before it is placed.

    Raises:
        Misfit: naming what does not fit.
    """
    boxes = [*place_top(text, layout, style)]
    scale = _scale(text, layout)
    boxes += scale
    if layout.columns:
        rule = layout.front["rule" if scale else "unscaled_rule"]
        wide = layout.right - layout.left
        boxes.append(Bar(layout.left, rule.y, wide, rule.height))
        boxes += _steps(text, layout, rule.y + rule.height)
    boxes += place_card_foot(text, layout, "front")
    return Page(layout.width, layout.height, tuple(boxes), f"{text.name}, card, front")


def place_card_foot(text: CardText, layout: CardLayout, side: str) -> tuple[Box, ...]:
    """The black foot of one side."""
    spot = (layout.front if side == "front" else layout.back)["foot"]
    return foot_at(spot, layout.right, text.emergency)


def _scale(text: CardText, layout: CardLayout) -> tuple[Box, ...]:
    spot = layout.front.get("scale")
    if spot is None or text.headline.scale is None:
        return ()
    return twin_scale(
        text.headline.scale,
        x=spot.x,
        line_y=spot.y,
        w=layout.right - spot.x,
        volume_mL=text.volume_mL,
        figures_pt=spot.pt,
    )


def _steps(text: CardText, layout: CardLayout, top: float) -> Boxes:
    """Heads and rows; the lines to write on give way to steps that need the room."""
    if len(text.columns) > layout.columns:
        raise Misfit(
            f"{len(text.columns)} batch sizes do not fit side by side", place="columns"
        )
    heads = place_heads(text, layout, top)
    top += layout.front["heads"].height
    spot = layout.front["write_in"]
    with_lines, bare = spot.y - spot.height, layout.front["foot"].y - _OVER_FOOT
    try:
        low, bottom = _class_line(text.hazard, layout, layout.front["no_class"].y)
        rows = place_rows(text, layout, top=top, bottom=min(bottom, with_lines))
        return (*heads, *rows, *low, *_write_in(layout))
    except Misfit:
        low, bottom = _class_line(text.hazard, layout, spot.y)
        rows = place_rows(text, layout, top=top, bottom=min(bottom, bare))
        return (*heads, *rows, *low)


def _class_line(
    hazard: HazardText, layout: CardLayout, baseline: float
) -> tuple[Boxes, float]:
    """Where no frame says it: a line under the steps, and where it begins [mm]."""
    spot = layout.front["no_class"]
    if spot.line or hazard.pictograms or hazard.signal:
        return (), layout.height
    words = (Run(no_pictogram_words(hazard), strong=True),)
    wide = layout.right - layout.left
    high = leading_mm(spot.pt) * len(fold(words, spot.pt, wide))
    top = baseline + DESCENT * spot.pt * MM_PER_PT - high
    block = paragraph("class", words, spot.pt, x=layout.left, y=top, w=wide)
    return (block,), top - 0.6


def _write_in(layout: CardLayout) -> Iterator[Box]:
    """Lines for the batch number, the date and the person."""
    spot = layout.front["write_in"]
    wide = layout.right - layout.left
    starts = [layout.left + wide * share for _, share in _WRITE_IN]
    ends = [start - _BETWEEN_LINES for start in starts[1:]] + [layout.right]
    for (word, _), start, end in zip(_WRITE_IN, starts, ends, strict=True):
        pieces = ((word, "regular", spot.pt),)
        yield one_line("write in", pieces, x=start, baseline=spot.y)
        begin = start + width_mm(word, "regular", spot.pt) + 1.2
        yield Bar(begin, spot.y + 0.5, end - begin, HAIRLINE, field="write-in line")
