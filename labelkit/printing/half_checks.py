"""What a label of two halves, or one that hangs by a hole, must be besides."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from math import hypot
from typing import Any

from labelkit.errors import Fault

__all__ = ["KEEP_OUT_MM", "half_faults", "hole_faults"]

KEEP_OUT_MM = 2.0  # round a hole: of 5 mm, nothing is printed within 9
# What both halves say, so that either warns by itself.
BOTH_SAY = ("name", "number", "foot")

Table = Mapping[str, Any]
Called = Callable[[int, Table], str]


def hole_faults(boxes: Iterable[Table], called: Called) -> Iterator[Fault]:
    """Everything that comes near a hole."""
    numbered = list(enumerate(boxes, 1))
    holes = [box for _, box in numbered if "hole" in _shows(box)]
    for hole in holes:
        for index, box in numbered:
            if box is not hole and _away(hole, box) < hole["size"][0] / 2 + KEEP_OUT_MM:
                yield Fault(
                    called(index, box),
                    f"comes nearer than {KEEP_OUT_MM:g} mm to the hole",
                    "Move it away: what is punched out cannot be read.",
                )


def _away(hole: Table, box: Table) -> float:
    """From the middle of a hole to the nearest point of a box [mm]."""
    x, y = (at + side / 2 for at, side in zip(hole["at"], hole["size"], strict=True))
    (left, top), (w, h) = box["at"], box["size"]
    return hypot(max(left - x, 0, x - left - w), max(top - y, 0, y - top - h))


def half_faults(data: Table, called: Called) -> Iterator[Fault]:
    """Boxes over the middle, and what one of two halves leaves off."""
    if not data.get("halves"):
        return
    half, margin = data["size"][0] / 2, data["margin"]
    sides: tuple[list[Table], list[Table]] = ([], [])
    for index, box in enumerate(data["box"], 1):
        left = box["at"][0]
        sides[left >= half].append(box)
        begins = half + margin if left >= half else margin
        if (
            left < begins - 1e-6
            or left + box["size"][0] > begins + half - 2 * margin + 1e-6
        ):
            yield Fault(
                called(index, box),
                f"lies over the margin of {margin:g} mm at the middle, {half:g}",
                "Keep it on one half.",
            )
    yield from _silent(sides)


def _silent(sides: tuple[list[Table], list[Table]]) -> Iterator[Fault]:
    warns = ("pictograms", "hazards")
    for name, boxes, warning in zip(("left", "right"), sides, warns, strict=True):
        shown = {field for box in boxes for field in _shows(box)}
        for field in (*BOTH_SAY, warning):
            if field not in shown:
                yield Fault(
                    "box",
                    f"none shows '{field}' on the {name} half",
                    f'Write a [[box]] with shows = "{field}" there.',
                )


def _shows(box: Table) -> list[Any]:
    shows = box.get("shows", [])
    return [shows] if isinstance(shows, str) else list(shows)
