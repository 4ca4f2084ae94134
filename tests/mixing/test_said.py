"""Small sentences that label, card and page share."""

import pytest

from labelkit.mixing.said import (
    AID,
    AID_FULL,
    contents_words,
    first_words,
    kept_words,
    reaction_sentences,
    strength_lines,
    sum_of_strength,
)
from labelkit.mixing.words import Words
from tests.mixing.conftest import Room
from tests.mixing.writing import METABORATE, text


def spoken(words: Words) -> str:
    return "".join(run.text for run in words).replace("\u00a0", " ")


def contents(room: Room, recipe: str) -> str:
    return spoken(contents_words(room.plan(recipe), room.books.catalogue))


def borate(borax: str = "17.3 g", lye: str = "3.626 g") -> str:
    steps = [("borax-decahydrate", borax), ("sodium-hydroxide", lye)]
    return text("500 mL", steps, METABORATE)


def test_a_strength_is_told_in_grams_and_in_percent(room: Room) -> None:
    plan = room.plan(borate())
    assert strength_lines(plan) == ("50\u00a0g/L", "5\u00a0%\u00a0w/v")
    assert sum_of_strength(plan) == "50\u00a0g/L, 5\u00a0%\u00a0w/v."


def test_by_mass_a_strength_is_told_in_percent_of_the_mass(room: Room) -> None:
    recipe = """
        title = "Paste"
        makes = "100 g"
        [strength]
        of = "potassium-bromide"
        [[step]]
        add = "potassium-bromide"
        amount = "12.5 g"
        [[step]]
        add = "water"
        amount = "87.5 g"
    """
    assert strength_lines(room.plan(recipe)) == ("12.5\u00a0%\u00a0w/w",)


def test_without_a_strength_no_figure_is_told(room: Room) -> None:
    plan = room.plan(text("1 L", [("potassium-bromide", "10 g")]))
    assert strength_lines(plan) == ()
    assert sum_of_strength(plan) == ""


def test_every_solute_is_told_in_grams_per_litre(room: Room) -> None:
    steps = [("metol", "6 g"), ("potassium-bromide", "250 mg")]
    assert contents(room, text("1 L", steps)) == (
        "g/L: metol 6 and potassium bromide 0.3."
    )


def test_less_than_a_tenth_of_a_gram_in_a_litre_is_not_told(room: Room) -> None:
    told = contents(room, text("1 L", [("metol", "6 g"), ("phenidone", "99 mg")]))
    assert "phenidone" not in told
    told = contents(room, text("1 L", [("metol", "6 g"), ("phenidone", "100 mg")]))
    assert "phenidone 0.1" in told


def test_the_headline_is_not_told_twice(room: Room) -> None:
    strength = '[strength]\nof = "pyrogallol"'
    steps = [("pyrogallol", "100 g"), ("sodium-metabisulfite", "10 g")]
    assert contents(room, text("1 L", steps, strength)) == (
        "With sodium metabisulfite 10 g/L."
    )


def test_what_it_was_made_from_is_told(room: Room) -> None:
    assert contents(room, borate()) == (
        "Made from borax decahydrate 34.6 and sodium hydroxide 7.3 g/L."
    )


def test_what_came_and_went_on_the_way_is_not_what_it_was_made_from(
    room: Room,
) -> None:
    tables = """
        [[reaction]]
        from = ["sodium-bicarbonate", "sodium-hydroxide"]
        to = ["sodium-carbonate-anhydrous"]
        [[reaction]]
        from = ["sodium-carbonate-anhydrous", "citric-acid-monohydrate"]
        to = ["trisodium-citrate-dihydrate"]
    """
    steps = [
        ("sodium-bicarbonate", "84.007 g"),
        ("sodium-hydroxide", "39.997 g"),
        ("citric-acid-monohydrate", "200 g"),
    ]
    told = contents(room, text("1 L", steps, tables))
    made_from = told.partition("Made from ")[2]
    assert "carbonate" not in made_from.replace("bicarbonate", "")
    assert made_from == (
        "sodium bicarbonate 84, sodium hydroxide 40, citric acid monohydrate 200 g/L."
    )


@pytest.mark.parametrize(
    ("codes", "told"),
    [
        (
            [],
            "Swallowed: rinse mouth. In eyes: rinse with water for several minutes. "
            "Call and read out this label.",
        ),
        (
            ["P305+P351+P338"],
            "Swallowed: rinse mouth. Call and read out this label.",
        ),
        (
            ["P301+P330+P331"],
            "In eyes: rinse with water for several minutes. "
            "Call and read out this label.",
        ),
        (["P301+P330+P331", "P305+P351+P338"], "Call and read out this label."),
    ],
    ids=["nothing said yet", "eyes said", "swallowed said", "both said"],
)
def test_a_helper_is_told_what_no_statement_says(codes: list[str], told: str) -> None:
    assert spoken(first_words(codes)) == told


def test_how_long_it_keeps_is_told_or_that_nobody_knows(room: Room) -> None:
    steps = [("water", "1 L")]
    keeps = room.plan(f'keeps = "1 month"\n{text("1 L", steps)}')
    assert kept_words(keeps) == "Keeps 1\u00a0month."
    works = room.plan(f'keeps_working = "8 hours"\n{text("1 L", steps)}')
    assert kept_words(works) == "Keeps 8\u00a0hours."
    unknown = room.plan(text("1 L", steps))
    assert kept_words(unknown) == "No discard date known: test before use."


@pytest.mark.parametrize(
    ("lye", "told"),
    [
        ("3.6 g", "sodium hydroxide is used up, 0.14 g of borax decahydrate"),
        ("3.7 g", "borax decahydrate is used up, 0.071 g of sodium hydroxide"),
    ],
)
def test_a_reaction_is_told_with_what_is_left(room: Room, lye: str, told: str) -> None:
    (sentence,) = reaction_sentences(room.plan(borate(lye=lye)), room.books.catalogue)
    equation = "Na2B4O7·10H2O + 2 NaOH + 5 H2O → 4 NaBO2·4H2O"
    assert sentence == f"{equation}: {told} left over."


def test_gas_that_comes_off_is_told_in_litres(room: Room) -> None:
    """0.05 mol of carbon dioxide, 24.06 L/mol at 20 degC."""
    tables = """
        [[reaction]]
        from = ["ascorbic-acid", "sodium-bicarbonate"]
        to = ["sodium-ascorbate"]
    """
    steps = [("ascorbic-acid", "8.8062 g"), ("sodium-bicarbonate", "4.20035 g")]
    plan = room.plan(text("1 L", steps, tables))
    (sentence,) = reaction_sentences(plan, room.books.catalogue)
    assert sentence.endswith("nothing left over. 1.2 L of CO2 come off.")


def test_the_aid_defers_to_those_who_know() -> None:
    for told in (AID, AID_FULL):
        assert "data sheets" in told
        assert "local rules" in told
        assert "licensed" in told
