"""The nine hazard pictograms as PDF operators in a square of 100 by 100, y upwards.

The square is that of the diamond's tips. The black symbols are the standard's own,
from the package ``ghs-hazard-pictogram``; the frame is drawn here, so that its red, its
width and its edge are ours to choose. Nothing but the symbol is taken from the files,
and they are opened by name, because the package's own list of names has an error.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from labelkit.errors import Unknown

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

_COLOURS = {"red": "0.8 0.051 0.122 rg", "black": "0 g", "white": "1 g"}
_SAME_COLOUR = {
    "#f00": "red", "#ff0000": "red", "#fff": "white", "#ffffff": "white",
    "#000": "black", "#000000": "black",
}  # fmt: skip
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


@dataclass(frozen=True, slots=True)
class _Shape:
    """One element of a drawing with what it inherits."""

    d: str
    fill: str
    stroke: str
    stroke_width: float
    scale: float


@cache
def _symbol(code: str) -> str:
    """The black symbol alone, read once per process."""
    shapes = list(_shapes(_drawing(code)))
    (square,) = [shape for shape in shapes[:2] if shape.fill == "red"]
    place = _onto_the_square(square)
    return "\n".join(_painted(shape, place) for shape in shapes[2:])


def _drawing(code: str) -> Any:
    from xml.etree import ElementTree

    folder = files("ghs_hazard_pictogram") / "pictograms"
    data = (folder / f"{code.lower()}.svg").read_bytes()
    return ElementTree.fromstring(data)  # noqa: S314 - it comes with a package of ours


def _shapes(
    element: Any, inherited: dict[str, str] | None = None, scale: float = 1.0
) -> Iterator[_Shape]:
    style = {**(inherited or {}), **_style(element)}
    scale *= _scale(element.get("transform", ""))
    kind = element.tag.rpartition("}")[2]
    if kind in {"path", "ellipse"}:
        yield _Shape(
            d=element.get("d") or _ellipse(element),
            fill=_colour(style.get("fill", "black")),
            stroke=_colour(style.get("stroke", "none")),
            stroke_width=float(style.get("stroke-width", 1)),
            scale=scale,
        )
    for child in element:
        yield from _shapes(child, style, scale)


def _style(element: Any) -> dict[str, str]:
    declared = element.get("style", "")
    pairs = [part.split(":") for part in declared.split(";") if ":" in part]
    return {
        **{key: element.get(key) for key in _PAINT if element.get(key)},
        **{key.strip(): value.strip() for key, value in pairs},
    }


_PAINT = ("fill", "stroke", "stroke-width")


def _colour(written: str) -> str:
    lower = written.lower()
    return _SAME_COLOUR.get(lower, lower)


def _scale(transform: str) -> float:
    """The factor of a uniform scaling, the only transformation in the files."""
    if not transform:
        return 1.0
    (x, y) = re.fullmatch(r"scale\(([\d.]+),([\d.]+)\)", transform).groups()  # type: ignore[union-attr]
    if x != y:
        raise ValueError(transform)
    return float(x)


def _ellipse(element: Any) -> str:
    cx, cy, rx, ry = (float(element.get(key)) for key in ("cx", "cy", "rx", "ry"))
    half = f"a {rx} {ry} 0 1 0"
    return f"M {cx - rx} {cy} {half} {2 * rx} 0 {half} {-2 * rx} 0 z"


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a drawing's coordinates come to lie: moved, scaled and turned upright."""

    left: float
    bottom: float
    factor: float

    def point(self, at: tuple[float, float]) -> str:
        x = (at[0] - self.left) * self.factor
        y = (self.bottom - at[1]) * self.factor
        return f"{_number(x)} {_number(y)}"


def _onto_the_square(square: _Shape) -> _Place:
    pen = _Pen(_Place(0, 0, 1), square.scale)
    pen.follow(square.d)
    xs, ys = zip(*pen.points, strict=True)
    side = max(max(xs) - min(xs), max(ys) - min(ys))
    left = (min(xs) + max(xs) - side) / 2
    bottom = (min(ys) + max(ys) + side) / 2
    return _Place(left, bottom, 100 / side)


class _Pen:
    """Writes what fontTools' path reader draws as PDF operators."""

    def __init__(self, place: _Place, scale: float) -> None:
        self.place, self.scale = place, scale
        self.points: list[tuple[float, float]] = []
        self.out: list[str] = []

    def follow(self, d: str) -> None:
        from fontTools.svgLib.path.parser import parse_path

        parse_path(d, self)

    def _write(self, operator: str, *points: tuple[float, float]) -> None:
        placed = [(x * self.scale, y * self.scale) for x, y in points]
        self.points += placed
        self.out.append(" ".join([*map(self.place.point, placed), operator]))

    def moveTo(self, at: tuple[float, float]) -> None:
        self._write("m", at)

    def lineTo(self, at: tuple[float, float]) -> None:
        self._write("l", at)

    def curveTo(self, *points: tuple[float, float]) -> None:
        self._write("c", *points)

    def closePath(self) -> None:
        self._write("h")

    def endPath(self) -> None:
        """An open path stays open; a filled one is closed by the filling."""


def _painted(shape: _Shape, place: _Place) -> str:
    pen = _Pen(place, shape.scale)
    pen.follow(shape.d)
    path = " ".join(pen.out)
    if shape.stroke == "none":
        return f"{_COLOURS[shape.fill]} {path} f"
    width = _number(shape.stroke_width * shape.scale * place.factor)
    return f"{_COLOURS[shape.fill]} 0 G {width} w {_MITRE_LIMIT} M {path} B"


def _number(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")
