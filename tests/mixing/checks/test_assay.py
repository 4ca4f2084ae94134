"""Jars that are not what a recipe was written for, and powders that change in air."""

import pytest

from labelkit.mixing.check import Level
from tests.mixing.checks.remarks import levels, only, recipe, remarks, water
from tests.mixing.conftest import Room
from tests.mixing.writing import METABORATE

NOTE = Level.NOTE
LYE = recipe(water(500, 15), ("sodium-hydroxide", "10 g"))
CARBONATE = recipe(water(500, 40), ("potassium-carbonate", "50 g"))
OF_CARBONATE = '\n[strength]\nof = "potassium-carbonate"'


# A tenth away from what was written; ours.
@pytest.mark.parametrize(
    ("assay", "told"), [("90", False), ("89.9", True), ("98", False)]
)
def test_a_jar_far_from_what_was_written_is_told(
    assay: str, told: bool, room: Room
) -> None:
    jars = room.with_jars({"sodium-hydroxide": assay})
    assert levels(jars, LYE, "assay") == ([(NOTE, 2)] if told else [])


def test_it_tells_both_weights(room: Room) -> None:
    jars = room.with_jars({"potassium-hydroxide": "85"})
    text = recipe(water(500, 15), ("potassium-hydroxide", "10 g"))
    said = only(jars, text, "assay").text
    assert "11.8 g do the work of 10 g" in said


def test_a_jar_that_is_what_was_written_is_not_remarked_on(room: Room) -> None:
    written = recipe(water(500, 15), ("potassium-hydroxide", "10 g", 'assay = "85 %"'))
    jars = room.with_jars({"potassium-hydroxide": "85"})
    assert remarks(jars, written, "assay") == []


def test_lye_without_an_assay_is_told(room: Room) -> None:
    said = only(room, LYE, "assay")
    assert (said.level, said.step) == (NOTE, 2)
    assert "100 % is taken" in said.text


@pytest.mark.parametrize("known", ["step", "jar"])
def test_an_assay_that_is_known_is_enough(known: str, room: Room) -> None:
    step = recipe(water(500, 15), ("sodium-hydroxide", "10 g", 'assay = "98 %"'))
    jars = room.with_jars({"sodium-hydroxide": "98"})
    found = (
        remarks(room, step, "assay") if known == "step" else remarks(jars, LYE, "assay")
    )
    assert found == []


def test_other_wet_running_powders_matter_only_where_the_strength_rests_on_them(
    room: Room,
) -> None:
    assert remarks(room, CARBONATE, "assay", "hygroscopic") == []
    assert levels(room, CARBONATE + OF_CARBONATE, "assay") == [(NOTE, 2)]
    assert remarks(room, CARBONATE + OF_CARBONATE, "hygroscopic") == []


@pytest.mark.parametrize(
    ("chemical", "says"),
    [
        ("sodium-carbonate-anhydrous", "takes up water"),  # hygroscopic
        ("ferric-ammonium-citrate-green", "takes up water"),  # runs wet, no formula
        ("sodium-carbonate-decahydrate", "loses crystal water"),  # efflorescent
        ("sodium-sulfite-anhydrous", "turns to sulfate"),  # oxidised by air
    ],
)
def test_a_powder_that_changes_in_air_is_told_where_the_strength_rests_on_it(
    chemical: str, says: str, room: Room
) -> None:
    text = recipe(water(800, 40), (chemical, "50 g"))
    assert remarks(room, text, "hygroscopic") == []
    said = only(room, f'{text}\n[strength]\nof = "{chemical}"', "hygroscopic")
    assert (said.level, said.step) == (NOTE, 2)
    assert says in said.text


@pytest.mark.parametrize(
    "chemical", ["potassium-bromide", "pyrogallol", "silver-nitrate"]
)
def test_a_powder_that_keeps_or_that_shows_its_age_is_not(
    chemical: str, room: Room
) -> None:
    text = recipe(water(800, 20), (chemical, "50 g"))
    head = f'\n[strength]\nof = "{chemical}"'
    assert remarks(room, text + head, "hygroscopic", "assay") == []


def test_the_reagent_that_limits_carries_the_strength_and_the_other_does_not(
    room: Room,
) -> None:
    # borax loses crystal water; with lye in excess it decides how much is formed
    lye_limits = recipe(
        water(300), ("borax-decahydrate", "19 g"),
        ("sodium-hydroxide", "3.6 g", 'assay = "98 %"'),
    )  # fmt: skip
    borax_limits = recipe(
        water(300), ("borax-decahydrate", "17 g"),
        ("sodium-hydroxide", "3.9 g", 'assay = "98 %"'),
    )  # fmt: skip
    assert remarks(room, lye_limits + METABORATE, "hygroscopic") == []
    assert levels(room, borax_limits + METABORATE, "hygroscopic") == [(NOTE, 2)]


def test_one_note_is_enough(room: Room) -> None:
    text = recipe(
        water(800, 40), ("sodium-carbonate-anhydrous", "20 g"),
        ("sodium-carbonate-decahydrate", "20 g"),
    )  # fmt: skip
    head = '\n[strength]\nof = "sodium-carbonate-anhydrous"'
    assert len(remarks(room, text + head, "hygroscopic")) == 1
