"""Who supplies a bottle: name, address and telephone number, or no label.

Regulation (EC) No 1272/2008, Article 17(1)(a).
"""

import pytest
from msgspec.structs import replace

from labelkit.errors import BadInput
from labelkit.mixing.bench import Settings
from labelkit.mixing.supplier import supplied, supplier_words
from tests.printing.label_texts import BORATE

GIVEN = Settings(
    room="Tern Street Print Room",
    profile="supply",
    address="3 Tern Street",
    phone="01632 960 119",
)
TOLD = "Tern Street Print Room, 3 Tern Street, 01632 960 119"


def test_a_bottle_that_was_filled_for_the_room_gets_its_supplier() -> None:
    assert supplied(BORATE, GIVEN).supplier == TOLD


def test_a_supplier_that_was_kept_with_the_bottle_stays() -> None:
    kept = replace(BORATE, supplier="The room it came from, 1 Quay, 01632 960 100")
    assert supplied(kept, GIVEN) == kept


@pytest.mark.parametrize("profile", ["own", "room"])
def test_a_bottle_that_is_given_to_nobody_stays_as_it_is(profile: str) -> None:
    settings = replace(GIVEN, profile=profile)
    assert supplied(BORATE, settings) is BORATE
    assert supplier_words(settings) == ""
    assert supplied(BORATE, Settings(profile=profile)) is BORATE


@pytest.mark.parametrize(
    ("key", "settings"),
    [
        ("room", replace(GIVEN, room=" ")),
        ("address", replace(GIVEN, address="")),
        ("phone", replace(GIVEN, phone=" ")),
    ],
)
def test_each_thing_that_is_missing_is_named(key: str, settings: Settings) -> None:
    with pytest.raises(BadInput) as refused:
        supplied(BORATE, settings)
    (fault,) = refused.value.faults
    assert fault.place == f"labelkit.toml, {key}"
    assert fault.remedy.startswith(f'Write {key} = "')


def test_everything_that_is_missing_is_told_at_once() -> None:
    with pytest.raises(BadInput) as refused:
        supplied(BORATE, Settings(profile="supply"))
    assert len(refused.value.faults) == 3
