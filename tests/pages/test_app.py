"""The live pages: the same words, strict headers, and a clean answer to any address."""

from base64 import b64encode
from hashlib import sha256
from pathlib import Path
from urllib.parse import unquote

import pytest
from msgspec.structs import replace
from werkzeug.test import Client

from labelkit.pages.app import create_app
from labelkit.shelf import SqliteShelf
from tests.pages.live import Room
from tests.pages.print_room import BATH, BORATE, BROMIDE, ROOM, TAIL, Cards, happened
from tests.pages.reading import outline


@pytest.fixture
def room(shelf: SqliteShelf) -> Room:
    return Room(shelf)


@pytest.fixture
def client(room: Room) -> Client:
    return room.client


def files(published: Path) -> list[Path]:
    return sorted(published.rglob("*.html"))


def test_every_page_that_publish_writes_is_answered(
    client: Client, published: Path
) -> None:
    assert len(files(published)) >= 9
    for file in files(published):
        answer = client.get(f"/{file.relative_to(published)}")
        kept, live = outline(file.read_bytes()), outline(answer.data)
        assert answer.status_code == (404 if file.name == "404.html" else 200)
        assert live.headings[0] == kept.headings[0], file
        assert live.faults == []


@pytest.mark.parametrize(
    "address",
    [
        f"/B/{BORATE}/",
        f"/b/{BORATE.lower()}/",
        f"/B/{BORATE.replace('-', '')}/",
        f"/B/{BORATE.replace('0', 'O')}/?from=a-phone",
        f"/B/%20{BORATE}%20/",
    ],
)
def test_case_and_dashes_do_not_matter(client: Client, address: str) -> None:
    whole = client.get(f"/B/{BORATE}/index.html")
    assert client.get(address).data == whole.data
    assert f"Batch {BORATE}" in outline(whole.data).text


@pytest.mark.parametrize(
    ("address", "root"),
    [
        (f"/B/{BORATE}", "../"),
        (f"/B/{BORATE}/", "../../"),
        (f"/B/{BORATE}/{TAIL}", "../../"),
        (f"/B/{BORATE}/ANYTHING/at/all", "../../../../"),
        (f"/B/{BORATE}/%2e%2e%2f..%2fetc%2fpasswd", "../../../../../"),
    ],
)
def test_what_follows_the_number_is_ignored_and_the_way_back_holds(
    client: Client, address: str, root: str
) -> None:
    answer = client.get(address)
    assert answer.status_code == 200
    found = outline(answer.data)
    assert BORATE in found.text
    assert f"{root}index.html" in found.values("href")


def test_the_shelf_is_read_for_every_answer(client: Client, shelf: SqliteShelf) -> None:
    before = client.get(f"/B/{BORATE}/").text
    shelf.append(happened("discarded", None, note="poured into the drum"))
    after = client.get(f"/B/{BORATE}/").text
    assert "poured into the drum" not in before
    assert "poured into the drum" in after


def test_a_wrong_check_character_is_told(client: Client) -> None:
    answer = client.get("/B/7M3K-2QWX-X")
    assert answer.status_code == 404
    text = outline(answer.data).text
    assert "a character is wrong, or two are swapped" in text
    assert "Read it again from the label." in text


def test_a_number_nobody_drew_is_told(client: Client) -> None:
    answer = client.get("/B/7K3M-Q9TX-8/")
    assert answer.status_code == 404
    assert "There is no batch 7K3M-Q9TX-8 on this shelf." in outline(answer.data).text


def test_a_recipe_nobody_wrote_is_told(client: Client) -> None:
    answer = client.get("/R/MOONSHINE/")
    assert answer.status_code == 404
    assert "There is no recipe 'MOONSHINE' here." in outline(answer.data).text


@pytest.mark.parametrize(
    ("address", "status"),
    [
        ("/nothing", 404), ("/B", 404), ("/B/", 404), ("/R/", 200), ("//", 200),
        ("//B//", 404), ("/B//", 404), ("/C/7M3K-2QWX-Y", 404),
        ("/../../etc/passwd", 404), ("/%2e%2e/%2e%2e/etc/passwd", 404),
        ("/B/..%2f..%2fshelf.sqlite3", 404), ("/R/..%2F..%2Flabelkit.toml", 404),
        ("/R/../index.html", 404), ("/R/BORATE-ALKALI/x", 404),
        ("/B/%00", 400), ("/B/7M3K-2QWX-Y%00", 400), ("/R/%0d%0aSet-Cookie:x", 400),
        ("/B/%ff%fe", 404), ("/" + "A" * 1001, 400), ("/B/" + "A" * 997, 404),
        ("/B/%F0%9F%A7%AA", 404), ("/B/'; DROP TABLE batch;--", 404),
        ("/.labelkit-pages.json", 404), ("/static/style.css", 404),
    ],
)  # fmt: skip
def test_an_odd_address_has_a_clean_answer(
    client: Client, address: str, status: int
) -> None:
    # a client would take //B for a host, so the path goes in as a server passes it on
    path = unquote(address, errors="surrogateescape")
    as_sent = path.encode("utf-8", "surrogateescape").decode("latin-1")
    answer = client.get("/", environ_overrides={"PATH_INFO": as_sent})
    assert answer.status_code == status
    found = outline(answer.data)
    assert found.faults == []
    assert "DO NOT DRINK" in found.text
    assert "Content-Security-Policy" in answer.headers
    assert not any(line in answer.text for line in ("Traceback", "/work", "root:"))


def test_markup_in_an_address_stays_text(client: Client) -> None:
    answer = client.get("/B/<script>alert(1)</script>")
    assert answer.status_code == 404
    assert "<script>alert" not in answer.text
    assert outline(client.get("/R/<b>x").data).count("b") == outline(
        client.get("/R/x").data
    ).count("b")


@pytest.mark.parametrize("address", ["/", f"/B/{BORATE}/", "/nothing", "/B/%00"])
def test_a_page_may_load_and_run_nothing_but_its_own(
    client: Client, address: str
) -> None:
    answer = client.get(address)
    policy = dict(
        part.strip().split(" ", 1)
        for part in answer.headers["Content-Security-Policy"].split(";")
    )
    found = outline(answer.data)
    assert policy["default-src"] == policy["frame-ancestors"] == "'none'"
    assert policy["base-uri"] == "'none'"
    assert policy["form-action"] == policy["connect-src"] == "'self'"
    assert policy["img-src"] == "data:"
    assert found.styles and hashed(found.styles) <= set(policy["style-src"].split())
    assert found.scripts and hashed(found.scripts) <= set(policy["script-src"].split())
    assert "unsafe" not in answer.headers["Content-Security-Policy"]
    meta = [a for t, a in found.tags if a.get("http-equiv")]
    assert answer.headers["Content-Security-Policy"].startswith(str(meta[0]["content"]))
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert answer.headers["X-Frame-Options"] == "DENY"
    assert answer.headers["Cache-Control"] == "no-cache"
    # with no-referrer a browser would send "Origin: null" with our own forms:
    # Fetch Standard, "append a request Origin header"
    assert answer.headers["Referrer-Policy"] == "same-origin"
    (referrer,) = [a for t, a in found.tags if a.get("name") == "referrer"]
    assert referrer["content"] == "same-origin"
    assert answer.headers["Content-Type"] == "text/html; charset=utf-8"


def hashed(texts: list[str]) -> set[str]:
    """Sources of Content Security Policy Level 3, 2.3.1, one for each text."""
    digests = (sha256(text.encode()).digest() for text in texts)
    return {f"'sha256-{b64encode(digest).decode()}'" for digest in digests}


@pytest.mark.parametrize(
    "method", ["POST", "PUT", "DELETE", "PATCH", "OPTIONS", "TRACE"]
)
def test_pages_are_only_read(client: Client, method: str) -> None:
    answer = client.open(f"/B/{BORATE}/", method=method)
    assert answer.status_code == 405
    assert answer.headers["Allow"] == "GET, HEAD"
    assert "nothing can be sent to them" in answer.text


def test_a_head_is_a_page_without_its_body(client: Client) -> None:
    head, page = client.head(f"/B/{BATH}/"), client.get(f"/B/{BATH}/")
    assert head.status_code == 200
    assert head.data == b""
    assert head.headers["Content-Length"] == str(len(page.data))


def test_a_shelf_that_vanished_is_told(
    client: Client, shelf: SqliteShelf, tmp_path: Path
) -> None:
    away = (tmp_path / "shelf.sqlite3").rename(tmp_path / "elsewhere")
    for address in ("/", f"/B/{BORATE}/", "/R/BORATE-ALKALI/"):
        answer = client.get(address)
        assert answer.status_code == 503
        text = outline(answer.data).text
        assert "the shelf cannot be read: it was moved, deleted or replaced" in text
        assert "DO NOT DRINK Call 01632 960 118" in text
        assert str(tmp_path) not in answer.text
        assert answer.headers["Retry-After"]
    away.rename(tmp_path / "shelf.sqlite3")
    assert client.get(f"/B/{BROMIDE}/").status_code == 200


def test_a_fault_of_ours_is_a_page_too(
    shelf: SqliteShelf, caplog: pytest.LogCaptureFixture
) -> None:
    class Broken(Cards):
        def names(self) -> tuple[str, ...]:
            raise RuntimeError("a secret of the machine")

    answer = Client(create_app(shelf, Broken(), ROOM)).get(f"/B/{BORATE}")
    assert answer.status_code == 500
    assert "no fault of yours" in answer.text
    assert "secret" not in answer.text
    assert "a secret of the machine" in caplog.text


def test_the_language_is_that_of_the_settings(shelf: SqliteShelf) -> None:
    app = create_app(shelf, Cards(), replace(ROOM, language="de"))
    assert '<html lang="de">' in Client(app).get("/").text
