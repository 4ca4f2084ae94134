"""The hazard block of a card's back: pictograms, signal word and every statement."""

import re
from collections.abc import Iterator

from msgspec import Struct

from labelkit.mixing.words import HazardText, Run, Words
from labelkit.printing.boxes import Box, Frame, Text
from labelkit.printing.card_warning import leading_words
from labelkit.printing.fonts import cap_height_mm
from labelkit.printing.symbols import SymbolStyle, place_symbols, symbols_size
from labelkit.printing.typeset import Flow, Pieces, join, one_line, plain

__all__ = ["Block", "Room", "class_block", "is_classed", "no_class_block"]

_GAP = 1.9  # from the pictograms to the text, and under them [mm]
_FRAME = 0.9  # [mm]
_INSET = 2.6  # of the text from the frame [mm]
_HEADING = 1.4  # of the text's size
_UNDER_SIGNAL = 1.1  # of the signal word's baseline [mm]
_PREFERRED_MM = 3.0  # a plainer arrangement may be this much higher


class Room(Struct, frozen=True):
    """Where a block stands [mm], and the sizes of its text and signal word [pt]."""

    x: float
    y: float
    w: float
    text_pt: float
    signal_pt: float


class Block(Struct, frozen=True):
    """Boxes, and where they end [mm]."""

    boxes: tuple[Box, ...]
    bottom: float


def class_block(
    hazard: HazardText, room: Room, style: SymbolStyle, side: float
) -> Block:
    """The block with pictograms of one side [mm], in its lowest arrangement.

    Raises:
        Misfit: a word is wider than its column.
    """
    blocks = list(_arrangements(hazard, room, style, side))
    best = blocks[0]
    for block in blocks[1:]:
        if block.bottom < best.bottom - _PREFERRED_MM:
            best = block
    return best


def is_classed(hazard: HazardText) -> bool:
    """Whether a class was reached: some have neither pictogram nor signal word."""
    return bool(hazard.pictograms or hazard.signal or hazard.statements)


def _arrangements(
    hazard: HazardText, room: Room, style: SymbolStyle, side: float
) -> Iterator[Block]:
    """From the plainest; the number is of paragraphs beside the pictograms."""
    several = len(hazard.pictograms) > 1
    if several:
        wide = symbols_size(hazard.pictograms, side, style)[0]
        if room.w - wide > room.w / 3:
            for beside in (3, 2, 1):
                yield _arranged(hazard, room, style, side, beside, stacked=False)
    for beside in (4, 3, 2):
        yield _arranged(hazard, room, style, side, beside, stacked=True)


def _arranged(
    hazard: HazardText,
    room: Room,
    style: SymbolStyle,
    side: float,
    beside: int,
    *,
    stacked: bool,
) -> Block:
    """Signal word and so many paragraphs right of the pictograms, the others below."""
    wide, high = symbols_size(hazard.pictograms, side, style, stacked=stacked)
    symbols = place_symbols(
        hazard.pictograms, side, style, x=room.x, y=room.y, stacked=stacked
    )
    left = room.x + (wide + _GAP if symbols else 0.0)
    signal = _signal(hazard.signal, left, room)
    top = signal[0].lines[0].y + _UNDER_SIGNAL if signal else room.y
    flow = Flow(left, top, room.x + room.w - left)
    paragraphs = _paragraphs(hazard)
    for field, words in paragraphs[:beside]:
        flow.add(field, words, room.text_pt)
    bottom = max(flow.y, room.y + high) if symbols else flow.y
    if beside >= len(paragraphs):
        return Block((*symbols, *signal, *flow.blocks), bottom)
    under = Flow(room.x, bottom + (_GAP if bottom > flow.y else 0.0), room.w)
    for field, words in paragraphs[beside:]:
        under.add(field, words, room.text_pt)
    return Block((*symbols, *signal, *flow.blocks, *under.blocks), under.y)


def _signal(word: str, left: float, room: Room) -> tuple[Text, ...]:
    """The signal word, its capitals level with the pictograms' tips."""
    if not word:
        return ()
    pieces: Pieces = ((word, "bold", room.signal_pt),)
    base = room.y + cap_height_mm(room.signal_pt)
    return (
        one_line("signal", pieces, x=left, baseline=base, role="heading", hang=True),
    )


def _paragraphs(hazard: HazardText) -> tuple[tuple[str, Words], ...]:
    """The order of their rank; what must be seen first is set heavier."""
    return (
        ("alert", (Run(hazard.alert, strong=True),)),
        ("contains", join(hazard.contains, *hazard.open_points)),
        ("statements", (Run(" ".join(hazard.statements), strong=True),)),
        ("precautions", join(*hazard.precautions)),
    )


def no_class_block(hazard: HazardText, first_words: Words, room: Room) -> Block:
    """A frame: no class was reached, and that does not mean safe."""
    head = leading_words(hazard.none_reached)
    rest = hazard.none_reached[len(head) :]
    flow = Flow(room.x + _INSET, room.y + _INSET - 0.4, room.w - 2 * _INSET)
    for sentence in re.split(r"(?<=\.) ", plain(head)):
        said = (Run(sentence, strong=True),)
        flow.add("class", said, room.text_pt * _HEADING, strong="bold")
    flow.skip(0.6)
    told = plain(hazard.none_reached)
    points = [point for point in hazard.open_points if point not in told]
    flow.add("open points", join(*points, _stripped(rest)), room.text_pt)
    flow.add("first words", first_words, room.text_pt)
    bottom = flow.y + _INSET - 0.4
    frame = Frame(room.x, room.y, room.w, bottom - room.y, _FRAME, "class frame", True)
    return Block((frame, *flow.blocks), bottom)


def _stripped(words: Words) -> Words:
    """The words without white before the first."""
    if not words:
        return ()
    first = words[0]
    return (Run(first.text.lstrip(" "), first.strong), *words[1:])
