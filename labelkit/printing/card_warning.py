"""What warns on a card's front: pictograms and signal word, or a frame instead."""

import re
from collections.abc import Iterator

from msgspec.structs import replace

from labelkit.errors import Misfit
from labelkit.mixing.words import HazardText, Run, Words
from labelkit.printing.boxes import Box, Frame, Line, Text
from labelkit.printing.card_layout import CardLayout, Spot
from labelkit.printing.fonts import cap_height_mm
from labelkit.printing.symbols import SymbolStyle, place_symbols, symbols_size
from labelkit.printing.typeset import Pieces, fold, leading_mm, one_line, plain

__all__ = ["GAP", "leading_words", "no_pictogram_words", "warnings_for"]

GAP = 3.0  # white between what stands left and what stands right [mm]
_OVER_SIGNAL = 1.6  # white between pictograms and the word under them [mm]


def warnings_for(
    hazard: HazardText, layout: CardLayout, style: SymbolStyle
) -> Iterator[tuple[Box, ...]]:
    """The ways in which a warning may stand, from the largest."""
    if not hazard.pictograms and not hazard.signal:
        yield _instead(hazard, layout.front["no_class"])
        return
    for side in layout.front["pictograms"].side:
        yield _beside(hazard, layout, style, side)
        under = _under(hazard, layout, style, side)
        if under:
            yield under


def _signal(hazard: HazardText, spot: Spot, right: float) -> Text:
    word = ((hazard.signal, "bold", spot.pt),)
    placed = one_line("signal", word, x=right, baseline=spot.y, align="right")
    cap = cap_height_mm(spot.pt)  # capitals have nothing under the line
    return replace(placed, y=spot.y - cap, h=cap)


def _beside(
    hazard: HazardText, layout: CardLayout, style: SymbolStyle, side: float
) -> tuple[Box, ...]:
    """The signal word left of the pictograms, level with the words under them."""
    spot, signal = layout.front["pictograms"], layout.front["signal"]
    wide, high = symbols_size(hazard.pictograms, side, style)
    left = spot.x - wide
    level = signal.y - high  # the words under the pictograms level with the signal
    top = level if spot.y <= level + 1 else spot.y
    boxes = place_symbols(hazard.pictograms, side, style, x=left, y=top)
    if not hazard.signal:
        return boxes
    return (*boxes, _signal(hazard, signal, left - GAP if boxes else signal.x))


def _under(
    hazard: HazardText, layout: CardLayout, style: SymbolStyle, side: float
) -> tuple[Box, ...]:
    """The signal word under the pictograms, where they leave room for it."""
    spot, signal = layout.front["pictograms"], layout.front["signal"]
    wide, high = symbols_size(hazard.pictograms, side, style)
    top = signal.y - cap_height_mm(signal.pt) - _OVER_SIGNAL - high
    if not hazard.signal or not hazard.pictograms or top < layout.clear:
        return ()
    boxes = place_symbols(hazard.pictograms, side, style, x=spot.x - wide, y=top)
    return (*boxes, _signal(hazard, signal, signal.x))


def _instead(hazard: HazardText, spot: Spot) -> tuple[Box, ...]:
    """Words in the place of pictograms, in a frame where the layout gives it a line."""
    if not spot.line:
        return ()
    left, inset = spot.x - spot.width, 2.2
    lines = _framed_lines(hazard, spot, spot.width - 2 * inset)
    pitch = leading_mm(spot.pt)
    ink = pitch * (len(lines) - 1) + cap_height_mm(spot.pt)
    if ink > spot.height - 2 * spot.line - 1:
        raise Misfit("the words are too long for the frame", place="no_class")
    base = spot.y + (spot.height - ink) / 2 + cap_height_mm(spot.pt)
    placed = tuple(
        Line(left + inset, base + pitch * index, pieces)
        for index, pieces in enumerate(lines)
    )
    frame = Frame(left, spot.y, spot.width, spot.height, spot.line, "class frame", True)
    inside = spot.line
    block = Text(
        "class", left + inside, spot.y + inside,
        spot.width - 2 * inside, spot.height - 2 * inside, placed,
    )  # fmt: skip
    return frame, block


def _framed_lines(hazard: HazardText, spot: Spot, width: float) -> list[Pieces]:
    """That no class was reached; where one was, what it says, or where it is said."""
    told = no_pictogram_words(hazard)
    most = int((spot.height - 2 * spot.line) / leading_mm(spot.pt))
    lines = _sentences(told, spot.pt, width)
    if hazard.statements and len(lines) > most:
        return _sentences("Hazards and precautions are on the back.", spot.pt, width)
    return lines


def no_pictogram_words(hazard: HazardText) -> str:
    """What is said where there are no pictograms to show."""
    return plain(leading_words(hazard.none_reached)) or " ".join(hazard.statements)


def _sentences(told: str, size: float, width: float) -> list[Pieces]:
    """Each sentence from a line of its own."""
    return [
        line
        for sentence in re.split(r"(?<=[.!?]) ", told)
        for line in fold((Run(sentence, strong=True),), size, width)
    ]


def leading_words(words: Words) -> Words:
    """The strong words that a block begins with: the sentence that must be seen."""
    found: list[Run] = []
    for run in words:
        if not run.strong:
            break
        found.append(run)
    return tuple(found) or words
