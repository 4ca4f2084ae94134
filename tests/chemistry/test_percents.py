"""Percentages say of what; an assay need not."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.chemistry.percents import Basis, Percent, parse_assay, parse_percent
from labelkit.errors import BadInput


@pytest.mark.parametrize(
    ("text", "value", "basis"),
    [
        ("20 % w/v", "20", "w/v"),
        ("20% w/w", "20", "w/w"),
        ("2,5 % v/v", "2.5", "v/v"),
        ("20 % (w/v)", "20", "w/v"),
        ("20 % m/v", "20", "w/v"),
        ("20 % m/m", "20", "w/w"),
        ("100 % w/w", "100", "w/w"),
        ("150 % w/v", "150", "w/v"),
    ],
)
def test_percentages_are_read(text: str, value: str, basis: str) -> None:
    assert parse_percent(text) == Percent(Decimal(value), Basis(basis))


@pytest.mark.parametrize(
    ("text", "line"),
    [
        (
            "20 %",
            "'20 %' does not say of what: w/v is 20 g in 100 mL (200 g/L), "
            "w/w is 20 g in 100 g of solution, v/v is 20 mL in 100 mL. "
            "Write 20 % w/v, 20 % w/w or 20 % v/v.",
        ),
        ("20", "'20' has no unit. Write it as 20 % w/v."),
        ("20 g", "'20 g' is no percentage. Write it as 20 % w/v."),
        (
            "20 % v/w",
            "'20 % v/w' is a percentage of something unknown. "
            "Write % w/v, % w/w or % v/v.",
        ),
        (
            "100.1 % w/w",
            "'100.1 % w/w' is more than there can be. Write at most 100 % w/w.",
        ),
        ("0 % w/v", "'0 % w/v' is not more than 0. Write a number above 0."),
    ],
)
def test_a_percentage_that_is_unclear_is_refused(text: str, line: str) -> None:
    with pytest.raises(BadInput) as caught:
        parse_percent(text)
    assert str(caught.value) == line


@pytest.mark.parametrize(
    ("text", "percent"),
    [("98 %", "98"), ("98%", "98"), ("99,5 %", "99.5"), ("100 %", "100")],
)
def test_an_assay_is_read_from_a_bare_percentage(text: str, percent: str) -> None:
    assert parse_assay(text) == Decimal(percent)
    assert parse_assay(f"{text} w/w") == Decimal(percent)


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("98", "'98' has no unit. Write an assay as 98 %."),
        ("98 % w/v", "'98 % w/v' is no share by mass. Write an assay as 98 %."),
        (
            "100.1 %",
            "'100.1 %' is more than there can be. Write at most 100 %; a hydrate that "
            "has dried out is over 100 % of itself: name the drier form instead.",
        ),
        ("0 %", "'0 %' is not more than 0. Write a number above 0."),
    ],
)
def test_an_assay_that_cannot_be_is_refused(text: str, line: str) -> None:
    with pytest.raises(BadInput) as caught:
        parse_assay(text)
    assert str(caught.value) == line


@given(
    st.decimals(Decimal("0.01"), Decimal(100), places=2),
    st.sampled_from(list(Basis)),
)
def test_a_percentage_is_read_back_as_it_prints(value: Decimal, basis: Basis) -> None:
    percent = Percent(value, basis)
    assert parse_percent(str(percent)) == percent
