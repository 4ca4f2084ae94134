"""Which texts of a file come to be printed, each with the place where it stands."""

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from labelkit.errors import BadInput
from labelkit.files.toml import parse_toml, read_text

__all__ = ["Printed", "label_texts", "printed_texts"]

Printed = tuple[str, str]  # place and text
Data = Mapping[str, Any]

_ON_A_LABEL = ("title", "part", "off_when")
# Of each kind of file: the keys at its top, and of the tables in it.
_TOP = (
    *_ON_A_LABEL, "keep_in", "note", "test", "revision",  # recipe
    "room", "address", "phone", "emergency", "disposal",  # settings
    "place", "teacher", "people", "stations",  # workshop
)  # fmt: skip
_OF_TABLES = {
    "step": ("text", "caution", "in", "pour"),
    "jar": ("lot",),
    "bench_notes": ("mixing", "spill", "storage", "disposal"),
}


def printed_texts(path: Path) -> Iterator[Printed]:
    """Every text that is printed of a recipe, settings, chemicals, jars or a workshop.

    Nothing of a file that cannot be read, which its own reader tells.
    """
    try:
        data = parse_toml(read_text(path), path.name)
    except BadInput:
        return
    yield from _texts(data, _TOP, path.name)
    yield from _of_use(data, path.name)
    for table, keys in _OF_TABLES.items():
        for each, place in _tables(data, table, path.name):
            yield from _texts(each, keys, place)
    yield from _of_chemicals(data, path.name)


def label_texts(document: str, place: str) -> Iterator[Printed]:
    """The texts of a recipe that stand on the label of what it makes.

    Args:
        document: the recipe as it is written.
        place: named before each of them.
    """
    data = parse_toml(document, place)
    yield from _texts(data, _ON_A_LABEL, place)
    yield from _of_use(data, place)
    yield from _of_chemicals(data, place)


def _texts(data: Data, keys: tuple[str, ...], place: str) -> Iterator[Printed]:
    """What stands under some keys; the texts of a list together."""
    for key in keys:
        found = data.get(key)
        listed = found if isinstance(found, list) else [found]
        lines = (" ".join(o.split()) for o in listed if isinstance(o, str))
        told = ", ".join(lines)
        if told:
            yield f"{place}, {key}", told


def _of_use(data: Data, place: str) -> Iterator[Printed]:
    use = data.get("use")
    if isinstance(use, dict):
        yield from _texts(use, ("with",), f"{place}, use")
        capacity = use.get("capacity")
        if isinstance(capacity, dict):
            yield from _texts(capacity, ("of",), f"{place}, use, capacity")


def _of_chemicals(data: Data, place: str) -> Iterator[Printed]:
    """The name of each that is printed: the first one."""
    for each, where in _tables(data, "chemical", place):
        names = each.get("names")
        first = names[:1] if isinstance(names, list) else []
        called = each.get("id")
        at = f"{place}, {called}" if called and isinstance(called, str) else where
        yield from _texts({"names": first}, ("names",), at)


def _tables(data: Data, key: str, place: str) -> Iterator[tuple[Data, str]]:
    """The table under a key, or each of several with its number."""
    found = data.get(key)
    if isinstance(found, dict):
        yield found, f"{place}, {key}"
    for number, each in enumerate(found if isinstance(found, list) else (), start=1):
        if isinstance(each, dict):
            yield each, f"{place}, {key} {number}"
