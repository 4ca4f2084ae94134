"""Card layouts: what is read, and every fault of a file reported together."""

from collections.abc import Callable

import pytest

from labelkit.errors import BadInput, Unknown
from labelkit.printing.card_layout import built_in_cards, card_layout, read_card
from labelkit.resources import templates_dir


def source(key: str = "a5") -> str:
    return (templates_dir() / "cards" / f"{key}.toml").read_text("utf-8")


@pytest.mark.parametrize(
    ("key", "size", "margin"),
    [
        # ISO 216: A6, A5, A4; ISO/IEC 7810: ID-2. Margins: print specification, Cards.
        ("a6", (105, 148), 6),
        ("a5", (148, 210), 8),
        ("a4", (210, 297), 10),
        ("pocket-wide", (105, 74), 4),
        # ISO/IEC 7810: ID-1, 85.60 x 53.98, here to whole and half tenths.
        ("pocket", (85.6, 54), 4),
    ],
)
def test_built_in_cards_have_the_sizes_of_their_standards(
    key: str, size: tuple[float, float], margin: float
) -> None:
    layout = card_layout(key)
    assert (layout.width, layout.height) == size
    assert layout.margin == margin
    assert key in built_in_cards()


def test_nothing_is_printed_about_the_hole() -> None:
    # Hole 6 across, 7.5 below the edge, a ring of 12 kept clear: 13.5 and more.
    assert all(card_layout(key).clear >= 7.5 + 6 for key in ("a6", "a5", "a4"))


def test_an_unknown_card_lists_those_there_are() -> None:
    with pytest.raises(Unknown, match=r"no card layout 'a7'\. Write one of a4, a5, a6"):
        card_layout("a7")


def test_a_file_that_is_no_toml_is_refused_with_its_name() -> None:
    with pytest.raises(BadInput, match=r"^mine\.toml: "):
        read_card("title = ", "mine")


def without(field: str) -> Callable[[str], str]:
    def change(text: str) -> str:
        start = text.index(f"[{field}]")
        return text[:start] + text[text.index("\n[", start) + 1 :]

    return change


def replaced(old: str, new: str) -> Callable[[str], str]:
    def change(text: str) -> str:
        assert old in text
        return text.replace(old, new, 1)

    return change


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        (without("back.aid"), "back, aid: is left out"),
        (without("front.foot"), "front, foot: is left out"),
        (without("front.mark"), "front, mark: is left out"),
        (without("front.stop"), "front, stop: is left out"),
        (
            replaced("text = [30, 19]", "text = [30, 6.5]"),
            "front, name, text: goes down",
        ),
        (replaced("text = [54, 28]", "text = [54, 27.9]"), "28.0 is the smallest"),
        (replaced("side = [16, 13, 10]", "side = [16, 9.9]"), "10.0 is the smallest"),
        (replaced("side = [7]", "side = [5.9]"), "front, tick, side: goes down to 5.9"),
        (replaced("text = [20]", "text = [11.9]"), "front, signal, text: goes down"),
        (replaced("text = [30, 19]", "text = [19, 30]"), "Write the wanted size first"),
        (replaced("at = [8, 25.4]", "at = [7.9, 25.4]"), "outside the margins"),
        (replaced("at = [8, 25.4]", "at = [8, 13.7]"), "outside the margins"),
        (replaced("at = [8, 25.4]", 'at = "top"'), "front, name, at: is 'top'"),
        (
            replaced("three = [85.3, 112.4, 139.5]", "three = [85.3, 139.5]"),
            "three: is",
        ),
        (replaced("three = [85.3, 112.4, 139.5]", "three = [85.3, 112.4, 141]"), "140"),
        (replaced("margin  = 8 ", "margin  = 2.9 "), "margin: is 2.9"),
        (replaced("module  = 0.508", "module  = 0.39"), "module: is 0.39"),
        (replaced("columns = 3 ", "columns = 9 "), "columns: is 9"),
        (replaced("size    = [148, 210]", "size    = [148, 53]"), "size: is"),
        (replaced('title   = "A5 card"', 'title   = ""'), "title: is ''"),
        (replaced("small = 9.5", "small = 6.5"), "type from 6.6 pt"),
        (replaced("[front.name]", "[front.motto]"), "front, motto: is no field"),
        (replaced("gap = 2.4 ", "gape = 2.4 "), "gape: is not a key of a field"),
        (replaced("[back.name]", "[back]\nname = 3\n[back.nome]"), "back, name: is 3"),
        (replaced("columns = 3 ", "clolumns = 3 "), "has no columns"),
    ],
)
def test_a_fault_is_named_with_its_side_field_and_key(
    change: Callable[[str], str], fault: str
) -> None:
    with pytest.raises(BadInput) as refused:
        read_card(change(source()), "mine")
    assert fault in str(refused.value)
    assert all(line.startswith("mine.toml") for line in str(refused.value).split("\n"))


def test_all_faults_of_a_file_are_told_at_once() -> None:
    changed = replaced("text = [30, 19]", "text = [30, 6]")(source())
    changed = replaced("side = [7]", "side = [3]")(changed)
    with pytest.raises(BadInput) as refused:
        read_card(without("back.aid")(changed), "mine")
    assert len(refused.value.faults) == 3
