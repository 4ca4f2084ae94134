"""The back of a pocket card: warning and code in a column, the words beside it."""

from labelkit.errors import Misfit
from labelkit.mixing.words import CardText, Words
from labelkit.printing.boxes import Box, Code
from labelkit.printing.card_layout import CardLayout, Spot
from labelkit.printing.card_top import spot_for
from labelkit.printing.codes import QUIET_ZONE, smallest_version
from labelkit.printing.fonts import cap_height_mm, min_size_pt
from labelkit.printing.symbols import SymbolStyle, place_symbols, symbols_size
from labelkit.printing.typeset import Flow, join, one_line, plain

__all__ = ["place_aside"]

_GAP = 1.4  # white between the words and the column [mm]
_UNDER_WORD = 1.5  # from a pictogram's word to the signal word's capitals [mm]
_OVER_FOOT = 0.5  # [mm]
_STEP_PT = 0.3


def place_aside(
    text: CardText, layout: CardLayout, style: SymbolStyle
) -> tuple[Box, ...]:
    """Everything between the rule and the foot, in the largest type that fits.

    Raises:
        Misfit: it is too high even in the smallest.
    """
    code = _code(text, layout)
    column = _column(text, layout, style, code)
    words = _words(text, layout)
    return (*column, *words, code)


def _start(text: CardText, layout: CardLayout) -> Spot:
    """Where the words begin, lower under the mark of a part."""
    return spot_for(layout.back, "hazard", marked=text.part is not None)


def _code(text: CardText, layout: CardLayout) -> Code:
    spot = layout.back["code"]
    modules = 17 + 4 * smallest_version(text.code)
    side = modules * layout.module
    return Code(
        spot.x - side, spot.y - side, layout.module, text.code, modules, text.code_means
    )


def _column(
    text: CardText, layout: CardLayout, style: SymbolStyle, code: Code
) -> tuple[Box, ...]:
    """Pictograms and signal word, above the code and its quiet zone."""
    hazard, spot, aside = text.hazard, _start(text, layout), layout.back["aside"]
    middle = layout.right - aside.width / 2
    bottom = code.y - QUIET_ZONE * layout.module
    signal_pt = layout.back["signal"].text[-1]
    for side in spot.side:
        wide, high = symbols_size(hazard.pictograms, side, style, stacked=True)
        base = spot.y + high + (_UNDER_WORD if high else 0) + cap_height_mm(signal_pt)
        low = base if hazard.signal else spot.y + high
        if wide > aside.width or low > bottom:
            continue
        boxes = place_symbols(
            hazard.pictograms, side, style, x=middle - wide / 2, y=spot.y, stacked=True
        )
        if not hazard.signal:
            return boxes
        word = ((hazard.signal, "bold", signal_pt),)
        signal = one_line(
            "signal", word, x=layout.right, baseline=base, align="right", role="heading"
        )
        return (*boxes, signal)
    raise Misfit("the pictograms do not fit above the code", place="back")


def _words(text: CardText, layout: CardLayout) -> tuple[Box, ...]:
    spot, aside = _start(text, layout), layout.back["aside"]
    width = layout.right - aside.width - _GAP - layout.left
    bottom = layout.back["foot"].y - _OVER_FOOT
    least = max(spot.text[-1], min_size_pt(float(text.volume_mL)))
    size = max(spot.pt, least)
    while True:
        flow = Flow(layout.left, spot.y, width)
        for field, words, heavy in _paragraphs(text):
            flow.add(field, words, size, heavy=heavy)
        if flow.y <= bottom:
            return flow.blocks
        if size <= least:
            over = flow.y - bottom
            raise Misfit(f"the words need {over:.1f} mm more height", place="back")
        size = max(round(size - _STEP_PT, 1), least)


def _paragraphs(text: CardText) -> tuple[tuple[str, Words | str, bool], ...]:
    hazard = text.hazard
    told = plain(hazard.none_reached)
    points = [point for point in hazard.open_points if point not in told]
    return (
        ("alert", hazard.alert, True),
        ("class", hazard.none_reached, False),
        ("contains", join(hazard.contains, *points), False),
        ("statements", " ".join(hazard.statements), True),
        ("precautions", join(*hazard.precautions), False),
        ("first words", text.first_words, False),
        ("never with", text.never_with, True),
        ("aid", text.aid_full, False),
    )
