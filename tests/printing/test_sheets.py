"""Sheets are checked by plain geometry: nothing off the paper, nothing overlapping."""

from itertools import combinations
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from labelkit.errors import BadInput, Misfit, Unknown
from labelkit.printing.boxes import Bar, Code, Frame, Page, Symbol, Text
from labelkit.printing.calibration import calibration_paper
from labelkit.printing.papers import Paper, Placed, ink_near_edge
from labelkit.printing.sheet_files import read_sheet, sheet_name, sheet_names
from labelkit.printing.sheets import Job, Sheet, impose, impose_duplex, slots_used

TEN = read_sheet("a4-74x52")
FOUR = read_sheet("a4-74x105")
LABEL = Page(74, 52, (), "label")
PAPERS: dict[str, set[tuple[float, float]]] = {
    "a4": {(210, 297), (297, 210)},
    "letter": {(215.9, 279.4)},
}


def labels(count: int) -> list[Page]:
    return [replace(LABEL, title=f"label {number}") for number in range(count)]


def test_there_is_a_sheet_for_every_size_on_both_papers() -> None:
    sizes = (
        "74x52", "74x105", "148x52", "148x74", "105x148", "148x210", "85.6x54",
    )  # fmt: skip
    expected = {f"{paper}-{size}" for paper in PAPERS for size in sizes}
    assert set(sheet_names()) == expected


@pytest.mark.parametrize("name", sheet_names())
def test_a_sheet_is_what_its_name_says_and_lies_in_the_middle(name: str) -> None:
    sheet = read_sheet(name)
    paper, _, size = name.partition("-")
    # ISO 216 for A4; ANSI/ASME Y14.1 for Letter, 8.5 by 11 inches
    assert sheet.paper in PAPERS[paper]
    assert f"{sheet.label[0]:g}x{sheet.label[1]:g}" == size
    last = sheet.slot(sheet.slots - 1)
    for axis in (0, 1):
        after = sheet.paper[axis] - last[axis] - sheet.label[axis]
        assert sheet.at[axis] == pytest.approx(after, abs=0.01)


@pytest.mark.parametrize("name", sheet_names())
def test_no_two_labels_of_a_sheet_overlap(name: str) -> None:
    sheet = read_sheet(name)
    w, h = sheet.label
    corners = [sheet.slot(number) for number in range(sheet.slots)]
    for (x, y), (other_x, other_y) in combinations(corners, 2):
        assert abs(x - other_x) >= w or abs(y - other_y) >= h


@pytest.mark.parametrize(
    ("paper", "size", "name"),
    [
        ("A4", (74, 52), "a4-74x52"),
        ("Letter", (148, 74), "letter-148x74"),
        ("A4", (105, 74), "a4-74x105"),  # lies turned on its twin's sheet
        ("A4", (148, 105), "a4-105x148"),
        ("A4", (85.6, 54), "a4-85.6x54"),  # ISO/IEC 7810, ID-1
        ("A4", (60, 40), ""),
    ],
)
def test_a_sheet_is_found_by_the_size_of_the_label(
    paper: str, size: tuple[float, float], name: str
) -> None:
    assert sheet_name(paper, *size) == name


def test_slots_are_counted_along_the_rows_or_down_the_columns() -> None:
    assert [TEN.slot(n) for n in (0, 1, 2)] == [(29, 14.5), (107, 14.5), (29, 68.5)]
    down = replace(TEN, order="columns")
    assert [down.slot(n) for n in (0, 1, 5)] == [(29, 14.5), (29, 68.5), (107, 14.5)]


# ---------------------------------------------------------------- laying out


def test_labels_fill_slot_after_slot_and_sheet_after_sheet() -> None:
    papers = list(impose(labels(13), TEN, Job(skip=3)))
    assert [len(paper.placed) for paper in papers] == [7, 6]
    assert (papers[0].placed[0].x, papers[0].placed[0].y) == (107, 68.5)
    assert (papers[1].placed[0].x, papers[1].placed[0].y) == (29, 14.5)
    titles = [placed.page.title for paper in papers for placed in paper.placed]
    assert titles == [f"label {number}" for number in range(13)]


@given(st.integers(0, 40), st.integers(0, 9), st.integers(1, 3))
def test_every_label_is_printed_as_often_as_asked(
    count: int, skip: int, copies: int
) -> None:
    papers = list(impose(labels(count), TEN, Job(skip=skip, copies=copies)))
    titles = [placed.page.title for paper in papers for placed in paper.placed]
    assert titles == [f"label {number}" for number in range(count)] * copies
    assert all(paper.placed for paper in papers)


def test_labels_are_laid_out_as_they_come() -> None:
    endless = iter(lambda: LABEL, None)
    first = next(impose(endless, TEN))
    assert len(first.placed) == 10


@pytest.mark.parametrize("skip", [-1, 10])
def test_more_slots_cannot_be_skipped_than_there_are(skip: int) -> None:
    with pytest.raises(
        BadInput, match=f"{skip} slots cannot be skipped on a sheet of 10"
    ):
        list(impose([LABEL], TEN, Job(skip=skip)))
    assert list(impose([LABEL], TEN, Job(skip=9)))


def test_no_copies_are_refused() -> None:
    with pytest.raises(BadInput, match="copies"):
        list(impose([LABEL], TEN, Job(copies=0)))


def test_a_label_of_another_size_is_refused_with_both_sizes() -> None:
    with pytest.raises(Misfit, match="60 x 40 mm does not fit a sheet of 74 x 52 mm"):
        list(impose([Page(60, 40, ())], TEN))


def test_a_wide_label_lies_turned_on_the_sheet_of_its_twin() -> None:
    (paper,) = impose([Page(74, 105, ()), Page(105, 74, ())], FOUR)
    assert [placed.turned for placed in paper.placed] == [False, True]


def test_nudge_moves_and_scale_stretches_the_places() -> None:
    job = Job(skip=1, nudge=(0.5, -0.3), scale=(1.01, 0.99))
    (paper,) = impose([LABEL], TEN, job)
    placed = paper.placed[0]
    assert (placed.x, placed.y) == pytest.approx((0.5 + 1.01 * 107, -0.3 + 0.99 * 14.5))


def test_contents_grow_with_the_scale_but_never_shrink_below_their_minimum() -> None:
    (paper,) = impose([LABEL], TEN, Job(scale=(1.01, 0.99)))
    assert paper.placed[0].scale == (1.01, 1.0)


def test_labels_on_plain_paper_get_a_line_to_cut_along() -> None:
    (paper,) = impose(labels(2), replace(TEN, outlines="hairline"))
    assert [(mark.x, mark.y) for mark in paper.marks] == [(29, 14.5), (107, 14.5)]
    assert all(isinstance(mark, Frame) and mark.line >= 0.15 for mark in paper.marks)


def test_crop_marks_stand_outside_the_labels_in_line_with_their_edges() -> None:
    (paper,) = impose(labels(2), replace(TEN, outlines="crop"))
    upright = {round(m.x + m.w / 2, 3) for m in bars(paper) if m.h > m.w}
    level = {round(m.y + m.h / 2, 3) for m in bars(paper) if m.w > m.h}
    assert upright == {29, 103, 107, 181}
    assert level == {14.5, 66.5}
    for mark in bars(paper):
        beside = mark.x + mark.w < 29 or mark.x > 181
        above = mark.y + mark.h < 14.5 or mark.y > 282.5
        assert beside or above


def bars(paper: Paper) -> list[Bar]:
    return [mark for mark in paper.marks if isinstance(mark, Bar)]


def test_the_slots_used_are_told_before_the_paper_is_fed() -> None:
    assert slots_used(TEN, Job(skip=3), 1) == "slot 4 of 10"
    assert slots_used(TEN, Job(skip=3), 7) == "slots 4 to 10 of 10"
    two_sheets = "slots 4 to 10 of the first sheet, up to slot 1 of sheet 2"
    assert slots_used(TEN, Job(skip=3), 8) == two_sheets
    assert slots_used(TEN, Job(skip=3, copies=2), 4) == two_sheets
    last = "slot 10 of the first sheet, up to slot 1 of sheet 2"
    assert slots_used(TEN, Job(skip=9), 2) == last


# ---------------------------------------------------------------- both sides


A6 = read_sheet("a4-105x148")
A5 = read_sheet("a4-148x210")


def cards(count: int, size: tuple[float, float]) -> list[tuple[Page, Page]]:
    return [
        (Page(*size, (), f"front {number}"), Page(*size, (), f"back {number}"))
        for number in range(count)
    ]


@given(st.integers(1, 9), st.sampled_from(["long", "short"]), st.booleans())
def test_a_back_lies_behind_its_front(count: int, flip: str, landscape: bool) -> None:
    sheet = A5 if landscape else A6
    size = sheet.label
    papers = list(impose_duplex(cards(count, size), sheet, Job(flip=flip)))
    for front, back in zip(papers[::2], papers[1::2], strict=True):
        width, height = front.width, front.height
        # Turned over an upright edge left and right change, else top and bottom.
        upright_edge = (flip == "long") == (height > width)
        for before, behind in zip(front.placed, back.placed, strict=True):
            assert before.page.title.split()[1] == behind.page.title.split()[1]
            mirrored_x = width - before.x - size[0] if upright_edge else before.x
            mirrored_y = before.y if upright_edge else height - before.y - size[1]
            assert (behind.x, behind.y) == pytest.approx((mirrored_x, mirrored_y))


def test_on_a4_the_first_front_is_left_and_its_back_right() -> None:
    front, back = impose_duplex(cards(1, (105, 148)), A6)
    assert (front.placed[0].x, back.placed[0].x) == (0, 105)
    assert front.placed[0].y == back.placed[0].y == 0.5


def test_backs_are_nudged_on_their_own() -> None:
    job = Job(nudge=(1, 2), nudge_back=(0.2, 0.4))
    front, back = impose_duplex(cards(1, (105, 148)), A6, job)
    assert (front.placed[0].x, front.placed[0].y) == (1, 2.5)
    assert (back.placed[0].x, back.placed[0].y) == pytest.approx((105.2, 0.9))


# ---------------------------------------------------------------- faults


@pytest.mark.parametrize(
    ("change", "problem"),
    [
        (
            {"columns": 3},
            "across: the last label ends at 259 mm, beyond the paper's 210",
        ),
        ({"rows": 6}, "down: the last label ends at 336.5 mm, beyond the paper's 297"),
        ({"pitch": (73.9, 54)}, "across: pitch 73.9 mm is less than the label's 74 mm"),
        ({"radius": 26.1}, "radius 26.1 mm is more than half the label's short side"),
        ({"columns": 0}, "has no labels"),
        ({"order": "spiral"}, "order 'spiral' is not known"),
        ({"outlines": "dots"}, "outlines 'dots' is not known"),
        ({"at": (-1, 14.5)}, "the first label lies on the paper"),
        ({"label": (0, 52)}, "paper and label need a size"),
        ({"paper": (210, 2000.1)}, "down: the paper is 2000.1 mm large"),
    ],
)
def test_a_sheet_that_cannot_be_is_refused(
    change: dict[str, object], problem: str
) -> None:
    with pytest.raises(BadInput) as caught:
        replace(TEN, **change)
    assert problem in str(caught.value)


@pytest.mark.parametrize(
    "change",
    [
        {"at": (58, 27), "label": (74, 54)},  # the last label ends on the paper's edge
        {"pitch": (74, 52)},
        {"radius": 26},
        {"paper": (2000, 2000)},
    ],
)
def test_a_sheet_at_its_limits_is_accepted(change: dict[str, object]) -> None:
    assert replace(TEN, **change).slots == 10


def write(folder: Path, text: str) -> Path:
    (folder / "mine.toml").write_text(text, "utf-8")
    return folder


GOOD = """
paper = [210, 297]
label = [99, 38]
columns = 2
rows = 7
at = [5, 15]
pitch = [101, 38.1]
radius = 2.5
order = "columns"
"""


def test_a_sheet_of_ones_own_is_read_from_its_folder(tmp_path: Path) -> None:
    sheet = read_sheet("mine", write(tmp_path, GOOD))
    assert sheet == Sheet(
        "mine", (210, 297), (99, 38), 2, 7, (5, 15), (101, 38.1), 2.5, "columns"
    )


def test_the_built_in_sheets_are_there_beside_ones_own(tmp_path: Path) -> None:
    assert read_sheet("a4-74x52", tmp_path) == TEN


def test_an_unknown_sheet_is_answered_with_those_there_are() -> None:
    with pytest.raises(Unknown, match=r"no sheet 'a4'. Write one of: a4-105x148, "):
        read_sheet("a4")


def test_every_fault_of_a_file_is_reported_at_once(tmp_path: Path) -> None:
    text = GOOD.replace("columns = 2\n", "").replace("rows = 7", "rows = 7.5")
    text = text.replace("pitch = [101, 38.1]", "pitch = [101]") + "colour = 1\n"
    with pytest.raises(BadInput) as caught:
        read_sheet("mine", write(tmp_path, text))
    assert [str(fault) for fault in caught.value.faults] == [
        "mine.toml, columns: is missing. Write a whole number.",
        "mine.toml, rows: 7.5 cannot be used. Write a whole number.",
        "mine.toml, pitch: [101] cannot be used. Write from label to label in mm, "
        "across and down, such as [78, 54].",
        "mine.toml, colour: is not a key of a sheet. Known: paper, label, columns, "
        "rows, at, pitch, radius, order, outlines.",
    ]


def test_a_file_that_is_not_toml_is_named(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match=r"mine\.toml: "):
        read_sheet("mine", write(tmp_path, "paper = [210"))


# ---------------------------------------------------------------- edges and rulers


@pytest.mark.parametrize(
    ("box", "near"),
    [
        (Bar(4.2, 4.2, 201.6, 288.6), False),
        (Bar(4.19, 50, 9, 9), True),
        (Bar(50, 4.19, 9, 9), True),
        (Bar(50, 50, 155.81, 9), True),
        (Bar(50, 50, 9, 242.81), True),
        (Symbol(205.8 - 10 * 2**0.5 - 0.01, 50, 10, "GHS07"), False),
        (Symbol(205.8 - 10 * 2**0.5 + 0.01, 50, 10, "GHS07"), True),
        (Code(205.8 - 12.5, 50, 0.5, "A", 25), False),
        (Code(205.8 - 12.4, 50, 0.5, "A", 25), True),
    ],
)
def test_ink_is_warned_of_where_printers_cannot_print(
    box: Bar | Symbol | Code, near: bool
) -> None:
    paper = Paper(210, 297, (Placed(Page(210, 297, (box,))),))
    assert ink_near_edge(paper) is near


def test_ink_of_a_turned_label_is_looked_for_where_it_lies() -> None:
    page = Page(105, 74, (Bar(0, 30, 1, 1),))  # bottom left once it is turned
    low = Paper(210, 297, (Placed(page, 50, 297 - 105, turned=True),))
    assert ink_near_edge(low)
    assert not ink_near_edge(replace(low, placed=(Placed(page, 50, 150, turned=True),)))


@pytest.mark.parametrize("name", sheet_names())
def test_the_rulers_are_100_and_200_mm_from_end_to_end(name: str) -> None:
    (placed,) = calibration_paper(read_sheet(name)).placed
    ticks = [box for box in placed.page.boxes if isinstance(box, Bar)]
    upright = [
        b.x + b.w / 2 for b in ticks if b.field == "ruler" and b.h > b.w and b.h < 9
    ]
    level = [
        b.y + b.h / 2 for b in ticks if b.field == "ruler" and b.w > b.h and b.w < 9
    ]
    assert max(upright) - min(upright) == pytest.approx(100)
    assert max(level) - min(level) == pytest.approx(200)
    assert len(upright) == 11
    assert len(level) == 21


@pytest.mark.parametrize("name", sheet_names())
def test_every_slot_has_its_outline_and_centre_on_the_calibration_page(
    name: str,
) -> None:
    sheet = read_sheet(name)
    (placed,) = calibration_paper(sheet).placed
    boxes = placed.page.boxes
    outlines = [b for b in boxes if isinstance(b, Frame) and b.field == "slot"]
    crosses = [b for b in boxes if isinstance(b, Bar) and b.field == "cross"]
    assert len(outlines) == sheet.slots
    for outline, cross in zip(outlines, crosses[::2], strict=True):
        assert (outline.w, outline.h) == sheet.label
        assert cross.x + cross.w / 2 == pytest.approx(outline.x + outline.w / 2)
        assert cross.y + cross.h / 2 == pytest.approx(outline.y + outline.h / 2)


def test_a_second_calibration_print_follows_the_settings() -> None:
    (placed,) = calibration_paper(TEN, Job(nudge=(1, 2), scale=(1.02, 0.98))).placed
    assert (placed.x, placed.y, placed.scale) == (1, 2, (1.02, 0.98))


def test_labels_gone_from_a_sheet_are_told_on_its_calibration_page() -> None:
    (placed,) = calibration_paper(TEN, Job(skip=3)).placed
    slots = [b for b in placed.page.boxes if isinstance(b, Text) and b.field == "slot"]
    told = ["".join(p[0] for line in b.lines for p in line.pieces) for b in slots]
    assert told[:4] == ["1 already used", "2 already used", "3 already used", "4"]
    with pytest.raises(BadInput, match="10 slots cannot be skipped"):
        calibration_paper(TEN, Job(skip=10))


# ------------------------------------------------------- backs behind their fronts


def on_paper(at: Placed, x: float, y: float) -> tuple[float, float]:
    """Where a point of a page comes to lie on its paper [mm], both from the top left.

    Turned by a quarter to the left first, then by a half about the place's middle.
    """
    wide, high = at.page.width, at.page.height
    if at.turned:
        x, y, wide, high = y, wide - x, high, wide
    if at.upside_down:
        x, y = wide - x, high - y
    return at.x + x, at.y + y


def through(paper: Paper, flip: str, x: float, y: float) -> tuple[float, float]:
    """A point of the front, seen from the back once the paper is turned over an edge.

    A sheet turned over its upright edge mirrors left and right, over its level edge
    top and bottom; the long edge of A4 upright is the upright one.
    """
    upright_edge = (flip == "long") == (paper.height >= paper.width)
    return (paper.width - x, y) if upright_edge else (x, paper.height - y)


@pytest.mark.parametrize("flip", ["long", "short"])
@pytest.mark.parametrize(
    ("sheet", "size"),
    [
        ("a4-105x148", (105, 148)),
        ("a4-148x210", (148, 210)),
        ("a4-74x105", (105, 74)),
        ("a4-105x148", (148, 105)),
        ("a4-85.6x54", (85.6, 54)),
        ("letter-148x210", (148, 210)),
    ],
)
def test_a_hole_at_the_top_of_a_card_goes_through_the_top_of_its_back(
    sheet: str, size: tuple[float, float], flip: str
) -> None:
    front, back = Page(*size, (), "front"), Page(*size, (), "back")
    slots = read_sheet(sheet)
    job = Job(skip=slots.slots - 1, flip=flip)
    over, under = impose_duplex([(front, back)] * 2, slots, job), []
    papers = list(over)
    for fronts, backs in zip(papers[::2], papers[1::2], strict=True):
        for a, b in zip(fronts.placed, backs.placed, strict=True):
            hole = on_paper(a, size[0] / 2, 7.5)
            seen = through(fronts, flip, *hole)
            assert on_paper(b, size[0] / 2, 7.5) == pytest.approx(seen)
            left = through(fronts, flip, *on_paper(a, 0, 7.5))
            assert on_paper(b, size[0], 7.5) == pytest.approx(left)
            under.append(b)
    assert len(under) == 2


def test_the_nudge_of_the_backs_moves_backs_alone() -> None:
    cards = [(Page(105, 148, (), "front"), Page(105, 148, (), "back"))]
    sheet = read_sheet("a4-105x148")
    plain = list(impose_duplex(cards, sheet, Job()))
    moved = list(impose_duplex(cards, sheet, Job(nudge_back=(1.5, -0.5))))
    assert moved[0] == plain[0]
    (was,), (now,) = plain[1].placed, moved[1].placed
    assert (now.x - was.x, now.y - was.y) == pytest.approx((1.5, -0.5))


def test_ink_of_a_page_that_lies_upside_down_is_where_it_shows() -> None:
    bar = Bar(1, 50, 10, 1)
    page = Page(100, 100, (bar,), "")
    upright = Paper(104, 104, (Placed(page, 4, 4),))
    over = Paper(104, 104, (Placed(page, 4, 4, upside_down=True),))
    assert not ink_near_edge(upright)
    assert ink_near_edge(over)
