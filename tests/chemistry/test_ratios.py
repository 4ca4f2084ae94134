"""Ratios are written with plus signs; a colon can be read in two ways."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.chemistry.ratios import parse_ratio
from labelkit.errors import BadInput


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("1+9", ("1", "9")),
        ("1 + 1 + 100", ("1", "1", "100")),
        ("0.5+10", ("0.5", "10")),
        ("1,5+10", ("1.5", "10")),
    ],
)
def test_ratios_are_read(text: str, parts: tuple[str, ...]) -> None:
    assert parse_ratio(text) == tuple(map(Decimal, parts))


@pytest.mark.parametrize(
    ("text", "line"),
    [
        (
            "1:10",
            "'1:10' can be read as 1+9 (the last number is the whole) or as 1+10 "
            "(the last number is a part). Write 1+9 or 1+10.",
        ),
        (
            "1/10",
            "'1/10' can be read as 1+9 (the last number is the whole) or as 1+10 "
            "(the last number is a part). Write 1+9 or 1+10.",
        ),
        (
            "1:1:100",
            "'1:1:100' can be read as 1+1+98 (the last number is the whole) or as "
            "1+1+100 (the last number is a part). Write 1+1+98 or 1+1+100.",
        ),
        ("1:1", "'1:1' is not written with plus signs. Write 1+1."),
        (
            "10",
            "'10' is a ratio of one part. Write the parts joined by +, such as 1+9.",
        ),
        (
            "1+0",
            "'1+0' is no ratio: '0' is no number of parts. "
            "Write the parts joined by +, such as 1+9.",
        ),
        (
            "1+",
            "'1+' is no ratio: '' is no number of parts. "
            "Write the parts joined by +, such as 1+9.",
        ),
        (
            "1+9 mL",
            "'1+9 mL' is no ratio: '9 mL' is no number of parts. "
            "Write the parts joined by +, such as 1+9.",
        ),
        (
            "1+100001",
            "'1+100001' is thinner than is ever mixed. Dilute in two steps.",
        ),
    ],
)
def test_a_ratio_that_is_unclear_is_refused(text: str, line: str) -> None:
    with pytest.raises(BadInput) as caught:
        parse_ratio(text)
    assert str(caught.value) == line


@given(st.lists(st.integers(1, 1000), min_size=2, max_size=5))
def test_whole_parts_are_read_back(parts: list[int]) -> None:
    assert parse_ratio("+".join(map(str, parts))) == tuple(map(Decimal, parts))


@given(st.text(alphabet="0123456789+:/., g", max_size=12))
def test_whatever_is_written_gives_positive_parts_or_one_line(text: str) -> None:
    try:
        parts, said = parse_ratio(text), ""
    except BadInput as error:
        parts, said = (), str(error)
    assert "\n" not in said
    assert said or len(parts) > 1
    assert all(part > 0 for part in parts)
