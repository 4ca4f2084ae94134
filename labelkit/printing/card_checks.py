"""What a card layout must be before it is used, checked on the file as it was read."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from labelkit.errors import Fault

__all__ = ["COLUMNS", "FLOOR_PT", "NUMBERS", "card_faults", "side_faults"]

FLOOR_PT = 6.6  # nothing on a print is set smaller
LEAST_PT = {"headline": 28.0, "signal": 12.0, "foot": 12.0, "substance": 11.3}
LEAST_SIDE_MM = {"pictograms": 10.0, "hazard": 10.0, "tick": 6.0}
LEAST_MARGIN_MM, LEAST_EDGE_MM, LEAST_MODULE_MM = 3.0, 54.0, 0.4

# Every field of a side, with the keys it cannot do without.
_FRONT = {
    "name": "at text",
    "mark": "at side text",
    "marked_name": "at text",
    "goes_with": "at text small",
    "headline": "at text",
    "substance": "at text",
    "summary": "at text",
    "pictograms": "at side text",
    "signal": "at text",
    "no_class": "at width height line text",
    "scale": "at text",
    "foot": "at height text small",
}
_STEPS = {
    "rule": "at height",
    "unscaled_rule": "at height",
    "heads": "height text small",
    "heads_words": "text small",
    "columns": "gap blank",
    "rows": "height text small",
    "tick": "side line",
    "number": "indent text",
    "what": "indent",
    "amounts": "text",
    "vessel": "height indent line text",
    "stop": "height text small",
    "fill": "height line",
    "write_in": "at height text",
}
_BACK = {
    "name": "at text",
    "mark": "at side text",
    "marked_name": "at text",
    "hazard": "at side text small",
    "signal": "text",
    "notes": "width",
    "aid": "text",
    "code": "at",
    "foot": "at height text small",
}
_MAY_FRONT = {
    "marked_headline": "at text",
    "marked_substance": "at text",
    "stacked_rows": "height text small",
}
_MAY_BACK = {
    "revision": "at text",
    "rule": "at height",
    "marked_rule": "at height",
    "marked_hazard": "at side text small",
    "room": "text",
    "aside": "width",
}

COLUMNS = ("one", "two", "three", "four", "five", "six", "seven", "eight")
NUMBERS = (
    "width", "height", "small", "smallest", "line", "indent", "gap", "blank",
)  # fmt: skip
_TOP = ("title", "size", "margin", "clear", "module", "columns", "front", "back")

Table = Mapping[str, Any]


def card_faults(data: Table) -> list[Fault]:
    """Every fault of a layout as it was read; places name side, field and key."""
    faults = [
        Fault(name, "is not a key of a card", f"Write one of {', '.join(_TOP)}.")
        for name in data
        if name not in _TOP
    ]
    missing = [name for name in _TOP if name not in data]
    if missing:
        return [*faults, Fault("", f"has no {', '.join(missing)}", "Look at a5.toml.")]
    faults += _top_faults(data)
    if faults:
        return faults
    steps = data["columns"] > 0
    front = _FRONT | (_STEPS if steps else {})
    faults += side_faults(data, "front", front, _MAY_FRONT | _STEPS)
    faults += side_faults(data, "back", _BACK, _MAY_BACK)
    return faults


def _top_faults(data: Table) -> Iterator[Fault]:
    if not isinstance(data["title"], str) or not data["title"]:
        yield Fault("title", f"is {data['title']!r}", 'Write title = "A5 card".')
    size = data["size"]
    if not _numbers(size, 2) or min(size) < LEAST_EDGE_MM:
        yield Fault("size", f"is {size!r}", f"Write two edges from {LEAST_EDGE_MM} mm.")
    least = {"margin": LEAST_MARGIN_MM, "clear": 0.0, "module": LEAST_MODULE_MM}
    for name, smallest in least.items():
        if not _number(data[name]) or data[name] < smallest:
            yield Fault(name, f"is {data[name]!r}", f"Write {smallest} mm or more.")
    if type(data["columns"]) is not int or not 0 <= data["columns"] <= len(COLUMNS):
        yield Fault("columns", f"is {data['columns']!r}", f"Write 0 to {len(COLUMNS)}.")
    for side in ("front", "back"):
        if not isinstance(data[side], dict):
            yield Fault(side, f"is {data[side]!r}", "Write a table for every field.")


def side_faults(
    data: Table, side: str, must: Mapping[str, str], may: Mapping[str, str]
) -> Iterator[Fault]:
    """Every fault of the fields of one side, each named with side, field and key.

    Args:
        data: the layout as read, with ``size``, ``margin`` and ``clear``.
        side: the key its fields stand under.
        must: fields that it cannot do without, with the keys of each.
        may: further ones.
    """
    fields = data[side]
    for name in must:
        if name not in fields:
            yield Fault(f"{side}, {name}", "is left out", "Give it a place.")
    for name, values in fields.items():
        keys = must.get(name, may.get(name))
        if keys is None:
            fault = Fault("", "is no field of this side", "Leave it out.")
            yield fault.at(f"{side}, {name}")
            continue
        found = _field_faults(data, name, values, keys.split())
        yield from (fault.at(f"{side}, {name}") for fault in found)


def _field_faults(
    data: Table, name: str, values: Any, keys: Sequence[str]
) -> Iterator[Fault]:
    if not isinstance(values, dict):
        yield Fault("", f"is {values!r}", "Write a table.")
        return
    for key in keys:
        if key not in values:
            yield Fault(key, "is missing", "Write it as in a5.toml.")
    for key, value in values.items():
        yield from (fault.at(key) for fault in _value_faults(data, name, key, value))
    if name == "columns":
        yield from _column_faults(data, values)


def _value_faults(data: Table, name: str, key: str, value: Any) -> Iterator[Fault]:
    if key in NUMBERS:
        if not _number(value) or (key == "small" and value < FLOOR_PT):
            yield Fault("", f"is {value!r}", "Write a number; type from 6.6 pt.")
    elif key == "at":
        yield from _place_faults(data, value)
    elif key == "text":
        yield from _sizes_faults(value, LEAST_PT.get(name, FLOOR_PT), "pt")
    elif key == "side":
        yield from _sizes_faults(value, LEAST_SIDE_MM.get(name, 0.0), "mm")
    elif not (name == "columns" and key in COLUMNS):
        yield Fault("", "is not a key of a field", "Leave it out.")


def _place_faults(data: Table, value: Any) -> Iterator[Fault]:
    if not _numbers(value, 2):
        yield Fault("", f"is {value!r}", "Write [across, down], in mm.")
        return
    (width, height), margin = data["size"], data["margin"]
    across = margin <= value[0] <= width - margin
    if not across or not data["clear"] <= value[1] <= height - margin:
        yield Fault(
            "", f"is {value!r}, outside the margins", "Move it to where print may be."
        )


def _sizes_faults(value: Any, least: float, unit: str) -> Iterator[Fault]:
    if not _numbers(value):
        yield Fault("", f"is {value!r}", "Write a list, the wanted size first.")
    elif min(value) < least:
        yield Fault(
            "", f"goes down to {min(value)} {unit}", f"{least} is the smallest."
        )
    elif list(value) != sorted(value, reverse=True):
        yield Fault("", f"is {value!r}", "Write the wanted size first, then smaller.")


def _column_faults(data: Table, values: Table) -> Iterator[Fault]:
    right = data["size"][0] - data["margin"]
    for count, word in enumerate(COLUMNS[: data["columns"]], 1):
        stops = values.get(word, [])
        if not _numbers(stops, count) or sorted(stops) != stops or stops[-1] > right:
            yield Fault(
                word, f"is {stops!r}", f"Write {count} right edges, up to {right} mm."
            )


def _number(value: Any) -> bool:
    return type(value) in (int, float) and 0 <= value < 1000


def _numbers(value: Any, count: int = 0) -> bool:
    return (
        isinstance(value, list)
        and bool(value)
        and all(map(_number, value))
        and count in (0, len(value))
    )
