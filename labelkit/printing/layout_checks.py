"""What a label layout must be before it is used, checked on the file as read."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import combinations
from typing import Any

from labelkit.errors import BadInput, Fault
from labelkit.printing.fonts import clean
from labelkit.printing.half_checks import half_faults, hole_faults
from labelkit.printing.leaves import HALVES
from labelkit.printing.ownwords import check_words

__all__ = ["CONDITIONS", "KINDS", "layout_faults"]

KINDS = ("equivalence", "dilution", "ready", "dry")
CONDITIONS = (*KINDS, "class", "part")
FLOOR_PT = 6.6  # nothing on a label is set smaller
# Smallest size and margin [mm]; a cap is ringed up to its edge.
_LEAST = ((40, 30), 3.0)
_LEAST_OF_A_CAP = ((24, 24), 0.2)
LARGEST_MM = 1000  # ours: the longest built in is 210
QUIET_MM = 1.7  # four modules of 1.2 pt

# Smallest type that a field may be given [pt].
_LEAST_PT = {"headline": 28.0, "foot": 9.0, "substance": 11.3, "name": 8.8}
_LEAST_SIGNAL_PT = 12.0

# What may never be left off a label, in the order of its rank.
RANKED = (
    "name", "part", "hazards", "foot", "made", "supplier", "strength", "headline",
    "substance", "contents", "discard", "off-when", "number", "bottle", "code",
)  # fmt: skip
# What only some bottles say, and then may not be left off either.
_OF_SOME = ("goes-with", "ratio", "beside")
_OTHERS = (
    "beside", "by", "cap", "cautions", "count", "goes-with", "hole", "label-1",
    "label-2", "mixed", "on-the-tag", "pictograms", "ratio", "rule", "scale", "tally",
    "tally-caption", "use-mark", "write-in",
)  # fmt: skip
# What stands on the glass under a tag may leave off what the tag says.
LABEL, CAP, DROPPER = "label", "cap", "dropper"
_ON_THE_GLASS = ("name", "part", "pictograms", "foot", "strength", "number")
FIELDS = frozenset(RANKED + _OTHERS)
_NO_TYPE = frozenset({"code", "rule", "part", "tally", "scale", "hole"})

_TOP = {
    "name", "size", "margin", "floor", "for", "keeps_rows", "largest_symbol", "box",
    "kind", "halves", "also",
}  # fmt: skip
_FOR = {"only", "chosen", "up_to_mL", "first"}
_BOX = {
    "shows", "words", "at", "size", "text", "others", "label", "arranged", "align",
    "when", "signal", "repeats", "line", "inset", "gap", "split", "unless_named",
    "moves_to_hazards", "fills", "full_aid", "dense", "ends",
}  # fmt: skip
_CHOICES = {
    "arranged": ("row", "paragraph", "stack"),
    "align": ("left", "right"),
    "ends": ("number", "signal", "back"),
}
_TOP_CHOICES = {"kind": (LABEL, CAP, DROPPER), "halves": ("", *HALVES)}
_FLAGS = ("unless_named", "moves_to_hazards", "fills", "full_aid", "dense")
_SINGLE = ("label", "line", "inset", "gap")
_WHEN = frozenset(CONDITIONS) | {f"no {c}" for c in CONDITIONS}

Conditions = frozenset[str]
Table = Mapping[str, Any]


def layout_faults(data: Table, bottles: Iterable[Conditions]) -> list[Fault]:
    """Every fault of a layout as it was read; places name box and key."""
    faults = list(_top_faults(data))
    if faults:
        return faults
    for index, box in enumerate(data["box"], 1):
        faults += [fault.at(_called(index, box)) for fault in _box_faults(box)]
    if faults:
        return faults
    faults += _geometry_faults(data)
    faults += hole_faults(data["box"], _called)
    faults += half_faults(data, _called)
    faults += _rank_faults(data, bottles)
    return list(dict.fromkeys(faults))


def _top_faults(data: Table) -> Iterator[Fault]:
    yield from _unknown_keys(data, _TOP)
    if not isinstance(data.get("name"), str) or not data["name"]:
        yield Fault("name", "is missing", 'Write name = "small".')
    least, margin = _LEAST_OF_A_CAP if data.get("kind") == CAP else _LEAST
    if not _numbers(data.get("size"), 2) or not _is_large(data["size"], least):
        yield Fault("size", _as_is(data, "size"), f"Write [74, 52], from {[*least]}.")
    elif max(data["size"]) > LARGEST_MM:
        yield Fault("size", _as_is(data, "size"), f"Write at most {LARGEST_MM} mm.")
    if not _number(data.get("margin"), margin):
        yield Fault(
            "margin", _as_is(data, "margin"), f"Write {margin:g} or more, in mm."
        )
    if not _number(data.get("floor")):
        yield Fault(
            "floor", _as_is(data, "floor"), "Write where the foot begins, in mm."
        )
    yield from _more_top_faults(data)
    yield from (fault.at("for") for fault in _for_faults(data.get("for", {})))


def _more_top_faults(data: Table) -> Iterator[Fault]:
    if type(data.get("keeps_rows", 0)) is not int:
        yield Fault("keeps_rows", f"is {data['keeps_rows']!r}", "Write 0, 1 or 2.")
    side = data.get("largest_symbol", 10)
    if not _number(side, 10):
        yield Fault("largest_symbol", f"is {side!r}", "Write 10 or more, in mm.")
    for key, choices in _TOP_CHOICES.items():
        if data.get(key, choices[0]) not in choices:
            known = ", ".join(filter(None, choices))
            yield Fault(key, f"is {data[key]!r}", f"Write one of {known}.")
    if not isinstance(data.get("also", ""), str):
        yield Fault("also", f"is {data['also']!r}", "Write the name of a layout.")
    boxes = data.get("box")
    if not isinstance(boxes, list) or not boxes or not all(map(_table, boxes)):
        yield Fault("box", "is missing", "Write a [[box]] for every field.")


def _as_is(table: Table, key: str) -> str:
    return f"is {table[key]!r}" if key in table else "is missing"


def _is_large(size: Sequence[float], least: tuple[int, int]) -> bool:
    return size[0] >= least[0] and size[1] >= least[1]


def _for_faults(bottles: Any) -> Iterator[Fault]:
    if not _table(bottles):
        yield Fault("", f"is {bottles!r}", "Write a table.")
        return
    yield from _unknown_keys(bottles, _FOR)
    for key in ("only", "chosen"):
        yield from _when_faults(key, bottles.get(key, []))
    if not isinstance(bottles.get("first", False), bool):
        yield Fault("first", f"is {bottles['first']!r}", "Write true or false.")
    if not _number(bottles.get("up_to_mL", 0)):
        yield Fault("up_to_mL", f"is {bottles['up_to_mL']!r}", "Write a number of mL.")


def _box_faults(box: Table) -> Iterator[Fault]:
    yield from _unknown_keys(box, _BOX)
    yield from _shows_faults(box)
    for key in ("at", "size"):
        if not _numbers(box.get(key), 2):
            yield Fault(key, _as_is(box, key), "Write two numbers, in mm.")
    yield from _type_faults(box)
    yield from _when_faults("when", box.get("when", []))
    yield from _choice_faults(box)
    if "split" in box and not _numbers(box["split"], 2):
        yield Fault("split", f"is {box['split']!r}", "Write two numbers, in mm.")


def _choice_faults(box: Table) -> Iterator[Fault]:
    for key, choices in _CHOICES.items():
        if box.get(key, choices[0]) not in choices:
            yield Fault(key, f"is {box[key]!r}", f"Write one of {', '.join(choices)}.")
    for key in _FLAGS:
        if not isinstance(box.get(key, False), bool):
            yield Fault(key, f"is {box[key]!r}", "Write true or false.")
    for key in _SINGLE:
        if not _number(box.get(key, 0)):
            yield Fault(key, f"is {box[key]!r}", "Write a number.")


def _shows_faults(box: Table) -> Iterator[Fault]:
    if ("shows" in box) == ("words" in box):
        yield Fault("", "has neither or both of shows and words", "Write one of them.")
    words = box.get("words", "")
    if not isinstance(words, str):
        yield Fault("words", f"is {words!r}", "Write text.")
    elif words and check_words(words):
        yield Fault("words", check_words(words), "Mend the template.")
    elif words:
        yield from _letter_faults(words)
    for key in ("shows", "repeats"):
        for field in _listed(box.get(key, [])):
            if field not in FIELDS:
                known = ", ".join(sorted(FIELDS))
                yield Fault(key, f"{field!r} is no field", f"Write one of {known}.")


def _letter_faults(words: str) -> Iterator[Fault]:
    """What of words of one's own the printed type does not have."""
    try:
        clean(" ".join(words.split()), "words")
    except BadInput as error:
        yield from error.faults


def _type_faults(box: Table) -> Iterator[Fault]:
    shows = _listed(box.get("shows", []))
    chief = shows[0] if shows else "words"
    if "text" in box:
        least = _LEAST_PT.get(str(chief), FLOOR_PT)
        yield from _pair_faults("text", box["text"], least)
    elif chief not in _NO_TYPE:
        yield Fault("text", "is missing", "Write [wanted, smallest], in pt.")
    if "signal" in box:
        yield from _pair_faults("signal", box["signal"], _LEAST_SIGNAL_PT)
    others = box.get("others", [])
    is_row = (
        chief not in {"hazards", "pictograms", "cap", *_NO_TYPE}
        and "arranged" not in box
    )
    if not isinstance(others, list) or not all(_number(o, FLOOR_PT) for o in others):
        yield Fault("others", f"is {others!r}", f"Write sizes from {FLOOR_PT} pt.")
    elif is_row and len(others) != max(0, len(shows) - 1):
        yield Fault("others", f"has {len(others)} sizes", "Write one a field.")
    if not _number(box.get("label", FLOOR_PT), FLOOR_PT):
        yield Fault("label", f"is {box['label']!r}", f"Write {FLOOR_PT} pt or more.")


def _pair_faults(key: str, pair: Any, least: float) -> Iterator[Fault]:
    if not _numbers(pair, 2) or pair[0] < pair[1]:
        yield Fault(key, f"is {pair!r}", "Write [wanted, smallest], in pt.")
    elif pair[1] < least:
        yield Fault(key, f"goes down to {pair[1]} pt", f"Write {least:g} pt or more.")


def _when_faults(key: str, when: Any) -> Iterator[Fault]:
    if not isinstance(when, list) or not set(map(str, when)) <= _WHEN:
        known = ", ".join(CONDITIONS)
        yield Fault(key, f"is {when!r}", f"Write a list of {known}, or 'no …'.")


def _geometry_faults(data: Table) -> Iterator[Fault]:
    boxes = list(enumerate(data["box"], 1))
    for index, box in boxes:
        if box.get("shows") != "hole" and not _is_inside(box, data):
            yield Fault(
                _called(index, box),
                f"{box['at']} with {box['size']} reaches over the margin of "
                f"{data['margin']:g} mm",
                "Move it in or make it smaller.",
            )
    placed = [(index, box, _rectangle(box)) for index, box in boxes]
    for (index, box, here), (second, other, there) in combinations(placed, 2):
        white = QUIET_MM if "code" in (box.get("shows"), other.get("shows")) else 0.0
        if _overlap(here, there, white) and _can_meet(box, other):
            yield Fault(
                _called(index, box),
                f"overlaps {_called(second, other)}",
                "Move one of them; a code needs 1.7 mm of white on every side.",
            )


def _is_inside(box: Table, data: Table) -> bool:
    x, y, w, h = _rectangle(box)
    width, height = map(float, data["size"])
    margin = float(data["margin"])
    slack = 1e-6
    begins = min(x, y) >= margin - slack
    return (
        begins and x + w <= width - margin + slack and y + h <= height - margin + slack
    )


def _can_meet(box: Table, other: Table) -> bool:
    """Whether a bottle can have both boxes on its label."""
    asked = {*box.get("when", ()), *other.get("when", ())}
    kinds = asked & set(KINDS)
    return len(kinds) < 2 and not any(f"no {one}" in asked for one in asked)


Rectangle = tuple[float, float, float, float]


def _rectangle(box: Table) -> Rectangle:
    x, y = map(float, box["at"])
    w, h = map(float, box["size"])
    return x, y, w, h


def _overlap(here: Rectangle, there: Rectangle, white: float) -> bool:
    """Whether two boxes with a height come nearer than ``white`` [mm]."""
    x, y, w, h = here
    u, v, p, q = there
    white -= 1e-6
    across = x < u + p + white and u < x + w + white
    down = y < v + q + white and v < y + h + white
    return across and down and h > 0 and q > 0


def _rank_faults(data: Table, bottles: Iterable[Conditions]) -> Iterator[Fault]:
    everywhere = {f for box in data["box"] for f in _listed(box.get("shows", []))}
    only = set(data.get("for", {}).get("only", ()))
    for bottle in bottles:
        if only <= bottle:
            shown = {
                field
                for box in data["box"]
                if bottle.issuperset(box.get("when", ()))
                for field in _listed(box.get("shows", []))
            }
            for field in _ranked(data, bottle):
                if field not in shown and _is_asked(field, bottle, shown):
                    on = f" on a bottle of {_described(bottle, data['box'])}"
                    yield Fault(
                        "box",
                        f"none shows '{field}'{on if field in everywhere else ''}",
                        f'Write a [[box]] with shows = "{field}".',
                    )


def _ranked(data: Table, bottle: Conditions) -> Iterable[str]:
    """What may never be left off this kind of print."""
    kind = data.get("kind", LABEL)
    if kind == CAP:
        return ("cap",)
    if kind == DROPPER and "class" in bottle:
        return _ON_THE_GLASS
    if kind == DROPPER:
        return [one for one in RANKED if one not in ("headline", "code")]
    return (*RANKED, *_OF_SOME)


def _is_asked(field: str, bottle: Conditions, shown: set[str]) -> bool:
    if field == "made":
        return not {"mixed", "by"} <= shown
    if field == "bottle":
        return not {"use-mark", "count"} <= shown
    dilution = "dilution" in bottle
    if field == "beside":
        return dilution or ("equivalence" in bottle and "part" not in bottle)
    if field == "ratio" and dilution:  # the headline is the ratio
        return False
    return field not in ("part", "goes-with", "ratio") or "part" in bottle


def _described(bottle: Conditions, boxes: Iterable[Table]) -> str:
    """What of a bottle the boxes ask for, so that alike bottles are told once."""
    asked = {one.removeprefix("no ") for box in boxes for one in box.get("when", ())}
    told = [one for one in CONDITIONS if one in bottle and one in asked]
    return f"kind '{', '.join(told)}'" if told else "any kind"


def _unknown_keys(table: Table, known: set[str]) -> Iterator[Fault]:
    for key in sorted(table.keys() - known):
        yield Fault(key, "is no key here", f"Write one of {', '.join(sorted(known))}.")


def _called(index: int, box: Table) -> str:
    shows = " ".join(map(str, _listed(box.get("shows", []))))
    return f"box {index} ({shows or 'words'})"


def _listed(value: Any) -> list[Any]:
    return [value] if isinstance(value, str) else list(value or ())


def _table(value: Any) -> bool:
    return isinstance(value, dict)


def _number(value: Any, least: float = 0) -> bool:
    return type(value) in (int, float) and least <= value < float("inf")


def _numbers(value: Any, count: int) -> bool:
    return isinstance(value, list) and len(value) == count and all(map(_number, value))
