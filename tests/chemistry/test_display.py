"""What is shown is rounded half up to the instrument, and is never 0."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.chemistry.amounts import Duration, parse_amount
from labelkit.chemistry.display import (
    figures,
    plain,
    rounded,
    show_amount,
    show_duration,
    show_mass_g,
    show_temperature_C,
    show_volume_mL,
)


@pytest.mark.parametrize(
    ("mass_g", "readability_g", "shown"),
    [
        # the rule and its example: 8.65 g on a balance that reads 0.1 g is 8.7 g
        ("8.65", "0.1", "8.7 g"),
        ("8.649999", "0.1", "8.6 g"),
        ("8.75", "0.1", "8.8 g"),
        ("8", "0.1", "8.0 g"),
        ("8.65", "0.01", "8.65 g"),
        ("8.65", "1", "9 g"),
        ("8.66", "0.05", "8.65 g"),
        ("17.3", "0.1", "17.3 g"),
        ("1250", "0.1", "1250.0 g"),
        ("8.65", "0.10", "8.7 g"),
        ("99.96", "0.1", "100.0 g"),
        # at one division, and just below: the exact figure
        ("0.1", "0.1", "0.1 g"),
        ("0.099", "0.1", "0.099 g"),
        ("0.04", "0.1", "0.04 g"),
        ("0.06", "0.1", "0.06 g"),
        ("0.08125", "0.1", "0.08125 g"),
        ("0.5", "1", "0.5 g"),
    ],
)
def test_masses_are_shown_as_the_balance_reads(
    mass_g: str, readability_g: str, shown: str
) -> None:
    assert show_mass_g(Decimal(mass_g), Decimal(readability_g)) == shown


def test_a_figure_without_end_is_cut_after_four() -> None:
    assert show_mass_g(Decimal(1) / 30, Decimal("0.1")) == "0.03333 g"


@pytest.mark.parametrize(
    ("volume_mL", "graduation_mL", "shown"),
    [
        ("302.4", "5", "300 mL"),
        ("302.5", "5", "305 mL"),
        ("500", "5", "500 mL"),
        ("1000", "5", "1 L"),
        ("1500", "5", "1.5 L"),
        ("1250", "5", "1.25 L"),
        ("1255", "5", "1255 mL"),
        ("4", "5", "4 mL"),
        ("0.15", "5", "0.15 mL"),
        ("12.3", "0.5", "12.5 mL"),
        ("997.6", "5", "1 L"),
    ],
)
def test_volumes_are_shown_as_the_cylinder_reads(
    volume_mL: str, graduation_mL: str, shown: str
) -> None:
    assert show_volume_mL(Decimal(volume_mL), Decimal(graduation_mL)) == shown


@pytest.mark.parametrize(
    ("written", "shown"),
    [
        ("500 mL", "500 mL"),
        ("0.5 L", "500 mL"),
        ("1000 mL", "1 L"),
        ("1,5 L", "1.5 L"),
        ("1e4 mL", "10 L"),
        ("100 g", "100 g"),
        ("2000 g", "2 kg"),
        ("8.65 g", "8.65 g"),
        # 3785.411784 mL (NIST Handbook 44), to four figures
        ("1 US gallon", "3785 mL"),
    ],
)
def test_quantities_are_shown_as_people_write_them(written: str, shown: str) -> None:
    assert show_amount(parse_amount(written)) == shown


@pytest.mark.parametrize(
    ("degC", "shown"),
    [("40", "40 °C"), ("21.1111", "21.1 °C"), ("-5", "-5 °C"), ("37.25", "37.3 °C")],
)
def test_temperatures_are_shown_to_a_tenth(degC: str, shown: str) -> None:
    assert show_temperature_C(Decimal(degC)) == shown


def test_durations_are_shown_in_words() -> None:
    assert show_duration(Duration(12, "months")) == "12 months"
    assert show_duration(Duration(1, "years")) == "1 year"


@pytest.mark.parametrize(
    ("value", "count", "shown"),
    [
        ("19.9549", 3, "20"),
        ("19.9549", 4, "19.95"),
        ("0.0123456", 2, "0.012"),
        ("123456", 2, "120000"),
        ("9.995", 3, "10"),
        ("0", 3, "0"),
    ],
)
def test_significant_figures_are_half_up(value: str, count: int, shown: str) -> None:
    assert figures(Decimal(value), count) == shown


def test_a_plain_number_has_no_exponent_and_no_idle_zeros() -> None:
    numbers = map(Decimal, ("5E+3", "1.500", "0.000001", "0.0", "-0"))
    assert [plain(n) for n in numbers] == ["5000", "1.5", "0.000001", "0", "0"]


steps = st.sampled_from([Decimal(s) for s in ("0.001", "0.01", "0.1", "0.5", "1", "5")])
values = st.decimals(Decimal("0.0001"), Decimal(100_000), places=4)


@given(values, steps)
def test_a_reading_is_a_whole_number_of_divisions_next_to_the_figure(
    value: Decimal, step: Decimal
) -> None:
    reading = rounded(value, step)
    assert reading > 0
    if value < step:
        assert reading == value
    else:
        assert reading % step == 0
        assert abs(reading - value) <= step / 2


@given(values, steps)
def test_what_is_shown_can_be_read_back(value: Decimal, step: Decimal) -> None:
    shown = parse_amount(show_mass_g(value, step)).number
    poured = parse_amount(show_volume_mL(value, step)).number
    assert shown == poured
    assert abs(shown - value) <= max(step / 2, value / 1000)
