"""Annex I, 3.8 and 3.9: Tables 3.8.3 and 3.9.4, and 3.8.3.4.5."""

from decimal import Decimal

import pytest

from labelkit.hazards.data import HazardData
from tests.hazards.making import (
    HYDROCHLORIC_ACID,
    NEUTRAL,
    POTASSIUM_DICHROMATE,
    chemical,
    limit,
    reached_in,
    verdict,
)


def stot(*parts: tuple[HazardData, str], regime: str = "eu-clp") -> list[str]:
    return reached_in("STOT", *parts, regime=regime, ph=NEUTRAL)


@pytest.mark.parametrize("kind", ["STOT SE", "STOT RE"])
@pytest.mark.parametrize(
    ("category", "percent", "expected"),
    [
        # Tables 3.8.3 and 3.9.4
        ("1", "10", "1"),
        ("1", "9.99", "2"),
        ("1", "1", "2"),
        ("1", "0.99", ""),
        ("2", "10", "2"),
        ("2", "9.99", ""),
    ],
)
def test_tables_3_8_3_and_3_9_4(
    kind: str, category: str, percent: str, expected: str
) -> None:
    data = chemical("agent", f"{kind} {category}")
    assert stot((data, percent)) == ([f"{kind} {expected}"] if expected else [])


@pytest.mark.parametrize("kind", ["STOT SE", "STOT RE"])
def test_american_rules_take_one_percent(kind: str) -> None:
    # 29 CFR 1910.1200 Appendix A.8 and A.9; the agency's letter of 4 March 2014
    strong, weak = chemical("s", f"{kind} 1"), chemical("w", f"{kind} 2")
    assert stot((strong, "1"), regime="us-hcs") == [f"{kind} 1"]
    assert stot((strong, "0.99"), regime="us-hcs") == []
    assert stot((weak, "1"), regime="us-hcs") == [f"{kind} 2"]
    assert stot((weak, "0.99"), regime="us-hcs") == []


def test_categories_1_and_2_are_not_added_up() -> None:
    parts = [(chemical(f"a{n}", "STOT RE 2"), "9") for n in range(3)]
    assert stot(*parts) == []


@pytest.mark.parametrize("effect", ["H335", "H336"])
def test_category_3_is_added_up_to_twenty_percent(effect: str) -> None:
    # 3.8.3.4.5, and 1 % of Table 1.1
    one, two = (chemical(n, f"STOT SE 3 ({effect})") for n in ("one", "two"))
    assert stot((one, "20")) == [f"STOT SE 3 ({effect})"]
    assert stot((one, "19.99")) == []
    assert stot((one, "18.9"), (two, "1.1")) == [f"STOT SE 3 ({effect})"]
    assert stot((one, "18.9"), (two, "1.09")) == []
    assert stot((one, "19.1"), (two, "0.99")) == []


def test_the_two_effects_of_category_3_are_never_added() -> None:
    airways = chemical("airways", "STOT SE 3 (H335)")
    drowsy = chemical("drowsy", "STOT SE 3 (H336)")
    assert stot((airways, "15"), (drowsy, "15")) == []


@pytest.mark.parametrize(
    ("data", "at"),
    # Annex VI, Table 3; the dichromate carries no STOT SE 3, its limit alone is enough
    [(HYDROCHLORIC_ACID, "10"), (POTASSIUM_DICHROMATE, "5")],
)
def test_specific_limits_for_the_airways(data: HazardData, at: str) -> None:
    assert "STOT SE 3 (H335)" in stot((data, at))
    under = str(Decimal(at) * Decimal("0.999"))
    assert "STOT SE 3 (H335)" not in stot((data, under))


def test_category_3_adds_up_in_fractions() -> None:
    other = chemical("other", "STOT SE 3 (H335)")
    assert "STOT SE 3 (H335)" in stot((HYDROCHLORIC_ACID, "5"), (other, "10"))
    assert "STOT SE 3 (H335)" not in stot((HYDROCHLORIC_ACID, "5"), (other, "9.9"))


def test_specific_limits_for_categories_1_and_2() -> None:
    # Annex VI: methanol, STOT SE 1 from 10 %, STOT SE 2 from 3 to 10 % (from memory)
    methanol = chemical(
        "methanol",
        "STOT SE 1",
        limits=(limit("STOT SE 1", "10"), limit("STOT SE 2", "3", "10")),
    )
    assert stot((methanol, "10")) == ["STOT SE 1"]
    assert stot((methanol, "9.99")) == ["STOT SE 2"]
    assert stot((methanol, "3")) == ["STOT SE 2"]
    assert stot((methanol, "2.99")) == []


def test_the_organ_travels_with_the_statement() -> None:
    iodide = chemical("iodide", "STOT RE 1", organs={"H372": "thyroid"})
    assert verdict((iodide, "10")).organs == {"H372": "thyroid"}
    assert verdict((iodide, "5")).organs == {"H373": "thyroid"}


def test_no_organ_is_named_where_one_of_the_causes_names_none() -> None:
    iodide = chemical("iodide", "STOT RE 1", organs={"H372": "thyroid"})
    other = chemical("other", "STOT RE 1")
    assert verdict((iodide, "10"), (other, "10")).organs == {}
