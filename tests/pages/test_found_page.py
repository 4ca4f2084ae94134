"""The page of a bottle that was found."""

from datetime import date, datetime
from typing import Any

from msgspec.structs import replace

from labelkit.mixing.finding import Found, freeze_found
from labelkit.mixing.ports import Event
from labelkit.pages.batch_page import batch_values
from labelkit.pages.frozen_page import frozen_page
from labelkit.pages.renderer import render
from tests.pages.print_room import ROOM
from tests.pages.reading import Outline, outline

NUMBER = "0NKN-4W88-2"
ON = datetime.fromisoformat("2031-03-14T09:30")
FOUND = Found(
    ON, where="window sill", by="M. Osei", looks="brown glass",
    claim_by=date(2031, 4, 14),
)  # fmt: skip
MARKUP = "<script>alert(\"1\")</script><b title='x'>&"


def shown(found: Found = FOUND, *events: Event, **changed: Any) -> Outline:
    record = replace(freeze_found(found, NUMBER, ROOM), **changed)
    frozen = frozen_page(record, ROOM.emergency, live=False)
    values = batch_values(record, frozen, events)
    usual = {"root": "../../", "recipe_folder": "", "language": "en", "room": ROOM.room}
    return outline(render(frozen.template, **{**usual, **values}))


def test_it_says_what_is_known_and_what_must_not_be_done() -> None:
    text = shown().text
    for told in (
        "UNKNOWN", "Do not open, smell, taste, pour out or throw away.", NUMBER,
        "Found 2031-03-14 by M. Osei.", "window sill", "brown glass", "2031-04-14",
        "then to hazardous waste", "Treat as hazardous", "This does not mean safe.",
        "Swallowed: rinse mouth.", "Call and read out this page.",
        "DO NOT DRINK Call 01632 960 118",
    ):  # fmt: skip
        assert told in text
    assert "test before use" not in text
    assert "Mixed" not in text


def test_what_happened_since_is_told() -> None:
    tested = Event(NUMBER, None, "tested", ON, note="smells of fixer, says J. Abara")
    text = shown(FOUND, tested).text
    assert "What happened since" in text
    assert "smells of fixer, says J. Abara" in text


def test_a_discarded_one_says_so() -> None:
    gone = Event(NUMBER, None, "discarded", ON)
    assert "DISCARDED" in shown(FOUND, gone).text
    assert "DISCARDED" not in shown().text


def test_words_that_look_like_markup_stay_words() -> None:
    page = shown(replace(FOUND, where=MARKUP, by=MARKUP))
    assert MARKUP in page.text


def test_damaged_words_still_get_a_page() -> None:
    text = shown(FOUND, data={"kind": "found"}).text
    assert "UNKNOWN" in text
    assert "DO NOT DRINK" in text
