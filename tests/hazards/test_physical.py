"""Annex I part 2: what can be computed, and what is told as not determined."""

from decimal import Decimal
from typing import Any

import pytest

from labelkit.hazards.data import HazardData
from tests.hazards.making import (
    ACETIC_ACID,
    HYDROGEN_PEROXIDE,
    POTASSIUM_DICHROMATE,
    chemical,
    measured,
    reached_in,
    verdict,
)

ALCOHOL = chemical("alcohol", "Flam. Liq. 2", tags=("flammable",))
ETHER = chemical("ether", "Flam. Liq. 1")
SALT = chemical("salt")
SULFITE = chemical("sulfite", tags=("reducer",))


def physical(*parts: tuple[HazardData, str], **more: Any) -> list[str]:
    return reached_in(("Flam.", "Ox.", "Self-heat."), *parts, **more)


@pytest.mark.parametrize(
    ("flash", "expected"),
    [
        # Table 2.6.1
        ("22.9", ["Flam. Liq. 2"]),
        ("23", ["Flam. Liq. 3"]),
        ("60", ["Flam. Liq. 3"]),
        ("60.1", []),
    ],
)
def test_a_flash_point_decides_by_table_2_6_1(flash: str, expected: list[str]) -> None:
    found = verdict((ALCOHOL, "50"), flash_point_C=Decimal(flash))
    assert [one for one in found.classes if one.startswith("Flam.")] == expected
    assert "flammability" not in found.not_determined


def test_a_low_flash_point_with_a_category_1_liquid_is_category_1() -> None:
    assert physical((ETHER, "50"), flash_point_C=Decimal(-20)) == ["Flam. Liq. 1"]


def test_without_a_flash_point_flammability_is_not_determined() -> None:
    found = verdict((ALCOHOL, "50"))
    assert found.classes == ()
    assert found.not_determined == ("metal corrosion", "pH", "flammability")


def test_metal_corrosion_is_never_determined_for_a_solution() -> None:
    assert "metal corrosion" in verdict((SALT, "5"), ph=measured(7)).not_determined
    assert "metal corrosion" not in verdict((SALT, "50"), solid=True).not_determined


@pytest.mark.parametrize(
    ("percent", "expected"),
    [
        # Annex VI, Table 3
        ("70", ["Ox. Liq. 1"]),
        ("69.9", ["Ox. Liq. 2"]),
        ("50", ["Ox. Liq. 2"]),
        ("49.9", []),
    ],
)
def test_peroxide_has_limits_of_its_own(percent: str, expected: list[str]) -> None:
    assert physical((HYDROGEN_PEROXIDE, percent)) == expected


def test_an_oxidiser_in_solution_is_neither_inherited_nor_cleared() -> None:
    found = verdict((POTASSIUM_DICHROMATE, "5"))
    assert "Ox. Sol. 2" not in found.classes
    assert "oxidising" in found.not_determined
    told = [r.text for r in found.because if r.hazard_class == "oxidising"]
    assert told == [
        "not determined: contains potassium dichromate 5 %; only a test can tell"
    ]


def test_a_dry_mixture_with_an_oxidising_powder_is_assumed_to_be_one() -> None:
    found = verdict((POTASSIUM_DICHROMATE, "5"), (SALT, "95"), solid=True)
    assert "Ox. Sol. 2" in found.classes
    assert "GHS03" in found.pictograms
    assert "oxidising" not in found.not_determined


def test_one_substance_by_itself_keeps_its_physical_classes() -> None:
    assert physical((POTASSIUM_DICHROMATE, "100"), solid=True) == ["Ox. Sol. 2"]
    assert physical((ALCOHOL, "100")) == ["Flam. Liq. 2"]
    assert physical((ALCOHOL, "99.9")) == []


def test_oxidiser_and_reducer_dry_together_are_warned_of() -> None:
    dry = verdict((POTASSIUM_DICHROMATE, "5"), (SULFITE, "95"), solid=True)
    assert "Oxidiser and reducer dry together can burn: do not combine." in dry.notices
    wet = verdict((POTASSIUM_DICHROMATE, "5"), (SULFITE, "10"))
    assert not any("do not combine" in notice for notice in wet.notices)


def test_ammoniacal_silver_is_never_stored() -> None:
    silver, ammonia = (
        chemical("silver", tags=("silver",)),
        chemical("a", tags=("ammonia",)),
    )
    notices = verdict((silver, "5"), (ammonia, "2")).notices
    assert "Silver with ammonia can explode once dry: never store it." in notices
    assert not verdict((silver, "5")).notices


@pytest.mark.parametrize(
    ("ph", "warned"), [(2.0, True), (2.1, False), (11.4, False), (11.5, True)]
)
def test_an_extreme_ph_hints_at_metal_corrosion(ph: float, warned: bool) -> None:
    notices = verdict((SALT, "5"), ph=measured(ph)).notices
    assert ("May attack metal: keep in glass or plastic." in notices) is warned


def test_a_strong_acid_hints_at_metal_corrosion() -> None:
    acid = chemical("acid", tags=("strong-acid",))
    assert "May attack metal: keep in glass or plastic." in verdict((acid, "5")).notices


def test_self_heating_and_explosive_ingredients_leave_the_question_open() -> None:
    dithionite = chemical("dithionite", "Self-heat. 1")
    assert "self-heating" in verdict((dithionite, "5"), (SALT, "90")).not_determined
    blasting = chemical("b", "Expl. 1.1")
    assert "explosion" in verdict((blasting, "5"), (SALT, "90")).not_determined


def test_vinegar_leaves_flammability_open() -> None:
    assert "flammability" in verdict((ACETIC_ACID, "5")).not_determined
