"""The page that shows how far a printer is off: rulers, slots and their centres."""

from collections.abc import Iterator

from labelkit.printing.boxes import Bar, Box, Frame, Line, Page, Text
from labelkit.printing.fonts import width_mm
from labelkit.printing.papers import PRINTER_MARGIN_MM, Paper, Placed
from labelkit.printing.sheets import Job, Sheet, require_room

__all__ = ["calibration_paper"]

_ACROSS, _DOWN = 100, 200  # lengths of the rulers [mm]
_FROM_EDGE = 9.0
_THIN = 0.18
_TICK, _END_TICK = 2.5, 5.0
_CROSS = 5.0  # from the centre of a slot to the end of its cross
_SIZES = (9.0, 8.0, 7.2, 6.6)
_GONE = "already used"


def calibration_paper(sheet: Sheet, job: Job | None = None) -> Paper:
    """A paper to print, measure and hold against a sheet of labels.

    It is moved and scaled as the settings say, so that a second print shows whether
    they are right. Slots that are skipped say so.

    Raises:
        BadInput: more slots are skipped than there are.
    """
    job = job or Job()
    require_room(sheet, job)
    page = Page(sheet.paper[0], sheet.paper[1], tuple(_boxes(sheet, job.skip)))
    placed = Placed(page, job.nudge[0], job.nudge[1], scale=job.scale)
    return Paper(page.width, page.height, (placed,))


def _boxes(sheet: Sheet, skip: int) -> Iterator[Box]:
    width, height = sheet.paper
    yield _words(sheet)
    for number in range(sheet.slots):
        yield from _slot(sheet, number, gone=number < skip)
    inner = (width - 2 * PRINTER_MARGIN_MM, height - 2 * PRINTER_MARGIN_MM)
    yield Frame(PRINTER_MARGIN_MM, PRINTER_MARGIN_MM, *inner, _THIN, "safe area")
    yield from _ruler_across((width - _ACROSS) / 2, height - _FROM_EDGE)
    yield from _ruler_down(_FROM_EDGE, (height - _DOWN) / 2)


def _words(sheet: Sheet) -> Text:
    left, top = sheet.slot(0)
    lines = (
        f"Sheet {sheet.name}. Print at 100 %, not fitted to the page.",
        "Measure both rulers: scale = [100 ÷ across, 200 ÷ down].",
        "Hold it against your labels: nudge = [right, down].",
        "Write both into labelkit.toml and print this page again.",
    )
    size = _size_for(lines, sheet.label[0] - 6)
    # Clear of the ruler that stands at the edge of the paper.
    x = max(left + 3, _FROM_EDGE + _END_TICK + 3)
    y = max(top, PRINTER_MARGIN_MM) + 4.5
    pitch = size * 0.45
    set_lines = tuple(
        Line(x, y + index * pitch, ((words, "regular", size),))
        for index, words in enumerate(lines)
    )
    extent = max(width_mm(words, "regular", size) for words in lines)
    return Text("words", x, y - pitch, extent, len(lines) * pitch, set_lines)


def _size_for(lines: tuple[str, ...], width: float) -> float:
    for size in _SIZES:
        if all(width_mm(words, "regular", size) <= width for words in lines):
            return size
    return _SIZES[-1]


def _slot(sheet: Sheet, number: int, *, gone: bool) -> Iterator[Box]:
    (left, top), (w, h) = sheet.slot(number), sheet.label
    yield Frame(left, top, w, h, _THIN, "slot")
    x, y = left + w / 2, top + h / 2
    yield Bar(x - _CROSS, y - _THIN / 2, 2 * _CROSS, _THIN, field="cross")
    yield Bar(x - _THIN / 2, y - _CROSS, _THIN, 2 * _CROSS, field="cross")
    told = f"{number + 1} {_GONE}" if gone else f"{number + 1}"
    figure = Line(x + 1.2, y + 4, ((told, "semibold", 9.0),))
    extent = width_mm(told, "semibold", 9.0)
    yield Text("slot", x + 1.2, y + 1, extent, 4, (figure,))


def _ruler_across(x: float, y: float) -> Iterator[Box]:
    yield Bar(x, y - _THIN / 2, _ACROSS, _THIN, field="ruler")
    for at in range(0, _ACROSS + 1, 10):
        length = _END_TICK if at in (0, _ACROSS) else _TICK
        yield Bar(x + at - _THIN / 2, y - length, _THIN, length, field="ruler")
    middle = x + _ACROSS / 4  # between two ticks, and off the middle of the paper
    words = Line(middle, y - 3, ((f"{_ACROSS} mm", "semibold", 8.0),), "middle")
    yield Text("ruler", middle - 6, y - 6, 12, 3, (words,))


def _ruler_down(x: float, y: float) -> Iterator[Box]:
    yield Bar(x - _THIN / 2, y, _THIN, _DOWN, field="ruler")
    for at in range(0, _DOWN + 1, 10):
        length = _END_TICK if at in (0, _DOWN) else _TICK
        yield Bar(x, y + at - _THIN / 2, length, _THIN, field="ruler")
    words = Line(x + 1, y + _DOWN / 2 - 3, ((f"{_DOWN} mm", "semibold", 8.0),))
    yield Text("ruler", x + 1, y + _DOWN / 2 - 6, 12, 3, (words,))
