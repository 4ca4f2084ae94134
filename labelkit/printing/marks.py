"""What stands on the identity half besides words: headline, mark, code, scale."""

from labelkit.chemistry.numbers import quoted
from labelkit.errors import Misfit
from labelkit.printing.boxes import Bar, Box, Code, Frame, Line, Text
from labelkit.printing.codes import MODULE_PT, smallest_version
from labelkit.printing.drawn import Drawn, Setting
from labelkit.printing.fonts import MM_PER_PT, cap_height_mm, width_mm
from labelkit.printing.headline import UNIT, equation, headline_width_mm, largest_pt
from labelkit.printing.layouts import LayoutBox
from labelkit.printing.scale import twin_scale
from labelkit.printing.typeset import DESCENT, one_line

__all__ = [
    "draw_code",
    "draw_headline",
    "draw_part",
    "draw_rule",
    "draw_scale",
    "draw_tally",
    "draw_write_in",
]

SCALE_ROOM_MM, SCALE_LINE_MM = 10.7, 5.0
TALLY_MM, TALLY_PITCH_MM, TALLY_LINE_MM = 4.0, 4.9, 0.25
TALLY_IN_A_ROW = 10
STOP_MM, STOP_PT = 7.0, 6.6
WRITE_IN_MM, WRITE_IN_PT, WRITE_LINE_MM = 7.0, 6.6, 0.25
MARK_FRAME_MM = 1.0
_FRAME_SHARE = 0.09  # of the side, where the block is small
_ROUND_LETTER_MM = 0.8
_LEAST_WITH_WORD_MM = 12.0  # a smaller block has the letter alone
_MARK_PT = 38 / 14.4  # of the letter, for every mm of the block's side
_ORDINALS = {"C": "three", "D": "four", "E": "five", "F": "six", "G": "seven"}


def draw_headline(box: LayoutBox, top: float, setting: Setting) -> Drawn:
    """The equation, hung a little to the left; ``top`` is the top of its figures.

    Raises:
        Misfit: it is too wide even at its smallest.
    """
    text = setting.text.headline.text
    width = max(box.w, setting.code_room - box.x)
    wanted = max(box.wanted - setting.choices.headline_down, box.smallest)
    size = largest_pt(text, width, wanted, box.smallest)
    wide = headline_width_mm(text, size)
    if wide > width:
        raise Misfit(
            f"{quoted(text)} is {wide:.1f} mm wide at {size:g} pt, not {width:.1f}"
        )
    pieces = equation(text, size)
    cap = cap_height_mm(size)
    line = one_line(
        "headline", pieces, x=box.x, baseline=top + cap, says=text, hang=True
    ).lines[0]
    below = DESCENT * size * UNIT * MM_PER_PT
    block = Text("headline", box.x, top, wide, cap + below, (line,))
    return Drawn((block,), top + box.h - cap_height_mm(box.wanted) + cap)


def draw_code(box: LayoutBox, top: float, setting: Setting) -> Drawn:
    """The code, its right edge on the box's; nothing where it has moved away.

    Raises:
        Misfit: the payload needs more modules than there is room for.
    """
    if not setting.choices.code_stays:
        return Drawn((), top)
    code = code_box(setting, box.right, top, box.w)
    return Drawn((code,), top + box.h)


def code_box(setting: Setting, right: float, top: float, room: float) -> Code:
    """The code with its right edge at ``right``, no wider than ``room`` [mm].

    Raises:
        Misfit: the payload needs more modules than there is room for.
    """
    payload = setting.text.code
    modules = 17 + 4 * smallest_version(payload)
    module = MODULE_PT * MM_PER_PT
    side = modules * module
    if side > room + 0.05:
        raise Misfit(
            f"the code of {len(payload)} characters is {side:.1f} mm wide, "
            f"its place {room:g} mm"
        )
    says = setting.text.code_means
    return Code(right - side, top, module, payload, modules, says)


def draw_part(box: LayoutBox, top: float, setting: Setting) -> Drawn:
    """The part mark: A in a frame, B white on black, the others with their number."""
    part = setting.text.part
    if part is None or not part.letter.strip(" "):
        return Drawn((), top)
    side, letter = box.w, part.letter
    black = letter in {"B", "2"}
    below = _ORDINALS.get(letter, "") if side >= _LEAST_WITH_WORD_MM else ""
    size = side * _MARK_PT * (0.68 if below else 1)
    frame = min(MARK_FRAME_MM, side * _FRAME_SHARE)
    widest = side - 2 * (frame + _ROUND_LETTER_MM)
    size = min(size, size * widest / width_mm(letter, "bold", size))
    cap = cap_height_mm(size)
    foot = 3.0 if below else 0.0
    baseline = top + (side + cap - foot) / 2
    block: Box = (
        Bar(box.x, top, side, side, field="part")
        if black
        else Frame(box.x, top, side, side, frame, field="part")
    )
    middle = box.x + side / 2
    lines = [Line(middle, baseline, ((letter, "bold", size),), "middle", black)]
    if below:
        word = ((below, "semibold", 8.8),)
        lines.append(Line(middle, top + side - frame - 1.2, word, "middle"))
    inner = frame
    words = Text(
        "part", box.x + inner, top + inner, side - 2 * inner, side - 2 * inner,
        tuple(lines),
    )  # fmt: skip
    return Drawn((block, words), top + max(box.h, side))


def draw_scale(box: LayoutBox, top: float, setting: Setting) -> Drawn:
    """The twin scale; nothing where it has given way or the bottle is too small."""
    scale = setting.text.headline.scale
    if scale is None or not setting.choices.scale:
        return Drawn((), top)
    drawn = twin_scale(
        scale,
        x=box.x,
        line_y=top + SCALE_LINE_MM,
        w=box.w,
        volume_mL=setting.text.volume_mL,
    )
    return Drawn(drawn, top + max(box.h, SCALE_ROOM_MM) if drawn else top)


def draw_tally(box: LayoutBox, top: float, setting: Setting) -> Drawn:
    """A box for every film, ten in a row, the last one black."""
    tally = setting.text.tally
    if tally is None or not setting.choices.tally or tally.boxes < 1:
        return Drawn((), top)
    pitch = (box.w - STOP_MM) / (TALLY_IN_A_ROW - 1)
    spots = [
        (
            box.x + pitch * (index % TALLY_IN_A_ROW),
            top + TALLY_PITCH_MM * (index // TALLY_IN_A_ROW),
        )
        for index in range(tally.boxes)
    ]
    frames = tuple(
        Frame(x, y, TALLY_MM, TALLY_MM, TALLY_LINE_MM, field="tally")
        for x, y in spots[:-1]
    )
    stop_x, stop_y = spots[-1]
    ends = stop_y + TALLY_MM
    bar = Bar(stop_x, stop_y, STOP_MM, TALLY_MM, field="stop bar")
    stop = (bar, _stop(stop_x, stop_y))
    return Drawn((*frames, *stop), max(ends, top + box.h))


def _stop(x: float, y: float) -> Text:
    baseline = y + (TALLY_MM + cap_height_mm(STOP_PT)) / 2
    pieces = (("STOP", "bold", STOP_PT),)
    line = Line(x + STOP_MM / 2, baseline, pieces, "middle", white=True)
    return Text("tally", x, y, STOP_MM, TALLY_MM, (line,))


def draw_write_in(box: LayoutBox, top: float, setting: Setting) -> Drawn:
    """Room to write when it was opened and topped up."""
    if not setting.text.write_in or not setting.choices.write_in:
        return Drawn((), top)
    baseline = top + WRITE_IN_MM - 1.0
    words = ("Opened", "Topped\u00a0up", "(older date counts)")
    widths = [width_mm(word, "regular", WRITE_IN_PT) for word in words]
    blank = (box.w - sum(widths) - 4 * 0.9) / 2
    if blank < 8:
        raise Misfit(f"the write-in row has {blank:.1f} mm for a date, it needs 8")
    boxes: list[Box] = []
    x = box.x
    for index, (word, wide) in enumerate(zip(words, widths, strict=True)):
        pieces = ((word, "regular", WRITE_IN_PT),)
        boxes.append(one_line("write-in", pieces, x=x, baseline=baseline))
        x += wide + 0.9
        if index < 2:
            y = baseline + 0.4
            boxes.append(Bar(x, y, blank, WRITE_LINE_MM, field="write-in"))
            x += blank + 0.9
    return Drawn(tuple(boxes), top + max(box.h, WRITE_IN_MM))


def draw_rule(box: LayoutBox, top: float, _setting: Setting) -> Drawn:
    """A filled bar of the box's own size."""
    return Drawn((Bar(box.x, top, box.w, box.h),), top + box.h)
