"""Who may write: tokens, cookies, origins, names of hosts, and the PIN."""

import re
from urllib.parse import urlsplit

import pytest
from werkzeug.test import Client

from labelkit.pages.guard import LASTS_S, Guard, host_name
from labelkit.shelf import SqliteShelf
from tests.pages.live import ORIGIN, PIN, Room
from tests.pages.print_room import BORATE
from tests.pages.reading import outline

FOREIGN = ["http://evil.example", "null", "http://localhost:8000", "https://localhost"]


@pytest.fixture
def room(shelf: SqliteShelf) -> Room:
    return Room(shelf)


@pytest.fixture
def lan(shelf: SqliteShelf) -> Room:
    return Room(shelf, pin=PIN)


# The token


def test_a_form_with_its_token_is_taken(room: Room) -> None:
    answer = room.send(token=room.token(), note="two", colour="red")
    assert answer.status_code == 303
    assert answer.headers["Location"] == "index.html#%C3%A9"
    (asked,) = room.kept.sent
    assert asked.sent("note") == "two"
    assert asked.may_write


@pytest.mark.parametrize("token", ["", "0" * 64, "é", "x" * 5000])
def test_a_form_without_its_token_is_shown_again_and_not_taken(
    room: Room, token: str
) -> None:
    room.token()
    answer = room.send(token=token, note='two "inches" & <b>', kept="ß\n2")
    assert answer.status_code == 403
    assert room.kept.sent == []
    found = outline(answer.data)
    fields = {a.get("name"): a.get("value") for t, a in found.tags if t == "input"}
    assert fields["note"] == 'two "inches" & <b>'
    assert fields["kept"] == "ß\n2"
    sent_again = {str(k): str(v) for k, v in fields.items()}
    assert room.send(**sent_again).status_code == 303
    assert room.kept.sent[0].sent("note") == 'two "inches" & <b>'


def test_without_an_origin_a_wrong_token_gets_nothing_back(room: Room) -> None:
    answer = room.client.post("/notes", data={"token": "0" * 64, "note": "planted"})
    assert answer.status_code == 403
    assert "planted" not in answer.text
    assert room.kept.sent == []


def test_a_browser_cannot_use_the_token_of_another(
    room: Room, shelf: SqliteShelf
) -> None:
    stolen = room.token()
    room.client = Client(room.app)
    room.token()
    assert room.send(token=stolen).status_code == 403
    assert room.kept.sent == []


def test_a_token_is_worth_nothing_to_another_process(shelf: SqliteShelf) -> None:
    before, after = Room(shelf), Room(shelf)
    visit = before.guard.visit("")
    assert before.guard.fits(visit, before.guard.token(visit))
    assert not after.guard.fits(visit, before.guard.token(visit))


def test_a_token_sent_twice_is_refused(room: Room) -> None:
    token = room.token()
    sent = f"token={token}&token={token}"
    answer = room.client.post(
        "/notes", data=sent, content_type="application/x-www-form-urlencoded"
    )
    assert answer.status_code == 400
    assert "The field token was sent 2 times." in outline(answer.data).text


@pytest.mark.parametrize("origin", FOREIGN)
def test_a_foreign_page_gets_nowhere_even_with_a_token(room: Room, origin: str) -> None:
    token = room.token()
    answer = room.client.post(
        "/notes", data={"token": token, "note": "x1"}, headers={"Origin": origin}
    )
    assert answer.status_code == 403
    assert "Sent from elsewhere" in answer.text
    assert "x1" not in answer.text
    assert room.kept.sent == []


@pytest.mark.parametrize(
    ("site", "status"),
    [("cross-site", 403), ("same-site", 403), ("same-origin", 303), ("none", 303)],
)
def test_what_a_browser_says_of_the_site_is_looked_at(
    room: Room, site: str, status: int
) -> None:
    # Fetch Metadata Request Headers (W3C), 2.3: the four values there are
    answer = room.client.post(
        "/notes", data={"token": room.token()}, headers={"Sec-Fetch-Site": site}
    )
    assert answer.status_code == status


# The cookie


def test_the_cookie_is_strict_unseen_by_scripts_and_says_nothing(room: Room) -> None:
    answer = room.client.get("/notes")
    (cookie,) = answer.headers.getlist("Set-Cookie")
    assert re.match(r"labelkit=[A-Za-z0-9_-]{43}; ", cookie)
    assert "; HttpOnly" in cookie
    assert "; SameSite=Strict" in cookie
    assert "Domain" not in cookie
    assert "Set-Cookie" not in room.client.get("/notes").headers


@pytest.mark.parametrize("address", ["/", f"/B/{BORATE}/", "/LEAFLET/a.pdf", "/nil"])
def test_who_only_reads_gets_no_cookie(room: Room, address: str) -> None:
    assert "Set-Cookie" not in room.client.get(address).headers


def test_a_cookie_that_is_none_of_ours_is_replaced(room: Room) -> None:
    room.client.set_cookie("labelkit", "mine")
    assert "labelkit=" in room.client.get("/notes").headers["Set-Cookie"]


# The name of the host


@pytest.mark.parametrize("host", ["localhost", "127.0.0.1:8731", "LOCALHOST.:80"])
def test_this_machine_goes_by_these_names(room: Room, host: str) -> None:
    assert room.client.get("/", headers={"Host": host}).status_code == 200


@pytest.mark.parametrize(
    "host",
    ["rebound.example", "rebound.example:8731", "127.0.0.1.example", "localhost.evil",
     "127.0.0.2", "0.0.0.0", "", "[::1]", "a@localhost", "localhost:80:80"],
)  # fmt: skip
@pytest.mark.parametrize("method", ["GET", "POST"])
def test_under_another_name_nothing_is_told(room: Room, host: str, method: str) -> None:
    # RFC 9110, 15.5.20: misdirected
    answer = room.client.open(
        f"/B/{BORATE}/", method=method, environ_overrides={"HTTP_HOST": host}
    )
    assert answer.status_code == 421
    assert "Borate" not in answer.text


def test_a_name_is_read_without_its_port() -> None:
    assert host_name("Print-Room.local:8731") == "print-room.local"
    assert host_name("print-room.local.") == "print-room.local"


# The PIN


def test_where_no_pin_was_drawn_there_is_no_page_for_one(room: Room) -> None:
    assert room.client.get("/pin").status_code == 404
    assert room.send("/pin", pin="").status_code == 405
    assert Guard().tried("", "here")[1] is None


def test_reading_needs_no_pin(lan: Room) -> None:
    for address in ("/", f"/B/{BORATE}/", "/LEAFLET/a.pdf"):
        assert lan.client.get(address).status_code == 200
    assert "write=False" in lan.client.get("/notes").text


def test_writing_asks_for_the_pin_and_keeps_what_was_sent(lan: Room) -> None:
    answer = lan.send(token=lan.token(), note="weighed 17.4 g", note2="")
    assert answer.status_code == 403
    assert lan.kept.sent == []
    found = outline(answer.data)
    assert "What you sent is kept on this page" in found.text
    fields = {
        str(a["name"]): str(a["value"])
        for t, a in found.tags
        if t == "input" and a.get("type") == "hidden"
    }
    answer = lan.send("/pin", **{**fields, "pin": "999999"})
    assert answer.status_code == 403
    assert "That is not the PIN." in outline(answer.data).text
    answer = lan.send("/pin", **{**fields, "pin": PIN})
    assert answer.status_code == 200
    found = outline(answer.data)
    assert found.faults == []
    assert [a["action"] for t, a in found.tags if t == "form"] == ["notes"]
    again = {str(a["name"]): str(a["value"]) for t, a in found.tags if t == "input"}
    assert lan.send("/notes", **again).status_code == 303
    assert lan.kept.sent[0].sent("note") == "weighed 17.4 g"
    assert set(lan.kept.sent[0].form) == {"token", "note", "note2"}


def test_the_pin_is_asked_once_and_again_after_some_hours(lan: Room) -> None:
    assert lan.try_pin(PIN).status_code == 303
    assert lan.send(token=lan.token()).status_code == 303
    lan.seconds.now += LASTS_S - 1
    assert lan.send(token=lan.token()).status_code == 303
    lan.seconds.now += 1
    assert lan.send(token=lan.token()).status_code == 403
    assert len(lan.kept.sent) == 2


def test_the_right_pin_gives_a_new_cookie(lan: Room) -> None:
    # so that a cookie planted before cannot write (session fixation)
    lan.token()
    planted = lan.client.get_cookie("labelkit")
    answer = lan.try_pin(PIN)
    given = lan.client.get_cookie("labelkit")
    assert planted is not None
    assert given is not None
    assert planted.value != given.value
    assert "labelkit=" in answer.headers["Set-Cookie"]
    assert not lan.guard.may_write(lan.guard.visit(planted.value))


def test_a_guessed_cookie_may_not_write(lan: Room) -> None:
    lan.try_pin(PIN)
    lan.client.set_cookie("labelkit", "A" * 43)
    assert lan.send(token=lan.token()).status_code == 403
    assert lan.kept.sent == []


def test_the_pin_needs_a_token_too(lan: Room) -> None:
    answer = lan.send("/pin", pin=PIN, token="0" * 64)
    assert answer.status_code == 403
    assert "That is not the PIN" not in answer.text
    assert "write=False" in lan.client.get("/notes").text
    foreign = {"Origin": "http://evil.example"}
    sent = {"pin": PIN, "token": lan.token("/pin")}
    assert lan.client.post("/pin", data=sent, headers=foreign).status_code == 403
    assert "write=False" in lan.client.get("/notes").text


def test_an_empty_pin_is_no_try(lan: Room) -> None:
    for _ in range(10):
        answer = lan.try_pin("  ")
        assert answer.status_code == 422
        assert "Type the six figures." in outline(answer.data).text
    assert lan.try_pin(PIN).status_code == 303


def test_too_many_wrong_pins_have_to_wait(lan: Room) -> None:
    statuses = [lan.try_pin("000000").status_code for _ in range(6)]
    assert statuses == [403, 403, 403, 403, 429, 429]
    answer = lan.try_pin(PIN)
    assert answer.status_code == 429
    assert answer.headers["Retry-After"] == "30"
    assert "Wait 30 seconds" in outline(answer.data).text
    lan.seconds.now += 30
    assert lan.try_pin("000000").headers["Retry-After"] == "60"
    lan.seconds.now += 60
    assert lan.try_pin(PIN).status_code == 303


def test_a_forwarded_address_does_not_count_as_another(lan: Room) -> None:
    statuses = [
        lan.client.post(
            "/pin",
            data={"pin": "000000", "token": lan.token("/pin")},
            headers={"Origin": ORIGIN, "X-Forwarded-For": f"192.0.2.{n}"},
        ).status_code
        for n in range(5)
    ]
    assert statuses == [403, 403, 403, 403, 429]


def test_the_pin_stands_on_no_page(lan: Room) -> None:
    for address in ("/", "/pin", "/notes"):
        assert "048151" not in lan.client.get(address).text
    assert "048151" not in lan.try_pin("048152").text


@pytest.mark.parametrize(
    ("to", "location"),
    [
        ("notes", "notes"),
        ("NOTES/A/2", "NOTES/A/2"),
        ("notes/é", "notes/%C3%A9"),
        ("LEAFLET/a.pdf", "LEAFLET/a.pdf"),
        ("", "index.html"),
        ("index.html", "index.html"),
        ("//evil.example", "index.html"),
        ("/\\evil.example", "index.html"),
        ("https://evil.example/notes", "index.html"),
        ("javascript:alert(1)", "index.html"),
        ("notes//evil.example", "index.html"),
        ("notes/../../x", "index.html"),
        ("notes/..", "index.html"),
        ("notes:80/x", "index.html"),
        ("notes\\@evil.example", "index.html"),
        ("notes/a\r\nSet-Cookie: x=1", "index.html"),
        ("notes/a?b#c", "notes/a%3Fb%23c"),
        ("notes/" + "a" * 300, "index.html"),
        ("pin", "index.html"),
    ],
)
def test_the_pin_leads_to_a_path_of_ours_only(
    lan: Room, to: str, location: str
) -> None:
    answer = lan.try_pin(PIN, to=to)
    assert answer.status_code == 303
    assert answer.headers["Location"] == location
    whole = urlsplit(answer.headers["Location"])
    assert not whole.scheme
    assert not whole.netloc


def test_the_way_back_may_stand_in_the_address(lan: Room) -> None:
    page = outline(lan.client.get("/pin?to=notes/2").data)
    hidden = {a.get("name"): a.get("value") for t, a in page.tags if t == "input"}
    assert hidden["to"] == "notes/2"
    page = outline(lan.client.get("/pin?to=//evil.example").data)
    hidden = {a.get("name"): a.get("value") for t, a in page.tags if t == "input"}
    assert hidden["to"] == ""


def test_who_gave_the_pin_is_led_on_from_its_page(lan: Room) -> None:
    lan.try_pin(PIN)
    answer = lan.client.get("/pin?to=notes/2")
    assert (answer.status_code, answer.headers["Location"]) == (303, "notes/2")


def test_visits_without_end_do_not_fill_the_memory(lan: Room) -> None:
    for _ in range(1005):
        lan.guard.tried(PIN, "192.0.2.7")
    assert len(lan.guard._until) == 1000
