"""Reads the plain part of SVG 1.1 in which the pictograms are drawn.

Filled and stroked paths of straight lines and cubic curves, ellipses, groups, and
uniform scaling. A print starts with this, so nothing is loaded that is not needed:
general readers take longer to load than a label takes to draw.
"""

import re
from collections.abc import Iterator
from typing import Any, NamedTuple

__all__ = ["Segment", "Shape", "read_drawing"]

Point = tuple[float, float]
Segment = tuple[str, tuple[Point, ...]]  # PDF operator and its points

_COMMAND = re.compile(r"([A-DF-Za-df-z])([^A-DF-Za-df-z]*)")  # e is an exponent's
_NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")
_NUMBERS_EACH = {"m": 2, "l": 2, "h": 1, "v": 1, "c": 6, "s": 4}
_COLOURS = {
    "#f00": "red", "#ff0000": "red", "#fff": "white", "#ffffff": "white",
    "#000": "black", "#000000": "black",
}  # fmt: skip
_KAPPA = 0.5522847498  # control points of a quarter circle, for the least error


class Shape(NamedTuple):
    """One element of a drawing, y downwards, with what it inherits.

    Attributes:
        segments: moves ``m``, lines ``l``, curves ``c`` and closings ``h``.
        fill: ``red``, ``white``, ``black`` or as written.
        stroke: the same, or ``none``.
        stroke_width: in the drawing's units.
    """

    segments: tuple[Segment, ...]
    fill: str
    stroke: str
    stroke_width: float


def read_drawing(svg: bytes) -> tuple[Shape, ...]:
    """The shapes of a drawing in the order in which they are painted.

    Raises:
        ValueError: the drawing uses more of SVG than is read here.
    """
    from xml.parsers import expat

    reader = _Reader()
    parser = expat.ParserCreate()
    parser.StartElementHandler = reader.start
    parser.EndElementHandler = reader.end
    parser.Parse(svg, True)
    return tuple(reader.shapes)


class _Reader:
    def __init__(self) -> None:
        self.shapes: list[Shape] = []
        self._styles: list[dict[str, Any]] = [
            {"fill": "black", "stroke": "none", "stroke-width": "1", "scale": 1.0}
        ]

    def start(self, kind: str, written: dict[str, str]) -> None:
        style = {**self._styles[-1], **_style(written)}
        style["scale"] *= _scale(written.get("transform", ""))
        self._styles.append(style)
        if kind not in _KNOWN:
            raise ValueError(f"<{kind}> is not read")
        if kind in _OUTLINES:
            self.shapes.append(_shape(_OUTLINES[kind](written), style))

    def end(self, _kind: str) -> None:
        self._styles.pop()


def _style(written: dict[str, str]) -> dict[str, str]:
    declared = [part.split(":") for part in written.get("style", "").split(";") if part]
    found = {**written, **{key.strip(): value.strip() for key, value in declared}}
    return {
        key: found[key] for key in ("fill", "stroke", "stroke-width") if key in found
    }


def _scale(transform: str) -> float:
    if not transform:
        return 1.0
    factors = set(_NUMBER.findall(transform))
    if not transform.startswith("scale(") or len(factors) != 1:
        raise ValueError(f"transform {transform} is not read")
    return float(factors.pop())


def _shape(outline: Iterator[Segment], style: dict[str, Any]) -> Shape:
    scale = style["scale"]
    return Shape(
        tuple(
            (operator, tuple((x * scale, y * scale) for x, y in points))
            for operator, points in outline
        ),
        _colour(style["fill"]),
        _colour(style["stroke"]),
        float(style["stroke-width"]) * scale,
    )


def _colour(written: str) -> str:
    lower = written.lower()
    return _COLOURS.get(lower, lower)


def _path(written: dict[str, str]) -> Iterator[Segment]:
    """SVG 1.1, 8.3: relative and shortened commands written out in full."""
    here = start = last_control = (0.0, 0.0)
    for letter, numbers in _commands(written["d"]):
        command = letter.lower()
        if command == "z":
            here = last_control = start
            yield "h", ()
            continue
        origin = here if letter.islower() else (0.0, 0.0)
        points = _points(command, numbers, origin, here)
        if command == "s":  # the first control point mirrors the one before
            points = (
                (2 * here[0] - last_control[0], 2 * here[1] - last_control[1]),
                *points,
            )
        here = points[-1]
        last_control = points[1] if len(points) == 3 else here
        if command == "m":
            start = here
        yield _OPERATORS[command], points


_OPERATORS = {"m": "m", "l": "l", "h": "l", "v": "l", "c": "c", "s": "c"}


def _commands(d: str) -> Iterator[tuple[str, list[float]]]:
    """Each command with its numbers; what repeats is given its letter again."""
    for letter, written in _COMMAND.findall(d):
        numbers = [float(number) for number in _NUMBER.findall(written)]
        if letter in "zZ":
            yield letter, []
            continue
        if letter.lower() not in _NUMBERS_EACH:
            raise ValueError(f"path command {letter} is not read")
        each = _NUMBERS_EACH[letter.lower()]
        for at in range(0, len(numbers), each):
            yield letter, numbers[at : at + each]
            letter = {"m": "l", "M": "L"}.get(letter, letter)  # more moves are lines


def _points(
    command: str, numbers: list[float], origin: Point, here: Point
) -> tuple[Point, ...]:
    if command == "h":
        return ((origin[0] + numbers[0], here[1]),)
    if command == "v":
        return ((here[0], origin[1] + numbers[0]),)
    pairs = zip(numbers[::2], numbers[1::2], strict=True)
    return tuple((origin[0] + x, origin[1] + y) for x, y in pairs)


def _ellipse(written: dict[str, str]) -> Iterator[Segment]:
    cx, cy, rx, ry = (float(written[key]) for key in ("cx", "cy", "rx", "ry"))
    kx, ky = rx * _KAPPA, ry * _KAPPA
    yield "m", ((cx + rx, cy),)
    yield "c", ((cx + rx, cy + ky), (cx + kx, cy + ry), (cx, cy + ry))
    yield "c", ((cx - kx, cy + ry), (cx - rx, cy + ky), (cx - rx, cy))
    yield "c", ((cx - rx, cy - ky), (cx - kx, cy - ry), (cx, cy - ry))
    yield "c", ((cx + kx, cy - ry), (cx + rx, cy - ky), (cx + rx, cy))
    yield "h", ()


_OUTLINES = {"path": _path, "ellipse": _ellipse}
_KNOWN = {"svg", "g", *_OUTLINES}
