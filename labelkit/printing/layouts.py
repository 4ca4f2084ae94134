"""Label layouts: where each ranked field stands on a label, read from TOML files."""

import tomllib
from collections.abc import Mapping
from functools import cache, lru_cache
from importlib.resources.abc import Traversable
from itertools import product
from pathlib import Path
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from labelkit.errors import BadInput, Unknown
from labelkit.mixing.words import BottleText
from labelkit.printing.layout_checks import CONDITIONS, KINDS, layout_faults
from labelkit.resources import templates_dir

__all__ = [
    "Above",
    "Layout",
    "LayoutBox",
    "Place",
    "built_in",
    "by_size",
    "conditions_of",
    "every_bottle",
    "layout_named",
    "read_layout",
    "stacked",
]

_TIGHT = 0.2  # of the white between blocks, where white gives way
_UNDER_CODE_MM = 2.5  # its quiet zone; what is more gives way
# White round these is needed, or is a minimum.
_STANDS = frozenset({"headline", "code", "part", "hazards", "hole"})

Conditions = frozenset[str]


class LayoutBox(Struct, frozen=True):
    """One box of a layout, in mm from the top left and in points.

    Attributes:
        shows: the ranked fields it shows, the chief one first.
        wanted: type size of the chief field [pt].
        smallest: under which it is never set [pt].
        others: type sizes of the further fields [pt].
        label: type size of what names a field, such as "Discard after" [pt].
        arranged: ``row``, ``paragraph`` or ``stack``.
        when: what must hold of the bottle for the box to be there.
        words: a template for text of one's own.
        signal: wanted and smallest size of the signal word [pt].
        repeats: fields said once more beside the hazards.
        line: thickness of a stroke [mm].
        inset: how far text stands inside [mm].
        gap: white between groups [mm].
        split: right end of the left panel, left end of the right one [mm].
        unless_named: nothing where the bottle's name says it already.
        moves_to_hazards: it may give way to the hazard panel.
        fills: the frame is as high as the box, not as its words.
        full_aid: what the hazard text is worth is said in full.
        dense: the words of a bottle without a class are one paragraph, if need be.
        ends: what stands at the right end of a foot: ``number``, ``signal`` or
            ``back``, that the hazards are on the back.
    """

    shows: tuple[str, ...]
    x: float
    y: float
    w: float
    h: float
    wanted: float = 0.0
    smallest: float = 0.0
    others: tuple[float, ...] = ()
    label: float = 6.6
    arranged: str = "row"
    align: str = "left"
    when: tuple[str, ...] = ()
    words: str = ""
    signal: tuple[float, float] = (19.0, 12.0)
    repeats: tuple[str, ...] = ()
    line: float = 0.7
    inset: float = 1.9
    gap: float = 0.4
    split: tuple[float, ...] = ()
    unless_named: bool = False
    moves_to_hazards: bool = False
    fills: bool = False
    full_aid: bool = False
    dense: bool = False
    ends: str = "number"

    @property
    def kind(self) -> str:
        """The chief field; ``words`` for text of one's own."""
        return self.shows[0] if self.shows else "words"

    @property
    def right(self) -> float:
        """Right edge [mm]."""
        return self.x + self.w

    @property
    def bottom(self) -> float:
        """Lower edge [mm]."""
        return self.y + self.h


class Layout(Struct, frozen=True, eq=False):
    """A label's size and boxes.

    Attributes:
        name: as it is typed.
        margin: nothing is printed nearer to the edge [mm].
        floor: nothing but the foot goes below it [mm].
        only: what a bottle must be for this layout to carry it at all.
        chosen: what a bottle must be for it to be taken without being named.
        up_to_mL: the largest bottle it is taken for without being named [mL].
        keeps_rows: how many of write-in row and tally may not give way.
        largest_symbol_mm: pictograms grow up to this side where there is room [mm].
        kind: ``label``; or ``cap`` or ``dropper``, for the glass under a tag.
        halves: ``folded``: two leaves, the right one on the back; ``apart``: two
            labels of one bottle; "" for one piece.
        first: taken before smaller ones by the bottles it is chosen for.
        also: the layout that is printed with it, for the glass itself.
    """

    name: str
    width: float
    height: float
    margin: float
    floor: float
    boxes: tuple[LayoutBox, ...]
    only: tuple[str, ...] = ()
    chosen: tuple[str, ...] = ()
    up_to_mL: float = float("inf")
    keeps_rows: int = 0
    largest_symbol_mm: float = 0.0
    kind: str = "label"
    halves: str = ""
    first: bool = False
    also: str = ""

    @property
    def waits_for_its_name(self) -> bool:
        """Whether it is taken only where a person names it."""
        return self.kind != "label" or self.halves == "apart"

    def is_a_label_of(self, text: BottleText) -> bool:
        """Whether it says all that a label of this bottle must."""
        whole = self.kind == "dropper" and bool(text.hazard.none_reached)
        return self.kind == "label" or whole

    @property
    def area(self) -> float:
        """Area of the label [mm2]."""
        return self.width * self.height

    def carries(self, conditions: Conditions) -> bool:
        """Whether it is made for such a bottle."""
        return conditions.issuperset(self.only)

    def boxes_for(self, conditions: Conditions) -> tuple[LayoutBox, ...]:
        """The boxes that are there for such a bottle."""
        return tuple(box for box in self.boxes if conditions.issuperset(box.when))


def conditions_of(text: BottleText) -> Conditions:
    """What a layout may ask of a bottle: class, part, and the kind of headline."""
    true = {text.headline.kind}
    true |= {"part"} if text.part else set()
    true |= set() if text.hazard.none_reached else {"class"}
    return _with_negations(frozenset(true))


def every_bottle() -> tuple[Conditions, ...]:
    """Every combination of what a layout may ask."""
    return tuple(
        _with_negations(frozenset({kind, *marks} - {""}))
        for kind, *marks in product(KINDS, ("class", ""), ("part", ""))
    )


@cache
def _with_negations(true: Conditions) -> Conditions:
    return frozenset(c if c in true else f"no {c}" for c in CONDITIONS)


@cache
def built_in() -> tuple[Layout, ...]:
    """The layouts that travel with labelkit, the smallest first."""
    return tuple(sorted(map(_built_in, _names()), key=by_size))


@cache
def _names() -> tuple[str, ...]:
    folder = templates_dir() / "labels"
    files = (item.name for item in folder.iterdir() if item.name.endswith(".toml"))
    return tuple(sorted(name.removesuffix(".toml") for name in files))


@cache
def _built_in(name: str) -> Layout:
    return read_layout(templates_dir() / "labels" / f"{name}.toml")


def by_size(layout: Layout) -> tuple[float, float, str]:
    """Smaller ones first; of two as large, the one that takes larger bottles."""
    return layout.area, -layout.up_to_mL, layout.name


def layout_named(name: str, own: tuple[Layout, ...] = ()) -> Layout:
    """A layout of the bench, or a built-in one, by name.

    Raises:
        Unknown: there is no such layout.
    """
    of_the_bench = {layout.name: layout for layout in own}
    if name in of_the_bench:
        return of_the_bench[name]
    if name in _names():
        return _built_in(name)  # the others need not be read for it
    known = dict.fromkeys(layout.name for layout in (*built_in(), *own))
    raise Unknown(
        f"there is no label layout '{name}'",
        remedy=f"Write one of {', '.join(known)}.",
    )


def read_layout(file: Path | Traversable) -> Layout:
    """Read a layout from its file.

    Raises:
        BadInput: every fault of the file together, each with box and key.
    """
    try:
        data = tomllib.loads(file.read_text("utf-8"))
    except tomllib.TOMLDecodeError as error:
        raise BadInput(str(error), place=file.name, remedy="Mend the TOML.") from None
    except UnicodeDecodeError:
        raise BadInput(
            "is not a text file", place=file.name, remedy="Save it as UTF-8."
        ) from None
    faults = layout_faults(data, every_bottle())
    if faults:
        raise BadInput.of(fault.at(file.name) for fault in faults)
    return _layout(data)


def _layout(data: Mapping[str, Any]) -> Layout:
    bottles = data.get("for", {})
    width, height = map(float, data["size"])
    return Layout(
        name=data["name"],
        width=width,
        height=height,
        margin=float(data["margin"]),
        floor=float(data["floor"]),
        boxes=tuple(map(_box, data["box"])),
        only=tuple(bottles.get("only", ())),
        chosen=tuple(bottles.get("chosen", ())),
        up_to_mL=float(bottles.get("up_to_mL", "inf")),
        keeps_rows=int(data.get("keeps_rows", 0)),
        largest_symbol_mm=float(data.get("largest_symbol", 0.0)),
        kind=data.get("kind", "label"),
        halves=data.get("halves", ""),
        first=bool(bottles.get("first", False)),
        also=data.get("also", ""),
    )


def _box(data: Mapping[str, Any]) -> LayoutBox:
    shows = data.get("shows", ())
    x, y = map(float, data["at"])
    w, h = map(float, data["size"])
    box = LayoutBox((shows,) if isinstance(shows, str) else tuple(shows), x, y, w, h)
    if "text" in data:
        wanted, smallest = map(float, data["text"])
        box = replace(box, wanted=wanted, smallest=smallest)
    same = (
        "arranged", "align", "words", "unless_named", "moves_to_hazards", "fills",
        "full_aid", "dense", "ends",
    )  # fmt: skip
    lists = ("others", "when", "signal", "repeats", "split")
    numbers = ("label", "line", "inset", "gap")
    changes: dict[str, Any] = {key: data[key] for key in same if key in data}
    changes |= {key: tuple(data[key]) for key in lists if key in data}
    changes |= {key: float(data[key]) for key in numbers if key in data}
    return replace(box, **changes)


class Above(Struct, frozen=True):
    """A neighbour above: its place, and where the box begins if it has not moved [mm].

    Attributes:
        tight: the same where white gives way.
    """

    place: int
    loose: float
    tight: float


class Place(Struct, frozen=True):
    """A box in its stack: its rank in the file, and its neighbours above."""

    rank: int
    box: LayoutBox
    above: tuple[Above, ...]


@lru_cache(maxsize=256)
def stacked(layout: Layout, conditions: Conditions) -> tuple[Place, ...]:
    """The boxes from top to bottom, each with its neighbours above.

    A neighbour above overlaps it from side to side, ends where it begins or higher,
    and has no other such box between.
    """
    boxes = layout.boxes_for(conditions)
    ranks = sorted(range(len(boxes)), key=lambda k: (boxes[k].y, boxes[k].bottom))
    places: list[Place] = []
    for rank in ranks:
        box = boxes[rank]
        over = [k for k, upper in enumerate(places) if _is_above(upper.box, box)]
        hidden = {above.place for k in over for above in places[k].above}
        near = [_above(k, places[k].box, box) for k in over if k not in hidden]
        places.append(Place(rank, box, () if box.kind == "foot" else tuple(near)))
    return tuple(places)


def _above(place: int, upper: LayoutBox, lower: LayoutBox) -> Above:
    stands = {upper.kind, lower.kind} & _STANDS
    white = (lower.y - upper.bottom) * (1 if stands else _TIGHT)
    if upper.kind == "code":
        white = min(white, _UNDER_CODE_MM)
    return Above(place, lower.y, upper.bottom + white)


def _is_above(upper: LayoutBox, lower: LayoutBox) -> bool:
    beside = upper.right <= lower.x + 1e-6 or lower.right <= upper.x + 1e-6
    return not beside and upper.bottom <= lower.y + 1e-6
