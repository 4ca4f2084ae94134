"""Where a placed box has its ink: for keeping boxes apart and inside the margins."""

from collections.abc import Iterable
from math import sqrt

from msgspec import Struct

from labelkit.printing.boxes import Box, Code, Symbol

__all__ = ["Extent", "extent_of", "left_limit"]

_KEYLINE_SHARE = 0.016  # of the diamond, on each side


class Extent(Struct, frozen=True):
    """A rectangle [mm]."""

    left: float
    top: float
    right: float
    bottom: float

    def overlaps(self, other: "Extent", spare: float = 0.0) -> bool:
        """Whether they share more than an edge; ``spare`` is forgiven [mm]."""
        return (
            self.left < other.right - spare
            and other.left < self.right - spare
            and self.top < other.bottom - spare
            and other.top < self.bottom - spare
        )


def extent_of(box: Box) -> Extent:
    """The rectangle of a box; a symbol with its edge, a code without its zone."""
    if isinstance(box, Symbol):
        tips = box.side * sqrt(2)
        edge = tips * _KEYLINE_SHARE if box.keyline else 0.0
        return Extent(
            box.x - edge, box.y - edge, box.x + tips + edge, box.y + tips + edge
        )
    if isinstance(box, Code):
        side = box.module * box.modules
        return Extent(box.x, box.y, box.x + side, box.y + side)
    return Extent(box.x, box.y, box.x + box.w, box.y + box.h)


def left_limit(boxes: Iterable[Box], top: float, bottom: float, edge: float) -> float:
    """How far right a band of the page is free: to the first box in it, or an edge."""
    band = Extent(float("-inf"), top, float("inf"), bottom)
    lefts = [extent.left for extent in map(extent_of, boxes) if extent.overlaps(band)]
    return min([edge, *lefts])
