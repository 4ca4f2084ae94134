"""Reads sheets of labels, each from a file of its own, every fault reported at once."""

import tomllib
from collections.abc import Callable, Iterator
from importlib.resources.abc import Traversable
from typing import Any

from labelkit.errors import BadInput, Fault, Unknown
from labelkit.printing.sheets import Sheet
from labelkit.resources import templates_dir

__all__ = ["read_sheet", "sheet_name", "sheet_names"]


def sheet_name(paper: str, width: float, height: float) -> str:
    """The built-in sheet for a label's size [mm] on A4 or Letter; empty if none."""
    names = sheet_names()
    for w, h in ((width, height), (height, width)):
        name = f"{paper.lower()}-{w:g}x{h:g}"
        if name in names:
            return name
    return ""


def sheet_names() -> tuple[str, ...]:
    """The built-in sheets, named by geometry."""
    found = (templates_dir() / "sheets").iterdir()
    return tuple(sorted(file.name.removesuffix(".toml") for file in found))


def read_sheet(name: str, own: Traversable | None = None) -> Sheet:
    """The sheet of a name, from a folder of one's own or from the built-in ones.

    Raises:
        Unknown: there is none of that name.
        BadInput: the file cannot be read as a sheet; every fault is named.
    """
    for folder in (own, templates_dir() / "sheets"):
        if folder and (file := folder / f"{name}.toml").is_file():
            return _sheet(name, file.read_text("utf-8"))
    raise Unknown(
        f"there is no sheet '{name}'",
        remedy=f"Write one of: {', '.join(sheet_names())}.",
    )


def _sheet(name: str, text: str) -> Sheet:
    place = f"{name}.toml"
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise BadInput(str(fault), place=place, remedy="Mend the line.") from fault
    if faults := list(_faults(data)):
        raise BadInput.of(faults).at(place)
    pairs: dict[str, Any] = {
        key: tuple(v) if isinstance(v, list) else v for key, v in data.items()
    }
    return Sheet(name=name, **pairs)


def _faults(data: dict[str, Any]) -> Iterator[Fault]:
    for key in _NEEDED:
        if key not in data:
            yield Fault(key, "is missing", f"Write {_KEYS[key][1]}.")
    for key, value in data.items():
        if key not in _KEYS:
            yield Fault(key, "is not a key of a sheet", f"Known: {', '.join(_KEYS)}.")
        elif not _KEYS[key][0](value):
            yield Fault(key, f"{value!r} cannot be used", f"Write {_KEYS[key][1]}.")


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _is_pair(value: Any) -> bool:
    return isinstance(value, list) and len(value) == 2 and all(map(_is_number, value))


def _is_count(value: Any) -> bool:
    return isinstance(value, int) and not isinstance(value, bool)


def _is_word(value: Any) -> bool:
    return isinstance(value, str)


_KEYS: dict[str, tuple[Callable[[Any], bool], str]] = {
    "paper": (_is_pair, "width and height in mm, such as [210, 297]"),
    "label": (_is_pair, "width and height in mm, such as [74, 52]"),
    "columns": (_is_count, "a whole number"),
    "rows": (_is_count, "a whole number"),
    "at": (_is_pair, "left and top of the first label in mm, such as [29, 14.5]"),
    "pitch": (_is_pair, "from label to label in mm, across and down, such as [78, 54]"),
    "radius": (_is_number, "a length in mm"),
    "order": (_is_word, "rows or columns"),
    "outlines": (_is_word, "off, hairline or crop"),
}
_NEEDED = ("paper", "label", "columns", "rows", "at", "pitch")
