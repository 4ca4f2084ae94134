"""Annex I, 3.2: Tables 3.2.3 and 3.2.4, Table 1.1, specific limits of Annex VI."""

import pytest

from labelkit.hazards.data import HazardData
from tests.hazards.making import (
    ACETIC_ACID,
    HYDROCHLORIC_ACID,
    HYDROGEN_PEROXIDE,
    NEUTRAL,
    SODIUM_HYDROXIDE,
    SULFURIC_ACID,
    chemical,
    limit,
    reached_in,
    said_by,
    verdict,
)

CORR_1 = chemical("corrosive", "Skin Corr. 1")
CORR_A = chemical("corrosive a", "Skin Corr. 1A")
CORR_B = chemical("corrosive b", "Skin Corr. 1B")
CORR_C = chemical("corrosive c", "Skin Corr. 1C")
IRRIT = chemical("irritant", "Skin Irrit. 2")
IRRIT_TOO = chemical("other irritant", "Skin Irrit. 2")
ALONE_CORR = chemical("salt", "Skin Corr. 1B", non_additive=True)
ALONE_IRRIT = chemical("surfactant", "Skin Irrit. 2", non_additive=True)
FLAGGED_ACID = chemical("acid salt", non_additive=True, tags=("strong-acid",))


def skin(*parts: tuple[HazardData, str], regime: str = "eu-clp") -> str:
    return "".join(reached_in("Skin ", *parts, regime=regime, ph=NEUTRAL))


@pytest.mark.parametrize(
    ("parts", "expected"),
    [
        # Regulation (EC) No 1272/2008, Annex I, Table 3.2.3
        pytest.param([(CORR_1, "5")], "Skin Corr. 1", id="row 1 at the limit"),
        pytest.param([(CORR_1, "4.99")], "Skin Irrit. 2", id="row 1 just under"),
        pytest.param(
            [(CORR_B, "3.9"), (CORR_C, "1.1")], "Skin Corr. 1C", id="row 1 by sum"
        ),
        pytest.param(
            [(CORR_B, "3.89"), (CORR_C, "1.1")], "Skin Irrit. 2", id="sum just under"
        ),
        pytest.param([(CORR_1, "1")], "Skin Irrit. 2", id="row 1 right at the limit"),
        pytest.param([(CORR_1, "0.99")], "", id="row 1 right just under"),
        pytest.param([(IRRIT, "10")], "Skin Irrit. 2", id="row 2 at the limit"),
        pytest.param([(IRRIT, "9.99")], "", id="row 2 just under"),
        pytest.param(
            [(IRRIT, "8.9"), (IRRIT_TOO, "1.1")], "Skin Irrit. 2", id="row 2 by sum"
        ),
        pytest.param([(IRRIT, "8.89"), (IRRIT_TOO, "1.1")], "", id="row 2 sum under"),
        # Table 1.1: below 1 % an ingredient is left out, even where the sum would do
        pytest.param(
            [(IRRIT, "9.1"), (IRRIT_TOO, "0.99")], "", id="Table 1.1 cut-off, under"
        ),
        pytest.param(
            [(IRRIT, "9.1"), (IRRIT_TOO, "1")], "Skin Irrit. 2", id="Table 1.1 at it"
        ),
        pytest.param(
            [(CORR_1, "0.99"), (IRRIT, "9.9")], "", id="row 3 below the cut-off"
        ),
    ],
)
def test_table_3_2_3(parts: list[tuple[HazardData, str]], expected: str) -> None:
    assert skin(*parts) == expected


@pytest.mark.parametrize(
    ("parts", "expected"),
    [
        # Note under Table 3.2.3
        ([(CORR_A, "5")], "Skin Corr. 1A"),
        ([(CORR_A, "4.9"), (CORR_B, "1")], "Skin Corr. 1B"),
        ([(CORR_A, "3"), (CORR_B, "1"), (CORR_C, "1")], "Skin Corr. 1C"),
        ([(CORR_A, "5"), (CORR_1, "1")], "Skin Corr. 1"),
        ([(CORR_A, "5"), (CORR_1, "0.9")], "Skin Corr. 1A"),
    ],
)
def test_the_sub_category_follows_the_note_below_the_table(
    parts: list[tuple[HazardData, str]], expected: str
) -> None:
    assert skin(*parts) == expected


@pytest.mark.parametrize(
    ("part", "expected"),
    [
        # Table 3.2.4, left column by flag
        ((ALONE_CORR, "1"), "Skin Corr. 1"),
        ((ALONE_CORR, "0.99"), ""),
        ((ALONE_IRRIT, "3"), "Skin Irrit. 2"),
        ((ALONE_IRRIT, "2.99"), ""),
        ((FLAGGED_ACID, "1"), "Skin Corr. 1"),
        ((FLAGGED_ACID, "0.99"), ""),
    ],
)
def test_table_3_2_4_where_adding_up_does_not_apply(
    part: tuple[HazardData, str], expected: str
) -> None:
    assert skin(part) == expected


@pytest.mark.parametrize(
    ("part", "expected"),
    [
        # Annex VI, Table 3, specific limits; see making.py
        ((SODIUM_HYDROXIDE, "5"), "Skin Corr. 1A"),
        ((SODIUM_HYDROXIDE, "4.99"), "Skin Corr. 1B"),
        ((SODIUM_HYDROXIDE, "2"), "Skin Corr. 1B"),
        ((SODIUM_HYDROXIDE, "1.99"), "Skin Irrit. 2"),
        ((SODIUM_HYDROXIDE, "0.5"), "Skin Irrit. 2"),
        ((SODIUM_HYDROXIDE, "0.49"), ""),
        ((ACETIC_ACID, "90"), "Skin Corr. 1A"),
        ((ACETIC_ACID, "89.9"), "Skin Corr. 1B"),
        ((ACETIC_ACID, "25"), "Skin Corr. 1B"),
        ((ACETIC_ACID, "24.9"), "Skin Irrit. 2"),
        ((ACETIC_ACID, "10"), "Skin Irrit. 2"),
        ((ACETIC_ACID, "9.99"), ""),
        ((SULFURIC_ACID, "15"), "Skin Corr. 1A"),
        ((SULFURIC_ACID, "14.9"), "Skin Irrit. 2"),
        ((SULFURIC_ACID, "5"), "Skin Irrit. 2"),
        ((SULFURIC_ACID, "4.99"), ""),
        ((HYDROCHLORIC_ACID, "25"), "Skin Corr. 1B"),
        ((HYDROCHLORIC_ACID, "24.9"), "Skin Irrit. 2"),
        ((HYDROCHLORIC_ACID, "10"), "Skin Irrit. 2"),
        ((HYDROCHLORIC_ACID, "9.99"), ""),
        ((HYDROGEN_PEROXIDE, "70"), "Skin Corr. 1A"),
        ((HYDROGEN_PEROXIDE, "69.9"), "Skin Corr. 1B"),
        ((HYDROGEN_PEROXIDE, "50"), "Skin Corr. 1B"),
        ((HYDROGEN_PEROXIDE, "49.9"), "Skin Irrit. 2"),
        ((HYDROGEN_PEROXIDE, "35"), "Skin Irrit. 2"),
        ((HYDROGEN_PEROXIDE, "34.9"), ""),
    ],
)
def test_specific_limits_go_before_the_generic_ones(
    part: tuple[HazardData, str], expected: str
) -> None:
    assert skin(part) == expected


@pytest.mark.parametrize(
    ("parts", "expected"),
    [
        # ECHA guidance, additivity with specific limits: sum of share over limit
        ([(SODIUM_HYDROXIDE, "1"), (CORR_B, "2.5")], "Skin Corr. 1B"),  # 1/2 + 2.5/5
        ([(SODIUM_HYDROXIDE, "0.99"), (CORR_B, "2.5")], "Skin Irrit. 2"),
        ([(ACETIC_ACID, "5"), (IRRIT, "5")], "Skin Irrit. 2"),  # 5/10 + 5/10
        ([(ACETIC_ACID, "4.99"), (IRRIT, "5")], ""),
    ],
)
def test_specific_and_generic_limits_add_up_in_fractions(
    parts: list[tuple[HazardData, str]], expected: str
) -> None:
    assert skin(*parts) == expected


def test_thirds_add_up_to_exactly_one() -> None:
    limited = [
        chemical(f"third {n}", "Skin Irrit. 2", limits=(limit("Skin Irrit. 2", "3"),))
        for n in range(3)
    ]
    assert skin(*((one, "1") for one in limited)) == "Skin Irrit. 2"


def test_tenths_that_floats_would_miss_reach_the_limit() -> None:
    assert skin((CORR_A, "4.8"), (CORR_B, "0.1"), (CORR_C, "0.1")) == "Skin Irrit. 2"
    parts = [(chemical(f"part {n}", "Skin Corr. 1"), "1.1") for n in range(3)]
    assert skin(*parts, (CORR_1, "1.7")) == "Skin Corr. 1"  # 1.1 x 3 + 1.7 = 5


def test_a_limit_for_a_class_the_entry_does_not_carry_is_enough() -> None:
    data = chemical("oddity", limits=(limit("Skin Irrit. 2", "4"),))
    assert skin((data, "4")) == "Skin Irrit. 2"
    assert skin((data, "3.99")) == ""


@pytest.mark.parametrize(
    ("parts", "expected"),
    [
        # GHS Table 3.2.3, category 3 (from memory); the EU has no such category
        ([(IRRIT, "1")], "Skin Irrit. 3"),
        ([(IRRIT, "0.99")], ""),
        ([(chemical("mild", "Skin Irrit. 3"), "10")], "Skin Irrit. 3"),
        ([(chemical("mild", "Skin Irrit. 3"), "9.99")], ""),
        ([(IRRIT, "10")], "Skin Irrit. 2"),
    ],
)
def test_mild_irritation_exists_in_the_un_system_alone(
    parts: list[tuple[HazardData, str]], expected: str
) -> None:
    assert skin(*parts, regime="un-ghs") == expected
    assert skin(*parts) == (expected if expected == "Skin Irrit. 2" else "")


def test_what_table_3_2_4_would_say_is_told_where_adding_up_is_used() -> None:
    found = verdict((CORR_B, "3"), ph=NEUTRAL)
    assert said_by("Table 3.2.4", found) == [
        "adding up is used; without it corrosive b 3 % would reach this from 1 %"
    ]


def test_reasons_name_the_ingredients_their_shares_the_sum_and_the_table() -> None:
    found = verdict((CORR_A, "4"), (CORR_B, "2"), (IRRIT, "0.5"), ph=NEUTRAL)
    said = {(r.hazard_class, r.rule, r.text) for r in found.because}
    assert (
        "Skin Corr. 1B",
        "Table 3.2.3",
        "corrosive a 4 % + corrosive b 2 % = 6 % ≥ 5 %",
    ) in said
    assert (
        "Skin",
        "Table 1.1",
        "irritant 0.5 % is below its cut-off of 1 %: left out",
    ) in said
