"""A mixture in which something reacts (ours; the law does not speak of reactions)."""

from decimal import Decimal
from typing import Any

import pytest

from labelkit.errors import BadInput
from labelkit.hazards.as_formed import classify_as_formed
from labelkit.hazards.data import Basis, HazardData
from labelkit.hazards.mixture import Acidity, Classification, MixedPart
from tests.hazards.making import SODIUM_HYDROXIDE, chemical, said_by

BORAX = chemical("borax", "Repr. 1B FD", notes=("11",), tags=("borate", "base"))
METABORATE = chemical(
    "metaborate", "Repr. 2", "Eye Irrit. 2", tags=("borate", "base"), basis=Basis.SELF
)
ESTIMATE = Acidity(11.2, 11.1, 11.3, source="estimate")


def part(
    data: HazardData, added: str, consumed: str = "0", formed: str = "0"
) -> MixedPart:
    return MixedPart(data, Decimal(added), Decimal(consumed), Decimal(formed))


def as_formed(
    *parts: MixedPart, ph: Acidity | None = None, **more: Any
) -> Classification:
    return classify_as_formed(parts, ph=ph, **more)


# 17.3 g borax decahydrate and 3.7 g sodium hydroxide in 500 mL: worked by hand
STOCK = (
    part(BORAX, "3.46", "3.457"),
    part(SODIUM_HYDROXIDE, "0.73", "0.73"),
    part(METABORATE, "0", "0", "5.0"),
)


def test_the_lye_gives_way_to_the_ph_and_boron_stays() -> None:
    found = as_formed(*STOCK, ph=ESTIMATE)
    assert found.classes == ("Repr. 1B FD",)
    assert found.label_h == ("H360FD",)
    assert found.p == ("P102", "P202", "P280", "P308+P313", "P405", "P501")
    assert found.names == ("borax",)


def test_the_list_as_added_is_judged_beside_it() -> None:
    found = as_formed(*STOCK, ph=ESTIMATE)
    assert found.as_added is not None
    assert set(found.as_added.classes) == {
        "Repr. 1B FD", "Skin Irrit. 2", "Eye Irrit. 2",
    }  # fmt: skip
    assert found.as_added.as_added is None


def test_without_a_ph_skin_and_eye_stay_as_added() -> None:
    found = as_formed(*STOCK, ph_bounds=(7, 11.4))
    assert {"Skin Irrit. 2", "Eye Irrit. 2"} <= set(found.classes)
    said = said_by("reaction", found)
    assert (
        "sodium hydroxide: 0.73 % used up; its skin and eye classes stay as added,"
        " because there is no pH" in said
    )


def test_an_estimate_that_touches_the_limit_is_corrosive() -> None:
    high = Acidity(11.3, 11.1, 11.5, source="estimate")
    assert {"Skin Corr. 1", "Eye Dam. 1"} <= set(as_formed(*STOCK, ph=high).classes)


def test_leftover_lye_counts_at_its_own_share() -> None:
    found = as_formed(part(SODIUM_HYDROXIDE, "2", "1.4"), ph=ESTIMATE)
    assert set(found.classes) == {"Skin Irrit. 2", "Eye Irrit. 2"}
    assert as_formed(part(SODIUM_HYDROXIDE, "2", "1.6"), ph=ESTIMATE).classes == ()


@pytest.mark.parametrize(
    "one",
    [
        "Carc. 1B", "Muta. 2", "Skin Sens. 1", "STOT RE 1", "Acute Tox. 3 (oral)",
        "Aquatic Chronic 1",
    ],
)  # fmt: skip
def test_a_reaction_never_lowers_such_a_class_by_itself(one: str) -> None:
    used = chemical("used", one)
    made = chemical("made", basis=Basis.SELF)
    found = as_formed(part(used, "30", "30"), part(made, "0", "0", "30"), ph=ESTIMATE)
    assert found.as_added is not None
    assert found.classes == found.as_added.classes != ()


def test_a_harmonised_entry_of_what_was_formed_decides() -> None:
    used, made = chemical("used", "Carc. 1B"), chemical("made")
    parts = (part(used, "30", "30"), part(made, "0", "0", "30"))
    assert as_formed(*parts, ph=ESTIMATE).classes == ()


def test_one_product_without_an_entry_is_enough_to_keep_the_classes() -> None:
    used, made = chemical("used", "Carc. 1B"), chemical("made")
    other = chemical("other", basis=Basis.SELF)
    water = HazardData("water", "water", ())
    with_water = (
        part(used, "30", "30"),
        part(made, "0", "0", "20"),
        part(water, "5", "0", "9"),
    )
    assert as_formed(*with_water, ph=ESTIMATE).classes == ()
    with_other = (*with_water, part(other, "0", "0", "1"))
    assert as_formed(*with_other, ph=ESTIMATE).classes == ("Carc. 1B",)


def test_skin_and_eye_of_a_consumed_salt_go_with_it() -> None:
    salt = chemical("salt", "Skin Corr. 1B", "Aquatic Acute 1", m_acute=Decimal(10))
    made = chemical("made", basis=Basis.SELF)
    found = as_formed(part(salt, "9", "9"), part(made, "0", "0", "9"))
    assert found.classes == ("Aquatic Acute 1",)


def test_boron_counts_in_the_form_weighed_in_whatever_it_ends_up_as() -> None:
    made_much = (part(BORAX, "0.29", "0.29"), part(METABORATE, "0", "0", "0.42"))
    assert as_formed(*made_much, ph=Acidity(10, 10, 10, "measured")).classes == ()
    enough = (part(BORAX, "0.3", "0.3"), part(METABORATE, "0", "0", "0.43"))
    found = as_formed(*enough, ph=Acidity(10, 10, 10, "measured"))
    assert found.classes == ("Repr. 1B FD",)


def test_where_nothing_reacts_the_list_is_classified_as_added() -> None:
    found = as_formed(part(SODIUM_HYDROXIDE, "3"))
    assert found.as_added is None
    assert {"Skin Corr. 1B", "Eye Dam. 1"} == set(found.classes)


def test_what_was_formed_and_used_up_again_is_not_there() -> None:
    between = chemical("between", "Carc. 1B")
    made = chemical("made", basis=Basis.SELF)
    found = as_formed(
        part(between, "0", "9", "9"), part(made, "0", "0", "9"), ph=ESTIMATE
    )
    assert found.classes == ()


def test_the_same_chemical_in_two_parts_is_added_up() -> None:
    twice = (part(SODIUM_HYDROXIDE, "1"), part(SODIUM_HYDROXIDE, "1"))
    assert as_formed(*twice).classes == as_formed(part(SODIUM_HYDROXIDE, "2")).classes


def test_more_consumed_than_there_was_is_refused() -> None:
    with pytest.raises(BadInput) as refused:
        as_formed(part(SODIUM_HYDROXIDE, "1", "2"))
    assert str(refused.value) == (
        "sodium hydroxide: 2 % consumed of 1 % there."
        " Consume at most what was added or formed."
    )


def test_water_taken_up_by_what_is_formed_may_bring_the_sum_above_a_hundred() -> None:
    made = chemical("hydrate", basis=Basis.SELF)
    found = as_formed(part(SODIUM_HYDROXIDE, "60", "60"), part(made, "0", "0", "120"))
    assert "Skin Corr. 1A" in found.classes


def test_a_negative_share_is_refused() -> None:
    with pytest.raises(BadInput, match="a share below 0 % cannot be"):
        as_formed(part(SODIUM_HYDROXIDE, "-1"))
