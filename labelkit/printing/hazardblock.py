"""The hazard block: pictograms, signal word, statements, and what to do first.

Two groups: the first hangs from the top of its room, the last stands on the foot, and
the white that is left lies between them. Nothing of the first group is ever split.
"""

from collections.abc import Iterator
from functools import lru_cache
from math import ceil

from msgspec import Struct
from msgspec.structs import replace

from labelkit.chemistry.numbers import quoted
from labelkit.errors import Misfit
from labelkit.mixing.words import BottleText, HazardText, Pictogram, Run, Words
from labelkit.printing.boxes import Box, Text
from labelkit.printing.drawn import Drawn, Setting
from labelkit.printing.fonts import MM_PER_PT, cap_height_mm, width_mm
from labelkit.printing.layouts import LayoutBox
from labelkit.printing.marks import code_box
from labelkit.printing.symbols import SymbolStyle, place_symbols, symbols_size
from labelkit.printing.typeset import (
    DESCENT,
    Flow,
    Pieces,
    join,
    one_line,
    plain,
)

__all__ = [
    "REPEAT_PT",
    "Content",
    "Room",
    "add_signal",
    "draw_hazards",
    "leave_again",
    "name_again",
    "repeated",
    "room_for_again",
    "sentence",
    "set_hazards",
]

BESIDE_PICTOGRAMS_MM = 1.45
UNDER_PICTOGRAMS_MM = 0.75
UNDER_SIGNAL_MM = 1.0
STATEMENTS_GAP_MM = 0.25
REPEAT_PT = 8.8
SIGNAL_AND_NAME_MM = 2.5
ROUND_NAME_MM = 0.9
QUIET_MM = 1.7


class Content(Struct, frozen=True):
    """The words of a hazard block.

    Attributes:
        again_mm: room for name and number once more, beside the signal word.
        last: paragraphs of the group that stands on the foot, from top to bottom.
    """

    hazard: HazardText
    again_mm: float
    last: tuple[tuple[str, Words], ...]


class Room(Struct, frozen=True):
    """Where the block stands and how it is set [mm, pt]."""

    x: float
    top: float
    w: float
    limit: float
    size_pt: float
    signal_pt: tuple[float, float]
    side: float
    gap: float
    frame: str
    keyline: bool
    taken_right: float = 0.0
    taken_down: float = 0.0


def draw_hazards(box: LayoutBox, top: float, setting: Setting) -> Drawn:
    """The block of a bottle that reaches a class.

    Raises:
        Misfit: a word or a pictogram is wider than the box.
    """
    choices = setting.choices
    moved: tuple[Box, ...] = ()
    taken = (0.0, 0.0)
    if not choices.code_stays:
        code = code_box(setting, box.right, top, box.w)
        side = code.modules * code.module
        moved, taken = (code,), (side + QUIET_MM, side + QUIET_MM)
    room = Room(
        x=box.x,
        top=top,
        w=box.w,
        limit=box.bottom,
        size_pt=setting.running_pt(box),
        signal_pt=box.signal,
        side=choices.side,
        gap=box.gap,
        frame=setting.frame,
        keyline=setting.keyline,
        taken_right=taken[0],
        taken_down=taken[1],
    )
    block = set_hazards(_content(setting, box), room)
    boxes = [*moved, *block.boxes]
    if block.again:
        again = repeated(box, setting.text)
        x, baseline, align = block.again
        place = len(moved) + block.rank
        boxes.insert(place, name_again(again, x, baseline, align))
    return Drawn(tuple(boxes), room.limit, block.spare)


def _content(setting: Setting, box: LayoutBox) -> Content:
    text, hazard = setting.text, setting.text.hazard
    points: Words = (Run(" ".join(map(sentence, hazard.open_points))),)
    aid: Words = (Run(text.aid_full if box.full_aid else text.aid),)
    if setting.choices.run_together:
        groups = [("first-words", join(text.first_words, points, aid))]
    else:
        groups = [("first-words", text.first_words), ("aid", join(points, aid))]
    groups.append(("never-with", (Run(text.never_with, strong=True),)))
    return Content(hazard, room_for_again(box, text), tuple(groups))


def room_for_again(box: LayoutBox, text: BottleText) -> float:
    """How wide name and number are where they are said once more, or 0 [mm].

    Rounded up, so that labels that differ in them alone are set once.
    """
    again = repeated(box, text)
    return ceil(width_mm(again, "semibold", REPEAT_PT) * 2) / 2 if again else 0.0


def repeated(box: LayoutBox, text: BottleText) -> str:
    """Name with part letter, and number, where the box says them once more."""
    letter = f" {text.part.letter}" if text.part else ""
    told = {"name": f"{text.name}{letter}", "number": text.number}
    return "    ".join(told[field] for field in box.repeats if field in told)


def sentence(text: str) -> str:
    """The text with a full stop, unless it has one."""
    return text if not text or text.endswith((".", "!", "?", ":")) else f"{text}."


Again = tuple[float, float, str]
Part = tuple[tuple[str, str | Words, bool], ...]  # field, words, all of it strong


class Block(Struct, frozen=True):
    """A block as set.

    Attributes:
        spare: room left [mm]; below 0, what is missing.
        again: edge, baseline [mm] and alignment of name and number.
        rank: their place among the boxes.
    """

    boxes: tuple[Box, ...]
    bottom: float
    spare: float = 0.0
    again: Again | None = None
    rank: int = 0


@lru_cache(maxsize=1024)
def set_hazards(content: Content, room: Room) -> Block:
    """The block set as low as it can be, of all the ways to arrange it.

    Raises:
        Misfit: a word or a pictogram is wider than the room.
    """
    last = _last_group(content, room)
    first = _lowest(content, room)
    bottom = first.bottom + (room.gap + last.y if last.blocks else 0.0)
    boxes = (*first.boxes, *last.moved(room.limit - last.y))
    return replace(first, boxes=boxes, bottom=bottom, spare=room.limit - bottom)


def _last_group(content: Content, room: Room) -> Flow:
    """The group on the foot, set from 0 down."""
    flow = Flow(room.x, 0.0, room.w)
    for field, words in content.last:
        flow.add(field, words, room.size_pt)
    return flow


def _lowest(content: Content, room: Room) -> Block:
    """The arrangement that ends highest; more beside the pictograms where equal."""
    best: Block | None = None
    wrong: Misfit | None = None
    for group in _groups(content.hazard.pictograms, room):
        for below in range(_PARTS):
            try:
                drawn = _arranged(content, room, group, below)
            except Misfit as misfit:
                wrong = misfit
                continue
            if best is None or drawn.bottom < best.bottom - 0.05:
                best = drawn
    if best is None:
        raise wrong or Misfit("the pictograms are wider than their place")
    return best


class _Group(Struct, frozen=True):
    """Pictograms with their words: how wide and how high [mm]."""

    boxes: tuple[Box, ...]
    w: float
    h: float


def _groups(pictograms: tuple[Pictogram, ...], room: Room) -> Iterator[_Group]:
    """The pictograms in one row, then one under another."""
    style = SymbolStyle(room.frame, room.keyline, room.size_pt)
    for stacked in (False, True)[: len(pictograms) or 1]:
        w, h = symbols_size(pictograms, room.side, style, stacked=stacked)
        if w <= room.w:
            boxes = place_symbols(
                pictograms, room.side, style, x=room.x, y=room.top, stacked=stacked
            )
            yield _Group(boxes, w, h)


# What may stand below the pictograms, at full width: nothing, the precautions, the
# hazard statements too, what the bottle contains too, all but the signal word.
_PARTS = 4


def _arranged(content: Content, room: Room, group: _Group, below: int) -> Block:
    hazard = content.hazard
    shift = group.w + BESIDE_PICTOGRAMS_MM if group.boxes else 0.0
    width = room.w - shift - room.taken_right
    if width <= 0:
        raise Misfit("the pictograms leave no room beside them")
    beside = Flow(room.x + shift, room.top, width)
    again = _signal_and_name(beside, content, room)
    rank = len(group.boxes) + len(beside.blocks)
    parts: tuple[Part, ...] = (
        (("alert", hazard.alert, True), ("contains", hazard.contains, False)),
        (("statements", " ".join(map(sentence, hazard.statements)), True),),
        (("precautions", join(*hazard.precautions), False),),
    )
    kept = len(parts) - below
    for part in parts[:1][:kept]:
        _add_part(beside, part, room.size_pt)
    waits = content.again_mm > 0 and not again
    if waits and content.again_mm <= width:
        again = leave_again(beside, content.again_mm)
        rank = len(group.boxes) + len(beside.blocks)
        waits = False
    for part in parts[1:kept]:
        _add_part(beside, part, room.size_pt)
    under = Flow(room.x, _under(beside, group, room), room.w)
    if below and under.y == beside.y:
        under.skip(STATEMENTS_GAP_MM)
    if waits:
        again = leave_again(under, content.again_mm)
        rank = len(group.boxes) + len(beside.blocks)
    for part in parts[kept:]:
        _add_part(under, part, room.size_pt)
    boxes = (*group.boxes, *beside.blocks, *under.blocks)
    return Block(boxes, under.y, again=again, rank=rank)


def _under(beside: Flow, group: _Group, room: Room) -> float:
    """Where full width begins: under the pictograms and what stands beside them."""
    down = group.h + UNDER_PICTOGRAMS_MM if group.boxes else 0.0
    return max(beside.y, room.top + down, room.top + room.taken_down)


def _add_part(flow: Flow, part: Part, size: float) -> None:
    for field, words, heavy in part:
        said = words if isinstance(words, str) else plain(words)
        if field == "precautions" and said and flow.blocks:
            flow.skip(STATEMENTS_GAP_MM)
        flow.add(field, words, size, heavy=heavy)


def _signal_and_name(flow: Flow, content: Content, room: Room) -> Again | None:
    """The signal word.

    Returns:
        Where name and number stand on its line, None where they don't.

    Raises:
        Misfit: it is too wide even at its smallest.
    """
    wide = add_signal(flow, content.hazard.signal, room.signal_pt)
    free = flow.w - wide - SIGNAL_AND_NAME_MM
    if wide and content.again_mm and content.again_mm <= free:
        return flow.x + flow.w, flow.y - UNDER_SIGNAL_MM, "right"
    return None


def add_signal(flow: Flow, signal: str, sizes: tuple[float, float]) -> float:
    """The signal word, its capitals level with the top; how wide it is [mm].

    Args:
        flow: the column.
        signal: the word; nothing is set for "".
        sizes: wanted and smallest [pt].

    Raises:
        Misfit: it is too wide even at its smallest.
    """
    if not signal:
        return 0.0
    size = _signal_pt(signal, flow.w, sizes)
    cap = cap_height_mm(size)
    baseline = flow.y + cap
    pieces: Pieces = ((signal, "bold", size),)
    block = one_line("signal", pieces, x=flow.x, baseline=baseline, hang=True)
    flow.blocks += (replace(block, y=flow.y, h=cap),)
    flow.y = baseline + UNDER_SIGNAL_MM
    return block.w


def leave_again(flow: Flow, again_mm: float) -> Again:
    """Room for name and number on a line of their own.

    Raises:
        Misfit: they are wider than the column.
    """
    if again_mm > flow.w:
        raise Misfit(f"name and number are {again_mm:.1f} mm wide, not {flow.w:.1f}")
    cap = cap_height_mm(REPEAT_PT)
    baseline = flow.y + ROUND_NAME_MM + cap
    flow.y = baseline + ROUND_NAME_MM
    return flow.x, baseline, "left"


def name_again(words: str, x: float, baseline: float, align: str) -> Text:
    """Name and number once more, small."""
    pieces: Pieces = ((words, "semibold", REPEAT_PT),)
    block = one_line("name", pieces, x=x, baseline=baseline, align=align)
    cap = cap_height_mm(REPEAT_PT)
    return replace(block, y=baseline - cap, h=cap + DESCENT * REPEAT_PT * MM_PER_PT)


def _signal_pt(signal: str, width: float, sizes: tuple[float, float]) -> float:
    wanted, smallest = sizes
    size = wanted
    while size > smallest and width_mm(signal, "bold", size) > width:
        size = max(size - 0.5, smallest)
    if width_mm(signal, "bold", size) > width:
        raise Misfit(f"{quoted(signal)} is wider than {width:.1f} mm at {size:g} pt")
    return size
