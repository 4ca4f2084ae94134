"""A jar taken for its neighbour, told only where that would hurt."""

import pytest

from labelkit.mixing.check import Level
from tests.mixing.checks.remarks import only, recipe, remarks, water
from tests.mixing.conftest import Room

SULFITE, HYPO = "sodium-sulfite-anhydrous", "sodium-thiosulfate-pentahydrate"
CODE = "look-alike"


def test_sulfide_for_sulfite_beside_an_acid_is_told_once(room: Room) -> None:
    text = recipe(
        water(600), (HYPO, "240 g"), (SULFITE, "15 g"), ("acetic-acid-28pct", "48 mL"),
        ("sodium-metabisulfite", "5 g"),
    )  # fmt: skip
    said = only(room, text, CODE)
    assert (said.level, said.step) == (Level.NOTE, 3)
    assert said.text.startswith(
        "Sodium sulfite, not sodium sulfide: that gives a deadly gas, hydrogen sulfide,"
    )


def test_bisulfate_for_bisulfite_beside_hypo_is_told(room: Room) -> None:
    text = recipe(water(600), (HYPO, "240 g"), ("sodium-bisulfite", "15 g"))
    assert "Sodium bisulfite, not sodium bisulfate" in only(room, text, CODE).text


@pytest.mark.parametrize(
    "steps",
    [
        pytest.param(((SULFITE, "50 g"), ("hydroquinone", "5 g")), id="no acid"),
        pytest.param(((HYPO, "250 g"), (SULFITE, "10 g")), id="a prefix, not a letter"),
        pytest.param((("potassium-bromide", "10 g"),), id="like nothing"),
        pytest.param(
            (("sodium-sulfide-nonahydrate", "5 g"), ("citric-acid-anhydrous", "1 g")),
            id="the jar itself is worse",
        ),
        pytest.param(
            (("copper-sulfate-pentahydrate", "9 g"), ("potassium-ferricyanide", "5 g")),
            id="another metal",
        ),
    ],
)  # fmt: skip
def test_a_swap_that_does_no_harm_is_not_told(
    steps: tuple[tuple[str, ...], ...], room: Room
) -> None:
    assert remarks(room, recipe(water(600), *steps), CODE) == []
