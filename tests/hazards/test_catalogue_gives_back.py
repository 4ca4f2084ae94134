"""Every harmonised chemical by itself gives back its own entry in Annex VI."""

from decimal import Decimal

import pytest

from labelkit.files.chemicals import read_catalogue
from labelkit.hazards.checking import check_data
from labelkit.hazards.data import HazardData, Limit
from labelkit.hazards.limits import rows
from tests.hazards.making import NEUTRAL, reached, verdict

HAZARDS = [entry.hazard for entry in read_catalogue().entries.values()]
HARMONISED = [data for data in HAZARDS if data.official and data.classes]


def alone(data: HazardData, regime: str = "eu-clp") -> set[str]:
    return reached((data, "100"), regime=regime, ph=NEUTRAL)


@pytest.mark.parametrize("data", HARMONISED, ids=lambda data: data.id)
def test_a_harmonised_substance_gives_back_its_own_classes(data: HazardData) -> None:
    found = alone(data)
    assert set(data.classes or ()) <= found
    more = found - set(data.classes or ())
    # what may come on top: a limit for a class the entry does not carry, and the eye
    # damage that every corrosive carries with it
    limited = {
        str(row[0]) for row in rows(data, "STOT SE", "Skin Irrit.", "Eye Irrit.")
    }
    corrosive = any(one.startswith("Skin Corr.") for one in data.classes or ())
    assert more <= limited | ({"Eye Dam. 1"} if corrosive else set())


@pytest.mark.parametrize("data", HAZARDS, ids=lambda data: data.id)
def test_every_chemical_of_the_catalogue_can_be_judged(data: HazardData) -> None:
    assert check_data(data) == []
    for percent in ("0.01", "1", "50"):
        found = verdict((data, percent))
        assert found.not_determined[0] == "metal corrosion"
        assert bool(found.classes) == bool(found.p)


LIMITS = [(data, one) for data in HAZARDS for one in data.limits]


@pytest.mark.parametrize(
    ("data", "one"), LIMITS, ids=lambda part: getattr(part, "id", str(part)[:40])
)
def test_each_specific_limit_holds_at_it_and_not_just_under(
    data: HazardData, one: Limit
) -> None:
    found = [
        verdict((data, str(percent)), ph=NEUTRAL, for_public=False)
        for percent in (one.minimum, one.minimum * Decimal("0.9999"))
    ]
    at, under = ({*told.classes, *told.euh} for told in found)
    assert one.hazard_class in at
    assert one.hazard_class not in under


def test_fifty_forms_and_more_rest_on_an_entry() -> None:
    assert len(HARMONISED) >= 50
