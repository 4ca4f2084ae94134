"""A recipe written and read back is the same recipe."""

from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from labelkit.chemistry.amounts import Amount, Dimension
from labelkit.files.chemicals import read_catalogue, read_own_chemicals
from labelkit.files.recipe_text import recipe_as_toml
from labelkit.files.recipes import read_recipe, recipe_from_text
from labelkit.mixing.recipe import Recipe, Step
from tests.conftest import SAMPLES

CATALOGUE = read_catalogue().with_own(read_own_chemicals(SAMPLES / "chemicals.toml"))
FILES = sorted([*SAMPLES.glob("recipes/*.toml"), *SAMPLES.glob("compare/*.toml")])


def read_back(recipe: Recipe, count: int = 15) -> Recipe:
    text = recipe_as_toml(recipe, count)
    return replace(recipe_from_text(text, recipe.name, CATALOGUE), document="")


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_every_sample_reads_back_as_it_was(path: Path) -> None:
    recipe = replace(read_recipe(path, CATALOGUE), document="")
    assert read_back(recipe) == recipe


PLAIN = Recipe(
    "stock",
    "Stock",
    Amount(Decimal(100), Dimension.VOLUME, "100 mL"),
    (Step(1, add="metol", amount=Amount(Decimal(1), Dimension.MASS, "1 g")),),
)


@given(st.text(st.characters(categories=["L", "N", "P", "S", "Zs"]), max_size=60))
def test_whatever_a_note_says_is_kept(words: str) -> None:
    note = " ".join(words.split())
    assert read_back(replace(PLAIN, note=note)).note == note


@given(st.decimals(Decimal("0.0001"), 99_999, places=4))
def test_amounts_keep_their_figures(grams: Decimal) -> None:
    step = replace(PLAIN.steps[0], amount=Amount(grams, Dimension.MASS, "some"))
    (read,) = read_back(replace(PLAIN, steps=(step,))).steps
    assert read.amount is not None
    assert read.amount.number == grams


def test_a_figure_without_end_is_cut_where_it_is_asked_to_be() -> None:
    third = Amount(Decimal(100) / 3, Dimension.MASS, "a third")
    step = replace(PLAIN.steps[0], amount=third)
    assert 'amount = "33.333 g"' in recipe_as_toml(replace(PLAIN, steps=(step,)), 5)
