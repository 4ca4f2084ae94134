"""Pages of two halves: folded into a tag, or cut into two labels of one bottle.

Both are placed as they are read, side by side. A tag is printed with its leaves head to
head and folded there: so both hang upright, and one hole goes through both.
"""

from msgspec.structs import replace

from labelkit.printing.boxes import Bar, Box, Leaf, Page, Text

__all__ = ["HALVES", "apart", "folded"]

HALVES = ("folded", "apart")
_DASH_MM, _LINE_MM = 2.0, 0.18
_FROM_EDGE_MM = 3.6  # where the fold's dashes begin


def folded(page: Page) -> Page:
    """The page with its halves as leaves: the left in front, the right behind."""
    half, high = page.width / 2, page.height
    front = Leaf(0, 0, half, high, to_x=0, to_y=high)
    back = Leaf(half, 0, half, high, to_x=0, to_y=0, turned=True)
    return replace(page, leaves=(front, back), marks=_fold(half, high))


def _fold(width: float, y: float) -> tuple[Box, ...]:
    """A fine dashed line from side to side, a dash at either end."""
    room = width - 2 * _FROM_EDGE_MM
    count = round((room / _DASH_MM + 1) / 2)
    pitch = (room - _DASH_MM) / (count - 1)
    return tuple(
        Bar(
            _FROM_EDGE_MM + pitch * n,
            y - _LINE_MM / 2,
            _DASH_MM,
            _LINE_MM,
            field="fold",
        )
        for n in range(count)
    )


def apart(page: Page) -> tuple[Page, Page]:
    """The halves as two pages that belong together."""
    half = page.width / 2
    left = tuple(box for box in page.boxes if box.x < half)
    right = tuple(_moved(box, -half) for box in page.boxes if box.x >= half)
    return (
        Page(half, page.height, left, page.title, with_next=True),
        Page(half, page.height, right, page.title),
    )


def _moved(box: Box, mm: float) -> Box:
    """A box moved to the right [mm]."""
    if isinstance(box, Text):
        lines = tuple(replace(line, x=line.x + mm) for line in box.lines)
        return replace(box, x=box.x + mm, lines=lines)
    return replace(box, x=box.x + mm)
