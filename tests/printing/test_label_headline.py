"""The headline's typography: what is large, what is small, and what a reader hears."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.mixing.words import Headline
from labelkit.printing.headline import (
    equation,
    headline_width_mm,
    is_in_name,
    largest_pt,
    substance,
)
from labelkit.printing.typeset import plain, width_of


def set_as(text: str, size: float = 40) -> list[tuple[str, str, float]]:
    return [piece for piece in equation(text, size) if piece[0].strip()]


# Figures Bold, units SemiBold at 0.42, signs Regular at 0.55: design, print-spec, 8.
@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (
            "20 mL = 1 g",
            [
                ("20", "bold", 40), ("mL", "semibold", 16.8), ("=", "regular", 22),
                ("1", "bold", 40), ("g", "semibold", 16.8),
            ],
        ),
        (
            "1 + 1 + 100",
            [
                ("1", "bold", 40), ("+", "regular", 22), ("1", "bold", 40),
                ("+", "regular", 22), ("100", "bold", 40),
            ],
        ),
        ("12.5 mL", [("12.5", "bold", 40), ("mL", "semibold", 16.8)]),
        (
            "Bag makes 1 L",
            [
                ("Bag", "semibold", 16.8), ("makes", "semibold", 16.8),
                ("1", "bold", 40), ("L", "semibold", 16.8),
            ],
        ),
        ("USE AS IS", [("USE AS IS", "bold", 40)]),
    ],
)  # fmt: skip
def test_figures_are_large_and_the_rest_is_small(
    text: str, expected: list[tuple[str, str, float]]
) -> None:
    assert set_as(text) == expected


@pytest.mark.parametrize("text", ["20 mL = 1 g", "1 + 1 + 100", "USE AS IS"])
def test_the_pieces_read_as_the_headline(text: str) -> None:
    assert "".join(piece for piece, _, _ in equation(text, 32)) == text


@given(st.floats(28, 46), st.sampled_from(["20 mL = 1 g", "1 + 9", "12.5 mL = 0.1 g"]))
def test_a_headline_grows_with_its_size(size: float, text: str) -> None:
    assert headline_width_mm(text, size + 1) > headline_width_mm(text, size)
    assert headline_width_mm(text, size) <= width_of(equation(text, size))


@pytest.mark.parametrize(("width", "size"), [(60, 40), (40.0, 39), (10, 28)])
def test_the_largest_size_that_fits_is_taken(width: float, size: float) -> None:
    assert largest_pt("10 mL = 1 g", width, 40, 28) == size


def test_the_hydrate_word_is_lighter() -> None:
    words = substance(
        Headline("equivalence", "20 mL = 1 g", "sodium metaborate", "tetrahydrate")
    )
    assert plain(words) == "sodium metaborate tetrahydrate"
    assert [run.strong for run in words] == [True, False]


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("Potassium bromide", True),
        ("Potassium bromide 10 %", True),
        ("Bromide solution", False),
    ],
)
def test_a_name_may_say_the_substance_already(name: str, told: bool) -> None:
    headline = Headline("equivalence", "10 mL = 1 g", "potassium bromide")
    assert is_in_name(headline, name) == told


def test_a_name_without_the_hydrate_word_does_not_say_the_substance() -> None:
    headline = Headline("equivalence", "5 mL = 1 g", "sodium carbonate", "anhydrous")
    assert not is_in_name(headline, "Sodium carbonate")
    ratio = Headline("dilution", "1 + 9", "developer + water")
    assert not is_in_name(ratio, "developer + water")
