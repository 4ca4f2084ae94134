"""The nine hazard pictograms as PDF operators in a square of 100 by 100, y upwards.

The square is that of the diamond's tips. The black symbols are the standard's own,
from the package ``ghs-hazard-pictogram``; the frame is drawn here, so that its red, its
width and its edge are ours to choose. Nothing but the symbol is taken from the files,
and they are opened by name, because the package's own list of names has an error.
"""

from functools import cache
from importlib.resources import files
from typing import NamedTuple

from labelkit.errors import Unknown
from labelkit.printing.drawings import Segment, Shape, read_drawing

__all__ = ["ALT_TEXTS", "BOX", "FRAME_SHARE", "KEYLINE", "operators"]

# Names of the symbols in the UN GHS, annex 1, from memory.
ALT_TEXTS = {
    "GHS01": "Exploding bomb pictogram",
    "GHS02": "Flame pictogram",
    "GHS03": "Flame over circle pictogram",
    "GHS04": "Gas cylinder pictogram",
    "GHS05": "Corrosion pictogram",
    "GHS06": "Skull and crossbones pictogram",
    "GHS07": "Exclamation mark pictogram",
    "GHS08": "Health hazard pictogram",
    "GHS09": "Environment pictogram",
}

FRAME_SHARE = 0.079  # width of the frame as a share of the square's side
# Inset along the axes: a width across the edge is wider by sqrt(2) along the axis, and
# the tips stand sqrt(2) sides apart, so the share of one is the share of the other.
_FRAME = 100 * FRAME_SHARE
KEYLINE = (
    1.6  # reach of the black edge beyond the red tips: 0.16 mm thick at 10 mm side
)
BOX = (-KEYLINE, -KEYLINE, 100 + KEYLINE, 100 + KEYLINE)

_RED = (0xCC, 0x0D, 0x1F)  # dark enough to stay a frame in grey
_COLOURS = {
    "red": " ".join(f"{part / 255:.3f}" for part in _RED) + " rg",
    "black": "0 g",
    "white": "1 g",
}
_MITRE_LIMIT = 4  # SVG 1.1, 11.4; PDF would take 10


def operators(code: str, *, frame: str = "red", keyline: bool = True) -> str:
    """Paint a whole pictogram: edge, frame, white ground and symbol.

    Args:
        code: GHS01 to GHS09.
        frame: ``red`` or ``black``.
        keyline: a thin black edge outside a red frame; it reaches to `BOX`.

    Raises:
        Unknown: there is no such pictogram.
    """
    if code not in ALT_TEXTS:
        raise Unknown(
            f"there is no pictogram '{code}'", remedy="Write one of GHS01 to GHS09."
        )
    edge = [_diamond(-KEYLINE, "black")] if keyline and frame == "red" else []
    return "\n".join(
        [*edge, _diamond(0, frame), _diamond(_FRAME, "white"), _symbol(code)]
    )


def _diamond(inset: float, colour: str) -> str:
    near, far = _number(inset), _number(100 - inset)
    return f"{_COLOURS[colour]} {near} 50 m 50 {near} l {far} 50 l 50 {far} l h f"


@cache
def _symbol(code: str) -> str:
    """The black symbol alone, read once per process."""
    folder = files("ghs_hazard_pictogram") / "pictograms"
    drawing = read_drawing((folder / f"{code.lower()}.svg").read_bytes())
    # First come the red square and the white one on it, in either order.
    squares, symbol = drawing[:2], drawing[2:]
    (square,) = [shape for shape in squares if shape.fill == "red"]
    place = _onto_the_square(square)
    return "\n".join(_painted(shape, place) for shape in symbol)


class _Place(NamedTuple):
    """Where a drawing's coordinates come to lie: moved, scaled and turned upright."""

    left: float
    bottom: float
    factor: float


def _onto_the_square(square: Shape) -> _Place:
    points = [point for _, points in square.segments for point in points]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    side = max(max(xs) - min(xs), max(ys) - min(ys))
    left = (min(xs) + max(xs) - side) / 2
    bottom = (min(ys) + max(ys) + side) / 2
    return _Place(left, bottom, 100 / side)


def _painted(shape: Shape, place: _Place) -> str:
    path = " ".join([_drawn(segment, place) for segment in shape.segments])
    fill = _COLOURS[shape.fill]
    if shape.stroke == "none":
        return f"{fill} {path} f"
    width = _number(shape.stroke_width * place.factor)
    return f"{fill} 0 G {width} w {_MITRE_LIMIT} M {path} B"


def _drawn(segment: Segment, place: _Place) -> str:
    operator, points = segment
    left, bottom, factor = place
    numbers = [
        n for x, y in points for n in ((x - left) * factor, (bottom - y) * factor)
    ]
    return " ".join([*map(_number, numbers), operator])


def _number(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")
