"""What mends a weighing that is too small for the balance."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.chemistry.finer import (
    Bench,
    PercentStock,
    batch_that_suits,
    dilution_chain,
    percent_stock,
)
from labelkit.chemistry.weighing import is_fine_enough

BENCH = Bench(readability_g=0.1, stock_graduation_mL=5, dose_graduation_mL=0.5)


def stock(grams: float, most_percent: float = 10) -> PercentStock:
    found = percent_stock(grams, BENCH, most_percent)
    assert found is not None
    return found


def test_half_a_gram_comes_from_a_5_per_cent_stock() -> None:
    # 5 g in 100 mL, 10 mL of it: common practice for restrainers, no source
    found = stock(0.5)
    assert (found.percent, found.weigh_g, found.make_mL, found.dose_mL) == (
        5,
        5,
        100,
        10,
    )
    # 0.0408 g of 5 g, 2.89 mL of 100 mL, 0.289 mL of 10 mL
    expected = math.hypot(0.0408 / 5, 2.887 / 100, 0.2887 / 10)
    assert found.relative_u == pytest.approx(expected, rel=1e-3)


@given(st.floats(0.02, 2))
def test_a_stock_doses_what_was_asked_for(grams: float) -> None:
    found = percent_stock(grams, BENCH)
    assert found is not None
    dosed = found.dose_mL * found.percent / 100
    assert dosed == pytest.approx(grams, rel=0.05)
    assert found.relative_u <= 0.05
    assert found.weigh_g == pytest.approx(found.percent * found.make_mL / 100)
    assert is_fine_enough(found.weigh_g, BENCH.readability_g)
    assert found.dose_mL <= found.make_mL
    assert (found.dose_mL / 0.5).is_integer()


def test_a_stock_is_no_stronger_than_its_chemical_dissolves() -> None:
    assert stock(0.5).percent == 5
    assert stock(0.5, most_percent=1.5).percent == 1


def test_what_is_too_little_for_a_stock_takes_a_chain() -> None:
    grams = 0.005
    assert percent_stock(grams, BENCH) is None
    chain = dilution_chain(grams, BENCH)
    assert chain is not None
    taken_g = chain.stock.dose_mL * chain.stock.percent / 100
    dosed = taken_g * chain.dose_mL / chain.make_mL
    assert dosed == pytest.approx(grams, rel=0.05)
    assert chain.stock.relative_u < chain.relative_u <= 0.05


def test_a_chain_is_no_stronger_than_its_chemical_dissolves() -> None:
    chain = dilution_chain(0.005, BENCH, most_percent=1)
    assert chain is not None
    assert chain.stock.percent <= 1


def test_what_no_chain_reaches_is_none() -> None:
    assert dilution_chain(1e-9, BENCH) is None


def test_a_dose_is_told_to_a_graduation_of_what_takes_it() -> None:
    coarse = Bench(0.1, 5, 5)
    found = percent_stock(0.2, coarse)
    assert found is not None
    assert found.dose_mL % 5 == 0


@pytest.mark.parametrize(
    ("grams", "makes", "expected"),
    [
        # 0.8165 g are needed: 0.4 g in 500 mL want 1021 mL, 0.5 g want 817 mL
        (0.4, 500, 1500), (0.5, 500, 1000), (0.41, 500, 1000), (0.817, 500, 500),
    ],
)  # fmt: skip
def test_the_batch_that_suits_is_the_next_round_one(
    grams: float, makes: float, expected: float
) -> None:
    assert batch_that_suits(grams, makes, 0.1) == pytest.approx(expected)


@given(st.floats(0.001, 5), st.floats(10, 5000))
def test_the_batch_that_suits_makes_the_weighing_fine_enough(
    grams: float, makes: float
) -> None:
    batch = batch_that_suits(grams, makes, 0.1)
    assert is_fine_enough(grams * batch / makes * (1 + 1e-9), 0.1)


def test_what_rounding_the_dose_costs_is_counted() -> None:
    # of a 10 % stock 0.824 g would be 8.24 mL, told as 8 mL: 3 % off, which takes a
    # larger flask than 0.8 g do
    assert (stock(0.8).percent, stock(0.8).make_mL) == (10, 100)
    found = stock(0.824)
    assert (found.percent, found.make_mL, found.dose_mL) == (10, 250, 8)
    expected = math.hypot(0.0408 / 25, 2.887 / 250, 0.2887 / 8, 0.8 / 0.824 - 1)
    assert found.relative_u == pytest.approx(expected, rel=1e-3)


@given(st.floats(0.002, 0.5))
def test_a_chain_counts_every_step_and_its_rounding(grams: float) -> None:
    chain = dilution_chain(grams, BENCH)
    assert chain is not None
    taken_g = chain.stock.dose_mL * chain.stock.percent / 100
    expected = math.hypot(
        chain.stock.relative_u,
        5 / math.sqrt(3) / chain.make_mL,
        0.5 / math.sqrt(3) / chain.dose_mL,
        taken_g * chain.dose_mL / chain.make_mL / grams - 1,
    )
    assert chain.relative_u == pytest.approx(expected)
