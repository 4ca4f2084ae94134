"""What comes out of the printer: papers with labels or cards lying on them."""

from collections.abc import Iterator

from msgspec import Struct

from labelkit.printing.boxes import Box, Code, Leaf, Page, Symbol

__all__ = ["PRINTER_MARGIN_MM", "Paper", "Placed", "ink_near_edge"]

PRINTER_MARGIN_MM = 4.2  # common practice, no source: what office printers leave blank

_TIPS_PER_SIDE = 2**0.5


class Placed(Struct, frozen=True, gc=False):
    """A page on a paper: the top left corner of its place [mm], and how it lies.

    Attributes:
        turned: by a quarter to the left, so that its top shows to the left.
        upside_down: by a half, after that.
    """

    page: Page
    x: float = 0.0
    y: float = 0.0
    turned: bool = False
    scale: tuple[float, float] = (1.0, 1.0)
    upside_down: bool = False


class Paper(Struct, frozen=True, gc=False):
    """A paper of a size [mm]: pages where they lie, and marks for the knife."""

    width: float
    height: float
    placed: tuple[Placed, ...]
    marks: tuple[Box, ...] = ()


def ink_near_edge(paper: Paper) -> bool:
    """Whether something is printed where most printers cannot print."""
    right, bottom = paper.width - PRINTER_MARGIN_MM, paper.height - PRINTER_MARGIN_MM
    return any(
        x < PRINTER_MARGIN_MM
        or y < PRINTER_MARGIN_MM
        or x + w > right
        or y + h > bottom
        for placed in paper.placed
        for x, y, w, h in _extents(placed)
    )


def _extents(placed: Placed) -> Iterator[tuple[float, float, float, float]]:
    """Where each box of a page lies on the paper: left, top, width, height [mm]."""
    across, down = placed.scale
    wide, high = placed.page.flat
    for x, y, w, h in _on_the_flat(placed.page):
        if placed.upside_down:
            x, y = wide - x - w, high - y - h
        if placed.turned:
            x, y, w, h = y, wide - x - w, h, w
        yield placed.x + x * across, placed.y + y * down, w * across, h * down


def _on_the_flat(page: Page) -> Iterator[tuple[float, float, float, float]]:
    """Each box of a page as it is printed, before it is folded [mm]."""
    for box in (*page.marks, *(() if page.leaves else page.boxes)):
        yield box.x, box.y, *_size(box)
    for leaf in page.leaves:
        for box in page.on(leaf):
            yield _on_a_leaf(leaf, box)


def _on_a_leaf(leaf: Leaf, box: Box) -> tuple[float, float, float, float]:
    x, y, (w, h) = box.x - leaf.x, box.y - leaf.y, _size(box)
    if leaf.turned:
        x, y = leaf.w - x - w, leaf.h - y - h
    return leaf.to_x + x, leaf.to_y + y, w, h


def _size(box: Box) -> tuple[float, float]:
    if isinstance(box, Symbol):
        return box.side * _TIPS_PER_SIDE, box.side * _TIPS_PER_SIDE
    if isinstance(box, Code):
        return box.modules * box.module, box.modules * box.module
    return box.w, box.h
