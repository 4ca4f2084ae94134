"""Masses, volumes, temperatures and densities: what is read, and as how much."""

import subprocess
import sys
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labelkit.chemistry import units
from labelkit.chemistry.amounts import (
    Amount,
    Dimension,
    parse_amount,
    parse_density,
    parse_temperature,
)

# Exact sizes, by source and not by our unit file.
# HB44: NIST Handbook 44, Appendix C, part 4, where exact values are underlined.
# WMA: Weights and Measures Act 1985 (UK), Schedule 1 (gallon 4.54609 L, pint
# 0.56826125 L, pound 0.45359237 kg). SP811: NIST SP 811 (2008), Appendix B.8, which
# gives seven figures; those cases are compared to seven figures.
EXACT_g = [
    pytest.param("1 grain", "0.06479891", id="HB44, grain"),
    pytest.param("1 lb", "453.59237", id="HB44 and WMA, pound"),
    pytest.param("1 oz", "28.349523125", id="HB44, avoirdupois ounce"),
    pytest.param("1 ozt", "31.1034768", id="HB44, troy or apothecaries' ounce"),
    pytest.param("1 drachm", "3.8879346", id="HB44, apothecaries' dram of 60 grains"),
]
EXACT_mL = [
    pytest.param("1 US gallon", "3785.411784", id="HB44, US gallon"),
    pytest.param("1 US pint", "473.176473", id="HB44, US liquid pint"),
    pytest.param("1 US fl oz", "29.5735295625", id="HB44, US fluid ounce"),
    pytest.param("1 imp gallon", "4546.09", id="WMA, gallon"),
    pytest.param("1 imp pint", "568.26125", id="WMA, pint"),
]
TO_SEVEN_FIGURES_mL = [
    pytest.param("1 US quart", "946.3529", id="SP811, US liquid quart"),
    pytest.param("1 US gill", "118.2941", id="SP811, US gill"),
    pytest.param("1 imp gill", "142.0653", id="SP811, imperial gill"),
    pytest.param("1 imp fl oz", "28.41306", id="SP811, imperial fluid ounce"),
    pytest.param("1 US fl drachm", "3.697", id="HB44, US fluid dram"),
    pytest.param("1 imp fl drachm", "3.552", id="HB44, British fluid drachm"),
    pytest.param("1 US minim", "0.061612", id="HB44, US minim"),
    pytest.param("1 imp minim", "0.059194", id="HB44, British minim"),
]


@pytest.mark.parametrize(("text", "grams"), EXACT_g)
def test_masses_have_their_exact_published_size(text: str, grams: str) -> None:
    assert parse_amount(text) == Amount(Decimal(grams), Dimension.MASS)


@pytest.mark.parametrize(("text", "mL"), EXACT_mL)
def test_volumes_have_their_exact_published_size(text: str, mL: str) -> None:
    assert parse_amount(text) == Amount(Decimal(mL), Dimension.VOLUME)


@pytest.mark.parametrize(("text", "mL"), TO_SEVEN_FIGURES_mL)
def test_volumes_agree_with_the_rounded_published_size(text: str, mL: str) -> None:
    expected = Decimal(mL)
    amount = parse_amount(text)
    assert amount.dimension is Dimension.VOLUME
    assert amount.number.quantize(expected) == expected


@pytest.mark.parametrize(
    ("text", "number", "dimension"),
    [
        ("8.7 g", "8.7", Dimension.MASS),
        ("8.7g", "8.7", Dimension.MASS),
        ("0.25 kg", "250", Dimension.MASS),
        ("250 mg", "0.25", Dimension.MASS),
        ("300 mL", "300", Dimension.VOLUME),
        ("300 ml", "300", Dimension.VOLUME),
        ("1 L", "1000", Dimension.VOLUME),
        ("1 l", "1000", Dimension.VOLUME),
        ("2 litres", "2000", Dimension.VOLUME),
        ("5 dl", "500", Dimension.VOLUME),
        ("10 cc", "10", Dimension.VOLUME),
        ("  8.7\u00a0g ", "8.7", Dimension.MASS),
        ("1.5e3 mL", "1500", Dimension.VOLUME),
    ],
)
def test_metric_amounts_are_read(text: str, number: str, dimension: Dimension) -> None:
    assert parse_amount(text) == Amount(Decimal(number), dimension)


@pytest.mark.parametrize(
    "text",
    ["8 US fl oz", "8 us fl oz", "8 US fl. oz.", "8 US  Fluid Ounces", "8US fl oz"],
)
def test_a_unit_may_be_spelt_as_people_spell_it(text: str) -> None:
    # 8 x 29.573 529 562 5 mL, NIST Handbook 44
    assert parse_amount(text).number == Decimal("236.5882365")


# NIST Handbook 44, Appendix C, apothecaries' fluid measure and liquid measure; for the
# imperial gill and pint the notes on British units there.
@pytest.mark.parametrize(
    ("one", "smaller", "us", "imperial"),
    [
        ("fl drachm", "minim", 60, 60),
        ("fl oz", "fl drachm", 8, 8),
        ("gill", "fl oz", 4, 5),
        ("pint", "gill", 4, 4),
        ("pint", "fl oz", 16, 20),
        ("quart", "pint", 2, 2),
        ("gallon", "quart", 4, 4),
    ],
)
def test_volumes_hold_as_many_smaller_ones_as_published(
    one: str, smaller: str, us: int, imperial: int
) -> None:
    for system, count in (("US", us), ("imp", imperial)):
        larger = parse_amount(f"1 {system} {one}").number
        small = parse_amount(f"{count} {system} {smaller}").number
        assert small.quantize(Decimal("1e-12")) == larger.quantize(Decimal("1e-12"))


@pytest.mark.parametrize(
    ("one", "others"),
    [
        ("1 g", "gram grams gramme grammes"),
        ("1 mL", "ml cc cm3 cm³ millilitre millilitres milliliter milliliters"),
        ("1 L", "l litre litres liter liters"),
        ("1 lb", "lbs pound pounds LB"),
        ("1 oz", "ounce ounces Oz"),
        ("1 US minim", "US_minims"),
        ("1 US fl drachm", "US_fl_dr US_fl_dram US_fl_drachms US_fluid_dram"),
        ("1 US pint", "US_pt US_pints U.S._pint"),
        ("1 US quart", "US_qt US_quarts"),
        ("1 US gallon", "US_gal US_gallons"),
        ("1 imp fl oz", "imperial_fl_oz UK_fl_oz imp_fluid_ounces Imp._Fl._Oz."),
        ("1 imp pint", "imp_pt imperial_pints UK_pint"),
        ("1 imp gallon", "imp_gal imperial_gallons"),
    ],
)
def test_other_words_for_a_unit_mean_the_same(one: str, others: str) -> None:
    for word in others.split():
        assert parse_amount(f"1 {word.replace('_', ' ')}") == parse_amount(one)


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("1,5 g", "1.5"),
        ("0,75 g", "0.75"),
        ("0,500 g", "0.5"),  # no thousands begin with a zero
        ("1234,567 g", "1234.567"),  # nor stand after four digits
        ("1,5000 g", "1.5"),  # nor have four digits
        ("17,3 g", "17.3"),
    ],
)
def test_a_decimal_comma_is_understood(text: str, number: str) -> None:
    assert parse_amount(text).number == Decimal(number)


def test_a_drop_is_a_twentieth_of_a_millilitre_unless_said_otherwise() -> None:
    # common practice, no source
    assert parse_amount("3 drops").number == Decimal("0.15")
    three = parse_amount("3 drops", drop_mL=Decimal("0.04"))
    assert three.number == Decimal("0.12")
    assert three.dimension is Dimension.VOLUME


def test_an_amount_keeps_the_words_it_was_written_in() -> None:
    assert parse_amount(" 8  US fl oz ").written == "8 US fl oz"


positive = st.decimals(
    min_value=Decimal("0.001"), max_value=Decimal(900), places=3, allow_nan=False
)


@given(positive)
def test_point_and_comma_read_alike(number: Decimal) -> None:
    longer = f"{number}0"  # four decimals are never thousands
    with_comma = parse_amount(f"{longer.replace('.', ',')} g")
    assert with_comma == parse_amount(f"{longer} g") == parse_amount(f"{number} g")


@settings(deadline=None)
@given(positive, st.sampled_from(sorted({*units.MASSES, *units.VOLUMES})))
def test_an_amount_is_its_number_times_one_unit(number: Decimal, unit: str) -> None:
    one = parse_amount(f"1 {unit}").number
    assert parse_amount(f"{number} {unit}").number == number * one


@given(positive)
def test_kilograms_milligrams_and_litres_round_trip(number: Decimal) -> None:
    assert parse_amount(f"{number / 1000} kg").number == number
    assert parse_amount(f"{number * 1000} mg").number == number
    assert parse_amount(f"{number / 1000} L").number == number


def test_metric_amounts_never_load_the_unit_library() -> None:
    code = (
        "import sys; from labelkit.chemistry.amounts import parse_amount as p;"
        "[p(t) for t in ('1 g', '1 kg', '1 mg', '1 mL', '1 L', '1 drop')];"
        "sys.exit('pint' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


@pytest.mark.parametrize(
    ("text", "degC"),
    [
        ("40 degC", "40"),
        ("40 °C", "40"),
        ("40C", "40"),
        ("-5 degC", "-5"),
        ("20,5 degC", "20.5"),
        # NIST SP 811, Appendix B.8: t/degC = (t/degF - 32) / 1.8
        ("32 degF", "0"),
        ("212 degF", "100"),
        ("68 °F", "20"),
        ("-40 F", "-40"),
    ],
)
def test_temperatures_are_read_in_either_scale(text: str, degC: str) -> None:
    assert parse_temperature(text) == Decimal(degC)


@pytest.mark.parametrize(
    ("text", "density"),
    [
        ("1.33 g/mL", "1.33"),
        ("1,33 g/ml", "1.33"),
        ("1.33 g/cm3", "1.33"),
        ("1.33 kg/L", "1.33"),
        ("1330 g/L", "1.33"),
    ],
)
def test_densities_are_read(text: str, density: str) -> None:
    assert parse_density(text) == Decimal(density)
