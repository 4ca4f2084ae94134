"""What comes from outside, against every page there is: odd words, ways and forms."""

import re
import shutil
from pathlib import Path
from urllib.parse import unquote

import pytest
from werkzeug.test import Client, TestResponse

from labelkit.pages.guard import Guard
from labelkit.pages.pins import Pin
from labelkit.pages.sent import LONGEST_BODY
from tests.conftest import SAMPLES
from tests.pages.mixing_room import Room
from tests.pages.reading import outline

ORIGIN = {"Origin": "http://localhost"}
READ = ("b", "r", "label", "discarded")
FORMS = ("plan", "weigh", "finish", "mixes", "log")
HEADS = (*READ, *FORMS, "done", "pin")
TRICKS = (
    "..", "../..", "../labelkit.toml", "..%2f..%2fshelf.sqlite3",
    "%2e%2e%2f%2e%2e%2fshelf.sqlite3", "%2e%2e/%2e%2e/etc/passwd",
    "%252e%252e%252fetc%252fpasswd", "..%5c..%5cshelf.sqlite3", "/etc/passwd",
    "%2fetc%2fpasswd", ".", "%00", "shelf.sqlite3%00.pdf", "%0d%0aSet-Cookie:x=y",
    "a" * 500, "a" * 5000, "%F0%9F%A7%AA", "%ff%fe", "%e2%80%ae", "<script>", "~",
    "{{7*7}}", "%s%s%n", "'; DROP TABLE batch;--", "con", "-", "B/B/B", "?a=/../..",
)  # fmt: skip
TITLE = """</h1><script>alert('1')</script>&amp;"two" {{ 7*7 }} {% raw %} ${7*7}"""


@pytest.fixture(scope="module")
def rooms(tmp_path_factory: pytest.TempPathFactory) -> list[Room]:
    """A bench as this machine alone sees it, and as the network does."""
    folder = tmp_path_factory.mktemp("outside") / "bench"
    shutil.copytree(SAMPLES, folder)
    return [Room(folder), Room(folder, Guard(Pin("048151")))]


@pytest.fixture
def own(bench: Path) -> Room:
    return Room(bench)


def clean(text: str, *said: str) -> None:
    """Nothing of the machine is told, and nothing that was sent has become markup."""
    assert not any(
        told in text
        for told in ("Traceback", "root:", "SQLite", "/bench", "base_url", "werkzeug")
    )
    assert all(f"<{word}" not in text for word in said)
    assert outline(text).faults == []
    assert "DO NOT DRINK" in text


@pytest.mark.parametrize("head", HEADS)
def test_no_address_leads_out_of_the_site(rooms: list[Room], head: str) -> None:
    folder = rooms[0].place.the_bench().folder
    before = sorted(folder.rglob("*"))
    for room in rooms:
        client = Client(room.app)
        page = client.get("/plan/citric-stop").text
        (token,) = set(re.findall(r'name="token" value="(\w+)"', page))
        for trick in TRICKS:
            path = unquote(f"/{head}/{trick}", errors="surrogateescape")
            sent = path.encode("utf-8", "surrogateescape").decode("latin-1")
            way = {"PATH_INFO": sent}
            form = {"token": token, "to": sent, "pin": "1"}
            refused_or_read(client.get("/", environ_overrides=way))
            refused_or_read(client.post("/", data=form, environ_overrides=way))
    assert sorted(folder.rglob("*")) == before


def refused_or_read(answer: TestResponse) -> None:
    assert answer.status_code in (200, 303, 400, 403, 404, 405, 422, 429), answer.text
    assert "Set-Cookie:x" not in str(answer.headers)
    if answer.status_code == 303:
        assert re.fullmatch(r"(\.\./)*\w[\w/.?=&%-]*", answer.location)
    else:
        clean(answer.text)


@pytest.mark.parametrize("head", FORMS)
def test_a_form_that_is_far_too_long_is_refused_everywhere(
    own: Room, head: str
) -> None:
    number = own.begun()
    path = head if head == "mixes" else f"{head}/{number}"
    path = "plan/citric-stop" if head == "plan" else path
    for name in ("token", "read-2", "note"):
        body = f"{name}={'x' * LONGEST_BODY}"
        answer = Client(own.app).post(
            f"/{path}",
            data=body,
            headers=ORIGIN,
            content_type="application/x-www-form-urlencoded",
        )
        assert answer.status_code == 413
        assert "A form may hold 64 kB" in outline(answer.data).text
    assert own.desk.weighing(number).done == 0


def test_nothing_is_written_by_a_form_whose_fields_are_missing_or_sent_twice(
    own: Room,
) -> None:
    number = own.begun()
    saved = own.begun("citric-stop")
    assert own.post(f"finish/{saved}", {"do": "save"}).status == 303
    shelf = own.place.shelf
    for path, twice, status in (
        (f"weigh/{number}", ("read-2", ("17.3", "21")), 422),
        (f"finish/{number}", ("into", ("2x250", "1 L")), 422),
        ("plan/borate-alkali", ("make", ("500", "750")), 422),
        ("mixes", ("give-up", (number, saved)), 422),
        (f"log/{saved}", ("what", ("used", "discarded")), 400),
    ):
        answer = own.post(path, dict([twice]))
        assert answer.status == status, path
        clean(answer.body.decode())
    for path, status in (("mixes", 404), (f"log/{saved}", 400)):
        assert own.post(path).status == status
    assert own.desk.weighing(number).done == 0
    assert [mix.number for mix in own.desk.half_done()] == [number]
    assert list(shelf.events(saved)) == []


@pytest.fixture
def marked_up(own: Room, bench: Path) -> Room:
    """A bench where whatever can be named is named with markup."""
    path = bench / "recipes" / "borate-alkali.toml"
    text = path.read_text("utf-8")
    text = text.replace('"Borate alkali stock"', f"'''{TITLE}'''")
    text = re.sub(r'"Stands in for [^"]*"', f"'''{TITLE}'''", text)
    text = text.replace('"Stir until clear."', f"'''{TITLE}'''")
    text = re.sub(r'"Goggles on[^"]*"', f"'''{TITLE}'''", text)
    path.write_text(text, "utf-8")
    settings = bench / "labelkit.toml"
    text = settings.read_text("utf-8")
    settings.write_text(text.replace('"Tern Street Print Room"', f"'''{TITLE}'''"))
    return Room(bench)


def test_markup_in_a_name_is_text_from_the_plan_to_the_log(marked_up: Room) -> None:
    room, seen = marked_up, []

    def shown(path: str, query: str = "") -> None:
        seen.append((path, room.get(path, query).body.decode()))

    for path in ("plan", "plan/borate-alkali", "R/BORATE-ALKALI", "R/"):
        shown(path)
    number = room.begun(by=TITLE)
    for path in (f"weigh/{number}", "mixes", f"finish/{number}"):
        shown(path)
    assert room.post(f"finish/{number}", {"do": "save", "by": "x"}).status == 303
    form = {"id": f"{7:032x}", "what": "tested", "note": TITLE, "by": TITLE}
    assert room.post(f"log/{number}", form).status == 303
    for path in (f"done/{number}", f"B/{number}", f"log/{number}", "index.html"):
        shown(path)
    shown("index.html", "show=all")
    # a title that names no recipe is looked for all the same
    shown("index.html", "q=%3Cscript%3Ealert")
    titled = 0
    for path, text in seen:
        clean(text, "script>alert", "/h1><script")
        told = outline(text)
        assert "49" not in re.findall(r"\b49\b", told.text), path
        titled += "</h1><script>alert" in told.text
        assert "{% raw %}" in told.text or path in ("plan",), path
    assert titled >= len(seen) - 1


def test_what_was_typed_at_the_end_comes_back_when_the_shelf_does(
    own: Room, bench: Path
) -> None:
    number = own.begun()
    shelf, away = bench / "shelf.sqlite3", bench / "away.sqlite3"
    shutil.move(shelf, away)
    typed = {"do": "save", "by": 'R. "Amara"', "into": "2x250", "made-up-to": "505"}
    answer = own.post(f"finish/{number}", typed)
    assert answer.status == 503
    read = outline(answer.body)
    kept = {
        str(attrs["name"]): str(attrs.get("value"))
        for tag, attrs in read.tags
        if tag == "input"
    }
    assert {name: kept[name] for name in typed} == typed
    assert f"../finish/{number}" in read.values("action")
    shutil.move(away, shelf)
    assert own.post(f"finish/{number}", kept).location == f"../done/{number}"
    record = own.place.shelf.get(number)
    assert (record.made_by, record.bottles) == ('R. "Amara"', 2)
