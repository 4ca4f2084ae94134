"""The words of a bottle's label."""

from decimal import Decimal

import pytest
from msgspec.structs import replace

from labelkit.mixing.batch import Batch
from labelkit.mixing.bottle_text import bottle_texts_for
from labelkit.mixing.words import BottleText
from tests.mixing.conftest import NUMBER, Room


def labels(room: Room, batch: Batch) -> tuple[BottleText, ...]:
    return bottle_texts_for(batch, room.handbook(batch.plan.recipe), room.settings)


def label(room: Room, name: str, **how: str) -> BottleText:
    return labels(room, room.mix(room.sample(name), **how))[0]


def test_a_label_says_what_it_is_from_when_and_by_whom(tern_street: Room) -> None:
    told = label(tern_street, "borate-alkali")
    assert (told.name, told.number) == ("Borate alkali stock", NUMBER)
    assert told.made == "Mixed 2031-03-14 by M. Osei, Tern Street Print Room."
    assert (told.discard_label, told.discard) == ("Discard after", "2032-03-14")
    assert told.headline.text == "20 mL = 1 g"
    assert told.code == f"HTTPS://BOTTLES.EXAMPLE.ORG/B/{NUMBER}"
    assert told.code_means == f"Code: the record of batch {NUMBER}"
    assert told.emergency == "01632 960 118"


def test_the_weights_as_read_stand_on_it(tern_street: Room) -> None:
    planned = tern_street.sample("borate-alkali")
    (told,) = labels(tern_street, tern_street.mix(planned, "sodium-hydroxide=3.2g"))
    assert told.headline.text == "23 mL = 1 g"
    assert told.strength[0] == "43.2\u00a0g/L"


def test_each_bottle_has_its_own_label(tern_street: Room) -> None:
    planned = tern_street.sample("borate-alkali")
    found = labels(tern_street, tern_street.mix(planned, into="2x200 mL, 10x10 mL"))
    assert [told.bottle for told in found[:2]] == ["bottle 1 of 12", "bottle 2 of 12"]
    assert [told.volume_mL for told in found] == [200] * 2 + [10] * 10
    # 20 mL are more than a third of 10 mL
    assert found[0].headline.text == "20 mL = 1 g"
    assert found[2].headline.text == "2 mL = 0.1 g"


def test_one_bottle_is_not_counted(tern_street: Room) -> None:
    assert label(tern_street, "borate-alkali").bottle == ""


def test_hours_print_a_clock_time(tern_street: Room) -> None:
    told = label(tern_street, "pyro-working")
    assert told.made.startswith("Mixed 2031-03-14\u00a012:00 by")
    assert told.discard == "2031-03-14 13:00"


def test_the_sign_that_it_is_off_stands_by_the_date(tern_street: Room) -> None:
    assert label(tern_street, "film-developer").off_when == (
        "or when darker than strong tea."
    )


def test_without_a_date_it_says_so(tern_street: Room) -> None:
    plan = tern_street.sample("film-developer")
    job = replace(plan.job, recipe=replace(plan.recipe, keeps=None))
    batch = tern_street.mix(replace(plan, job=job))
    (told,) = labels(tern_street, batch)
    assert told.discard_label == ""
    assert told.discard == "No discard date known: test before use."
    assert told.off_when == "Darker than strong tea."


@pytest.mark.parametrize(
    ("use", "mark"),
    [("all", "SHARED"), ("maker", "ASK M. Osei"), ("hold", "HOLD"), ("", "")],
)
def test_a_shared_room_says_who_may_take_it(
    tern_street: Room, use: str, mark: str
) -> None:
    assert label(tern_street, "plain-fixer", use=use).use_mark == mark


def test_a_supplied_bottle_names_its_supplier(tern_street: Room) -> None:
    given_away = tern_street.set_up(
        profile="supply", address="3 Tern Street", phone="01632 960 119"
    )
    assert label(given_away, "plain-fixer").supplier == (
        "Tern Street Print Room, 3 Tern Street, 01632 960 119"
    )
    assert label(tern_street, "plain-fixer").supplier == ""


def test_a_measured_ph_is_told_among_the_contents(tern_street: Room) -> None:
    def last_words(name: str) -> str:
        return label(tern_street, name).contents[-1].text.replace("\u00a0", " ")

    assert last_words("film-developer").endswith("pH 10.6 measured.")
    assert "pH" not in last_words("plain-fixer")


def test_a_row_to_write_in_is_there_only_where_opening_counts(
    tern_street: Room,
) -> None:
    assert label(tern_street, "film-developer").write_in  # keeps_opened
    assert not label(tern_street, "plain-fixer").write_in


@pytest.mark.parametrize(
    ("litres", "boxes", "caption"),
    [
        ("1 L", 20, "one box, one roll: 50\u00a0mL"),
        ("500 mL", 10, "one box, one roll: 50\u00a0mL"),
        ("2 L", 20, "one box, 2 rolls: 100\u00a0mL"),
        ("1.2 L", 24, "one box, one roll: 50\u00a0mL"),
        ("1.25 L", 12, "one box, 2 rolls: 100\u00a0mL"),
    ],
)
def test_a_tally_has_at_most_24_boxes(
    tern_street: Room, litres: str, boxes: int, caption: str
) -> None:
    """Print specification, section 8: at most 24, one a unit of the capacity."""
    planned = tern_street.sample("plain-fixer", litres)
    (told,) = labels(tern_street, tern_street.mix(planned))
    assert told.tally is not None
    assert (told.tally.boxes, told.tally.caption) == (boxes, caption)


def test_less_than_one_film_has_no_tally(tern_street: Room) -> None:
    planned = tern_street.sample("plain-fixer")
    found = labels(tern_street, tern_street.mix(planned, into="900 mL, 49 mL"))
    assert found[0].tally is not None
    assert found[1].tally is None


def test_a_part_of_a_set_carries_its_letter(tern_street: Room) -> None:
    told = label(tern_street, "pyro-b")
    assert told.part is not None
    assert (told.part.letter, told.part.goes_with) == ("B", "A")
    assert told.part.ratio == "1 + 1 + 100"


def test_without_a_web_address_the_code_carries_the_essentials(
    tern_street: Room,
) -> None:
    told = label(tern_street.set_up(base_url=""), "bromide-stock")
    assert told.code == f"{NUMBER} POTASSIUM BROMIDE 10ML:1G MIXED 2031-03-14"


def test_nothing_on_a_label_hangs_on_the_plan(tern_street: Room) -> None:
    planned = tern_street.sample("bromide-stock")
    batch = tern_street.mix(planned, "potassium-bromide=20g", density=Decimal("1.13"))
    (told,) = labels(tern_street, batch)
    assert told.strength[0] == "200\u00a0g/L"
    assert told.hazard.signal == "WARNING"  # 17.7 % is above the limit of 10 %
