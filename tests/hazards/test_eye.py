"""Annex I, 3.3: Tables 3.3.3 and 3.3.4, Table 1.1, specific limits of Annex VI."""

import pytest

from labelkit.hazards.data import HazardData
from tests.hazards.making import (
    ACETIC_ACID,
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

DAMAGE = chemical("damaging", "Eye Dam. 1")
DAMAGE_TOO = chemical("also damaging", "Eye Dam. 1")
CORR = chemical("corrosive", "Skin Corr. 1C")
BOTH = chemical("both", "Skin Corr. 1B", "Eye Dam. 1")
IRRIT = chemical("irritant", "Eye Irrit. 2")
IRRIT_TOO = chemical("other irritant", "Eye Irrit. 2")
ALONE_DAM = chemical("phenol", "Eye Dam. 1", non_additive=True)
ALONE_IRRIT = chemical("aldehyde", "Eye Irrit. 2", non_additive=True)


def eye(*parts: tuple[HazardData, str], regime: str = "eu-clp") -> str:
    return "".join(reached_in("Eye ", *parts, regime=regime, ph=NEUTRAL))


@pytest.mark.parametrize(
    ("parts", "expected"),
    [
        # Regulation (EC) No 1272/2008, Annex I, Table 3.3.3
        pytest.param([(DAMAGE, "3")], "Eye Dam. 1", id="row 1 at the limit"),
        pytest.param([(DAMAGE, "2.99")], "Eye Irrit. 2", id="row 1 just under"),
        pytest.param([(DAMAGE, "1.9"), (CORR, "1.1")], "Eye Dam. 1", id="row 1 by sum"),
        pytest.param(
            [(DAMAGE, "1.89"), (CORR, "1.1")], "Eye Irrit. 2", id="row 1 sum under"
        ),
        pytest.param([(BOTH, "2.9")], "Eye Irrit. 2", id="counted once"),
        pytest.param([(DAMAGE, "1")], "Eye Irrit. 2", id="row 1 right at the limit"),
        pytest.param([(DAMAGE, "0.99")], "", id="row 1 right just under"),
        pytest.param([(IRRIT, "10")], "Eye Irrit. 2", id="row 2 at the limit"),
        pytest.param([(IRRIT, "9.99")], "", id="row 2 just under"),
        pytest.param(
            [(IRRIT, "8.9"), (IRRIT_TOO, "1.1")], "Eye Irrit. 2", id="row 2 by sum"
        ),
        # Table 1.1
        pytest.param(
            [(DAMAGE, "2.1"), (DAMAGE_TOO, "0.99")], "Eye Irrit. 2", id="cut-off under"
        ),
        pytest.param(
            [(DAMAGE, "2"), (DAMAGE_TOO, "1")], "Eye Dam. 1", id="cut-off at it"
        ),
        pytest.param([(IRRIT, "9.1"), (IRRIT_TOO, "0.99")], "", id="irritant under"),
    ],
)
def test_table_3_3_3(parts: list[tuple[HazardData, str]], expected: str) -> None:
    assert eye(*parts) == expected


@pytest.mark.parametrize(
    ("part", "expected"),
    [
        # Table 3.3.4, by flag
        ((ALONE_DAM, "1"), "Eye Dam. 1"),
        ((ALONE_DAM, "0.99"), ""),
        ((ALONE_IRRIT, "3"), "Eye Irrit. 2"),
        ((ALONE_IRRIT, "2.99"), ""),
    ],
)
def test_table_3_3_4_where_adding_up_does_not_apply(
    part: tuple[HazardData, str], expected: str
) -> None:
    assert eye(part) == expected


def test_own_limits_go_before_those_of_table_3_3_4() -> None:
    data = chemical("p", limits=(limit("Eye Dam. 1", "7"),), non_additive=True)
    assert eye((data, "7")) == "Eye Dam. 1"
    assert eye((data, "6.99")) == "Eye Irrit. 2"


def test_a_flagged_strong_base_damages_eyes_from_one_percent() -> None:
    # Table 3.3.4, rows 1 and 2
    data = chemical("base", non_additive=True, tags=("strong-base",))
    assert eye((data, "1")) == "Eye Dam. 1"
    assert eye((data, "0.99")) == ""


@pytest.mark.parametrize(
    ("part", "expected"),
    [
        # Annex VI, Table 3; where skin has a limit and the eye none, the lowest of skin
        ((SODIUM_HYDROXIDE, "2"), "Eye Dam. 1"),
        ((SODIUM_HYDROXIDE, "1.99"), "Eye Irrit. 2"),
        ((SODIUM_HYDROXIDE, "0.5"), "Eye Irrit. 2"),
        ((SODIUM_HYDROXIDE, "0.49"), ""),
        ((ACETIC_ACID, "25"), "Eye Dam. 1"),
        ((ACETIC_ACID, "24.9"), "Eye Irrit. 2"),
        ((ACETIC_ACID, "10"), "Eye Irrit. 2"),
        ((ACETIC_ACID, "9.99"), ""),
        ((SULFURIC_ACID, "15"), "Eye Dam. 1"),
        ((SULFURIC_ACID, "14.9"), "Eye Irrit. 2"),
        ((SULFURIC_ACID, "5"), "Eye Irrit. 2"),
        ((SULFURIC_ACID, "4.99"), ""),
        ((HYDROGEN_PEROXIDE, "8"), "Eye Dam. 1"),
        ((HYDROGEN_PEROXIDE, "7.99"), "Eye Irrit. 2"),
        ((HYDROGEN_PEROXIDE, "5"), "Eye Irrit. 2"),
        ((HYDROGEN_PEROXIDE, "4.99"), ""),
    ],
)
def test_specific_limits_go_before_the_generic_ones(
    part: tuple[HazardData, str], expected: str
) -> None:
    assert eye(part) == expected


def test_an_entry_that_names_eye_damage_keeps_the_generic_limit() -> None:
    data = chemical(
        "mixed", "Skin Corr. 1B", "Eye Dam. 1", limits=(limit("Skin Corr. 1B", "25"),)
    )
    assert eye((data, "3")) == "Eye Dam. 1"
    assert eye((data, "2.99")) == "Eye Irrit. 2"


def test_limits_add_up_in_fractions() -> None:
    # 1/2 + 1.5/3 = 1 and 2.5/5 + 5/10 = 1
    assert eye((SODIUM_HYDROXIDE, "1"), (DAMAGE, "1.5")) == "Eye Dam. 1"
    assert eye((SODIUM_HYDROXIDE, "0.99"), (DAMAGE, "1.5")) == "Eye Irrit. 2"
    assert eye((SULFURIC_ACID, "2.5"), (IRRIT, "5")) == "Eye Irrit. 2"
    assert eye((SULFURIC_ACID, "2.49"), (IRRIT, "5")) == ""


def test_a_skin_corrosive_is_always_listed_with_eye_damage() -> None:
    # footnote to Table 3.3.5; 5 % reaches the skin limit of its own but not 8 % for eye
    data = chemical(
        "odd",
        "Skin Corr. 1B",
        limits=(limit("Skin Corr. 1B", "5"), limit("Eye Dam. 1", "8")),
    )
    assert eye((data, "5")) == "Eye Dam. 1"


@pytest.mark.parametrize("regime", ["un-ghs", "us-hcs"])
def test_category_2b_holds_only_where_every_irritant_is_2b(regime: str) -> None:
    # GHS 3.3.3, note to Table 3.3.3 (from memory)
    mild = chemical("mild", "Eye Irrit. 2B")
    assert eye((mild, "10"), regime=regime) == "Eye Irrit. 2B"
    assert eye((mild, "9"), (IRRIT, "1"), regime=regime) == "Eye Irrit. 2"
    assert eye((mild, "10")) == "Eye Irrit. 2"


def test_what_table_3_3_4_would_say_is_told_where_adding_up_is_used() -> None:
    found = verdict((DAMAGE, "2"), ph=NEUTRAL)
    assert said_by("Table 3.3.4", found) == [
        "adding up is used; without it damaging 2 % would reach this from 1 %"
    ]
