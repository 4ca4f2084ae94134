"""Annex I, 3.1: Tables 3.1.1 and 3.1.2, formulas 3.1.3.6.1 and 3.1.3.6.2."""

from decimal import Decimal

import pytest

from labelkit.hazards.data import HazardData
from tests.hazards.making import chemical, limit, reached_in, verdict

# Table 3.1.1, upper ends of categories 1 to 4
ENDS = {
    "oral": ("5", "50", "300", "2000"),
    "dermal": ("50", "200", "1000", "2000"),
    "gas": ("100", "500", "2500", "20000"),
    "vapour": ("0.5", "2.0", "10.0", "20.0"),
    "dust/mist": ("0.05", "0.5", "1.0", "5.0"),
}
# Table 3.1.2, converted point estimates of categories 1 to 4
POINTS = {
    "oral": ("0.5", "5", "100", "500"),
    "dermal": ("5", "50", "300", "1100"),
    "gas": ("10", "100", "700", "4500"),
    "vapour": ("0.05", "0.5", "3", "11"),
    "dust/mist": ("0.005", "0.05", "0.5", "1.5"),
}
STEPS = [
    (route, n, end) for route, ends in ENDS.items() for n, end in enumerate(ends, 1)
]


def estimate(route: str, value: str, name: str = "poison") -> HazardData:
    return chemical(name, ate={route: Decimal(value)})


def acute(*parts: tuple[HazardData, str], regime: str = "eu-clp") -> list[str]:
    return reached_in("Acute", *parts, regime=regime)


@pytest.mark.parametrize(("route", "category", "end"), STEPS)
def test_the_upper_end_belongs_to_the_category(
    route: str, category: int, end: str
) -> None:
    whole = (estimate(route, end), "100")
    assert acute(whole) == [f"Acute Tox. {category} ({route})"]


@pytest.mark.parametrize(("route", "category", "end"), STEPS)
def test_just_above_the_upper_end_is_the_next_milder_category(
    route: str, category: int, end: str
) -> None:
    above = str(Decimal(end) * Decimal("1.001"))
    milder = [f"Acute Tox. {category + 1} ({route})"] if category < 4 else []
    assert acute((estimate(route, above), "100")) == milder


@pytest.mark.parametrize(
    ("route", "category"), [(route, n) for route in POINTS for n in (1, 2, 3, 4)]
)
def test_a_category_without_an_estimate_counts_at_its_converted_point(
    route: str, category: int
) -> None:
    data = chemical("poison", f"Acute Tox. {category} ({route})")
    found = verdict((data, "50"))
    assert found.ate_mix == {route: 2 * Decimal(POINTS[route][category - 1])}


def test_parts_add_up_as_reciprocals() -> None:
    # 20/400 + 30/500 = 0.11; 100/0.11 = 909.09, category 4
    found = verdict(
        (estimate("oral", "400", "a"), "20"), (estimate("oral", "500"), "30")
    )
    assert found.classes == ("Acute Tox. 4 (oral)",)
    assert found.ate_mix["oral"] == Decimal(10000) / Decimal(11)


def test_the_sum_is_compared_exactly() -> None:
    # 5 x 3/100 = 0.15; 100/0.15 = 666.67; with 5 x 1/15: 100 / (1/3) = 300 exactly
    parts = [(estimate("oral", "15", f"p{n}"), "1") for n in range(5)]
    assert acute(*parts) == ["Acute Tox. 3 (oral)"]
    parts[0] = (estimate("oral", "15.001", "p0"), "1")
    assert acute(*parts) == ["Acute Tox. 4 (oral)"]


@pytest.mark.parametrize(
    ("category", "cut_off"), [(1, "0.1"), (2, "0.1"), (3, "0.1"), (4, "1")]
)
def test_below_its_cut_off_an_ingredient_is_left_out(
    category: int, cut_off: str
) -> None:
    # Table 1.1
    data = chemical("poison", f"Acute Tox. {category} (oral)")
    assert "oral" in verdict((data, cut_off)).ate_mix
    under = str(Decimal(cut_off) - Decimal("0.001"))
    assert "oral" not in verdict((data, under)).ate_mix


def test_an_estimate_outside_every_category_is_left_out() -> None:
    # UN guidance, example 3.1(a): 3450 mg/kg counts there, under CLP it does not
    data = estimate("oral", "3450")
    assert verdict((data, "80")).ate_mix == {}
    assert acute((data, "80"), regime="un-ghs") == ["Acute Tox. 5 (oral)"]
    assert acute((data, "80"), regime="us-hcs") == []


def test_the_more_severe_of_estimate_and_category_is_used() -> None:
    # Annex VI, 1.2.1: its categories are minimum classifications
    severe = chemical("p", "Acute Tox. 4 (oral)", ate={"oral": Decimal(100)})
    mild = chemical("p", "Acute Tox. 3 (oral)", ate={"oral": Decimal(900)})
    same = chemical("p", "Acute Tox. 4 (oral)", ate={"oral": Decimal(481)})
    assert verdict((severe, "100")).ate_mix == {"oral": 100}
    assert verdict((mild, "100")).ate_mix == {"oral": 100}
    assert verdict((same, "100")).ate_mix == {"oral": 481}


def test_up_to_ten_percent_unknown_stays_in_the_hundred() -> None:
    poison = estimate("oral", "400")
    unknown = chemical("unknown", unknown_acute=("oral",))
    found = verdict((poison, "50"), (unknown, "10"))
    assert found.ate_mix == {"oral": 800}
    assert found.unknown == {"oral": 10}
    more = verdict((poison, "50"), (unknown, "10.1"))
    assert more.ate_mix == {"oral": Decimal("719.2")}  # (100 - 10.1) / (50/400)
    assert more.unknown == {"oral": Decimal("10.1")}


def test_less_than_one_percent_unknown_is_not_counted() -> None:
    poison = estimate("oral", "400")
    unknown = chemical("unknown", unknown_acute=("oral",))
    assert verdict((poison, "50"), (unknown, "0.99")).unknown == {}
    assert verdict((poison, "50"), (unknown, "1")).unknown == {"oral": 1}


def test_a_chemical_without_any_data_is_unknown_by_every_route() -> None:
    nothing = HazardData("amidol", "amidol")
    poison = chemical("p", "Acute Tox. 3 (oral)", "Acute Tox. 3 (vapour)")
    found = verdict((poison, "50"), (nothing, "20"))
    assert found.unknown == {"oral": 20, "vapour": 20}
    assert found.no_data == ("amidol",)


def test_a_route_nobody_has_data_for_is_told_as_not_determined() -> None:
    flagged = chemical("flagged", unknown_acute=("dermal",))
    found = verdict((flagged, "11"))
    assert found.unknown == {}
    assert "dermal toxicity" in found.not_determined
    assert "dermal toxicity" not in verdict((flagged, "0.9")).not_determined


def test_inhalation_may_be_flagged_as_a_whole() -> None:
    flagged = chemical("flagged", unknown_acute=("inhalation",))
    poison = chemical("p", "Acute Tox. 3 (dust/mist)")
    assert verdict((poison, "50"), (flagged, "5")).unknown == {"dust/mist": 5}


def test_routes_are_judged_each_by_itself() -> None:
    data = chemical("p", "Acute Tox. 2 (dermal)", "Acute Tox. 4 (oral)")
    assert acute((data, "90")) == ["Acute Tox. 2 (dermal)", "Acute Tox. 4 (oral)"]


@pytest.mark.parametrize(
    ("route", "category"), [(route, n) for route in POINTS for n in (1, 2, 3, 4)]
)
def test_a_substance_by_itself_keeps_its_own_category(
    route: str, category: int
) -> None:
    # the points of categories 2 lie on the upper ends of categories 1
    data = chemical("p", f"Acute Tox. {category} ({route})")
    assert acute((data, "100")) == [f"Acute Tox. {category} ({route})"]


def test_an_own_limit_for_an_acute_class_is_enough() -> None:
    data = chemical("p", limits=(limit("Acute Tox. 3 (oral)", "25"),))
    assert acute((data, "25")) == ["Acute Tox. 3 (oral)"]
    assert acute((data, "24.9")) == []


def test_only_those_that_reach_the_category_are_named() -> None:
    big, small = estimate("oral", "100", "big"), estimate("oral", "2000", "small")
    assert verdict((big, "50"), (small, "20")).names == ("big",)


def test_the_reason_shows_the_sum() -> None:
    found = verdict((estimate("oral", "400"), "50"))
    (reason,) = [r for r in found.because if r.rule == "3.1.3.6.1"]
    assert reason.hazard_class == "Acute Tox. 4 (oral)"
    assert reason.text == "poison 50 ÷ 400: estimate 800"
