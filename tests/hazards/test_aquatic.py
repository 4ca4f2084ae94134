"""Annex I, 4.1: Tables 4.1.1 and 4.1.2, cut-offs of Table 1.1, M-factors."""

from decimal import Decimal

import pytest

from labelkit.hazards.data import HazardData
from tests.hazards.making import chemical, verdict

ACUTE_1 = chemical("a1", "Aquatic Acute 1", m_acute=Decimal(1))
CHRONIC = {
    n: chemical(f"c{n}", f"Aquatic Chronic {n}", m_chronic=Decimal(1))
    for n in (1, 2, 3, 4)
}


def with_m(m: int) -> HazardData:
    return chemical(
        "m",
        "Aquatic Acute 1",
        "Aquatic Chronic 1",
        m_acute=Decimal(m),
        m_chronic=Decimal(m),
    )


@pytest.mark.parametrize(
    ("parts", "expected"),
    [
        # Table 4.1.1
        ([(ACUTE_1, "25")], ("Aquatic Acute 1",)),
        ([(ACUTE_1, "24.99")], ()),
        # Table 4.1.2, row by row
        ([(CHRONIC[1], "25")], ("Aquatic Chronic 1",)),
        ([(CHRONIC[1], "24.99")], ("Aquatic Chronic 2",)),
        ([(CHRONIC[1], "2.5")], ("Aquatic Chronic 2",)),
        ([(CHRONIC[1], "2.49")], ("Aquatic Chronic 3",)),
        ([(CHRONIC[1], "0.25")], ("Aquatic Chronic 3",)),
        ([(CHRONIC[1], "0.249")], ()),
        ([(CHRONIC[2], "25")], ("Aquatic Chronic 2",)),
        ([(CHRONIC[2], "24.99")], ("Aquatic Chronic 3",)),
        ([(CHRONIC[2], "2.5")], ("Aquatic Chronic 3",)),
        ([(CHRONIC[2], "2.49")], ()),
        ([(CHRONIC[3], "25")], ("Aquatic Chronic 3",)),
        ([(CHRONIC[3], "24.99")], ()),
        ([(CHRONIC[4], "25")], ("Aquatic Chronic 4",)),
        ([(CHRONIC[4], "24.99")], ()),
        # by sum: 10 x 2 + 5 = 25; 100 x 0.1 + 10 x 1 + 5 = 25
        ([(CHRONIC[1], "2"), (CHRONIC[2], "5")], ("Aquatic Chronic 2",)),
        ([(CHRONIC[1], "2"), (CHRONIC[2], "4.99")], ("Aquatic Chronic 3",)),
        (
            [(CHRONIC[1], "0.1"), (CHRONIC[2], "1"), (CHRONIC[3], "5")],
            ("Aquatic Chronic 3",),
        ),
        ([(CHRONIC[1], "0.1"), (CHRONIC[2], "1"), (CHRONIC[3], "4.99")], ()),
        # Table 1.1: 0.1 % and 1 %
        ([(CHRONIC[1], "0.0999"), (CHRONIC[2], "1"), (CHRONIC[3], "14.9")], ()),
        ([(CHRONIC[2], "0.99"), (CHRONIC[3], "24.9")], ()),
        ([(CHRONIC[2], "1"), (CHRONIC[3], "15")], ("Aquatic Chronic 3",)),
    ],
)
def test_tables_4_1_1_and_4_1_2(
    parts: list[tuple[HazardData, str]], expected: tuple[str, ...]
) -> None:
    assert verdict(*parts).classes == expected


def test_the_m_factor_multiplies_category_1() -> None:
    found = verdict((with_m(100), "0.25"))
    assert found.classes == ("Aquatic Acute 1", "Aquatic Chronic 1")
    under = verdict((with_m(100), "0.249"))
    assert under.classes == ("Aquatic Chronic 2",)


def test_the_m_factor_lowers_the_cut_off() -> None:
    # 0.1 % / 1000 = 0.0001 %; 100 x 1000 x 0.00025 = 25
    assert verdict((with_m(1000), "0.00025")).classes == ("Aquatic Chronic 3",)
    said = verdict((with_m(1000), "0.00009")).because
    assert ["0.0001 %" in r.text for r in said if r.rule == "Table 1.1"] == [True, True]


def test_a_missing_m_factor_is_told() -> None:
    found = verdict((chemical("metol", "Aquatic Chronic 1"), "1"))
    assert found.notices == (
        "metol: no M-factor known: taken as 1, which may be too low for water life.",
    )
    assert not verdict((CHRONIC[1], "1")).notices


def test_acute_2_and_3_exist_in_the_un_system_alone() -> None:
    # GHS Table 4.1.3: 10 x M x Acute 1 + Acute 2; 100 x, 10 x, 1 x
    second = chemical("a2", "Aquatic Acute 2")
    assert verdict((ACUTE_1, "2.5"), regime="un-ghs").classes == ("Aquatic Acute 2",)
    assert verdict((ACUTE_1, "0.25"), regime="un-ghs").classes == ("Aquatic Acute 3",)
    assert verdict((second, "25"), regime="un-ghs").classes == ("Aquatic Acute 2",)
    assert verdict((second, "2.5"), regime="un-ghs").classes == ("Aquatic Acute 3",)
    assert verdict((second, "2.49"), regime="un-ghs").classes == ()
    assert verdict((ACUTE_1, "2.5"), (second, "50")).classes == ()


def test_american_rules_know_no_environment() -> None:
    assert verdict((with_m(100), "50"), regime="us-hcs").classes == ()
