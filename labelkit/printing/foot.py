"""The black foot: DO NOT DRINK, and the number to call."""

from labelkit.chemistry.numbers import quoted
from labelkit.errors import Misfit
from labelkit.printing.boxes import Bar, Box, Text
from labelkit.printing.drawn import Drawn, Setting
from labelkit.printing.fonts import cap_height_mm, width_mm
from labelkit.printing.layouts import LayoutBox
from labelkit.printing.typeset import one_line

__all__ = ["DO_NOT_DRINK", "draw_foot"]

DO_NOT_DRINK = "DO NOT DRINK"
CALL = "Call"
ON_THE_BACK, MORE_ON_THE_BACK = "hazards on the back", "more on the back"
FIELD_MM = 30.0  # a white field to write the number in
FIELD_INSET_MM = 0.8
_APART_MM = 1.2
_AFTER_CALL_MM = 0.9


def draw_foot(box: LayoutBox, top: float, setting: Setting) -> Drawn:
    """The bar with its words in white, once for each panel.

    Raises:
        Misfit: the number is too wide.
    """
    bar = Bar(box.x, top, box.w, box.h, field="foot")
    left, right = box.x + box.inset, box.right - box.inset
    boxes: list[Box] = [bar]
    if box.split:
        ends, begins = box.split
        boxes += _signal_half(box, top, left, ends, setting)
        left = begins
    boxes += _ENDS[box.ends](box, top, left, right, setting)
    return Drawn(tuple(boxes), top + box.h)


def _back_half(
    box: LayoutBox, top: float, left: float, right: float, setting: Setting
) -> list[Box]:
    """What the front of a tag says: where the hazards are."""
    words = MORE_ON_THE_BACK if setting.text.hazard.none_reached else ON_THE_BACK
    last = one_line(
        "see-back",
        ((words, "semibold", box.label),),
        x=right,
        baseline=_baseline(box, top),
        align="right",
        white=True,
    )
    warning = _white(box, top, "do-not-drink", DO_NOT_DRINK, left)
    _require_room([warning.w, last.w], right - left, words)
    return [warning, last]


def _signal_half(
    box: LayoutBox, top: float, left: float, right: float, setting: Setting
) -> list[Box]:
    signal = setting.text.hazard.signal
    blocks = [_white(box, top, "do-not-drink", DO_NOT_DRINK, left)]
    if signal:
        blocks.append(_white(box, top, "signal", signal, right, align="right"))
    _require_room([block.w for block in blocks], right - left, signal)
    return [*blocks]


def _number_half(
    box: LayoutBox, top: float, left: float, right: float, setting: Setting
) -> list[Box]:
    warning = _white(box, top, "do-not-drink", DO_NOT_DRINK, left)
    number = setting.text.emergency
    call_wide = width_mm(CALL, "regular", box.label) + _AFTER_CALL_MM
    if number:
        told = _white(box, top, "emergency", number, right, align="right")
        end = told.x
        last: list[Box] = [told]
    else:
        end = box.right - FIELD_INSET_MM - FIELD_MM
        height = box.h - 2 * FIELD_INSET_MM
        field = Bar(end, top + FIELD_INSET_MM, FIELD_MM, height, 0.0, "emergency")
        last = [field]
    _require_room([warning.w, call_wide], end - left, number)
    call = one_line(
        "emergency",
        ((CALL, "regular", box.label),),
        x=end - _AFTER_CALL_MM,
        baseline=_baseline(box, top),
        align="right",
        white=True,
    )
    return [warning, call, *last]


_ENDS = {"number": _number_half, "signal": _signal_half, "back": _back_half}


def _white(
    box: LayoutBox, top: float, field: str, text: str, x: float, *, align: str = "left"
) -> Text:
    pieces = ((text, "bold", box.wanted),)
    baseline = _baseline(box, top)
    return one_line(field, pieces, x=x, baseline=baseline, align=align, white=True)


def _baseline(box: LayoutBox, top: float) -> float:
    return top + (box.h + cap_height_mm(box.wanted)) / 2


def _require_room(widths: list[float], room: float, what: str) -> None:
    missing = sum(widths) + _APART_MM * (len(widths) - 1) - room
    if missing > 0:
        raise Misfit(f"the foot is {missing:.1f} mm too short for {quoted(what)}")
