"""The headline: what a hand at the sink needs to know, in one line."""

from decimal import Decimal

import pytest

from labelkit.mixing.headline import headline_for, rounded_equivalence, split_hydrate
from labelkit.mixing.words import Headline, PartMark
from tests.mixing.conftest import Room

STOCK = """
title = "Soda stock"
makes = "1 L"
{tables}
[[step]]
add = "sodium-carbonate-anhydrous"
amount = "{grams} g"
[[step]]
make_up_to = "1 L"
"""
STRENGTH = '[strength]\nof = "sodium-carbonate-anhydrous"'
RATIO = '[use]\nratio = "1+9"'


def headline(room: Room, tables: str, grams: str = "50") -> Headline:
    return room.plan(STOCK.format(tables=tables, grams=grams)).headline


def test_a_strength_is_told_as_an_equivalence(room: Room) -> None:
    told = headline(room, STRENGTH)
    assert (told.kind, told.text) == ("equivalence", "20 mL = 1 g")
    assert (told.substance, told.hydrate) == ("sodium carbonate", "anhydrous")
    assert told.scale is not None
    assert told.scale.mL_per_g == 20


def test_the_ratio_stands_beside_an_equivalence(room: Room) -> None:
    assert headline(room, f"{STRENGTH}\n{RATIO}").beside == "1 + 9"


def test_a_ratio_alone_is_told_as_a_dilution(room: Room) -> None:
    told = headline(room, RATIO)
    assert (told.kind, told.text) == ("dilution", "1 + 9")
    assert told.substance == "soda stock + water"


def test_nothing_to_tell_is_used_as_it_is(room: Room) -> None:
    told = headline(room, "")
    assert (told.kind, told.text) == ("ready", "USE AS IS")


def test_a_bag_is_told_by_what_it_makes(room: Room) -> None:
    told = headline(room, f'{STRENGTH}\n[use]\nmakes = "1 L"')
    assert (told.kind, told.text) == ("dry", "Bag makes 1 L")


def test_the_recipe_may_ask_for_another(room: Room) -> None:
    told = headline(room, f'headline = "ready"\n{STRENGTH}')
    assert told.kind == "ready"


@pytest.mark.parametrize(
    ("bottle_mL", "text"),
    [(1000, "250 mL = 1 g"), (750, "250 mL = 1 g"), (749, "25 mL = 0.1 g")],
    ids=["a quarter", "just a third", "more than a third"],
)
def test_a_gram_never_takes_more_than_a_third_of_the_bottle(
    room: Room, bottle_mL: int, text: str
) -> None:
    """Print specification, section 8: "10 mL = 0.1 g" where 1 g needs more."""
    plan = room.plan(STOCK.format(tables=STRENGTH, grams="4"))
    told = headline_for(
        plan.recipe,
        plan.solution.strength,
        plan.relative_u,
        Decimal(bottle_mL),
        plan.job.doses,
        room.books.catalogue,
        {},
    )
    assert told.text == text


@pytest.mark.parametrize(
    ("mL", "relative_u", "told"),
    [
        ("20.16", 0.014, "20"),
        ("20.16", 0.009, "20.2"),
        ("19.96", 0.009, "20"),
        ("20.16", 0.010, "20"),
        ("104.6", 0.02, "105"),
        ("104.6", 0.03, "100"),
        ("104.6", None, "100"),
        ("7.802", 0.05, "7.8"),
    ],
)
def test_figures_are_as_many_as_are_known(
    mL: str, relative_u: float | None, told: str
) -> None:
    """Three below 1 %, else two, unless two move it further than its k = 2 band."""
    assert rounded_equivalence(Decimal(mL), relative_u) == told


@pytest.mark.parametrize(
    ("name", "apart"),
    [
        ("borax decahydrate", ("borax", "decahydrate")),
        ("sodium sulfite, anhydrous", ("sodium sulfite", "anhydrous")),
        ("pyrogallol", ("pyrogallol", "")),
        ("decahydrate", ("decahydrate", "")),
    ],
)
def test_the_word_for_the_water_stands_apart(name: str, apart: tuple[str, str]) -> None:
    assert split_hydrate(name) == apart


def test_a_part_says_what_it_goes_with(tern_street: Room) -> None:
    assert tern_street.sample("pyro-a").part == PartMark("A", "B", "1 + 1 + 100")


def test_a_working_bath_names_its_parts_and_its_volumes(tern_street: Room) -> None:
    told = tern_street.sample("pyro-working").headline
    assert (told.text, told.substance) == ("1 + 1 + 100", "A + B + water")
    assert told.beside == "5 + 5 + 500 mL"


def test_a_developer_is_called_by_its_title(tern_street: Room) -> None:
    told = tern_street.sample("film-developer").headline
    assert (told.text, told.substance) == ("1 + 9", "film developer + water")
