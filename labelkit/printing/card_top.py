"""The top of a card's front: name and headline left, warning and strength right."""

from collections.abc import Mapping

from msgspec import Struct
from msgspec.structs import replace

from labelkit.chemistry.numbers import quoted
from labelkit.errors import Misfit
from labelkit.mixing.words import CardText, Run
from labelkit.printing.boxes import Box, Line, Text
from labelkit.printing.card_foot import goes_with_pieces, place_mark
from labelkit.printing.card_layout import CardLayout, Spot
from labelkit.printing.card_warning import GAP, warnings_for
from labelkit.printing.extents import extent_of, left_limit
from labelkit.printing.fonts import MM_PER_PT, cap_height_mm, width_mm
from labelkit.printing.headline import (
    UNIT,
    equation,
    headline_width_mm,
    is_in_name,
    largest_pt,
    substance,
)
from labelkit.printing.symbols import SymbolStyle
from labelkit.printing.typeset import (
    DESCENT,
    Pieces,
    bearing_mm,
    bind,
    fold,
    leading_mm,
    one_line,
    width_of,
)

__all__ = ["between", "place_name", "place_part", "place_top", "spot_for"]

_TIGHT = 1.1  # lines of a name stand closer than those of a sentence
_LOWER = 1.2  # the last of two lines stands under the place of one [mm]
_IN_TWO = 0.75  # of the wanted size, that two lines are set in at most
_NAME_SHARE = 0.6  # of the wanted size, that is still a name for the distance
_GENEROUS = 0.72  # a headline this share of the wanted size still reads from afar
_SUMMARY_LINES = (1, 2, 3)
_SUMMARY_STEP = 1.0  # [mm]

Boxes = tuple[Box, ...]


def place_top(
    text: CardText, layout: CardLayout, style: SymbolStyle
) -> tuple[Box, ...]:
    """Everything above the scale, warning and all, in the largest setting that fits.

    Raises:
        Misfit: naming what is too wide in its smallest size.
    """
    tried: list[Misfit] = []
    for share in (_GENEROUS, 0.0):
        for warned in warnings_for(text.hazard, layout, style):
            for lines in _SUMMARY_LINES:
                try:
                    return _top(text, layout, warned, lines, share)
                except Misfit as misfit:
                    tried.append(misfit)
    telling = [m for m in tried if m.faults[0].place != "summary"]
    raise (telling or tried)[-1]


def _top(
    text: CardText, layout: CardLayout, warned: Boxes, lines: int, share: float
) -> Boxes:
    """What stands left is set as wide as what stands right leaves room."""
    summary = _summary(text.summary, layout, lines)
    _require_apart(summary, warned)
    left = _Left(text, layout, (*warned, *summary), share)
    return (
        *left.name("name"),
        *left.goes_with(),
        left.headline(),
        *left.substance(),
        *summary,
        *warned,
    )


def _summary(told: str, layout: CardLayout, count: int) -> tuple[Text, ...]:
    """Strength and keeping, to the right, in so many lines of about one length."""
    if not told:
        return ()
    spot = layout.front["summary"]
    words = (Run(told),)
    width = width_mm(told, "regular", spot.pt) / count
    lines: tuple[Pieces, ...] = ()
    while not 1 <= len(lines) <= count:
        if width > spot.x - layout.left:
            raise Misfit(f"{quoted(told)} is too long", place="summary")
        lines = fold(words, spot.pt, width) if _longest(told, spot) <= width else ()
        width += _SUMMARY_STEP
    pitch = leading_mm(spot.pt)
    first = spot.y - pitch * (len(lines) - 1)
    placed = tuple(
        Line(spot.x, first + pitch * index, pieces, "right")
        for index, pieces in enumerate(lines)
    )
    top, wide = first - cap_height_mm(spot.pt), max(map(width_of, lines))
    bottom = spot.y + DESCENT * spot.pt * MM_PER_PT
    return (Text("summary", spot.x - wide, top, wide, bottom - top, placed),)


def _longest(told: str, spot: Spot) -> float:
    return max(width_mm(word, "regular", spot.pt) for word in bind(told).split(" "))


def _require_apart(boxes: Boxes, others: Boxes) -> None:
    for one in map(extent_of, boxes):
        if any(one.overlaps(extent_of(other)) for other in others):
            raise Misfit("strength and keeping do not fit", place="summary")


def spot_for(spots: Mapping[str, Spot], name: str, *, marked: bool) -> Spot:
    """A field's place, which may be another one on a card with a part mark."""
    return spots.get(f"marked_{name}", spots[name]) if marked else spots[name]


class _Left(Struct, frozen=True):
    """What stands on the left, and what stands right of it.

    Attributes:
        share: of the wanted size, that the headline keeps at least.
    """

    text: CardText
    layout: CardLayout
    right: Boxes
    share: float

    def spot(self, name: str) -> Spot:
        marked = self.text.part is not None
        return spot_for(self.layout.front, name, marked=marked)

    def room(self, spot: Spot, top: float, bottom: float) -> float:
        limit = left_limit(self.right, top, bottom, self.layout.right + GAP)
        return limit - GAP - spot.x

    def smallest(self, spot: Spot) -> float:
        return max(spot.text[-1], spot.pt * self.share)

    def name(self, field: str) -> Boxes:
        spot = self.spot(field)
        low = spot.y + DESCENT * spot.pt * MM_PER_PT
        room = self.room(spot, spot.y - cap_height_mm(spot.pt), low)
        mark = place_part(self.text, self.layout.front)
        smallest = max(spot.text[-1], spot.pt * _NAME_SHARE if self.share else 0.0)
        name = place_name(self.text.name, spot, room, self.layout.clear, smallest)
        return (*mark, name)

    def goes_with(self) -> Boxes:
        spot = self.layout.front["goes_with"]
        if self.text.part is None:
            return ()
        pieces = goes_with_pieces(self.text.part, spot.pt, spot.small)
        if not pieces:
            return ()
        line = one_line("goes with", pieces, x=spot.x, baseline=spot.y)
        top = spot.y - cap_height_mm(spot.pt)
        if line.w > self.room(spot, top, spot.y + 1):
            raise Misfit("what it goes with is too long", place="goes_with")
        return (line,)

    def headline(self) -> Text:
        spot, told = self.spot("headline"), self.text.headline.text
        below = DESCENT * spot.pt * UNIT * MM_PER_PT
        width = self.room(spot, spot.y - cap_height_mm(spot.pt), spot.y + below)
        size = largest_pt(told, width, spot.pt, self.smallest(spot))
        over = headline_width_mm(told, size) - width
        if over > 0:
            raise Misfit(
                f"{quoted(told)} is {over:.1f} mm too wide at {size:g} pt",
                place="headline",
            )
        line = one_line(
            "headline", equation(told, size),
            x=spot.x, baseline=spot.y, says=told, role="heading", hang=True,
        )  # fmt: skip
        top = spot.y - cap_height_mm(size)
        high = cap_height_mm(size) + DESCENT * size * UNIT * MM_PER_PT
        return replace(line, y=top, h=high)

    def substance(self) -> Boxes:
        spot = self.spot("substance")
        room = self.room(spot, spot.y - cap_height_mm(spot.pt), spot.y + 1)
        for size in between(spot.text):
            pieces = _about(self.text, size)
            if not pieces:
                return ()
            if width_of(pieces) <= room:
                return (one_line("substance", pieces, x=spot.x, baseline=spot.y),)
        told = quoted(self.text.headline.substance)
        raise Misfit(f"{told} is too long", place="substance")


def _about(text: CardText, size: float) -> Pieces:
    headline = text.headline
    pieces: Pieces = ()
    if headline.substance and not is_in_name(headline, text.name):
        pieces = tuple(
            (run.text, "semibold" if run.strong else "regular", size)
            for run in substance(headline)
        )
    if headline.beside:
        pieces += ((f"{'   ' if pieces else ''}{headline.beside}", "regular", size),)
    return pieces


def between(text: tuple[float, ...]) -> tuple[float, ...]:
    """Sizes from the wanted to the smallest, by whole points."""
    wanted, smallest = text[0], text[-1]
    steps = [wanted - step for step in range(int(wanted - smallest) + 1)]
    return tuple(dict.fromkeys([*steps, smallest]))


def place_part(text: CardText, spots: Mapping[str, Spot]) -> Boxes:
    """The mark of a part of a set; nothing for a solution that is used alone."""
    if text.part is None:
        return ()
    spot = spots["mark"]
    return place_mark(text.part, x=spot.x, y=spot.y, side=spot.side[0], size_pt=spot.pt)


def place_name(
    name: str, spot: Spot, room: float, clear: float, smallest: float
) -> Text:
    """The name in the largest size that fits in one line, else in two.

    Raises:
        Misfit: it needs more room than ``room`` and what is free above it [mm].
    """
    for size in between((spot.pt, smallest)):
        if width_mm(name, "semibold", size) <= room:
            line = one_line(
                "name", ((name, "semibold", size),),
                x=spot.x, baseline=spot.y, role="heading", hang=True,
            )  # fmt: skip
            top = spot.y - cap_height_mm(size)
            return replace(line, y=top, h=line.y + line.h - top)
    for size in between((max(spot.pt * _IN_TWO, smallest), smallest)):
        try:
            return _name_in_lines(name, spot, room, clear, size)
        except Misfit:
            continue
    raise Misfit(f"{quoted(name)} does not fit at {smallest:g} pt", place="name")


def _name_in_lines(
    name: str, spot: Spot, room: float, clear: float, size: float
) -> Text:
    lines = fold((Run(name, strong=True),), size, room)
    pitch = size * _TIGHT * MM_PER_PT
    last = spot.y + _LOWER
    first = last - pitch * (len(lines) - 1)
    top = first - cap_height_mm(size)
    if top < clear:
        raise Misfit(f"{quoted(name)} does not fit at {size:g} pt", place="name")
    told = tuple(
        Line(spot.x - bearing_mm(*pieces[0]), first + pitch * index, pieces)
        for index, pieces in enumerate(lines)
    )
    bottom = last + DESCENT * size * MM_PER_PT
    wide = max(map(width_of, lines))
    return Text("name", spot.x, top, wide, bottom - top, told, "heading")
