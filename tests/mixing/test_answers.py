"""Figures and answers as JSON carries them."""

import json
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.mixing.answers import batch_json, number
from tests.mixing.conftest import Room


@pytest.mark.parametrize(
    ("value", "told"),
    [
        (Decimal("17.3"), 17.3),
        (Decimal("500.000"), 500),
        (Decimal(1) / 3, 0.333333333333),
        (Decimal("123456789012345"), 123456789012000),
        (Decimal("1E-9"), 1e-9),
        (0.1 + 0.2, 0.3),
        (Decimal(0), 0),
        (None, None),
    ],
)
def test_a_figure_has_twelve_significant_digits(
    value: Decimal | float | None, told: float | None
) -> None:
    assert number(value) == told


def test_a_whole_figure_has_no_point() -> None:
    assert json.dumps([number(Decimal("500.0")), number(20.0)]) == "[500, 20]"


@given(st.decimals("1e-9", "1e9", allow_nan=False))
def test_a_figure_is_told_as_it_is(value: Decimal) -> None:
    told = number(value)
    assert told is not None
    assert abs(Decimal(repr(told)) - value) <= value * Decimal("5.01e-12")


def test_by_mass_the_quantity_is_in_grams(room: Room) -> None:
    recipe = """
        title = "Paste"
        makes = "100 g"
        [measured]
        density = "1.25 g/mL"
        [[step]]
        add = "potassium-bromide"
        amount = "25 g"
        [[step]]
        make_up_to = "100 g"
    """
    answer = room.answer(recipe)
    assert answer["make"] == {"g": 100}
    assert answer["contents"][0]["g_per_L"] == 312.5  # 25 g in 80 mL
    assert room.answer(recipe, "80 mL")["make"] == {"mL": 80}


def test_a_batch_tells_plan_and_readings_apart(tern_street: Room) -> None:
    batch = tern_street.mix(tern_street.sample("borate-alkali"), "2=17.4g")
    answer = batch_json(batch, tern_street.settings)
    assert answer["planned"][1]["g"] == 17.3
    assert answer["weighed"][1] == {
        "step": 2,
        "chemical": "borax-decahydrate",
        "g": 17.4,
        "mL": None,
        "read": True,
    }
    assert answer["weigh"][0]["g"] == 17.4
    assert answer["bottles"] == [{"bottle": 1, "mL": 500}]


def test_every_null_has_its_reason(room: Room) -> None:
    answer = room.answer(
        """
        title = "Wash"
        makes = "1 L"
        [[step]]
        add = "ferric-ammonium-citrate-green"
        amount = "600 g"
        [[step]]
        make_up_to = "1 L"
        """
    )
    assert answer["reasons"] == {
        "ph": "ferric ammonium citrate has no fixed make-up",
        "density": "no estimate above 400 g of solutes in a litre",
        "strength": "the recipe names no [strength]",
        "discard_after": "the recipe does not say how long it keeps",
    }
    assert [answer[name] for name in answer["reasons"]] == [None] * 4
