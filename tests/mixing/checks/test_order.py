"""The order of a developer's steps, and of acids in a fixer."""

import pytest

from labelkit.mixing.check import Level
from tests.mixing.checks.remarks import levels, only, own, recipe, remarks, water
from tests.mixing.conftest import Room

WARN, NOTE = Level.WARN, Level.NOTE
SULFITE, HYPO = "sodium-sulfite-anhydrous", "sodium-thiosulfate-pentahydrate"
WARM = water(750, 50)


def test_a_developing_agent_before_the_sulfite_browns(room: Room) -> None:
    text = recipe(WARM, ("hydroquinone", "5 g"), (SULFITE, "100 g"))
    said = only(room, text, "order")
    assert (said.level, said.step) == (NOTE, 2)
    assert "put the sulfite of step 3 in first" in said.text


@pytest.mark.parametrize(
    "steps",
    [
        (WARM, (SULFITE, "100 g"), ("hydroquinone", "5 g")),
        (WARM, ("hydroquinone", "5 g")),  # no sulfite at all: nothing to move
        (("propylene-glycol", "50 mL"), ("phenidone", "5 g"), WARM, (SULFITE, "90 g")),
    ],
)
def test_an_agent_after_the_sulfite_or_without_any_is_left_alone(
    steps: tuple[tuple[str, ...], ...], room: Room
) -> None:
    assert remarks(room, recipe(*steps), "order") == []


# A pinch, about 5 % of the sulfite, goes before metol (handbooks; an army manual); that
# a recipe is told so when more than twice as much does is ours.
@pytest.mark.parametrize(
    ("before_g", "after_g", "told"),
    [(5, 95, False), (10, 90, False), (10.1, 89.9, True)],
)
def test_metol_has_a_pinch_of_the_sulfite_before_it(
    before_g: float, after_g: float, told: bool, room: Room
) -> None:
    text = recipe(
        WARM, (SULFITE, f"{before_g} g"), ("metol", "2 g"), (SULFITE, f"{after_g} g")
    )
    assert levels(room, text, "order") == ([(NOTE, 3)] if told else [])


def test_metol_after_all_of_the_sulfite_is_told_how_much_is_a_pinch(room: Room) -> None:
    text = recipe(WARM, (SULFITE, "100 g"), ("metol", "2 g"))
    assert (
        "about 5 g of the 100 g of sulfite before it" in only(room, text, "order").text
    )


def test_metol_before_any_sulfite_browns(room: Room) -> None:
    text = recipe(WARM, ("metol", "2 g"), (SULFITE, "100 g"))
    said = only(room, text, "order")
    assert said.text.startswith("Metol browns in plain water: put a pinch first")


def test_a_developing_agent_does_not_go_into_lye(room: Room) -> None:
    text = recipe(
        water(750), (SULFITE, "30 g"), ("sodium-hydroxide", "5 g"),
        ("hydroquinone", "5 g"),
    )  # fmt: skip
    assert levels(room, text, "order") == [(NOTE, 4)]
    turned = recipe(
        water(750), (SULFITE, "30 g"), ("hydroquinone", "5 g"),
        ("sodium-hydroxide", "5 g"),
    )  # fmt: skip
    assert remarks(room, turned, "order") == []


@pytest.mark.parametrize("late", ["edta-tetrasodium", "sodium-hexametaphosphate"])
def test_a_sequestrant_goes_into_tap_water_first(late: str, room: Room) -> None:
    agent = ("hydroquinone", "5 g")
    text = recipe(WARM, (SULFITE, "100 g"), agent, (late, "2 g"))
    assert levels(room, text, "order") == [(NOTE, 4)]
    first = recipe(WARM, (late, "2 g"), (SULFITE, "100 g"), agent)
    assert remarks(room, first, "order") == []
    distilled = ("water", "700 mL", 'kind = "distilled"')
    pure = recipe(distilled, (SULFITE, "100 g"), agent, (late, "2 g"))
    assert remarks(room, pure, "order") == []


def test_lye_for_warm_water_is_dissolved_apart_in_so_much_cold_water(
    room: Room,
) -> None:
    # 10 g of NaOH give off 11.13 kJ (CRC); 30 K in 4.18 J/gK take 88.7 g in all
    text = recipe(water(500, 45), ("sodium-hydroxide", "10 g"))
    said = only(room, text, "order")
    assert (said.level, said.step) == (NOTE, 2)
    assert "apart in 79 mL or more of cold water" in said.text


def test_lye_for_which_no_water_is_left_is_dissolved_over_ice(room: Room) -> None:
    text = recipe(water(450, 45), ("sodium-hydroxide", "50 g"), makes="500 mL")
    assert "stands in ice" in only(room, text, "order").text


def test_a_dry_mixture_has_no_order(room: Room) -> None:
    text = recipe(
        ("hydroquinone", "10 g"), (SULFITE, "90 g"), makes="100 g", fill=False
    )
    assert remarks(room, text, "order") == []


# Formulas ask for acetic acid of 28 %; that undiluted begins above 30 % is ours.
@pytest.mark.parametrize(
    ("acid", "told"),
    [("acetic-acid-28pct", False), ("acetic-acid-60pct", True)],
)
def test_strong_acetic_acid_is_diluted_before_it_meets_sulfite(
    acid: str, told: bool, room: Room
) -> None:
    text = recipe(water(600), (SULFITE, "15 g"), (acid, "20 mL"), (HYPO, "240 g"))
    assert levels(room, text, "order") == ([(WARN, 3)] if told else [])


def test_glacial_acid_is_told_how_much_water_it_takes(room: Room) -> None:
    # 14 mL of 1.049 g/mL (a handbook value, recalled), 14.7 g: to 28 % another 37.7 g
    text = recipe(water(600), (SULFITE, "15 g"), ("acetic-acid-glacial", "14 mL"))
    assert "stir it into 38 mL of cold water" in only(room, text, "order").text


def test_acid_meets_thiosulfate_only_after_the_sulfite(room: Room) -> None:
    acid = ("acetic-acid-28pct", "48 mL")
    wrong = recipe(water(600), (HYPO, "240 g"), acid, (SULFITE, "15 g"))
    said = only(room, wrong, "order")
    assert (said.level, said.step) == (WARN, 3)
    assert "the sulfite of step 4" in said.text
    also_wrong = recipe(water(600), acid, (HYPO, "240 g"), (SULFITE, "15 g"))
    assert levels(room, also_wrong, "order") == [(WARN, 3)]
    right = recipe(water(600), (HYPO, "240 g"), (SULFITE, "15 g"), acid)
    assert remarks(room, right, "order") == []


def test_water_goes_first_and_strong_acid_into_it(room: Room) -> None:
    glacial = recipe(("acetic-acid-glacial", "50 mL"), water(500))
    assert levels(room, glacial, "order") == [(NOTE, 2)]
    mineral = recipe(("hydrochloric-acid-37pct", "50 mL"), water(500))
    assert levels(room, mineral, "order") == [(WARN, 2)]
    right = recipe(water(500), ("hydrochloric-acid-37pct", "50 mL"))
    assert remarks(room, right, "order") == []
    dilute = recipe(("acetic-acid-28pct", "50 mL"), water(500))
    assert remarks(room, dilute, "order") == []


def test_an_agent_of_ones_own_is_known_by_its_tag(room: Room) -> None:
    agent = own("agent", "developer", "reducer")
    text = recipe(WARM, ("agent", "5 g"), (SULFITE, "100 g")) + agent
    assert levels(room, text, "order") == [(NOTE, 2)]
