"""Where the words of a notice stand, read from ``templates/notices``."""

import tomllib
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Any

from msgspec import Struct

from labelkit.errors import BadInput, Fault
from labelkit.printing.fonts import min_size_pt
from labelkit.resources import templates_dir

__all__ = ["NoticeBox", "NoticeLayout", "notice_layout", "read_notice_layout"]

WHEN = ("", "code", "no code", "open")
WORDS = ("word", "lead", "detail", "never", "things", "number", "small")
LINES = (
    "found", "where", "by", "looks", "says", "tell", "claim-by", "then", "nor",
    "started", "started-by", "full", "full-by", "emptied",
)  # fmt: skip
DRAWN = ("rule", "code", "ticks", "foot")
FIELDS = (*WORDS, *LINES, *DRAWN)


class NoticeBox(Struct, frozen=True):
    """One box, in mm from the top left and in points.

    Attributes:
        shows: a field; two for two lines to write on, side by side.
        wanted: type size [pt].
        smallest: under which it is never set [pt].
        label: of "Call" in the foot [pt].
        split: where the left line ends and the right one begins [mm].
        when: ``code``, ``no code``, ``open`` (nobody knows what must not come in), or
            "" for always.
    """

    shows: tuple[str, ...]
    x: float
    y: float
    w: float
    h: float
    wanted: float = 0.0
    smallest: float = 0.0
    label: float = 9.0
    split: tuple[float, ...] = ()
    align: str = "left"
    when: str = ""

    @property
    def kind(self) -> str:
        """The chief field; ``lines`` for lines to write on."""
        return "lines" if self.shows[0] in LINES else self.shows[0]

    @property
    def right(self) -> float:
        """Right edge [mm]."""
        return self.x + self.w

    @property
    def bottom(self) -> float:
        """Lower edge [mm]."""
        return self.y + self.h


class NoticeLayout(Struct, frozen=True):
    """A notice's size and boxes, in the order of reading."""

    name: str
    width: float
    height: float
    margin: float
    boxes: tuple[NoticeBox, ...]


@cache
def notice_layout(name: str) -> NoticeLayout:
    """The layout of a notice, ``unknown`` or ``waste``."""
    return read_notice_layout(templates_dir() / "notices" / f"{name}.toml")


def read_notice_layout(file: Path | Traversable) -> NoticeLayout:
    """Read a layout from its file.

    Raises:
        BadInput: every fault of the file together, each with box and key.
    """
    try:
        data = tomllib.loads(file.read_text("utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise BadInput(str(error), place=file.name, remedy="Mend the file.") from None
    faults = list(_faults(data))
    if faults:
        raise BadInput.of(fault.at(file.name) for fault in faults)
    width, height = map(float, data["size"])
    boxes = tuple(map(_box, data["box"]))
    return NoticeLayout(data["name"], width, height, float(data["margin"]), boxes)


def _box(data: Mapping[str, Any]) -> NoticeBox:
    x, y = map(float, data["at"])
    w, h = map(float, data["size"])
    wanted, smallest = map(float, data.get("text", (0, 0)))
    return NoticeBox(
        _fields(data["shows"]),
        x,
        y,
        w,
        h,
        wanted,
        smallest,
        label=float(data.get("label", 9.0)),
        split=tuple(map(float, data.get("split", ()))),
        align=data.get("align", "left"),
        when=data.get("when", ""),
    )


def _faults(data: Mapping[str, Any]) -> Iterator[Fault]:
    yield from _wrong_keys(data, _OF_THE_FILE, ("name", "size", "margin", "box"))
    boxes = data.get("box")
    for number, box in enumerate(boxes if isinstance(boxes, list) else (), 1):
        wrong = list(_wrong_keys(box, _OF_A_BOX, ("shows", "at", "size")))
        if not wrong and _is_pair(data.get("size")) and _is_number(data.get("margin")):
            wrong = list(_misplaced(box, data["size"], data["margin"]))
        yield from (fault.at(f"box {number}") for fault in wrong)


def _wrong_keys(
    data: Mapping[str, Any],
    known: Mapping[str, tuple[Callable[[Any], bool], str]],
    needed: tuple[str, ...],
) -> Iterator[Fault]:
    for key in needed:
        if key not in data:
            yield Fault(key, "is missing", f"Write {known[key][1]}.")
    for key, value in data.items():
        if key not in known:
            yield Fault(key, "is not a key of a notice", f"Known: {', '.join(known)}.")
        elif not known[key][0](value):
            yield Fault(key, f"{value!r} cannot be used", f"Write {known[key][1]}.")


def _misplaced(
    box: Mapping[str, Any], size: tuple[float, float], margin: float
) -> Iterator[Fault]:
    for axis, word in enumerate(("across", "down")):
        first, last = box["at"][axis], box["at"][axis] + box["size"][axis]
        if first < margin - 1e-6 or last > size[axis] - margin + 1e-6:
            problem = f"{first:g} to {last:g} {word} leaves the margin of {margin:g} mm"
            yield Fault("at", problem, "Move it, or make it smaller.")
    if len(_fields(box["shows"])) == 2 and "split" not in box:
        yield Fault("split", "is missing", f"Write {_OF_A_BOX['split'][1]}.")


def _fields(value: Any) -> tuple[Any, ...]:
    return (value,) if isinstance(value, str) else tuple(value)


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _is_pair(value: Any) -> bool:
    return isinstance(value, list) and len(value) == 2 and all(map(_is_number, value))


def _is_type(value: Any) -> bool:
    return _is_pair(value) and value[0] >= value[1] >= min_size_pt(0)


def _are_fields(value: Any) -> bool:
    if isinstance(value, str):
        return value in FIELDS
    pair = isinstance(value, list) and len(value) == 2
    return pair and all(one in LINES for one in value)


_OF_THE_FILE: dict[str, tuple[Callable[[Any], bool], str]] = {
    "name": (lambda value: isinstance(value, str), "the notice's name"),
    "size": (_is_pair, "width and height in mm, such as [74, 105]"),
    "margin": (_is_number, "a length in mm"),
    "box": (lambda v: isinstance(v, list) and bool(v), "a [[box]] for every field"),
}
_OF_A_BOX: dict[str, tuple[Callable[[Any], bool], str]] = {
    "shows": (_are_fields, "a field, or two lines to write on"),
    "at": (_is_pair, "left and top in mm, such as [3.6, 29.9]"),
    "size": (_is_pair, "width and height in mm, such as [66.8, 8]"),
    "text": (_is_type, "the wanted and the smallest type, 6.6 pt or more"),
    "label": (lambda v: _is_number(v) and v >= min_size_pt(0), "6.6 pt or more"),
    "split": (_is_pair, "end of the left and start of the right line, [27.4, 29.4]"),
    "align": (lambda value: value in ("left", "right"), "left or right"),
    "when": (lambda value: value in WHEN[1:], f"one of: {', '.join(WHEN[1:])}"),
}
