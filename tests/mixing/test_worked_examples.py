"""Published worked examples, through what the commands work with.

Every case of the groups B (but for the equations, which `tests/chemistry` balances), C
and Z is run here, or listed with the reason why labelkit has no such figure.
"""

import pytest

from tests.chemistry.published import cases
from tests.mixing import worked_reactions, worked_recipes, worked_solutions
from tests.mixing.conftest import Room
from tests.mixing.writing import METABORATE, text

WORKED = worked_reactions.WORKED | worked_solutions.WORKED | worked_recipes.WORKED
CASES = {
    **{id_: c for id_, c in cases("B").items() if c.data["topic"] != "balance"},
    **cases("C"),
    **cases("Z"),
}

NOT_COMPUTED = {
    "B-tit-01": "nothing is titrated at the sink",
    "B-tit-03": "nothing is titrated at the sink",
    "B-tit-05": "nothing is titrated at the sink",
    "B-gra-02": "nothing is precipitated to be weighed",
    "C-26": "no strength is told in mole fractions or in mol per kg",
    "C-35": "a density is measured or estimated, never told from two strengths",
}
# Parts of a case that labelkit has no figure for.
NOT_COMPUTED_PART = {
    ("B-yld-01", "percent yield"): "nothing is recovered and weighed",
    ("B-fx-01", "free thiosulfate needed"): "no equilibrium of complexes is reckoned",
    ("B-fx-01", "total"): "no equilibrium of complexes is reckoned",
    ("Z-D08", "pH at 25 °C"): "no constants are tied to a chemical of one's own",
}


def test_every_case_is_run_or_listed_with_the_reason() -> None:
    assert set(WORKED) | set(NOT_COMPUTED) == set(CASES)
    assert not set(WORKED) & set(NOT_COMPUTED)


@pytest.mark.parametrize("id_", WORKED)
def test_a_worked_example_comes_out(id_: str, room: Room) -> None:
    one = CASES[id_]
    got = WORKED[id_](one, room)
    for expected in one.data["expected"]:
        name = expected["name"]
        if (id_, name) in NOT_COMPUTED_PART:
            continue
        value = got[name]
        if isinstance(value, str):
            wanted = expected["value"]
            assert value == wanted, one.told(f"{name}: got {value}, not {wanted}")
        else:
            one.wants(name, value)


def test_what_is_left_out_of_a_case_is_part_of_it() -> None:
    for id_, name in NOT_COMPUTED_PART:
        assert name in {e["name"] for e in CASES[id_].data["expected"]}


def of_metaborate(room: Room, makes: str, borax: str, lye: str) -> dict[str, float]:
    steps = [("borax-decahydrate", borax), ("sodium-hydroxide", lye)]
    strength: dict[str, float] = room.answer(text(makes, steps, METABORATE))["strength"]
    return strength


def test_seven_grams_and_one_and_a_half_carry_a_gram_in_forty_mL(room: Room) -> None:
    """Common practice, no source: 7.0 g + 1.5 g in 400 mL, about 40 mL to the gram."""
    assert of_metaborate(room, "400 mL", "7 g", "1.5 g")["mL_per_g"] == pytest.approx(
        40, rel=0.02
    )


def test_the_traditional_weights_make_a_hundred_grams(room: Room) -> None:
    """Common practice, no source: 69.2 g and 14.5 g make 100 g of the tetrahydrate."""
    strength = of_metaborate(room, "1 L", "69.2 g", "14.5 g")
    assert strength["g_per_L"] == pytest.approx(100, rel=0.001)
