"""The foot of a card or sheet, and the mark of a part."""

from labelkit.chemistry.numbers import quoted
from labelkit.errors import Misfit
from labelkit.mixing.words import PartMark
from labelkit.printing.boxes import Bar, Box, Frame
from labelkit.printing.card_layout import Spot
from labelkit.printing.fonts import cap_height_mm, width_mm
from labelkit.printing.foot import CALL, DO_NOT_DRINK, FIELD_INSET_MM, FIELD_MM
from labelkit.printing.typeset import Pieces, one_line

__all__ = ["foot_at", "goes_with_pieces", "place_foot", "place_mark"]

_INSET = 1.6  # of the words from the end of the bar [mm]
_AFTER_CALL = 0.9  # [mm]
_APART = 2.0  # at least, between the warning and the number [mm]
_EDGE = 1.0  # of a mark [mm]
_WHITE_ON_BLACK = {"B", "2"}


def foot_at(spot: Spot, right: float, emergency: str) -> tuple[Box, ...]:
    """The black bar where a layout has it, as far as the right edge [mm].

    Raises:
        Misfit: the number is too long.
    """
    return place_foot(
        x=spot.x,
        y=spot.y,
        w=right - spot.x,
        h=spot.height,
        emergency=emergency,
        size_pt=spot.pt,
        call_pt=spot.small,
    )


def place_foot(
    *,
    x: float,
    y: float,
    w: float,
    h: float,
    emergency: str,
    size_pt: float,
    call_pt: float,
    apart: float = _APART,
) -> tuple[Box, ...]:
    """The black bar from its top left corner [mm]; without a number a white field.

    Args:
        x: left edge [mm].
        y: top edge [mm].
        w: width [mm].
        h: height [mm].
        emergency: the number to call, or "".
        size_pt: of the warning and the number [pt].
        call_pt: of the word before the number [pt].
        apart: between the warning and the number, at least [mm].

    Raises:
        Misfit: the number is too long.
    """
    baseline = y + (h + cap_height_mm(size_pt)) / 2
    warning = one_line(
        "do-not-drink", ((DO_NOT_DRINK, "bold", size_pt),),
        x=x + _INSET, baseline=baseline, white=True,
    )  # fmt: skip
    if emergency:
        number = emergency.replace(" ", "\u00a0")
        told: Box = one_line(
            "emergency", ((number, "bold", size_pt),),
            x=x + w - _INSET, baseline=baseline, align="right", white=True,
        )  # fmt: skip
        end = told.x
    else:
        end = x + w - FIELD_INSET_MM - FIELD_MM
        told = Bar(
            end, y + FIELD_INSET_MM, FIELD_MM, h - 2 * FIELD_INSET_MM, 0.0, "emergency"
        )
    call = one_line(
        "emergency", ((CALL, "regular", call_pt),),
        x=end - _AFTER_CALL, baseline=baseline, align="right", white=True,
    )  # fmt: skip
    if call.x - apart < warning.x + warning.w:
        shown = quoted(emergency)
        raise Misfit(f"{shown} is too long for the foot", place="emergency")
    return Bar(x, y, w, h, field="foot"), warning, call, told


def place_mark(
    part: PartMark, *, x: float, y: float, side: float, size_pt: float
) -> tuple[Box, ...]:
    """A square block with the part's letter: A black on white, B white on black."""
    black = part.letter in _WHITE_ON_BLACK
    ground: Box = (
        Bar(x, y, side, side, field="part")
        if black
        else Frame(x, y, side, side, _EDGE, "part")
    )
    room = side - 2 * (_EDGE + 0.8)
    wide = width_mm(part.letter, "bold", size_pt)
    size = size_pt * min(1.0, room / wide)
    letter = one_line(
        "part", ((part.letter, "bold", size),),
        x=x + side / 2, baseline=y + (side + cap_height_mm(size)) / 2,
        align="middle", white=black, says=f"Part {part.letter}", role="heading",
    )  # fmt: skip
    return ground, letter


def goes_with_pieces(part: PartMark, size_pt: float, small_pt: float) -> Pieces:
    """The parts it goes with, their letters bold and larger, and the ratio."""
    pieces: Pieces = ()
    if part.goes_with:
        pieces = (
            ("goes with ", "regular", small_pt),
            (part.goes_with, "bold", size_pt),
        )
    if part.ratio:
        pieces += ((f"{'   ' if pieces else ''}{part.ratio}", "semibold", small_pt),)
    return pieces
