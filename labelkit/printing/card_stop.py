"""The black bar above a step that can hurt: it is read before the jar is opened."""

from labelkit.mixing.words import Run
from labelkit.printing.boxes import Bar, Box, Line, Text
from labelkit.printing.card_layout import Spot
from labelkit.printing.fonts import cap_height_mm
from labelkit.printing.typeset import fold, leading_mm, width_of

__all__ = ["stop_bar"]

_INSET = 1.6  # of the words from the ends of the bar [mm]
_AFTER_STOP = 3.0  # [mm]


def stop_bar(
    caution: str, spot: Spot, *, x: float, y: float, right: float
) -> tuple[tuple[Box, ...], float]:
    """STOP and the caution, white on black, and how high the bar is [mm].

    Raises:
        Misfit: a word is wider than the bar.
    """
    word = ("STOP", "bold", spot.pt)
    start = x + _INSET + width_of((word,)) + _AFTER_STOP
    lines = fold((Run(caution, strong=True),), spot.small, right - _INSET - start)
    pitch = leading_mm(spot.small)
    height = spot.height + pitch * (len(lines) - 1)
    base = y + (spot.height + cap_height_mm(spot.small)) / 2
    stop_base = y + (spot.height + cap_height_mm(spot.pt)) / 2
    said = Line(x + _INSET, stop_base, (word,), white=True)
    told = tuple(
        Line(start, base + pitch * index, pieces, white=True)
        for index, pieces in enumerate(lines)
    )
    ground = Bar(x, y, right - x, height, field="stop bar")
    return (ground, Text("caution", x, y, right - x, height, (said, *told))), height
