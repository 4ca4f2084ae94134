"""What gets too hot, what lye and acid do to water, and what cools itself out."""

import pytest

from labelkit.mixing.check import Level
from tests.mixing.checks.remarks import levels, only, own, recipe, remarks, water
from tests.mixing.conftest import Room

STOP, WARN, NOTE = Level.STOP, Level.WARN, Level.NOTE
HDPE = 'keep_in = "HDPE bottle"'


def hot(at_C: float, keep_in: str) -> str:
    """Hot water with a salt of which no heat is known, kept as it is."""
    steps = (water(500, at_C), ("sodium-hexametaphosphate", "5 g"))
    return recipe(*steps, makes="502 mL", head=f'keep_in = "{keep_in}"', fill=False)


# A plastics supplier: HDPE not above 63 degC, PET no hot fill; the contract says 60.
@pytest.mark.parametrize(
    ("at_C", "keep_in", "warned"),
    [
        (60.1, "HDPE bottle", True), (60, "HDPE bottle", False),
        (61, "PET bottle", True), (61, "plastic canister", True),
        (61, "brown glass bottle", False), (61, "petrol-blue glass", False),
    ],
)  # fmt: skip
def test_only_what_is_bottled_hot_in_plastic_is_warned_of(
    at_C: float, keep_in: str, warned: bool, room: Room
) -> None:
    expected = [(WARN, 2)] if warned else []
    assert levels(room, hot(at_C, keep_in), "warming") == expected


def test_what_is_cooled_before_bottling_is_not_bottled_hot(room: Room) -> None:
    cooled = recipe(
        water(500, 80), ("potassium-bromide", "5 g"), 'cool_to = "30 degC"',
        makes="502 mL", head=HDPE, fill=False,
    )  # fmt: skip
    assert remarks(room, cooled, "warming") == []


def test_a_plastic_jug_is_told_apart_from_the_bottle(room: Room) -> None:
    jug = 'in = "plastic jug"'
    text = recipe(
        ("water", "100 mL", 'at = "70 degC"', jug),
        ("potassium-bromide", "5 g", jug),
        'pour = "plastic jug"',
    )
    said = only(room, text, "warming")
    assert (said.level, said.step) == (WARN, 1)
    assert "plastic jug comes to about 70 °C" in said.text


# 95 degC is the contract's figure.
@pytest.mark.parametrize(("at_C", "found"), [(95, []), (95.1, [(WARN, 1)])])
def test_above_95_degrees_anything_scalds(
    at_C: float, found: list[tuple[Level, int]], room: Room
) -> None:
    text = recipe(water(500, at_C), ("sodium-hexametaphosphate", "5 g"))
    assert levels(room, text, "warming") == found


def test_above_95_degrees_lye_is_deadly(room: Room) -> None:
    # NaOH -44.51 kJ/mol (CRC): 1.113 kJ/g; 100 g in 200 g of water of 20 degC would
    # come to 20 + 111300 / (299.6 * 4.18) = 109 degC
    text = recipe(water(200, 20), ("sodium-hydroxide", "100 g"))
    said = only(room, text, "warming")
    assert (said.level, said.step) == (STOP, 2)
    assert "about 109 °C" in said.text


# "Cold water for lye, hot water can erupt" (handbooks); 30 and 50 degC are ours.
@pytest.mark.parametrize(
    ("at_C", "found"),
    [(30, []), (31, [(WARN, 2)]), (50, [(WARN, 2)]), (51, [(STOP, 2)])],
)
def test_lye_into_warm_water_is_serious_and_into_hot_water_deadly(
    at_C: float, found: list[tuple[Level, int]], room: Room
) -> None:
    text = recipe(water(500, at_C), ("sodium-hydroxide", "10 g"))
    assert levels(room, text, "warming") == found


# 1 % of what the vessel then holds; ours.
@pytest.mark.parametrize(
    ("grams", "at_C", "found"),
    [
        (5.1, 40, [(WARN, 2)]), (5.0, 40, [(NOTE, 2)]),
        (5.1, 60, [(STOP, 2)]), (5.0, 60, [(WARN, 2)]),
    ],
)  # fmt: skip
def test_a_pinch_of_lye_is_one_level_less_grave(
    grams: float, at_C: float, found: list[tuple[Level, int]], room: Room
) -> None:
    text = recipe(water(500, at_C), ("potassium-hydroxide", f"{grams} g"))
    assert levels(room, text, "warming") == found


def test_warm_is_what_the_salts_before_made_it(room: Room) -> None:
    # 150 g of potassium carbonate (-30.9 kJ/mol, CRC-based) warm 300 g of water by 18 K
    carbonate = ("potassium-carbonate", "150 g")
    text = recipe(water(300, 15), carbonate, ("sodium-hydroxide", "10 g"))
    assert levels(room, text, "warming") == [(WARN, 3)]


@pytest.mark.parametrize(
    "chemical", ["trisodium-phosphate-dodecahydrate", "sodium-sulfide-nonahydrate"]
)
def test_strong_alkalis_that_do_not_heat_may_go_into_warm_water(
    chemical: str, room: Room
) -> None:
    text = recipe(water(500, 45), (chemical, "20 g"))
    assert remarks(room, text, "warming") == []


def test_lye_of_ones_own_is_lye_by_its_parent(room: Room) -> None:
    flakes = own("flakes", more='parent = "sodium-hydroxide"\nformula = "NaOH"')
    text = recipe(water(500, 60), ("flakes", "20 g")) + flakes
    assert levels(room, text, "warming") == [(STOP, 2)]


def test_water_onto_lye_is_deadly(room: Room) -> None:
    text = recipe(("sodium-hydroxide", "20 g"), water(300, 15))
    said = only(room, text, "warming")
    assert (said.level, said.step) == (STOP, 2)
    assert "cold water first, then the sodium hydroxide" in said.text


def test_water_onto_a_pinch_of_lye_is_serious(room: Room) -> None:
    text = recipe(("sodium-hydroxide", "2 g"), water(300, 15))
    assert levels(room, text, "warming") == [(WARN, 2)]


def test_a_solution_poured_onto_dry_lye_is_water_onto_lye(room: Room) -> None:
    text = recipe(
        ("sodium-hydroxide", "20 g"),
        ("water", "300 mL", 'in = "jug"'),
        'pour = "jug"',
    )
    assert levels(room, text, "warming") == [(STOP, 3)]


def test_dry_lye_tipped_into_hot_water_is_seen_too(room: Room) -> None:
    text = recipe(
        water(300, 60), ("sodium-hydroxide", "20 g", 'in = "beaker"'), 'pour = "beaker"'
    )
    assert levels(room, text, "warming") == [(STOP, 3)]


def test_lye_that_is_dissolved_apart_and_poured_in_is_good_practice(room: Room) -> None:
    jug = 'in = "jug"'
    text = recipe(
        water(500, 45),
        ("water", "100 mL", 'at = "15 degC"', jug),
        ("sodium-hydroxide", "10 g", jug),
        'pour = "jug"',
    )
    assert remarks(room, text, "warming") == []


def test_water_onto_concentrated_sulfuric_acid_is_deadly(room: Room) -> None:
    text = recipe(("sulfuric-acid-96pct", "50 mL"), water(500, 15))
    assert levels(room, text, "warming") == [(STOP, 2)]


@pytest.mark.parametrize(
    "steps",
    [
        (water(500, 15), ("sulfuric-acid-96pct", "20 mL")),
        (("sulfuric-acid-10pct", "50 mL"), water(500, 15)),
    ],
)
def test_acid_into_water_and_water_into_dilute_acid_are_not(
    steps: tuple[tuple[str, ...], ...], room: Room
) -> None:
    assert remarks(room, recipe(*steps), "warming") == []


def test_a_salt_that_cools_itself_out_is_told_how_warm_to_start(room: Room) -> None:
    # CRC: potassium ferricyanide 45.1 g in 100 g of water at 20 degC, 38.1 at 10;
    # +54.5 kJ/mol cools 140 g by 11 K
    text = recipe(water(100, 20), ("potassium-ferricyanide", "40 g"))
    said = only(room, text, "warming")
    assert (said.level, said.step) == (NOTE, 2)
    assert "from 20 to 9 °C" in said.text
    assert "start with 25 °C or more" in said.text
    assert remarks(room, text, "solubility") == []
    warm = recipe(water(100, 25), ("potassium-ferricyanide", "40 g"))
    assert remarks(room, warm, "warming") == []


def test_a_salt_that_cools_below_freezing_is_told_even_beyond_its_table(
    room: Room,
) -> None:
    text = recipe(water(500, 15), ("sodium-thiosulfate-pentahydrate", "500 g"))
    said = only(room, text, "warming")
    assert (said.level, said.step) == (NOTE, 2)
    assert "from 15 to -7 °C" in said.text


def test_a_dry_mixture_warms_nothing(room: Room) -> None:
    text = recipe(
        ("sodium-hydroxide", "10 g"), ("potassium-bromide", "90 g"),
        makes="100 g", fill=False,
    )  # fmt: skip
    assert remarks(room, text, "warming") == []
