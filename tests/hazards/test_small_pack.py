"""Annex I, 1.5.2: what a bottle of up to 125 mL may leave off."""

from decimal import Decimal

import pytest

from labelkit.hazards.small_pack import for_small_pack, may_omit
from tests.hazards.making import NEUTRAL, POTASSIUM_DICHROMATE, chemical, verdict

SMALL, LARGE = Decimal(125), Decimal("125.1")


@pytest.mark.parametrize(
    ("one", "public", "trade"),
    [
        # 1.5.2.1.1
        ("Flam. Liq. 2", {"H", "P"}, {"H", "P"}),
        ("Ox. Sol. 2", {"H", "P"}, {"H", "P"}),
        ("Skin Irrit. 2", {"H", "P"}, {"H", "P"}),
        ("Eye Irrit. 2", {"H", "P"}, {"H", "P"}),
        ("Aquatic Acute 1", {"H", "P"}, {"H", "P"}),
        ("Aquatic Chronic 2", {"H", "P"}, {"H", "P"}),
        ("Acute Tox. 4 (oral)", set(), {"H", "P"}),
        ("STOT SE 2", set(), {"H", "P"}),
        ("STOT SE 3 (H335)", set(), {"H", "P"}),
        ("STOT RE 2", set(), {"H", "P"}),
        # 1.5.2.1.2
        ("Aquatic Chronic 3", {"P"}, {"P"}),
        ("Aquatic Chronic 4", {"P"}, {"P"}),
        ("Lact.", {"P"}, {"P"}),
        # 1.5.2.1.3
        (
            "Met. Corr. 1",
            {"H", "P", "pictogram", "signal"},
            {"H", "P", "pictogram", "signal"},
        ),
        # never
        ("Skin Corr. 1B", set(), set()),
        ("Eye Dam. 1", set(), set()),
        ("Acute Tox. 3 (oral)", set(), set()),
        ("Skin Sens. 1", set(), set()),
        ("Resp. Sens. 1", set(), set()),
        ("Carc. 2", set(), set()),
        ("Muta. 2", set(), set()),
        ("Repr. 2 d", set(), set()),
        ("STOT SE 1", set(), set()),
        ("STOT RE 1", set(), set()),
        ("Asp. Tox. 1", set(), set()),
        ("Flam. Liq. 1", set(), set()),
        ("Ox. Liq. 1", set(), set()),
    ],
)
def test_what_each_class_may_leave_off(
    one: str, public: set[str], trade: set[str]
) -> None:
    assert may_omit(one, SMALL, for_public=True) == public
    assert may_omit(one, SMALL, for_public=False) == trade
    assert may_omit(one, LARGE, for_public=False) == set()


def test_an_eye_irritant_keeps_pictogram_and_signal_word() -> None:
    whole = verdict((chemical("irritant", "Eye Irrit. 2"), "20"), ph=NEUTRAL)
    small = for_small_pack(whole, SMALL)
    assert (small.signal, small.pictograms) == ("Warning", ("GHS07",))
    assert (small.label_h, small.p) == ((), ())
    assert small.h == ("H319",)
    assert small.notices[-1].startswith(
        "Left off for 125 mL by Annex I, 1.5.2: H319, P"
    )


def test_a_carcinogen_beside_it_keeps_its_statements() -> None:
    data = chemical("agent", "Eye Irrit. 2", "Carc. 2")
    small = for_small_pack(verdict((data, "20"), ph=NEUTRAL), SMALL)
    assert small.label_h == ("H351",)
    assert "P308+P313" in small.p
    assert "P305+P351+P338" not in small.p


def test_a_larger_bottle_leaves_nothing_off() -> None:
    whole = verdict((chemical("irritant", "Eye Irrit. 2"), "20"), ph=NEUTRAL)
    assert for_small_pack(whole, LARGE) == whole


def test_what_may_never_be_left_off_stays_whole() -> None:
    whole = verdict((chemical("corrosive", "Skin Corr. 1B"), "20"), ph=NEUTRAL)
    assert for_small_pack(whole, SMALL) == whole


def test_american_bottles_up_to_100_ml_point_to_the_outer_pack() -> None:
    # 29 CFR 1910.1200(f)(12)
    whole = verdict((POTASSIUM_DICHROMATE, "5"), ph=NEUTRAL, regime="us-hcs")
    small = for_small_pack(whole, Decimal(100))
    assert (small.label_h, small.p) == ((), ())
    assert (small.signal, small.pictograms) == (whole.signal, whole.pictograms)
    assert small.notices[-1] == "The outer pack must carry the whole label."
    assert for_small_pack(whole, Decimal("100.1")) == whole
    nothing = verdict((chemical("salt"), "5"), ph=NEUTRAL, regime="us-hcs")
    assert for_small_pack(nothing, Decimal(50)) == nothing
