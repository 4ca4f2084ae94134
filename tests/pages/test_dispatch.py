"""Parts with forms: what reaches them, what is stopped before, what is told then."""

from urllib.parse import unquote

import pytest
from werkzeug.test import Client

from labelkit.errors import BadInput, ShelfError, Unknown
from labelkit.pages.sent import LONGEST_BODY, MOST_FIELDS
from labelkit.shelf import SqliteShelf
from tests.pages.live import ORIGIN, Room
from tests.pages.reading import outline


@pytest.fixture
def room(shelf: SqliteShelf) -> Room:
    return Room(shelf)


@pytest.fixture
def client(room: Room) -> Client:
    return room.client


def test_a_part_answers_under_its_words_in_any_case(client: Client) -> None:
    for path in ("/notes", "/NOTES/", "/Notes/a/b?c=d"):
        answer = client.get(path)
        assert answer.text.startswith("token=")
        assert answer.headers["Cache-Control"] == "no-store"
    assert client.get("/notesy").status_code == 404


def test_what_was_asked_reaches_the_part_whole(room: Room) -> None:
    sent = "step=1&step=2&empty=&said=caf%C3%A9+%2B&token=" + room.token()
    answer = room.client.post(
        "/notes/7?make=1+L&make=2",
        data=sent,
        content_type="application/x-www-form-urlencoded; charset=UTF-8",
        headers={"Origin": ORIGIN},
    )
    assert answer.status_code == 303
    assert answer.headers["Location"] == "../index.html#%C3%A9"
    (asked,) = room.kept.sent
    assert asked.path == "notes/7"
    assert asked.query == {"make": "1 L"}
    assert asked.form["step"] == ("1", "2")
    assert asked.form["empty"] == ("",)
    assert asked.sent("said") == "café +"


@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "OPTIONS", "TRACE"])
def test_a_part_takes_forms_and_nothing_else(room: Room, method: str) -> None:
    answer = room.client.open("/notes", method=method)
    assert answer.status_code == 405
    assert answer.headers["Allow"] == "GET, HEAD, POST"
    assert room.kept.sent == []


def test_a_part_that_is_only_read_takes_no_form(client: Client) -> None:
    answer = client.post("/leaflet/a.pdf", data={"a": "b"})
    assert answer.status_code == 405
    assert answer.headers["Allow"] == "GET, HEAD"


def test_a_head_of_a_part_is_its_page_without_its_body(room: Room) -> None:
    page, head = room.client.get("/notes"), room.client.head("/notes")
    assert head.data == b""
    assert head.headers["Content-Length"] == str(len(page.data))
    assert room.kept.sent == []


@pytest.mark.parametrize(
    ("name", "disposition"),
    [
        # RFC 6266, 4.1 and 4.3; RFC 8187, 3.2.1
        ("a-1.pdf", 'inline; filename="a-1.pdf"'),
        ("é€.pdf", "inline; filename=\"--.pdf\"; filename*=UTF-8''%C3%A9%E2%82%AC.pdf"),
        ('a"b.pdf', "inline; filename=\"a-b.pdf\"; filename*=UTF-8''a%22b.pdf"),
    ],
)
def test_a_file_is_shown_under_its_name(
    client: Client, name: str, disposition: str
) -> None:
    answer = client.get(f"/leaflet/{name}")
    assert answer.data == b"%PDF-"
    assert answer.headers["Content-Type"] == "application/pdf"
    assert answer.headers["Content-Disposition"] == disposition
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert answer.headers["Content-Security-Policy"] == "frame-ancestors 'none'"


@pytest.mark.parametrize(
    "path",
    ["/notes/%00", "/notes/%0d%0aSet-Cookie:x", "/leaflet/%7f", "/notes/" + "a" * 995],
)
@pytest.mark.parametrize("method", ["GET", "POST"])
def test_an_odd_address_of_a_part_is_refused(
    room: Room, path: str, method: str
) -> None:
    if method == "POST" and "leaflet" in path:
        method = "HEAD"
    answer = room.client.open(path, method=method)
    assert answer.status_code == 400
    assert room.kept.sent == []


@pytest.mark.parametrize(
    "path", ["/notes/../index.html", "/notes/%2e%2e/%2e%2e/etc/passwd", "//notes"]
)
def test_dots_and_slashes_lead_to_no_file(client: Client, path: str) -> None:
    as_sent = unquote(path)
    answer = client.get("/", environ_overrides={"PATH_INFO": as_sent})
    assert answer.status_code in (200, 404)
    assert "root:" not in answer.text
    assert answer.text.startswith(("token=", "<!DOCTYPE html>"))


def test_a_form_of_64_kB_is_taken_and_no_more(room: Room) -> None:
    token = room.token()
    rest = LONGEST_BODY - len(f"token={token}&note=")
    assert room.send(token=token, note="x" * rest).status_code == 303
    answer = room.send(token=token, note="x" * (rest + 1))
    assert answer.status_code == 413
    assert "A form may hold 64 kB" in outline(answer.data).text
    assert len(room.kept.sent) == 1


def test_a_thousand_fields_are_taken_and_no_more(room: Room) -> None:
    token = room.token()
    fields = {f"f{n}": "" for n in range(MOST_FIELDS - 1)}
    assert room.send(token=token, **fields).status_code == 303
    answer = room.send(token=token, one_more="", **fields)
    assert answer.status_code == 400
    assert "more than 1000 fields" in outline(answer.data).text


@pytest.mark.parametrize(
    "kind",
    ["", "text/plain", "application/json", "multipart/form-data; boundary=x",
     "application/x-www-form-urlencodedx"],
)  # fmt: skip
def test_what_is_not_sent_as_a_form_is_refused(room: Room, kind: str) -> None:
    sent = f"token={room.token()}"
    headers = {"Origin": ORIGIN, **({"Content-Type": kind} if kind else {})}
    answer = room.client.post("/notes", data=sent, headers=headers)
    assert answer.status_code == 415
    assert outline(answer.data).headings[0] == (1, "This is no form")
    assert room.kept.sent == []


@pytest.mark.parametrize("body", [b"note=%ff%fe", b"note=\xff", b"%E0%A4=1"])
def test_what_is_not_utf_8_is_refused(room: Room, body: bytes) -> None:
    answer = room.client.post(
        "/notes",
        data=body + b"&token=" + room.token().encode(),
        content_type="application/x-www-form-urlencoded",
    )
    assert answer.status_code == 400
    assert room.kept.sent == []


@pytest.mark.parametrize(
    ("fault", "status", "words"),
    [
        (Unknown("there is no batch X here"), 404, "There is no batch X here."),
        (BadInput("no such thing", remedy="Try."), 422, "No such thing. Try."),
        (ShelfError("was moved", place="/secret/shelf"), 503, "it was moved"),
    ],
)
@pytest.mark.parametrize("method", ["GET", "POST"])
def test_a_fault_that_a_part_leaves_to_others_is_a_page(
    room: Room, fault: BadInput, status: int, words: str, method: str
) -> None:
    token = room.token()
    room.kept.fault = fault
    if method == "POST":
        answer = room.send("/notes/1", token=token)
    else:
        answer = room.client.get("/notes/1")
    assert answer.status_code == status
    assert words in outline(answer.data).text
    assert "DO NOT DRINK" in outline(answer.data).text
    assert "/secret" not in answer.text
    assert ("Retry-After" in answer.headers) == (status == 503)


def test_what_could_not_be_written_is_sent_again_when_the_shelf_is_back(
    room: Room,
) -> None:
    token = room.token()
    room.kept.fault = ShelfError("was moved, deleted or replaced")
    answer = room.send("/notes/1", token=token, note="17.4 g")
    fields = {
        str(a["name"]): str(a["value"])
        for t, a in outline(answer.data).tags
        if t == "input"
    }
    assert fields == {"token": token, "note": "17.4 g"}
    room.kept.fault = None
    assert room.send("/notes/1", **fields).status_code == 303
    assert room.kept.sent[0].sent("note") == "17.4 g"


def test_a_fault_of_ours_in_a_part_tells_nothing(
    room: Room, caplog: pytest.LogCaptureFixture
) -> None:
    token = room.token()
    room.kept.fault = RuntimeError("a secret of the machine")  # type: ignore[assignment]
    answer = room.send(token=token)
    assert answer.status_code == 500
    assert "no fault of yours" in answer.text
    assert "secret" not in answer.text
    assert "a secret of the machine" in caplog.text
