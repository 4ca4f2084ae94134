"""Lines are as full as they can be, break where they may, and measure what they are."""

from importlib.resources import files
from itertools import pairwise

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from labelkit.errors import Misfit
from labelkit.mixing.words import Run, Words
from labelkit.printing.fonts import MM_PER_PT, width_mm
from labelkit.printing.typeset import (
    Flow,
    Pieces,
    bearing_mm,
    bind,
    fold,
    join,
    leading_mm,
    one_line,
    paragraph,
    plain,
    width_of,
)

NBSP = "\u00a0"
SLACK = 1e-5

letters = st.text("abcdefgXYZ0189.,:(é½→\u00a0", min_size=1, max_size=9)
words = st.lists(letters, min_size=1, max_size=30).map(" ".join)
runs: st.SearchStrategy[Words] = st.lists(
    st.builds(Run, words, st.booleans()), min_size=1, max_size=5
).map(tuple)


def text_of(line: Pieces) -> str:
    return "".join(text for text, _, _ in line)


def semibold(text: str, size: float) -> float:
    return width_mm(text, "semibold", size)


@given(runs, st.floats(6.6, 20), st.floats(60, 140))
def test_no_line_is_wider_than_its_room(said: Words, size: float, width: float) -> None:
    try:
        lines = fold(said, size, width)
    except Misfit:
        longest = max(plain(said).split(" "), key=lambda w: semibold(w, size))
        assert semibold(longest, size) > width * 0.8
    else:
        assert all(width_of(line) <= width + SLACK for line in lines)


@given(runs, st.floats(6.6, 9))
def test_the_lines_say_what_the_words_say(said: Words, size: float) -> None:
    told = " ".join(text_of(line) for line in fold(said, size, 140))
    wanted = " ".join(part for part in plain(said).split(" ") if part)
    assert told.replace(NBSP, " ") == wanted.replace(NBSP, " ")


@given(words.filter(lambda text: len(text) > 20), st.floats(6.6, 12))
def test_every_line_is_as_full_as_it_can_be(text: str, size: float) -> None:
    lines = fold((Run(text, strong=True),), size, 60)
    for line, following in pairwise(lines):
        first = text_of(following).split(" ")[0]
        assert semibold(f"{text_of(line)} {first}", size) > 60


@given(words, st.floats(6.6, 9))
def test_a_line_never_breaks_at_a_no_break_space(text: str, size: float) -> None:
    starts = {part for part in bind(text).split(" ") if part}
    for line in fold((Run(text),), size, 70):
        assert set(text_of(line).split(" ")) <= starts


@pytest.mark.parametrize(
    "bound",
    [
        "IF IN EYES", "IF ON SKIN", "IF SWALLOWED", "IF INHALED", "7.3 g/L", "20 mL",
        "40 °C", "5 % w/v", "12 months", "M. Osei", "0.1 mol/L", "50 % w/w",
    ],
)  # fmt: skip
def test_what_belongs_together_stays_on_one_line(bound: str) -> None:
    said = bind(f"so {bound}: rinse")
    assert bound.replace(" ", NBSP) in said
    assert said.startswith("so ")
    assert said.endswith(" rinse")


@pytest.mark.parametrize("free", ["2 films", "part A and B", "1 + 9", "IFFY things"])
def test_what_is_no_unit_may_break(free: str) -> None:
    assert bind(free) == free


def test_a_weight_changes_inside_a_line_and_the_space_keeps_its_own() -> None:
    said = (Run("IF IN EYES:", strong=True), Run(" Rinse with water."))
    (line,) = fold(said, 6.6, 60)
    assert line == (
        (f"IF{NBSP}IN{NBSP}EYES:", "semibold", 6.6),
        (" Rinse with water.", "regular", 6.6),
    )


def test_a_word_that_changes_weight_inside_is_not_torn() -> None:
    said = (Run("one two"), Run("three", strong=True), Run(" four"))
    lines = fold(said, 6.6, width_mm("twothree", "semibold", 6.6))
    assert [text_of(line) for line in lines] == ["one", "twothree", "four"]


def test_a_word_wider_than_the_line_is_refused_by_name() -> None:
    with pytest.raises(Misfit, match=r"'pneumonoultra' is .* mm wide, the line 5\.0"):
        fold((Run("so pneumonoultra"),), 6.6, 5)


def test_lines_stand_a_fifth_more_than_their_size_apart() -> None:
    # Regulation (EU) 2024/2865: at least 120 % of the font size, read as the type size.
    assert leading_mm(10) == pytest.approx(12 * 25.4 / 72)
    block = paragraph("p", (Run("one two three"),), 10, x=0, y=0, w=12)
    gaps = [lower.y - upper.y for upper, lower in pairwise(block.lines)]
    assert len(block.lines) > 1
    assert gaps == pytest.approx([12 * 25.4 / 72] * len(gaps))
    assert block.h == pytest.approx(len(block.lines) * 12 * 25.4 / 72)


@pytest.mark.parametrize("size", [6.6, 8.8, 19.0])
def test_a_paragraph_keeps_ascenders_and_descenders_inside(size: float) -> None:
    # Ascender 740 and descender -200 of 1000, from the font's own tables.
    block = paragraph("p", (Run("Ágp"),), size, x=0, y=10, w=60)
    em = size * MM_PER_PT
    assert block.lines[0].y - 0.74 * em >= 10
    assert block.lines[-1].y + 0.2 * em <= 10 + block.h


@pytest.mark.parametrize(
    ("weight", "file"), [("semibold", "SemiBold"), ("bold", "Bold")]
)
@pytest.mark.parametrize("mark", ["1", "2", "B", "D", "W"])
def test_large_type_is_hung_by_the_white_before_its_first_letter(
    weight: str, file: str, mark: str
) -> None:
    folder = files("fontpkg_ibm_plex_sans_condensed") / "files"
    font = TTFont(str(folder / f"IBMPlexSansCondensed-{file}.ttf"))
    _, before = font["hmtx"][font.getBestCmap()[ord(mark)]]
    expected = before / 1000 * 40 * 25.4 / 72 - 0.15
    assert bearing_mm(mark, weight, 40) == pytest.approx(expected)


@pytest.mark.parametrize(
    ("align", "left"), [("left", 30), ("middle", 20), ("right", 10)]
)
def test_a_line_stands_on_the_edge_that_it_is_aligned_to(
    align: str, left: float
) -> None:
    wide = 20.0
    size = wide / width_mm("mmmm", "bold", 1.0)
    block = one_line("f", (("mmmm", "bold", size),), x=30, baseline=9, align=align)
    assert block.x == pytest.approx(left)
    assert block.w == pytest.approx(wide)
    assert block.lines[0].x == 30


def test_parts_are_joined_with_one_space_and_empty_ones_left_out() -> None:
    said = join("One.", (), "", (Run("Two.", strong=True),), "Three.")
    assert plain(said) == "One. Two. Three."


def test_a_column_stacks_its_blocks_without_a_gap() -> None:
    flow = Flow(5, 10, 40)
    flow.add("first", "one two three four five six seven eight nine ten", 10)
    flow.skip(2)
    flow.add("nothing", "", 10)
    flow.add("second", "one", 10, heavy=True)
    assert [block.field for block in flow.blocks] == ["first", "second"]
    first, second = flow.blocks[0], flow.blocks[-1]
    assert second.y == pytest.approx(first.y + first.h + 2)
    assert flow.y == pytest.approx(second.y + second.h)
    assert list(second.lines[0].pieces) == [("one", "semibold", 10.0)]
    moved = flow.moved(3)
    assert [block.lines[0].y - 3 for block in moved] == pytest.approx(
        [block.lines[0].y for block in flow.blocks]
    )
