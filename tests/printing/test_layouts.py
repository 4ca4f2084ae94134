"""Layout files: what they may say, and what is refused with file, box and key."""

import subprocess
import sys
from pathlib import Path

import pytest

from labelkit.errors import BadInput, Misfit, Unknown
from labelkit.printing.boxes import Page
from labelkit.printing.fit import fit
from labelkit.printing.layouts import (
    Layout,
    built_in,
    conditions_of,
    every_bottle,
    layout_named,
    read_layout,
    stacked,
)
from labelkit.resources import templates_dir
from tests.printing.label_texts import BATH, BORATE, BROMIDE, PYROGALLOL
from tests.printing.placed import lines_of, words_of

SMALL = (templates_dir() / "labels" / "small.toml").read_text("utf-8")
TALL = (templates_dir() / "labels" / "tall.toml").read_text("utf-8")


def written(folder: Path, text: str, name: str = "mine.toml") -> Path:
    path = folder / name
    path.write_text(text, "utf-8")
    return path


def faults_of(folder: Path, text: str) -> list[str]:
    with pytest.raises(BadInput) as refused:
        read_layout(written(folder, text))
    return [str(fault) for fault in refused.value.faults]


def changed(text: str, old: str, new: str) -> str:
    assert text.count(old) == 1, old
    return text.replace(old, new)


@pytest.mark.parametrize(
    ("name", "width", "height", "margin"),
    [
        # ISO 216: A8 is 52 x 74, A7 is 74 x 105 mm; a wrap is an A6's length of them.
        # Margins 3, from 74 x 74 up 3.6: design, print-spec section 8.
        ("small", 74, 52, 3),
        ("tall", 74, 105, 3.6),
        ("wrap-low", 148, 52, 3),
        ("wrap", 148, 74, 3.6),
        ("tall-wide", 105, 74, 3.6),
        # Two leaves of 74 x 74; two labels of 74 x 52; on the glass, and its cap.
        ("tag", 148, 74, 3.6),
        ("pair", 148, 52, 3),
        ("dropper", 60, 40, 3),
        ("cap", 24, 24, 0.2),
        # A6 and A5, cut on the halves of A4: ink stays 6 inside, section 9.
        ("large", 105, 148, 6),
        ("large-wide", 148, 105, 6),
        ("drum", 148, 210, 6),
    ],
)
def test_a_built_in_layout_has_the_size_of_its_name(
    name: str, width: float, height: float, margin: float
) -> None:
    layout = layout_named(name)
    assert (layout.width, layout.height, layout.margin) == (width, height, margin)


def test_the_built_in_layouts_come_smallest_first() -> None:
    assert [layout.name for layout in built_in()] == [
        "cap", "dropper", "small", "pair", "wrap-low", "tall", "tall-wide", "wrap",
        "tag", "large", "large-wide", "drum",
    ]  # fmt: skip


def test_an_unknown_layout_is_refused_with_those_there_are() -> None:
    known = "cap, dropper, small, pair, wrap-low, tall, tall-wide, wrap, tag"
    with pytest.raises(Unknown, match=f"'huge'.*{known}"):
        layout_named("huge")


def test_a_layout_of_the_bench_is_found_by_its_name(tmp_path: Path) -> None:
    text = changed(TALL, 'name   = "tall"', 'name   = "mine"')
    own = read_layout(written(tmp_path, text))
    assert layout_named("mine", (own,)) is own


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        ("size   = [74, 105]", "size   = [30, 105]", "size: is [30, 105]"),
        ("margin = 3.6", "margin = 2.9", "margin: is 2.9"),
        ("floor  = 95.4", "floor  = true", "floor: is True"),
        ("up_to_mL = 500", "up_to_mL = -1", "for, up_to_mL: is -1"),
        ('chosen = ["no part"]', 'chosen = ["red"]', "for, chosen: is ['red']"),
        ('for    = { chosen = ["no part"], up_to_mL = 500 }', "for = 1", "for: is 1"),
        ('name   = "tall"', 'name   = ""', "name: is missing"),
        ("margin = 3.6", "margin = 3.6\nkeeps_rows = 0.5", "keeps_rows: is 0.5"),
        ("margin = 3.6", "margin = 3.6\nlargest_symbol = 9", "largest_symbol: is 9"),
        (
            "size   = [74, 105]",
            "size   = [74, 105]\ndepth = 3",
            "depth: is no key here",
        ),
    ],
)
def test_a_fault_at_the_top_is_told_with_its_key(
    tmp_path: Path, old: str, new: str, fault: str
) -> None:
    (told,) = faults_of(tmp_path, changed(TALL, old, new))
    assert told.startswith(f"mine.toml, {fault}")


BOX = """
[[box]]
words = "Return to the print room"
at    = [3.6, 41.2]
size  = [66.8, 0]
text  = [8, 6.6]
"""


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        ("[8, 6.6]", "[8, 6.5]", "text: goes down to 6.5 pt. Write 6.6 pt or more."),
        ("[8, 6.6]", "[6.6, 8]", "text: is [6.6, 8]. Write [wanted, smallest], in pt."),
        ("at    =", "above =", "above: is no key here. Write one of align,"),
        ("[66.8, 0]", "[66.8]", "size: is [66.8]. Write two numbers, in mm."),
        ("[66.8, 0]", '[66.8, 0]\nalign = "middle"', "align: is 'middle'."),
        ("[66.8, 0]", '[66.8, 0]\nwhen = ["hot"]', "when: is ['hot']."),
        ("[66.8, 0]", "[66.8, 0]\nfills = 1", "fills: is 1. Write true or false."),
        ("[66.8, 0]", "[66.8, 0]\nfull_aid = 1", "full_aid: is 1. Write true"),
        ("[66.8, 0]", "[66.8, 0]\nline = -1", "line: is -1. Write a number."),
        ("[66.8, 0]", "[66.8, 0]\nothers = [6]", "others: is [6]. Write sizes from"),
        ("[66.8, 0]", "[66.8, 0]\nsignal = [19, 11]", "signal: goes down to 11 pt."),
        ("text  = [8, 6.6]", "", "text: is missing. Write [wanted, smallest], in pt."),
        ('words = "Return to the print room"', "words = 3", "words: is 3. Write text."),
        ("words", "shows", "shows: 'Return to the print room' is no field."),
        ("[66.8, 0]", '[66.8, 0]\nshows = "name"', "has neither or both of shows"),
        ("[8, 6.6]", "[8, 6.6]\nlabel = 6", "label: is 6. Write 6.6 pt or more."),
        ("[8, 6.6]", "[8, 6.6]\nsplit = 6", "split: is 6. Write two numbers, in mm."),
        ('room"', '{{ name"', "words: unexpected end of template"),
    ],
)
def test_a_fault_in_a_box_is_told_with_box_and_key(
    tmp_path: Path, old: str, new: str, fault: str
) -> None:
    count = TALL.count("[[box]]") + 1
    told = faults_of(tmp_path, TALL + changed(BOX, old, new))
    assert any(f"box {count}" in one and fault in one for one in told)


@pytest.mark.parametrize(
    ("text", "least"),
    [
        ('shows = "headline"\nat = [3.6, 41.2]\nsize = [9, 0]\ntext = [40, 27]', 28),
        ('shows = "foot"\nat = [3.6, 41.2]\nsize = [9, 0]\ntext = [12, 8.9]', 9),
        ('shows = "ratio"\nat = [3.6, 41.2]\nsize = [9, 0]\ntext = [12, 6.5]', 6.6),
    ],
)
def test_no_field_may_be_given_type_under_its_minimum(
    tmp_path: Path, text: str, least: float
) -> None:
    (told,) = faults_of(tmp_path, f"{TALL}\n[[box]]\n{text}\n")
    assert f"Write {least:g} pt or more." in told


def test_all_faults_are_told_at_once(tmp_path: Path) -> None:
    text = changed(changed(TALL, "margin = 3.6", "margin = 1"), "floor  =", "flor  =")
    assert len(faults_of(tmp_path, text)) == 3


@pytest.mark.parametrize(
    "field",
    ["name", "number", "headline", "code", "hazards", "foot", "discard", "made"],
)
def test_a_layout_that_leaves_off_a_ranked_field_is_refused(
    tmp_path: Path, field: str
) -> None:
    text = TALL.replace(f'"{field}"', '"rule"')
    told = faults_of(tmp_path, text)
    line = f"mine.toml, box: none shows '{field}'. "
    assert f'{line}Write a [[box]] with shows = "{field}".' in told


def test_a_field_left_off_for_some_bottles_only_is_refused(tmp_path: Path) -> None:
    only_with_class = changed(TALL, 'when  = ["no class"]', 'when  = ["class"]')
    text = changed(only_with_class, "at    = [3.6, 52.2]\nsize  = [66.8, 43.6]",
                   "at    = [3.6, 41.2]\nsize  = [66.8, 0]")  # fmt: skip
    told = faults_of(tmp_path, text)
    assert sorted(told) == [
        "mine.toml, box: none shows 'hazards' on a bottle of any kind. "
        'Write a [[box]] with shows = "hazards".',
        "mine.toml, box: none shows 'hazards' on a bottle of kind 'part'. "
        'Write a [[box]] with shows = "hazards".',
    ]


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('["goes-with", "bottle"]', '"bottle"', "goes-with"),
        ('shows = "ratio"', 'shows = "count"', "ratio"),
    ],
)
def test_a_layout_for_parts_says_what_they_go_with_and_how(
    tmp_path: Path, old: str, new: str, field: str
) -> None:
    text = changed(TALL, old, new)
    if field == "goes-with":
        text = text.replace("others = [6.6]\n", "", 1)
    (told,) = faults_of(tmp_path, text)
    assert told == (
        f"mine.toml, box: none shows '{field}'. "
        f'Write a [[box]] with shows = "{field}".'
    )


def test_a_layout_for_bottles_that_are_no_part_needs_no_place_for_it() -> None:
    shown = {field for box in layout_named("small").boxes for field in box.shows}
    assert not shown & {"goes-with", "ratio", "part"}


def test_the_volumes_beside_a_headline_have_a_place(tmp_path: Path) -> None:
    text = changed(TALL, '["substance", "beside"]', '"substance"')
    text = changed(text, "text  = [14, 14]\nothers = [11.3]", "text  = [14, 14]")
    (told,) = faults_of(tmp_path, text)
    assert told.startswith("mine.toml, box: none shows 'beside'.")


def test_a_label_is_a_metre_large_at_most(tmp_path: Path) -> None:
    size, at_most = "size   = [74, 105]", "size   = [1000, 1000]"
    assert read_layout(written(tmp_path, changed(TALL, size, at_most))).width == 1000
    for edges in ("[74, 1001]", "[1000.5, 105]", "[7400, 10500]"):
        (told,) = faults_of(tmp_path, changed(TALL, size, f"size   = {edges}"))
        assert told == f"mine.toml, size: is {edges}. Write at most 1000 mm."


def test_a_box_over_the_margin_is_refused(tmp_path: Path) -> None:
    (told,) = faults_of(tmp_path, changed(TALL, "[58.1, 11.64]", "[58.2, 11.64]"))
    assert "(code): [58.2, 11.64] with [12.3, 12.3] reaches over the margin" in told


def test_boxes_that_overlap_are_refused(tmp_path: Path) -> None:
    told = faults_of(tmp_path, changed(TALL, "[3.6, 37.1]", "[3.6, 35.9]"))
    assert any("(discard number)" in one and "overlaps" in one for one in told)


def test_the_quiet_zone_of_a_code_counts_as_its_own(tmp_path: Path) -> None:
    # ISO/IEC 18004:2015, 6.3.8: four modules; of 1.2 pt they are 1.69 mm.
    (told,) = faults_of(tmp_path, changed(TALL, "[3.6, 25.64]", "[3.6, 25.6]"))
    assert "overlaps" in told
    assert "(code)" in told


def test_boxes_that_never_meet_may_share_their_place() -> None:
    layout = layout_named("tall")
    names = [box for box in layout.boxes if box.kind == "name"]
    assert len(names) == 2
    for bottle in every_bottle():
        shown = [box for box in layout.boxes_for(bottle) if box.kind == "name"]
        assert len(shown) == 1


def test_there_are_as_many_kinds_of_bottle_as_a_layout_can_ask_for() -> None:
    # four kinds of headline, with and without class, part of a set or not
    assert len(set(every_bottle())) == 16


def test_a_bottle_is_what_it_says() -> None:
    assert conditions_of(PYROGALLOL) >= {"class", "part", "equivalence", "no dry"}
    assert conditions_of(BATH) >= {"no class", "no part", "dilution"}


def test_broken_toml_is_refused_with_its_place(tmp_path: Path) -> None:
    (told,) = faults_of(tmp_path, "name = ")
    assert told.startswith("mine.toml: Invalid value (at end of document)")


def test_a_file_that_is_no_text_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(BadInput, match=r"mine\.toml: is not a text file"):
        read_layout(path)


def test_every_box_of_a_stack_stands_under_its_nearest_neighbours() -> None:
    layout = layout_named("tall")
    places = stacked(layout, conditions_of(BORATE))
    kinds = [spot.box.kind for spot in places]
    above = {
        spot.box.kind: {kinds[near.place] for near in spot.above} for spot in places
    }
    assert above["name"] == set()
    assert above["headline"] == above["code"] == {"name"}
    assert above["substance"] == {"headline", "code"}
    assert above["hazards"] == {"rule"}


def own_words_layout(folder: Path, words: str) -> Layout:
    """A small label of the bench, higher, with words of its own above the foot."""
    extra = f"""
[[box]]
words = '{words}'
at    = [3, 46.0]
size  = [68, 4.0]
text  = [8, 6.6]
"""
    text = changed(SMALL, "size   = [74, 52]", "size   = [74, 60]")
    text = changed(text, "at    = [3, 44.0]", "at    = [3, 52.0]")
    text = changed(text, "floor  = 43.4", "floor  = 51.4")
    return read_layout(written(folder, text + extra))


def placed_page(layout: Layout) -> Page:
    return fit(BROMIDE, layout, profile="own", mono=False, keyline=True).page


def placed_words(layout: Layout) -> str:
    return words_of(placed_page(layout))


def test_a_layout_may_say_words_of_its_own(tmp_path: Path) -> None:
    words = '{{ name }}: {{ volume_mL }} mL, {{ strength | join(" or ") }}'
    layout = own_words_layout(tmp_path, words)
    assert "Potassium bromide: 250 mL, 100 g/L or 10 % w/v" in placed_words(layout)


@pytest.mark.parametrize(
    "words",
    [
        "{{ nothing_of_the_kind }}",
        "{{ name.__class__.__mro__ }}",
        "{{ hazard.colour }}",
        "{{ 1 / 0 }}",
    ],
)
def test_words_that_ask_for_what_is_not_there_are_refused(
    tmp_path: Path, words: str
) -> None:
    layout = own_words_layout(tmp_path, words)
    with pytest.raises(BadInput, match="cannot be filled in"):
        placed_words(layout)


def test_words_too_long_for_their_place_are_set_smaller_then_refused(
    tmp_path: Path,
) -> None:
    layout = own_words_layout(tmp_path, "back to the shelf " * 4)
    (size,) = {
        size
        for field, line in lines_of(placed_page(layout))
        for _, _, size in line.pieces
        if field == "words"
    }
    assert 6.6 <= size < 8
    layout = own_words_layout(tmp_path, "back to the shelf " * 5)
    with pytest.raises(Misfit, match=r"takes 5\.6 mm, its place has 4"):
        placed_words(layout)


def test_words_that_come_to_nothing_take_no_room(tmp_path: Path) -> None:
    layout = own_words_layout(tmp_path, "{{ supplier }}")
    assert "words" not in {field for field, _ in lines_of(placed_page(layout))}


def test_a_layout_without_boxes_is_refused(tmp_path: Path) -> None:
    (told,) = faults_of(tmp_path, TALL[: TALL.index("# A part mark")])
    assert told == "mine.toml, box: is missing. Write a [[box]] for every field."


def test_words_that_the_type_does_not_have_are_refused(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match=r"\(words\), words: .*U\+2610"):
        own_words_layout(tmp_path, "{{ name }} ☐")
    layout = own_words_layout(tmp_path, '{{ "\\u2610" }}')
    with pytest.raises(BadInput, match=r"U\+2610"):
        placed_words(layout)


def test_templates_load_only_for_a_layout_with_words_of_its_own() -> None:
    script = (
        "import sys\n"
        "from tests.printing.label_texts import BROMIDE\n"
        "from labelkit.mixing.bench import Settings\n"
        "from labelkit.printing.label import place_label\n"
        "place_label(BROMIDE, layout=None, settings=Settings())\n"
        "assert not {'jinja2', 'flask', 'pint'} & set(sys.modules)\n"
    )
    run = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=False
    )
    assert run.returncode == 0, run.stderr


def test_a_placement_keeps_the_order_of_the_file() -> None:
    layout = layout_named("small")
    placement = fit(BROMIDE, layout, profile="own", mono=False, keyline=True)
    told = words_of(placement.page)
    order = ["Potassium bromide", "10 mL = 1 g", "100 g/L", "Discard after", "Mixed",
             "No hazard class", "DO NOT DRINK"]  # fmt: skip
    places = [told.index(words) for words in order]
    assert places == sorted(places)
