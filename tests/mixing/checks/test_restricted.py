"""Dated notes on the law, for the country a bench names."""

import pytest

from labelkit.mixing.check import Level
from tests.mixing.checks.remarks import only, recipe, remarks, water, with_law
from tests.mixing.conftest import Room

CODE = "restricted"
DICHROMATE = recipe(water(500), ("potassium-dichromate", "5 g"))
BORAX = recipe(water(500), ("borax-decahydrate", "5 g"))


def test_a_bench_that_names_no_country_is_told_nothing(room: Room) -> None:
    assert remarks(with_law(room), DICHROMATE, CODE) == []


def test_a_note_has_its_date_and_where_to_check(room: Room) -> None:
    said = only(with_law(room, country="DE"), DICHROMATE, CODE)
    # REACH, Annex XIV
    assert (said.level, said.step) == (Level.NOTE, None)
    assert "potassium dichromate" in said.text
    assert "As the law was read on 2026-11-25." in said.text
    assert "Check REACH Annex XIV" in said.text


@pytest.mark.parametrize(
    ("country", "told"), [("DE", True), ("GB", False), ("NZ", False)]
)
def test_another_country_has_another_law(country: str, told: bool, room: Room) -> None:
    assert bool(remarks(with_law(room, country=country), DICHROMATE, CODE)) == told


# GB, Poisons Act, as read: hydrochloric acid from 10 %, oxalic acid above 10 %.
# EU 2019/1148: sulfuric acid above 15 %; the jar counts, not what it is diluted to.
@pytest.mark.parametrize(
    ("country", "acid", "told"),
    [
        ("DE", "sulfuric-acid-37pct", True), ("DE", "sulfuric-acid-10pct", False),
        ("GB", "hydrochloric-acid-10pct", True), ("NO", "sulfuric-acid-37pct", True),
    ],
)  # fmt: skip
def test_the_strength_of_the_jar_decides(
    country: str, acid: str, told: bool, room: Room
) -> None:
    text = recipe(water(500), (acid, "5 mL"))
    assert bool(remarks(with_law(room, country=country), text, CODE)) == told


# REACH, Annex XVII, entries 28 to 30: a borate from 0.3 % on, placed on the market.
@pytest.mark.parametrize(
    ("grams", "profile", "told"),
    [
        (3, "supply", True), (2.99, "supply", False), (3, "own", False),
        (3, "room", False),
    ],
)  # fmt: skip
def test_what_may_not_reach_the_public_matters_where_it_is_given_away(
    grams: float, profile: str, told: bool, room: Room
) -> None:
    text = recipe(water(500), ("borax-decahydrate", f"{grams} g"))
    bench = with_law(room, country="FR", profile=profile)
    assert bool(remarks(bench, text, CODE)) == told


def test_how_a_label_is_reckoned_is_no_restriction(room: Room) -> None:
    assert remarks(with_law(room, country="FR"), BORAX, CODE) == []
