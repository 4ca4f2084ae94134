"""Film and paper counted by area: one unit tells the others.

80 square inches = one roll (135-36, 120) = four sheets of 4x5 = one of 8x10: a
practitioners' wiki and a practitioner's site, as the facts of practice give it. The
sheets are checked by their own size besides: 4 × 5 and 8 × 10 square inches.
"""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.errors import BadInput
from labelkit.mixing.films import (
    IN2,
    Treated,
    counted,
    read_treated,
    told_treated,
    told_units,
)


@pytest.mark.parametrize(
    ("kept", "rolls"),
    [
        ("1 roll", 1),
        ("4 4x5 sheet", 1),
        ("1 8x10 sheet", 1),
        ("80 in2", 1),
        ("2 4x5 sheet", Decimal("0.5")),
        ("20 in2", Decimal("0.25")),
    ],
)
def test_a_roll_is_what_the_darkroom_counts(kept: str, rolls: Decimal) -> None:
    assert counted(kept, "roll") == rolls
    assert counted(kept, "rolls") == rolls


def test_a_sheet_is_as_large_as_it_is_called() -> None:
    for size in ("4x5", "8x10"):
        wide, high = size.split("x")
        assert IN2[f"{size} sheet"] == int(wide) * int(high)


@pytest.mark.parametrize(
    ("text", "kept"),
    [
        ("2 rolls", "2 roll"),
        ("2rolls", "2 roll"),
        ("1 Roll", "1 roll"),
        ("4 sheets", "4 4x5 sheet"),
        ("3 8x10", "3 8x10 sheet"),
        ("3 sheets 8x10", "3 8x10 sheet"),
        ("1 4×5", "1 4x5 sheet"),
        ("1 sheet 4 x 5", "1 4x5 sheet"),
        ("160 in2", "160 in2"),
        ("80 sq in", "80 in2"),
        ("2 square inches", "2 in2"),
        ("0,5 roll", "0.5 roll"),
    ],
)
def test_what_is_written_is_kept_in_one_form(text: str, kept: str) -> None:
    assert str(read_treated(text)) == kept


def test_a_unit_of_the_recipes_own_is_taken_where_the_recipe_counts_so() -> None:
    assert read_treated("12 prints", "print") == Treated(Decimal(12), "print")
    assert read_treated("12 prints", "roll") is None
    assert read_treated("60 mL", "roll") is None
    assert counted("12 print", "prints") == 12
    assert counted("12 print", "roll") is None
    assert counted("1 roll", "print") is None


@pytest.mark.parametrize(
    ("text", "own", "said"),
    [
        (
            "3",
            "",
            "'3' does not say of what. Write it as 2 rolls, 4 sheets (4x5), 1 sheet "
            "8x10 or 80 in2, or 60 mL.",
        ),
        (
            "3",
            "print",
            "'3' does not say of what. Write it as 2 rolls, 4 sheets (4x5), 1 sheet "
            "8x10 or 80 in2, or 60 mL, or 3 prints.",
        ),
        (
            "rolls",
            "",
            "'rolls' does not say how much. Write it as 2 rolls, 4 sheets (4x5), "
            "1 sheet 8x10 or 80 in2, or 60 mL.",
        ),
        ("0 rolls", "", "'0 rolls' is not more than 0. Write a number above 0."),
        ("-1 roll", "", "'-1 roll' is not more than 0. Write a number above 0."),
        (
            "1,000 rolls",
            "",
            "'1,000 rolls' can be read in two ways. Write 1000 rolls or 1.000 rolls.",
        ),
        (
            "1000001 rolls",
            "",
            "'1000001 rolls' is more than is ever put through a bath. Write how many "
            "it was.",
        ),
    ],
)
def test_what_means_nothing_or_two_things_is_refused(
    text: str, own: str, said: str
) -> None:
    with pytest.raises(BadInput) as caught:
        read_treated(text, own)
    assert str(caught.value) == said


def test_the_largest_count_is_still_taken() -> None:
    assert read_treated("1000000 rolls") == Treated(Decimal(1_000_000), "roll")


@pytest.mark.parametrize(
    ("kept", "words"),
    [
        ("1 roll", "1 roll"),
        ("2 roll", "2 rolls"),
        ("4 4x5 sheet", "4 sheets 4x5"),
        ("1 8x10 sheet", "1 sheet 8x10"),
        ("160 in2", "160 in2"),
        ("3 print", "3 prints"),
        ("", ""),
        ("many roll", "many roll"),  # nothing that was written here
        ("NaN roll", "NaN roll"),
    ],
)
def test_what_is_kept_is_told_in_words(kept: str, words: str) -> None:
    assert told_treated(kept) == words


def test_a_part_of_a_unit_is_told_in_three_figures() -> None:
    assert told_units(Decimal(1) / 3, "roll") == "0.333 rolls"


@given(st.decimals("0.01", "10000", places=2), st.sampled_from(sorted(IN2)))
def test_there_and_back_is_the_same(count: Decimal, unit: str) -> None:
    read = read_treated(str(Treated(count, unit)))
    assert read is not None
    in_rolls = counted(str(read), "roll")
    assert in_rolls is not None
    assert in_rolls * 80 / IN2[unit] == count
