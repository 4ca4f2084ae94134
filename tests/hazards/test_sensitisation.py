"""Annex I, 3.4: Tables 3.4.5 and 3.4.6; EUH208 of Annex II, 2.8."""

from decimal import Decimal

import pytest

from tests.hazards.making import AMMONIUM_DICHROMATE, chemical, limit, verdict


def just_under(value: str) -> str:
    return str(Decimal(value) * Decimal("0.999"))


@pytest.mark.parametrize("family", ["Resp. Sens.", "Skin Sens."])
@pytest.mark.parametrize(
    ("category", "at"),
    # Table 3.4.5, solids and liquids
    [("1", "1.0"), ("1A", "0.1"), ("1B", "1.0")],
)
def test_table_3_4_5(family: str, category: str, at: str) -> None:
    data = chemical("sensitiser", f"{family} {category}")
    assert verdict((data, at)).classes == (f"{family} 1",)
    assert verdict((data, just_under(at))).classes == ()


@pytest.mark.parametrize("regime", ["un-ghs", "us-hcs"])
def test_un_and_american_rules_take_a_tenth_of_a_percent(regime: str) -> None:
    # 29 CFR 1910.1200 Appendix A, Table A.4.5; GHS Table 3.4.5, the stricter (memory)
    data = chemical("sensitiser", "Skin Sens. 1")
    assert verdict((data, "0.1"), regime=regime).classes == ("Skin Sens. 1",)
    assert verdict((data, "0.099"), regime=regime).classes == ()


def test_sensitisers_are_not_added_up() -> None:
    parts = [(chemical(f"s{n}", "Skin Sens. 1"), "0.9") for n in range(3)]
    assert verdict(*parts).classes == ()


def test_a_specific_limit_replaces_the_generic_one() -> None:
    # Annex VI: ammonium dichromate 0.2 %
    at, under = (verdict((AMMONIUM_DICHROMATE, p)).classes for p in ("0.2", "0.199"))
    assert {"Resp. Sens. 1", "Skin Sens. 1"} <= set(at)
    assert not {"Resp. Sens. 1", "Skin Sens. 1"} & set(under)


@pytest.mark.parametrize(
    ("category", "at"),
    # Table 3.4.6
    [("1", "0.1"), ("1A", "0.01"), ("1B", "0.1")],
)
def test_table_3_4_6_gives_euh208(category: str, at: str) -> None:
    data = chemical("sensitiser", f"Skin Sens. {category}")
    found = verdict((data, at))
    assert (found.euh, found.euh208_names) == (("EUH208",), ("sensitiser",))
    assert not found.classes
    assert verdict((data, just_under(at))).euh == ()


def test_with_a_specific_limit_a_tenth_of_it_elicits() -> None:
    # Annex II, 2.10
    data = chemical("s", "Skin Sens. 1", limits=(limit("Skin Sens. 1", "0.2"),))
    assert verdict((data, "0.02")).euh == ("EUH208",)
    assert verdict((data, "0.019")).euh == ()


def test_on_a_classified_mixture_the_others_are_named_instead() -> None:
    strong = chemical("strong", "Skin Sens. 1")
    weak = chemical("weak", "Skin Sens. 1")
    found = verdict((strong, "1"), (weak, "0.1"))
    assert found.euh == ()
    assert found.names == ("strong", "weak")


def test_there_is_no_euh208_outside_europe() -> None:
    data = chemical("s", "Skin Sens. 1B")
    assert verdict((data, "0.5"), regime="gb-clp").euh == ("EUH208",)
    assert verdict((data, "0.5"), regime="un-ghs").euh == ()
    assert verdict((data, "0.5"), regime="us-hcs").euh == ()
