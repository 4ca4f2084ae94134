"""The back of a mixing card: the hazards together, the bench notes, aid and code."""

from collections.abc import Iterator

from msgspec import Struct
from msgspec.structs import replace

from labelkit.errors import Misfit
from labelkit.mixing.words import CardNote, CardText, Run
from labelkit.printing.boxes import Bar, Box, Code, Page, Text
from labelkit.printing.card_aside import place_aside
from labelkit.printing.card_columns import HAIRLINE
from labelkit.printing.card_front import place_card_foot
from labelkit.printing.card_hazard import (
    Block,
    Room,
    class_block,
    is_classed,
    no_class_block,
)
from labelkit.printing.card_layout import CardLayout
from labelkit.printing.card_top import place_name, place_part, spot_for
from labelkit.printing.codes import QUIET_ZONE, smallest_version
from labelkit.printing.fonts import min_size_pt, width_mm
from labelkit.printing.symbols import SymbolStyle
from labelkit.printing.typeset import Flow, leading_mm, one_line, paragraph

__all__ = ["place_back"]

_BETWEEN_NOTES = 2.0  # [mm]
_ROUND_HAIRLINE = 1.6  # [mm]
_OVER_FOOT = 1.6  # white over what stands at the bottom [mm]
_GENEROUS_SIDES = 2  # of the pictograms' sides, that are tried before small type
_STEP_PT = 0.3


def place_back(text: CardText, layout: CardLayout, style: SymbolStyle) -> Page:
    """The back, everything measured before it is placed.

    Raises:
        Misfit: naming what does not fit.
    """
    boxes = (
        *_upper(text, layout),
        *_between(text, layout, style),
        *place_card_foot(text, layout, "back"),
    )
    return Page(layout.width, layout.height, boxes, f"{text.name}, card, back")


def _between(text: CardText, layout: CardLayout, style: SymbolStyle) -> Iterator[Box]:
    """What stands between the name and the foot."""
    if "aside" in layout.back:
        yield from place_aside(text, layout, style)
        return
    bottom, low = _lower(text, layout)
    yield from _middle(text, layout, style, low)
    yield from bottom


def _upper(text: CardText, layout: CardLayout) -> Iterator[Box]:
    room = layout.right - layout.left
    spot = layout.back.get("revision")
    taken = 0.0
    if spot is not None and text.revision:
        taken = width_mm(text.revision, "regular", spot.pt) + 3
    named = spot_for(layout.back, "name", marked=text.part is not None)
    left = room - taken - (named.x - layout.left)
    yield from place_part(text, layout.back)
    yield place_name(text.name, named, left, layout.clear, named.text[-1])
    if spot is not None and text.revision:
        pieces = ((text.revision, "regular", spot.pt),)
        yield one_line("revision", pieces, x=spot.x, baseline=spot.y, align="right")
    if "rule" in layout.back:
        rule = spot_for(layout.back, "rule", marked=text.part is not None)
        yield Bar(layout.left, rule.y, room, rule.height)


def _lower(text: CardText, layout: CardLayout) -> tuple[tuple[Box, ...], float]:
    """Aid, room and code, from the foot upwards; and where they begin [mm]."""
    spot, room_spot = layout.back["code"], layout.back.get("room")
    modules = 17 + 4 * smallest_version(text.code)
    side, quiet = modules * layout.module, QUIET_ZONE * layout.module
    code = Code(
        spot.x - side, spot.y - side, layout.module, text.code, modules, text.code_means
    )
    width = spot.x - side - quiet - 1 - layout.left
    boxes: list[Box] = []
    base = spot.y
    if room_spot is not None and text.room:
        block = _raised("room", text.room, room_spot.pt, layout.left, base, width)
        boxes.append(block)
        base = block.y - 2.2
    aid = _raised("aid", text.aid_full, layout.back["aid"].pt, layout.left, base, width)
    boxes.insert(0, aid)
    return (*boxes, code), min(aid.y, code.y - quiet) - _OVER_FOOT


def _raised(
    field: str, told: str, size: float, left: float, bottom: float, width: float
) -> Text:
    """A paragraph whose last baseline stands at ``bottom`` [mm]."""
    words = (Run(told, strong=field == "room"),)
    block = paragraph(field, words, size, x=left, y=0, w=width)
    top = bottom - block.h + 0.2 * leading_mm(size)
    return paragraph(field, words, size, x=left, y=top, w=width)


class _Sizes(Struct, frozen=True):
    """One setting of the middle: text [pt] and pictograms [mm]."""

    text_pt: float
    side: float


def _settings(text: CardText, layout: CardLayout) -> Iterator[_Sizes]:
    spot = layout.back["hazard"]
    least = max(spot.text[-1], min_size_pt(float(text.volume_mL)))
    sizes = [spot.pt]
    while sizes[-1] > least:
        sizes.append(max(round(sizes[-1] - _STEP_PT, 1), least))
    for sides in (spot.side[:_GENEROUS_SIDES], spot.side[_GENEROUS_SIDES:]):
        for size in sizes:
            yield from (_Sizes(size, side) for side in sides)


def _middle(
    text: CardText, layout: CardLayout, style: SymbolStyle, bottom: float
) -> tuple[Box, ...]:
    """Hazards and notes; what may give way does, the last note first."""
    may = [note for note in text.notes if note.gives_way]
    for left_off in range(len(may)):
        gone = may[len(may) - left_off :]
        notes = tuple(note for note in text.notes if note not in gone)
        try:
            return _fitted(replace(text, notes=notes), layout, style, bottom)
        except Misfit:
            continue
    notes = tuple(note for note in text.notes if not note.gives_way)
    return _fitted(replace(text, notes=notes), layout, style, bottom)


def _fitted(
    text: CardText, layout: CardLayout, style: SymbolStyle, bottom: float
) -> tuple[Box, ...]:
    tried: list[Misfit] = []
    for sizes in _settings(text, layout):
        try:
            block = _set(text, layout, style, sizes)
        except Misfit as misfit:
            tried.append(misfit)
            continue
        if block.bottom <= bottom + 1e-6:
            return block.boxes
        over = block.bottom - bottom
        tried.append(
            Misfit(f"hazards and notes need {over:.1f} mm more height", place="back")
        )
    raise tried[-1]


def _set(
    text: CardText, layout: CardLayout, style: SymbolStyle, sizes: _Sizes
) -> Block:
    spot, wide = layout.back["hazard"], layout.right - layout.left
    size = sizes.text_pt
    room = Room(layout.left, spot.y, wide, size, layout.back["signal"].pt)
    classed = is_classed(text.hazard)
    if classed:
        block = class_block(text.hazard, room, style, sizes.side)
    else:
        block = no_class_block(text.hazard, text.first_words, room)
    flow = Flow(layout.left, block.bottom + _ROUND_HAIRLINE, wide)
    if classed:
        flow.add("first words", text.first_words, size)
    flow.add("never with", text.never_with, size, heavy=True)
    boxes = (*block.boxes, *flow.blocks)
    if not text.notes or not layout.back["notes"].width:
        return Block(boxes, flow.y)
    notes = _notes(text.notes, layout, flow.y, size)
    return Block((*boxes, *notes.boxes), notes.bottom)


def _notes(
    notes: tuple[CardNote, ...], layout: CardLayout, top: float, size: float
) -> Block:
    left, right = layout.left, layout.right
    indent = layout.back["notes"].width
    y = top + _ROUND_HAIRLINE
    boxes: list[Box] = [Bar(left, y, right - left, HAIRLINE)]
    y += _ROUND_HAIRLINE
    for note in notes:
        term = paragraph(
            "term", (Run(note.term, strong=True),), size, x=left, y=y, w=indent - 2,
        )  # fmt: skip
        told = paragraph(
            "note", note.text, size, x=left + indent, y=y, w=right - left - indent
        )
        boxes += (term, told)
        y += max(term.h, told.h) + _BETWEEN_NOTES
    return Block(tuple(boxes), y - _BETWEEN_NOTES)
