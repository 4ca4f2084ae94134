"""The hazard pictograms as drawings that stand inside a page.

They are the standard's own, from the package ``ghs-hazard-pictogram``, with the frame
in the red of the labels. They go into the page itself: it is then whole in one file,
and a policy that allows nothing from outside need not be loosened. Styles become
attributes, because that policy lets no element bring a style of its own.
"""

import re
from collections.abc import Iterator
from functools import cache
from importlib.resources import files
from typing import Any

from labelkit.errors import Unknown

__all__ = ["CODES", "FRAME_RED", "picture"]

CODES = tuple(f"GHS0{n}" for n in range(1, 10))
FRAME_RED = "#cc0d1f"

_COLOURS = {
    "#f00": FRAME_RED, "#ff0000": FRAME_RED, "red": FRAME_RED,
    "#fff": "#fff", "#ffffff": "#fff", "white": "#fff",
    "#000": "#000", "#000000": "#000", "black": "#000",
    "none": "none",
}  # fmt: skip
_DRAWN = ("path", "ellipse", "g")
_SHAPE = ("d", "cx", "cy", "rx", "ry", "transform", "stroke-width")
_PAINT = ("fill", "stroke")
# Numbers stand without a space between them: ``.02.0010`` is two.
_DECIMAL = re.compile(r"\d*\.(\d+)")
_SHOWN = 2  # decimals; more are finer than a phone shows


@cache
def picture(code: str) -> str:
    """The drawing of a pictogram, to be named by the word beside it.

    Raises:
        Unknown: there is no such pictogram.
    """
    if code not in CODES:
        raise Unknown(
            f"there is no pictogram '{code}'", remedy="Write one of GHS01 to GHS09."
        )
    drawing = _drawing(code)
    shapes = "".join(_written(child) for child in drawing)
    box = drawing.get("viewBox")
    return (
        f'<svg class="diamond" viewBox="{box}" aria-hidden="true" focusable="false">'
        f"{shapes}</svg>"
    )


def _drawing(code: str) -> Any:
    from xml.etree import ElementTree

    folder = files("ghs_hazard_pictogram") / "pictograms"
    data = (folder / f"{code.lower()}.svg").read_bytes()
    return ElementTree.fromstring(data)  # noqa: S314 - it comes with a package of ours


def _written(element: Any) -> str:
    kind = element.tag.rpartition("}")[2]
    if kind not in _DRAWN:
        return ""
    attributes = "".join(f' {key}="{value}"' for key, value in _attributes(element))
    inner = "".join(_written(child) for child in element)
    return f"<{kind}{attributes}>{inner}</{kind}>"


def _attributes(element: Any) -> Iterator[tuple[str, str]]:
    declared = [part.split(":") for part in element.get("style", "").split(";")]
    style = {key.strip(): value.strip() for key, value in filter(_is_pair, declared)}
    for key in _SHAPE:
        if element.get(key):
            yield key, _DECIMAL.sub(_shorter, element.get(key))
    for key in _PAINT:
        colour = style.get(key) or element.get(key)
        if colour:
            yield key, _COLOURS[colour.lower()]


def _shorter(number: re.Match[str]) -> str:
    return f"{float(number[0]):.{_SHOWN}f}" if len(number[1]) > _SHOWN else number[0]


def _is_pair(parts: list[str]) -> bool:
    return len(parts) == 2
