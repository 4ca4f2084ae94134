"""Another form in a recipe: the strength stays, the water moves."""

from decimal import Decimal

import pytest

from labelkit.errors import BadInput, NoAnswer
from labelkit.files.pairs import read_exchange
from labelkit.files.recipes import read_recipe
from labelkit.mixing.recipe import Recipe
from labelkit.mixing.said import NBSP
from labelkit.mixing.swapping import Swap, swapped
from tests.conftest import SAMPLES
from tests.mixing.conftest import Room

EXCHANGE = read_exchange()
CARBONATE = """\
title = "Carbonate"
makes = "1 L"
[strength]
of = "sodium-carbonate-anhydrous"
[[step]]
add = "water"
amount = "600 mL"
[[step]]
add = "water"
amount = "100 mL"
[[step]]
add = "sodium-carbonate-anhydrous"
amount = "100 g"
assay = "99 %"
[[step]]
make_up_to = "1 L"
"""


def sample(room: Room, name: str) -> Recipe:
    return read_recipe(SAMPLES / "recipes" / f"{name}.toml", room.books.catalogue)


def swap(
    room: Room, recipe: Recipe, out: str, into: str, times: str = "1"
) -> tuple[Recipe, Swap]:
    catalogue = room.books.catalogue
    return swapped(
        recipe,
        catalogue.substance(out),
        catalogue.substance(into),
        catalogue,
        EXCHANGE,
        Decimal(times),
    )


def waters(recipe: Recipe) -> list[Decimal]:
    return [s.amount.number for s in recipe.steps if s.add == "water" and s.amount]


def strength(room: Room, recipe: Recipe) -> Decimal:
    found = room.plan(recipe).solution.strength
    assert found is not None
    assert found.g_per_L is not None
    return found.g_per_L


def test_the_moles_stay_and_the_water_comes_off_the_last_step(room: Room) -> None:
    recipe = room.recipe(CARBONATE)
    deca, told = swap(
        room, recipe, "sodium-carbonate-anhydrous", "sodium-carbonate-decahydrate"
    )
    assert strength(room, deca) == pytest.approx(strength(room, recipe))
    assert deca.steps[2].assay_percent is None
    # 99 g of pure salt: 267.28 g of crystals that bring 168.27 g of water
    assert told.water_g == pytest.approx(Decimal("168.27"), abs=Decimal("0.02"))
    assert waters(deca) == [pytest.approx(Decimal("531.42"), abs=Decimal("0.05"))]
    assert "No water here" in deca.steps[1].text
    assert f"Water in step 2: none instead of 100{NBSP}mL." in told.changes


def test_missing_water_goes_onto_the_last_water_step(room: Room) -> None:
    recipe = sample(room, "borate-alkali")
    penta, told = swap(room, recipe, "borax-decahydrate", "borax-pentahydrate")
    assert told.water_g < 0
    assert waters(penta)[0] == 300
    assert waters(penta)[1] == pytest.approx(Decimal("54.09"), abs=Decimal("0.01"))
    assert strength(room, penta) == pytest.approx(strength(room, recipe))
    (reaction,) = penta.reactions
    assert reaction.reactants == ("borax-pentahydrate", "sodium-hydroxide")


def test_lye_keeps_the_water_it_dissolves_in(room: Room) -> None:
    recipe = sample(room, "borate-alkali")
    anhydrous, _ = swap(room, recipe, "borax-decahydrate", "borax-anhydrous")
    back, _ = swap(room, anhydrous, "borax-anhydrous", "borax-decahydrate")
    # the water that went onto the jug of the lye comes off the main vessel
    assert waters(back)[1] == waters(anhydrous)[1]
    assert waters(back)[0] < 300


def test_words_are_told_for_the_quantity_that_is_made(room: Room) -> None:
    recipe = room.recipe(CARBONATE)
    _, told = swap(
        room,
        recipe,
        "sodium-carbonate-anhydrous",
        "sodium-carbonate-monohydrate",
        times="0.5",
    )
    assert f"Water in step 2: 41.57{NBSP}mL instead of 50{NBSP}mL." in told.changes


def test_a_published_pair_tells_what_else_changes(room: Room) -> None:
    recipe = sample(room, "film-developer")
    new, told = swap(
        room, recipe, "potassium-carbonate", "sodium-carbonate-monohydrate"
    )
    grams = next(
        s.amount.number
        for s in new.steps
        if s.add == "sodium-carbonate-monohydrate" and s.amount
    )
    # practice.md, section 5: 0.897
    assert grams == pytest.approx(80 * Decimal("0.897"), abs=Decimal("0.05"))
    assert any("Sodium in place of potassium" in words for words in told.changes)
    # the pH was measured with the other one
    assert new.measured.ph is None
    assert any("measure it again" in words for words in told.changes)
    assert "Sodium carbonate monohydrate for potassium carbonate" in new.note


def test_a_hydroxide_is_swapped_in_a_reaction_and_the_product_follows(
    room: Room,
) -> None:
    recipe = sample(room, "borate-alkali")
    potash, _ = swap(room, recipe, "sodium-hydroxide", "potassium-hydroxide")
    (reaction,) = potash.reactions
    assert reaction.products == (
        "sodium-metaborate-tetrahydrate",
        "potassium-metaborate",
    )
    assert strength(room, potash) == pytest.approx(strength(room, recipe))


def test_a_strength_is_told_in_what_came(room: Room) -> None:
    recipe = sample(room, "bromide-stock")
    soda, _ = swap(room, recipe, "potassium-bromide", "sodium-bromide")
    assert soda.strength_of == "sodium-bromide"
    # the published factor, D-p-09 the other way round: 0.86
    assert strength(room, soda) == pytest.approx(Decimal(86), abs=Decimal("0.6"))


def test_a_dry_mixture_weighs_what_its_parts_now_weigh(room: Room) -> None:
    dry = room.recipe(
        'title = "Dry"\nmakes = "110 g"\n[use]\nmakes = "1 L"\n'
        '[[step]]\nadd = "sodium-carbonate-anhydrous"\namount = "100 g"\n'
        '[[step]]\nadd = "potassium-bromide"\namount = "10 g"\n'
    )
    new, _ = swap(
        room, dry, "sodium-carbonate-anhydrous", "sodium-carbonate-monohydrate"
    )
    assert new.makes.number == pytest.approx(Decimal("127.0"), abs=Decimal("0.01"))


@pytest.mark.parametrize(
    ("out", "into", "error", "said"),
    [
        (
            "sodium-chloride",
            "potassium-bromide",
            BadInput,
            "--swap: no step of film-developer adds sodium-chloride. It adds: "
            "sodium-sulfite-anhydrous, metol, hydroquinone, potassium-carbonate, "
            "potassium-bromide.",
        ),
        (
            "metol",
            "metol",
            BadInput,
            "--swap: metol is swapped for itself. Name the form the recipe has, then "
            "the one in the jar.",
        ),
        (
            "potassium-bromide",
            "potassium-iodide",
            NoAnswer,
            "potassium bromide and potassium iodide are different chemicals, and no "
            "published pair lets one stand in for the other. Look for a formula "
            "written for potassium iodide; 'labelkit prepare potassium-iodide' says "
            "whether a route makes it.",
        ),
    ],
)
def test_what_may_not_be_swapped_is_refused(
    room: Room, out: str, into: str, error: type[Exception], said: str
) -> None:
    with pytest.raises(error) as caught:
        swap(room, sample(room, "film-developer"), out, into)
    assert str(caught.value) == said


def test_an_acid_does_not_simply_take_the_place_of_its_salt(room: Room) -> None:
    recipe = room.recipe(
        'title = "A"\nmakes = "1 L"\n[[step]]\nadd = "water"\namount = "500 mL"\n'
        '[[step]]\nadd = "sodium-ascorbate"\namount = "10 g"\n'
    )
    with pytest.raises(NoAnswer) as caught:
        swap(room, recipe, "sodium-ascorbate", "ascorbic-acid")
    assert "labelkit prepare sodium-ascorbate" in str(caught.value)


def test_a_reaction_that_cannot_take_it_up_is_refused(room: Room) -> None:
    recipe = room.recipe(
        'title = "S"\nmakes = "1 L"\n[[reaction]]\n'
        'from = ["sodium-metabisulfite", "sodium-hydroxide"]\n'
        'to = ["sodium-sulfite-anhydrous"]\n'
        '[[step]]\nadd = "water"\namount = "500 mL"\n'
        '[[step]]\nadd = "sodium-metabisulfite"\namount = "10 g"\n'
        '[[step]]\nadd = "sodium-hydroxide"\namount = "4 g"\n'
    )
    with pytest.raises(NoAnswer, match="does not balance"):
        swap(room, recipe, "sodium-hydroxide", "potassium-hydroxide")
