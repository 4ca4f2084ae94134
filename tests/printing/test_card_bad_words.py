"""Words that nobody planned for: a card says what is wrong, and never clips them."""

from typing import Any

import pytest
from msgspec.structs import replace

from labelkit.errors import BadInput, Misfit
from labelkit.mixing.bench import Settings
from labelkit.mixing.words import CardAmount, CardRow, CardText
from labelkit.printing.card import place_card
from labelkit.printing.card_layout import built_in_cards, card_layout
from tests.printing.card_texts import BORATE, strong
from tests.printing.placed import words_of
from tests.printing.test_card_invariants import require_sound

LAYOUTS = built_in_cards()


def refused(text: CardText, key: str) -> str:
    with pytest.raises((BadInput, Misfit)) as error:
        place_card(text, layout=card_layout(key), settings=Settings())
    return str(error.value)


@pytest.mark.parametrize("key", LAYOUTS)
def test_a_title_of_four_hundred_characters_is_refused_and_told_short(key: str) -> None:
    told = refused(replace(BORATE, name="Alkaline " * 44), key)
    assert told.startswith(f"card {key}, name: 'Alkaline ")
    assert told.endswith("Write a shorter title.")
    assert len(told) < 120


@pytest.mark.parametrize(
    ("changes", "place"),
    [
        ({"summary": "Keeps well " * 37}, "summary"),
        ({"emergency": "0800 555 010 " * 31}, "emergency"),
        ({"headline": replace(BORATE.headline, text="10 mL = 1 g " * 34)}, "headline"),
        (
            {"headline": replace(BORATE.headline, substance="metaborate " * 37)},
            "substance",
        ),
    ],
)
@pytest.mark.parametrize("key", ["a5", "a4"])
def test_four_hundred_characters_anywhere_are_refused_and_told_short(
    key: str, changes: dict[str, Any], place: str
) -> None:
    told = refused(replace(BORATE, **changes), key)
    assert told.startswith(f"card {key}, {place}: '")
    assert "…' is " in told
    assert len(told) < 240


@pytest.mark.parametrize("key", ["a6", "a5", "a4"])
def test_forty_ingredients_are_too_many_for_any_card(key: str) -> None:
    rows = tuple(
        CardRow("step", n, strong("Water"), "", (CardAmount("1 g"),) * 3)
        for n in range(1, 41)
    )
    told = refused(replace(BORATE, rows=rows), key)
    assert "40 steps need" in told
    assert "Make two cards" in told
    assert "--weigh-out" in told


@pytest.mark.parametrize(
    ("words", "why"),
    [
        ("Fix 🧪", "U+1F9EA"),
        ("שלום", "runs from right to left"),
        ("a\u202eb", "U+202E"),
        ("a\u0007b", "U+0007"),
        ("50 g ≡ 5 %", "U+2261"),
    ],
)
@pytest.mark.parametrize("field", ["name", "summary", "never_with", "room"])
def test_what_has_no_glyph_is_named_with_its_field(
    field: str, words: str, why: str
) -> None:
    told = refused(replace(BORATE, **{field: words}), "a5")
    assert told.startswith(f"{field}: ")
    assert why in told
    assert "Write it in other words." in told


@pytest.mark.parametrize("key", ["a5", "a4"])
def test_markup_is_printed_as_it_is_written(key: str) -> None:
    row = replace(BORATE.rows[0], what=strong("<b>Water</b> &amp; {x} %s"))
    text = replace(BORATE, rows=(row,))
    pages = place_card(text, layout=card_layout(key), settings=Settings())
    assert "<b>Water</b> &amp; {x} %s" in words_of(pages[0])
    require_sound(text, card_layout(key), pages)


def test_a_caution_of_four_hundred_characters_is_set_in_lines() -> None:
    long = "Slowly, and never the other way round. " * 10
    row = replace(BORATE.rows[4], caution=long.strip())
    text = replace(BORATE, rows=(*BORATE.rows[:4], row))
    pages = place_card(text, layout=card_layout("a4"), settings=Settings())
    require_sound(text, card_layout("a4"), pages)


def test_one_endless_word_is_refused() -> None:
    row = replace(BORATE.rows[0], what=strong("x" * 400))
    assert "wide, the line" in refused(replace(BORATE, rows=(row,)), "a4")
