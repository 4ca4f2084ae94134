"""What could mean two things, or nothing, is refused with what to write instead."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.chemistry.amounts import (
    parse_amount,
    parse_density,
    parse_temperature,
)
from labelkit.errors import BadInput, LabelkitError

UNITS = (
    "Write one of: g, kg, mg, mL, L, lb, oz, ozt, grain, drachm, drop, US fl oz, "
    "imp fl oz (and so on from minim to gallon)."
)
KITCHEN = (
    "is a kitchen measure that differs from house to house. "
    "Weigh a powder in g, measure a liquid in mL."
)


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("1,000 g", "'1,000 g' can be read in two ways. Write 1000 g or 1.000 g."),
        ("12,500 g", "'12,500 g' can be read in two ways. Write 12500 g or 12.500 g."),
        (
            "1.000,5 g",
            "'1.000,5 g' has more than one point or comma in its number. "
            "Write one decimal point and no thousands sign, such as 1000.5.",
        ),
        (
            "1 000 g",
            "'1 000 g' has more than one number. "
            "Write one number without spaces in it, and one unit.",
        ),
        (
            "1 1/2 oz",
            "'1 1/2 oz' has a fraction. Write it as a decimal number, such as 0.5.",
        ),
        ("½ oz", "'½ oz' has a fraction. Write it as a decimal number, such as 0.5."),
        ("nan g", "'nan g' does not start with a number. Write a number and its unit."),
        ("inf g", "'inf g' does not start with a number. Write a number and its unit."),
        ("", "'' does not start with a number. Write a number and its unit."),
        ("-5 g", "'-5 g' is not more than 0. Write a number above 0."),
        ("−5 g", "'−5 g' is not more than 0. Write a number above 0."),
        ("0 g", "'0 g' is not more than 0. Write a number above 0."),
        ("0.00 mL", "'0.00 mL' is not more than 0. Write a number above 0."),
        (
            "1e308 g",
            "'1e308 g' is more than is ever mixed. Write at most 1000 kg.",
        ),
        (
            "1e308 US fl oz",
            "'1e308 US fl oz' is more than is ever mixed. Write at most 10 000 L.",
        ),
        (
            "1e-300 g",
            "'1e-300 g' is less than can be measured. Write at least 0.000001 g.",
        ),
        ("5 gr", "'5 gr' does not say which: grain or gram? Write g or grain."),
        (
            "5 dram",
            "'5 dram' does not say which: the drachm of 60 grains, or a sixteenth of "
            "an oz? Write drachm, or the amount in g.",
        ),
        (
            # 8 x 29.573 529 6 and 8 x 28.413 062 5 mL, NIST SP 811, Appendix B.8
            "8 fl oz",
            "'8 fl oz' does not say which: US (236.6 mL) or imperial (227.3 mL)? "
            "Write US fl oz or imp fl oz.",
        ),
        (
            "1 pint",
            "'1 pint' does not say which: US (473.2 mL) or imperial (568.3 mL)? "
            "Write US pint or imp pint.",
        ),
        (
            "2 gallons",
            "'2 gallons' does not say which: US (7571 mL) or imperial (9092 mL)? "
            "Write US gallons or imp gallons.",
        ),
        ("1 cup", f"'1 cup' {KITCHEN}"),
        ("1 tsp", f"'1 tsp' {KITCHEN}"),
        (
            "1 part",
            "'1 part' is a share, not an amount. Write how many g or mL one part is.",
        ),
        ("5", f"'5' has no unit. {UNITS}"),
        ("5 mls", f"'5 mls' has an unknown unit. {UNITS}"),
        ("5 Mg", f"'5 Mg' has an unknown unit. {UNITS}"),
        ("5 % w/v", f"'5 % w/v' has an unknown unit. {UNITS}"),
        ("5 g\x1b[31m", f"'5 g�[31m' has an unknown unit. {UNITS}"),
    ],
)
def test_an_amount_that_is_unclear_is_refused(text: str, line: str) -> None:
    with pytest.raises(BadInput) as caught:
        parse_amount(text)
    assert str(caught.value) == line


@pytest.mark.parametrize("unit", ["G", "KG", "Kg", "ML", "Ml", "MG"])
def test_a_symbol_in_another_case_is_another_unit(unit: str) -> None:
    with pytest.raises(BadInput, match="unknown unit"):
        parse_amount(f"5 {unit}")


@pytest.mark.parametrize(
    ("largest", "just_over"),
    [("1000 kg", "1000000.001 g"), ("10000 L", "10000000.001 mL")],
)
def test_the_largest_amount_is_read_and_the_next_is_not(
    largest: str, just_over: str
) -> None:
    assert parse_amount(largest).number in {Decimal(1_000_000), Decimal(10_000_000)}
    with pytest.raises(BadInput, match="more than is ever mixed"):
        parse_amount(just_over)


def test_the_smallest_amount_is_read_and_the_next_is_not() -> None:
    assert parse_amount("0.000001 g").number == Decimal("0.000001")
    with pytest.raises(BadInput, match="less than can be measured"):
        parse_amount("0.0000009 g")


def test_a_long_value_is_cut_in_the_message() -> None:
    with pytest.raises(BadInput) as caught:
        parse_amount("5 " + "x" * 10_000)
    assert len(str(caught.value)) < 300


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("40", "'40' does not say of which scale. Write degC or degF."),
        ("40 K", "'40 K' has an unknown unit. Write degC or degF."),
        (
            "-274 degC",
            "'-274 degC' is no temperature that is met here. "
            "Write one between -273.15 and 1000 degC.",
        ),
        ("warm", "'warm' does not start with a number. Write a number and its unit."),
    ],
)
def test_a_temperature_that_is_unclear_is_refused(text: str, line: str) -> None:
    with pytest.raises(BadInput) as caught:
        parse_temperature(text)
    assert str(caught.value) == line


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("1.33", "'1.33' has no unit. Write it as 1.02 g/mL."),
        ("1.33 g", "'1.33 g' has an unknown unit. Write it as 1.02 g/mL."),
        (
            "13.6 g/mL",
            "'13.6 g/mL' is the density of no liquid that is mixed here. "
            "Write one between 0.5 and 4 g/mL.",
        ),
    ],
)
def test_a_density_that_is_unclear_is_refused(text: str, line: str) -> None:
    with pytest.raises(BadInput) as caught:
        parse_density(text)
    assert str(caught.value) == line


@given(st.text(max_size=30))
def test_whatever_is_written_is_read_or_refused_in_one_line(text: str) -> None:
    for parse in (parse_amount, parse_temperature, parse_density):
        try:
            said = str(parse(text))
        except LabelkitError as error:
            said = str(error)
        assert "\n" not in said


@given(
    st.sampled_from(["1,5 g", "1 000 g", "5 gr", "1/2 oz", "1e5 kg", "0 g", "5 fl oz"]),
    st.text(alphabet="0123456789,. g", max_size=3),
)
def test_near_amounts_never_give_nothing_or_less(start: str, more: str) -> None:
    try:
        amount = parse_amount(start + more)
    except BadInput:
        return
    assert amount.number > 0
    assert amount.number.is_finite()
