"""The log from a phone: the form, what comes of it, and what must not get lost."""

from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from msgspec.structs import replace
from werkzeug.test import Client, TestResponse

from labelkit.cli.params import parse_moment
from labelkit.errors import BadInput, ShelfError
from labelkit.mixing.happening import event_for
from labelkit.mixing.ports import Event, Said
from labelkit.mixing.topping_up import source_from
from labelkit.pages.app import create_app
from labelkit.pages.guard import Guard
from labelkit.pages.log_part import LogPart
from labelkit.pages.pins import Pin
from labelkit.shelf import SqliteShelf
from tests.pages.live import ORIGIN
from tests.pages.print_room import (
    BATH,
    BATH_PAGE,
    BORATE,
    BROMIDE,
    ROOM,
    Cards,
    record,
)
from tests.pages.reading import Outline, outline

NOW = datetime.fromisoformat("2031-05-02T15:00:00")
ROLLS = "T0NG-5WET-F"


class Notebook:
    """The log at a moment of 2031, straight onto a shelf."""

    def __init__(self, shelf: SqliteShelf) -> None:
        self.shelf = shelf
        self.broken = False

    def write(self, said: Said) -> Event:
        if self.broken:
            raise ShelfError("is locked by another program", place="/secret/shelf")
        kept = self.shelf.get(said.number)
        source = None
        if said.source:
            older = self.shelf.get(said.source)
            source = source_from(older, self.shelf.events(said.source), None)
        event = event_for(
            kept, said.what, _moment(said), now=NOW, bottle=said.bottle,
            amount=said.amount, by=said.by, note=said.note,
            place=said.place, source=source,
        )  # fmt: skip
        event = replace(event, id=said.id)
        self.shelf.append(event)
        return event


def _moment(said: Said) -> datetime:
    if not said.at:
        return NOW
    try:
        return parse_moment(said.at)
    except BadInput as error:
        raise error.at("--on") from None


class Phone:
    """A browser that fills in the form of a page as it finds it."""

    def __init__(self, shelf: SqliteShelf, guard: Guard | None = None) -> None:
        self.shelf = shelf
        self.log = Notebook(shelf)
        app = create_app(
            shelf, Cards(), ROOM, parts=lambda site: [LogPart(site, self.log)],
            guard=guard, clock=lambda: NOW,
        )  # fmt: skip
        self.client = Client(app)

    def open(self, path: str) -> Outline:
        answer = self.client.get(path)
        assert answer.status_code == 200, answer.status
        found = outline(answer.data)
        assert found.faults == []
        return found

    def write(self, path: str = f"/log/{BORATE}", /, **filled: str) -> TestResponse:
        fields = {**given(self.open(path)), **filled}
        return self.client.post(path, data=fields, headers={"Origin": ORIGIN})

    def events(self, number: str = BORATE) -> list[Event]:
        return [e for e in self.shelf.events(number) if e.at == NOW]


def given(page: Outline) -> dict[str, str]:
    """What the form sends when nothing is changed."""
    found = {}
    for tag, a in page.tags:
        typed = a.get("type") not in ("radio", "checkbox") or "checked" in a
        if tag == "input" and a.get("name") and typed:
            found[str(a["name"])] = str(a.get("value", "on"))
    return found


@pytest.fixture
def phone(shelf: SqliteShelf) -> Phone:
    return Phone(shelf)


def test_what_was_used_is_written_down_and_the_page_shows_it(phone: Phone) -> None:
    answer = phone.write(
        f"/log/{BROMIDE}", what="used", amount="60", note="half a tray", by="M. Osei"
    )
    assert answer.status_code == 303
    assert answer.headers["Location"] == f"../B/{BROMIDE}/index.html#since"
    (event,) = phone.events(BROMIDE)
    assert (event.bottle, event.what, event.amount_mL) == (1, "used", "60")
    assert (event.by, event.note) == ("M. Osei", "half a tray")
    text = phone.open(f"/B/{BROMIDE}/").text
    assert "used 60 mL by M. Osei half a tray" in text


def test_the_form_shows_how_each_bottle_stands_before_anything_is_poured(
    phone: Phone,
) -> None:
    page = phone.open(f"/log/{BORATE.lower()}/2")
    assert "Bottle 1 ASK M. Osei" in page.text
    assert page.text.count("ASK M. Osei") == 2  # once for each of the bottles
    assert "Discard after 2031-10-01 (opened 2031-04-01)" in page.text
    checked = [a for t, a in page.tags if "checked" in a]
    assert [a["value"] for a in checked] == ["2"]


def test_a_batch_of_one_bottle_does_not_ask_which(phone: Phone) -> None:
    page = phone.open(f"/log/{BROMIDE}")
    assert not [a for t, a in page.tags if a.get("name") == "bottle"]
    phone.write(f"/log/{BROMIDE}", what="opened")
    (event,) = phone.events(BROMIDE)
    assert event.bottle == 1


def test_the_whole_batch_may_be_meant(phone: Phone) -> None:
    phone.write(bottle="all", what="moved", place="cupboard 2")
    (event,) = phone.events()
    assert event.bottle is None
    assert event.place == "cupboard 2"


@pytest.mark.parametrize(
    ("filled", "field", "words"),
    [
        ({"what": "used"}, "bottle", "Which bottle was it?"),
        ({"bottle": "3", "what": "used"}, "bottle", "Which bottle was it?"),
        ({"bottle": "²", "what": "used"}, "bottle", "Which bottle was it?"),
        ({"bottle": "1"}, "what", "What happened to it?"),
        ({"bottle": "1", "what": "drunk"}, "what", "What happened to it?"),
        ({"bottle": "1", "what": "used", "amount": "60 mls"}, "amount", "unknown unit"),
        ({"bottle": "1", "what": "used", "amount": "-3"}, "amount", "more than 0"),
        ({"bottle": "1", "what": "used", "amount": "60 g"}, "amount", "not a volume"),
        (
            {"bottle": "1", "what": "tested", "amount": "60"},
            "amount",
            "Used and Topped",
        ),
        ({"bottle": "1", "what": "used", "place": "sink"}, "place", "Moved only"),
        ({"bottle": "1", "what": "used", "source": BATH}, "source", "Topped up only"),
        ({"bottle": "1", "what": "tested", "note": "x" * 301}, "note", "300 at most"),
        ({"bottle": "1", "what": "tested", "by": "x" * 301}, "by", "300 at most"),
        ({"bottle": "1", "what": "opened", "when": "<b>14.04"}, "when", "not a date"),
        ({"bottle": "1", "what": "opened", "when": "2031-02-29"}, "when", "not a date"),
        ({"bottle": "1", "what": "opened", "when": "2031-05-03"}, "when", "the future"),
        ({"bottle": "1", "what": "opened", "when": "2031-03-01"}, "when", "was mixed"),
        ({"what": "discarded"}, "sure", "tick that it is really discarded"),
        ({"bottle": "1", "what": "discarded"}, "sure", "bottle 1 is really discarded"),
        ({"bottle": "all", "what": "discarded"}, "sure", "all 2 bottles are really"),
    ],
)
def test_a_fault_stands_at_its_field_and_nothing_typed_is_lost(
    phone: Phone, filled: dict[str, str], field: str, words: str
) -> None:
    filled = {"note": "kept & safe", **filled}
    answer = phone.write(**filled)
    assert answer.status_code == 422
    page = outline(answer.data)
    assert page.faults == []
    assert phone.events() == []
    assert f"fault-{field}" in page.values("id")
    assert words in page.text
    assert f"#{field}" in page.values("href")
    assert field in page.values("id")
    shown = given(page)
    for name, value in filled.items():
        if name not in ("bottle", "what"):
            assert shown[name] == value
    assert page.title.startswith("Look here: ")


def test_the_same_form_sent_twice_is_written_down_once(phone: Phone) -> None:
    fields = {
        **given(phone.open(f"/log/{BORATE}/1")), "what": "used", "amount": "60",
    }  # fmt: skip
    for _ in range(2):
        answer = phone.client.post(
            f"/log/{BORATE}", data=fields, headers={"Origin": ORIGIN}
        )
        assert answer.status_code == 303
    assert len(phone.events()) == 1


def test_the_form_opened_twice_is_written_down_twice(phone: Phone) -> None:
    for _ in range(2):
        assert phone.write(bottle="1", what="used", amount="10").status_code == 303
    assert len(phone.events()) == 2


def test_what_happened_earlier_stands_at_its_day(phone: Phone) -> None:
    form = phone.open(f"/log/{BORATE}/2")
    assert given(form)["when"] == ""  # now, without a tap
    assert "such as 2031-05-02 15:00" in form.text
    before, when = phone.shelf.events(BORATE), "2031-04-14 15:40"
    answer = phone.write(bottle="2", what="used", amount="60", when=when)
    assert answer.status_code == 303
    (event,) = [e for e in phone.shelf.events(BORATE) if e not in before]
    assert event.at == datetime.fromisoformat(when)
    assert phone.events() == []
    assert "2031-04-14 15:40 2 used 60 mL" in phone.open(f"/B/{BORATE}/").text


def test_discarding_is_asked_twice_and_then_done(phone: Phone) -> None:
    answer = phone.write(bottle="2", what="discarded", sure="yes")
    assert answer.status_code == 303
    (event,) = phone.events()
    assert (event.what, event.bottle) == ("discarded", 2)
    assert "Discarded" in phone.open(f"/log/{BORATE}").text


def test_what_gives_cause_to_look_out_is_told_after_it_is_written(
    phone: Phone,
) -> None:
    answer = phone.write(f"/log/{BATH}", what="used", amount="20")
    assert answer.status_code == 303
    location = answer.headers["Location"]
    assert location.startswith(f"../log/{BATH}?written=")
    page = phone.open(location.removeprefix(".."))
    assert "Written down: used 20 mL" in page.text
    assert "was past its date" in page.text
    assert f"../B/{BATH}/index.html#since" in page.values("href")
    assert len(phone.events(BATH)) == 1


def test_topping_up_keeps_the_older_date(phone: Phone) -> None:
    phone.write(f"/log/{BROMIDE}", what="topped-up", amount="100", source=BORATE)
    (event,) = phone.events(BROMIDE)
    assert event.source == BORATE
    assert event.discard_after == "2031-10-01"


def test_film_is_counted_where_the_recipe_counts_it(shelf: SqliteShelf) -> None:
    recipe = {
        "document": '[use]\ncapacity = { amount = 10, of = "roll", per = "1 L" }\n'
    }
    bath = record(replace(BATH_PAGE, number=ROLLS), None)
    shelf.add(replace(bath, data={**bath.data, "recipe": recipe}))
    phone = Phone(shelf)
    page = phone.open(f"/log/{ROLLS}")
    units = [str(a["value"]) for t, a in page.tags if t == "option"]
    assert units == ["mL", "rolls", "sheets 4x5", "sheets 8x10"]
    for unit in units[1:]:
        phone.write(f"/log/{ROLLS}", what="used", amount="2", unit=unit)
    phone.write(f"/log/{ROLLS}", what="used", amount="1 roll", unit="mL")
    counted = [event.treated for event in phone.events(ROLLS)]
    assert counted == ["2 roll", "2 4x5 sheet", "2 8x10 sheet", "1 roll"]


@pytest.mark.parametrize(
    "twisted",
    [
        {"id": ""}, {"id": "x" * 32}, {"id": "A" * 32}, {"unit": "gallons"},
        {"note": "x" * 1201}, {"when": "2" * 1201},
        {"when": ["2031-04-14", "2031-04-15"]}, {"what": ["used", "opened"]},
        {"id": ["0" * 32] * 2},
    ],
)  # fmt: skip
def test_what_our_form_never_sends_is_refused(
    phone: Phone, twisted: dict[str, Any]
) -> None:
    fields = {**given(phone.open(f"/log/{BORATE}/1")), "what": "opened", **twisted}
    answer = phone.client.post(
        f"/log/{BORATE}", data=fields, headers={"Origin": ORIGIN}
    )
    assert answer.status_code == 400
    assert phone.events() == []


def test_markup_and_odd_letters_in_a_note_stay_text(phone: Phone) -> None:
    note = '<script>alert(1)</script> "Ünïcode" \u202e 🧪'
    phone.write(bottle="1", what="tested", note=note)
    answer = phone.client.get(f"/B/{BORATE}/")
    assert "<script>alert" not in answer.text
    assert "Ünïcode" in answer.text


@pytest.mark.parametrize(
    "path",
    ["/log", "/log/", "/log/7K3M-Q9TX-8", f"/log/{BORATE}/3", f"/log/{BORATE}/0",
     "/log/7M3K-2QWX-X", "/log/../shelf.sqlite3", f"/log/{BORATE}/x"],
)  # fmt: skip
def test_a_bottle_nobody_has_is_told(phone: Phone, path: str) -> None:
    for method in ("GET", "POST"):
        token = given(phone.open(f"/log/{BORATE}"))["token"]
        answer = phone.client.open(path, method=method, data={"token": token})
        assert answer.status_code == 404
        assert "DO NOT DRINK" in outline(answer.data).text


def test_a_shelf_that_cannot_be_written_loses_nothing(phone: Phone) -> None:
    phone.log.broken = True
    answer = phone.write(bottle="1", what="used", amount="60", by="M. Osei")
    assert answer.status_code == 503
    assert "is locked by another program" in outline(answer.data).text
    assert "/secret" not in answer.text
    fields = given(outline(answer.data))
    assert fields["amount"] == "60"
    phone.log.broken = False
    answer = phone.client.post(
        f"/log/{BORATE}", data=fields, headers={"Origin": ORIGIN}
    )
    assert answer.status_code == 303
    assert phone.events()[0].by == "M. Osei"


def test_a_shelf_that_vanished_comes_back_and_nothing_is_lost(
    phone: Phone, tmp_path: Path
) -> None:
    fields = {**given(phone.open(f"/log/{BORATE}/1")), "what": "opened", "by": "me"}
    away = (tmp_path / "shelf.sqlite3").rename(tmp_path / "elsewhere")
    assert phone.client.get(f"/log/{BORATE}").status_code == 503
    origin = {"Origin": ORIGIN}
    answer = phone.client.post(f"/log/{BORATE}", data=fields, headers=origin)
    assert answer.status_code == 503
    assert answer.headers["Retry-After"] == "30"
    assert str(tmp_path) not in answer.text
    away.rename(tmp_path / "shelf.sqlite3")
    kept = given(outline(answer.data))
    answer = phone.client.post(f"/log/{BORATE}", data=kept, headers=origin)
    assert answer.status_code == 303
    assert [event.by for event in phone.events()] == ["me"]


def test_where_a_pin_was_drawn_the_form_asks_for_it_first(shelf: SqliteShelf) -> None:
    phone = Phone(shelf, Guard(Pin("048151")))
    answer = phone.client.get(f"/log/{BORATE}/2")
    assert answer.status_code == 303
    way = answer.headers["Location"]
    assert way == f"../../pin?to=log%2F{BORATE}%2F2"
    fields = {**given(phone.open(way.removeprefix("../.."))), "pin": "048151"}
    answer = phone.client.post("/pin", data=fields, headers={"Origin": ORIGIN})
    assert answer.headers["Location"] == f"log/{BORATE}/2"
    assert phone.write(bottle="2", what="opened").status_code == 303


def test_everything_has_a_name_for_a_screen_reader(phone: Phone) -> None:
    page = phone.open(f"/log/{BORATE}")
    named = set(page.values("for"))
    for tag, a in page.tags:
        if tag == "input" and a.get("type") not in ("hidden", "radio", "checkbox"):
            assert a["id"] in named
    assert page.headings[0][0] == 1
