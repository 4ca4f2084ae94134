"""Hazard data that cannot be what they say are refused, one line a fault."""

from decimal import Decimal
from typing import Any

import pytest

from labelkit.errors import BadInput
from labelkit.hazards.checking import check_data
from labelkit.hazards.data import HazardData
from tests.hazards import making
from tests.hazards.making import chemical, limit, verdict

OVERLAP = (limit("Skin Corr. 1A", "5"), limit("Skin Corr. 1B", "2"))


@pytest.mark.parametrize(
    ("more", "line"),
    [
        (
            {"classes": ("Skin Corr. 1D",)},
            "x, classes: 'Skin Corr. 1D' is no hazard class."
            " Write one of: Skin Corr. 1, Skin Corr. 1A, Skin Corr. 1B, Skin Corr. 1C.",
        ),
        (
            {"classes": ("STOT SE 3",)},
            "x, classes: 'STOT SE 3' is no hazard class."
            " Write one of: STOT SE 3 (H335), STOT SE 3 (H336).",
        ),
        (
            {"limits": OVERLAP},
            "x, scl: Skin Corr. 1B from 2 % overlaps Skin Corr. 1A from 5 %."
            " Write below = 5 for the first.",
        ),
        (
            {"limits": (limit("Skin Irrit. 2", "5", "5"),)},
            "x, scl: Skin Irrit. 2 from 5 % to below 5 % holds nothing."
            " Write below greater than min.",
        ),
        (
            {"limits": (limit("Skin Irrit. 2", "0"),)},
            "x, scl: Skin Irrit. 2 from 0 % cannot be."
            " Write min above 0 and up to 100.",
        ),
        (
            {"limits": (limit("Skin Irrit. 2", "NaN"),)},
            "x, scl: Skin Irrit. 2 from NaN % cannot be."
            " Write min above 0 and up to 100.",
        ),
        (
            {"limits": (limit("Skin Irrit. 2", "101"),)},
            "x, scl: Skin Irrit. 2 from 101 % cannot be."
            " Write min above 0 and up to 100.",
        ),
        (
            {"limits": (limit("Aquatic Chronic 1", "1"),)},
            "x, scl: 'Aquatic Chronic 1' takes a multiplying factor, not a limit."
            " Write m = { acute = 10, chronic = 1 }.",
        ),
        (
            {"limits": (limit("EUH999", "1"),)},
            "x, scl: 'EUH999' is no EUH code. Write one like EUH031.",
        ),
        (
            {"ate": {"oral": Decimal(0)}},
            "x, ate, oral: 0 is no acute toxicity estimate."
            " Write a figure above 0, or leave it out.",
        ),
        (
            {"ate": {"mouth": Decimal(5)}},
            "x, ate: 'mouth' is no route."
            " Write one of: oral, dermal, gas, vapour, dust/mist.",
        ),
        (
            {"unknown_acute": ("skin",)},
            "x, unknown_acute: 'skin' is no route."
            " Write one of: oral, dermal, gas, vapour, dust/mist.",
        ),
        (
            {"m_acute": Decimal("0.5")},
            "x, m, acute: 0.5 is no multiplying factor. Write 1, 10, 100 and so on.",
        ),
        (
            {"euh": ("EUH31",)},
            "x, euh: 'EUH31' is no EUH code. Write one like EUH031.",
        ),
        (
            {"acid_or_base": True},
            "x, acid_or_base: true, but there is no skin or eye limit that could cover"
            " the pH. Give the limits in scl, or leave acid_or_base out.",
        ),
    ],
)
def test_each_fault_is_one_clear_line(more: dict[str, Any], line: str) -> None:
    data = HazardData("x", "x", **{"classes": (), **more})
    assert [str(fault) for fault in check_data(data)] == [line]
    with pytest.raises(BadInput) as refused:
        verdict((data, "5"))
    assert str(refused.value) == line


def test_all_faults_are_reported_together() -> None:
    data = HazardData("x", "x", ("Bad",), ate={"oral": Decimal(0)}, euh=("E1",))
    assert len(check_data(data)) == 3


def test_limits_for_skin_and_eye_and_for_other_routes_do_not_overlap() -> None:
    for name in making.__all__:
        data = getattr(making, name)
        if isinstance(data, HazardData):
            assert check_data(data) == [], name


def test_ranges_that_meet_do_not_overlap() -> None:
    good = (limit("Skin Corr. 1A", "5"), limit("Skin Corr. 1B", "2", "5"))
    assert check_data(chemical("x", limits=good)) == []
    off = (limit("Skin Corr. 1A", "5"), limit("Skin Corr. 1B", "2", "5.01"))
    assert len(check_data(chemical("x", limits=off))) == 1
