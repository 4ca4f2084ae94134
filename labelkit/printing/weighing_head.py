"""The top of a weighing-out sheet: what is made, for whom, and lines to write on."""

from collections.abc import Iterator

from labelkit.mixing.weighing_sheet import WeighingText
from labelkit.printing.boxes import Bar, Box
from labelkit.printing.card_columns import HAIRLINE
from labelkit.printing.card_foot import place_mark
from labelkit.printing.card_layout import Spot
from labelkit.printing.card_top import place_name, spot_for
from labelkit.printing.fonts import width_mm
from labelkit.printing.paged import PagedLayout
from labelkit.printing.typeset import one_line

__all__ = ["place_head", "write_in_lines"]

_WHAT = "Weighing-out sheet"
_BETWEEN = 4.0  # [mm]
# Where the lines begin, as a share of the width.
_LINES = (("Batch number", 0.0), ("Date", 0.46), ("By", 0.7))


def place_head(
    text: WeighingText, layout: PagedLayout, number: int, count: int
) -> Iterator[Box]:
    """The head of one page of ``count``.

    Raises:
        Misfit: the name does not fit in its smallest size.
    """
    which = f"Page {number} of {count}" if count > 1 else ""
    if number == 1:
        yield from _first(text, layout, which)
    else:
        yield from _again(text, layout, which)


def _first(text: WeighingText, layout: PagedLayout, which: str) -> Iterator[Box]:
    spots, marked = layout.page, text.part is not None
    if text.part is not None:
        mark = spots["mark"]
        yield from place_mark(
            text.part, x=mark.x, y=mark.y, side=mark.side[0], size_pt=mark.pt
        )
    quantity = spots["quantity"]
    pieces = ((text.quantity, "bold", quantity.pt),)
    made = one_line(
        "quantity", pieces, x=quantity.x, baseline=quantity.y, align="right"
    )
    name = spot_for(spots, "name", marked=marked)
    room = made.x - _BETWEEN - name.x
    yield place_name(text.name, name, room, layout.margin, name.text[-1])
    yield made
    yield from _about(text, layout, which)
    yield from write_in_lines(spots["write_in"], layout, _LINES)
    rule = spots["rule"]
    yield Bar(layout.left, rule.y, layout.wide, rule.height)


def _about(text: WeighingText, layout: PagedLayout, which: str) -> Iterator[Box]:
    """What it is and for whom; right, the strength that comes out, and which page."""
    spot = layout.page["about"]
    whom = f" for {text.whom}" if text.whom else ""
    told = ((f"{_WHAT}{whom}", "semibold", spot.pt),)
    left = one_line("about", told, x=spot.x, baseline=spot.y)
    yield left
    beside = " ".join(part for part in (text.headline.text, _substance(text)) if part)
    for shown in (f"{beside}. {which}" if which else f"{beside}.", which):
        pieces = ((shown, "regular", spot.small),)
        block = one_line(
            "about", pieces, x=layout.right, baseline=spot.y, align="right"
        )
        if shown and block.x > left.x + left.w + _BETWEEN:
            yield block
            return


def _substance(text: WeighingText) -> str:
    headline = text.headline
    return f"{headline.substance} {headline.hydrate}".strip()


def _again(text: WeighingText, layout: PagedLayout, which: str) -> Iterator[Box]:
    spot, rule = layout.page["name_again"], layout.page["rule_again"]
    pieces = ((which, "regular", spot.text[-1]),)
    page = one_line("about", pieces, x=layout.right, baseline=spot.y, align="right")
    letter = f" {text.part.letter}" if text.part else ""
    whom = f", {text.whom}" if text.whom else ""
    told = f"{text.name}{letter}, {text.quantity}{whom}"
    room = page.x - _BETWEEN - spot.x
    yield place_name(told, spot, room, layout.margin, spot.text[-1])
    yield page
    yield Bar(layout.left, rule.y, layout.wide, rule.height)


def write_in_lines(
    spot: Spot, layout: PagedLayout, lines: tuple[tuple[str, float], ...]
) -> Iterator[Box]:
    """Words, each with a line to write on up to the next."""
    starts = [layout.left + layout.wide * share for _, share in lines]
    ends = [start - _BETWEEN for start in starts[1:]] + [layout.right]
    for (word, _), start, end in zip(lines, starts, ends, strict=True):
        pieces = ((word, "regular", spot.pt),)
        yield one_line("write in", pieces, x=start, baseline=spot.y)
        begin = start + width_mm(word, "regular", spot.pt) + 1.2
        yield Bar(begin, spot.y + 0.5, end - begin, HAIRLINE, field="write-in line")
