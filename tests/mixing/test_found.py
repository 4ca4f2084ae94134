"""A bottle nobody knows: kept with its words, never reckoned with."""

import json
from datetime import date, datetime

import pytest

from labelkit.errors import BadInput, NoAnswer
from labelkit.mixing.bench import Settings
from labelkit.mixing.finding import NEVER, Found, freeze_found
from labelkit.mixing.found import (
    found_line,
    found_notice,
    found_page,
    is_found,
    refuse_found,
)
from labelkit.mixing.numbers import read_number
from labelkit.mixing.payload import QR_ALPHANUMERIC
from labelkit.mixing.ports import Record

NUMBER = "0NKN-4W88-2"
ON = datetime.fromisoformat("2031-03-14T09:30")
ROOM = Settings(
    room="Tern Street Print Room",
    emergency="01632 960 118",
    disposal="the Tern Street waste shelf",
    base_url="https://bottles.example.org",
)
FOUND = Found(
    ON,
    where="window sill",
    by="M. Osei",
    looks="brown glass",
    says="D 7",
    claim_by=date(2031, 4, 14),
)


def kept(found: Found = FOUND, settings: Settings = ROOM) -> Record:
    """As it comes back from the shelf, through JSON."""
    record = freeze_found(found, NUMBER, settings)
    data = json.loads(json.dumps(record.data))
    return Record(
        record.number, record.recipe, record.title, record.mixed_on, record.made_by,
        record.discard_after, record.bottles, data,
    )  # fmt: skip


def test_it_is_kept_as_one_bottle_without_recipe_or_date() -> None:
    record = kept()
    assert (record.recipe, record.title, record.bottles) == ("", "UNKNOWN", 1)
    assert (record.made_by, record.mixed_on) == ("M. Osei", ON)
    assert record.discard_after is None
    assert (record.data["format"], record.data["kind"]) == (1, "found")
    assert is_found(record)


def test_a_mixed_batch_is_not_a_found_one() -> None:
    record = kept()
    mixed = Record(NUMBER, "plain-fixer", "UNKNOWN", ON, "", None, 1, record.data)
    assert not is_found(mixed)
    refuse_found(mixed)


def test_the_words_come_back_as_they_were() -> None:
    fresh = freeze_found(FOUND, NUMBER, ROOM)
    assert found_notice(kept()) == found_notice(fresh)
    assert found_page(kept()) == found_page(fresh)
    assert found_notice(kept()).lead == NEVER == found_page(kept()).never


def test_what_is_given_is_printed_and_the_rest_is_left_to_write() -> None:
    told = {blank.field: blank.value for blank in found_notice(kept()).blanks}
    assert told == {
        "found": "2031-03-14", "where": "window sill", "by": "M. Osei",
        "looks": "brown glass", "says": "D 7", "tell": "", "claim-by": "2031-04-14",
    }  # fmt: skip
    bare = found_notice(kept(Found(ON))).blanks
    assert [blank.field for blank in bare if blank.value] == ["found"]
    assert len(bare) == 7


def test_the_page_names_only_what_is_known() -> None:
    page = found_page(kept(Found(ON, by="M. Osei")))
    assert [(fact.term, fact.text) for fact in page.facts] == [
        ("Found", "2031-03-14"),
        ("By", "M. Osei"),
    ]
    assert page.then == "then to hazardous waste: the Tern Street waste shelf"


def test_nobody_can_reckon_with_it() -> None:
    with pytest.raises(NoAnswer, match="what is in it is not known") as caught:
        refuse_found(kept())
    assert caught.value.exit_code == 1
    assert "\n" not in str(caught.value)


def test_its_code_leads_to_its_page() -> None:
    code = found_notice(kept()).code
    assert code == f"HTTPS://BOTTLES.EXAMPLE.ORG/B/{NUMBER}/UNKNOWN-2031-03-14"


def test_without_a_page_its_code_says_what_matters() -> None:
    code = found_notice(kept(settings=Settings())).code
    assert code == f"{NUMBER} UNKNOWN DO NOT OPEN FOUND 2031-03-14"
    # ISO/IEC 18004: version 3 holds 61 of these characters at level M
    assert len(code) <= 61
    assert set(code) <= QR_ALPHANUMERIC
    assert read_number(code) == NUMBER


def test_nothing_says_when_it_was_mixed_or_by_whom() -> None:
    answer = kept().data["answer"]
    assert (answer["mixed_on"], answer["made_by"], answer["hazard"]) == (None,) * 3
    assert set(answer["reasons"].values()) == {"what is in it is not known"}
    assert answer["found"]["where"] == "window sill"


def test_its_answer_has_every_key_of_a_batch() -> None:
    # reckoning.md, JSON: keys are added, never renamed
    of_a_batch = {
        "recipe", "title", "make", "weigh", "measure", "contents", "strength",
        "headline", "reaction", "ph", "warming", "density", "checks", "hazard",
        "discard_after", "reasons", "batch", "mixed_on", "made_by", "bottles",
        "planned", "weighed", "acknowledged",
    }  # fmt: skip
    assert of_a_batch <= kept().data["answer"].keys()


def test_its_line_says_what_is_known() -> None:
    told = found_line(kept())
    assert told == "Found 2031-03-14 by M. Osei, window sill. Claim by 2031-04-14."
    assert found_line(kept(Found(ON))) == "Found 2031-03-14."


def test_its_line_stands_damaged_words() -> None:
    record = Record(NUMBER, "", "UNKNOWN", ON, "", None, 1, {"found": "gone"})
    assert found_line(record) == "Found 2031-03-14."


def test_it_may_be_claimed_on_the_day_it_was_found_and_not_before() -> None:
    assert Found(ON, claim_by=date(2031, 3, 14)).claim_by == date(2031, 3, 14)
    with pytest.raises(BadInput, match="2031-03-13 is before the day it was found"):
        Found(ON, claim_by=date(2031, 3, 13))


def test_it_is_never_called_safe_or_dated_for_use() -> None:
    said = json.dumps(kept().data).casefold()
    for word in ("harmless", "test before use", "no hazard class", "mixed 2031"):
        assert word not in said
