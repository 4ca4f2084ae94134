"""Labels from a page: as PDF under a name that says which, or why there is none."""

from urllib.parse import unquote

import pytest
from werkzeug.test import Client

from labelkit.errors import LabelkitError, Misfit, ShelfError
from labelkit.mixing.ports import Record
from labelkit.pages.app import create_app
from labelkit.pages.label_part import LabelPart
from labelkit.shelf import SqliteShelf
from tests.pages.print_room import BATH_PAGE, BORATE, ROOM, Cards, record
from tests.pages.reading import outline


class Printer:
    """Prints which labels it was asked for."""

    def __init__(self) -> None:
        self.fault: LabelkitError | None = None

    def labels(self, record: Record, bottle: int | None = None) -> bytes:
        if self.fault is not None:
            raise self.fault
        return f"%PDF {record.number} {bottle}".encode()


@pytest.fixture
def printer() -> Printer:
    return Printer()


@pytest.fixture
def client(shelf: SqliteShelf, printer: Printer) -> Client:
    app = create_app(
        shelf, Cards(), ROOM, parts=lambda site: [LabelPart(site, printer)]
    )
    return Client(app)


@pytest.mark.parametrize(
    ("path", "body", "name"),
    [
        (f"/label/{BORATE}.pdf", "None", f"borate-alkali-{BORATE}.pdf"),
        (f"/LABEL/{BORATE.lower()}", "None", f"borate-alkali-{BORATE}.pdf"),
        (f"/label/{BORATE}/2.PDF", "2", f"borate-alkali-{BORATE}-bottle-2.pdf"),
        (f"/label/{BORATE}/2", "2", f"borate-alkali-{BORATE}-bottle-2.pdf"),
    ],
)
def test_a_label_is_shown_under_a_name_that_says_which(
    client: Client, path: str, body: str, name: str
) -> None:
    answer = client.get(path)
    assert answer.status_code == 200
    assert answer.mimetype == "application/pdf"
    assert answer.text == f"%PDF {BORATE} {body}"
    assert answer.headers["Content-Disposition"] == f'inline; filename="{name}"'
    assert "Set-Cookie" not in answer.headers


@pytest.mark.parametrize(
    "path",
    ["/label", "/label/", "/label/.pdf", "/label/7K3M-Q9TX-8.pdf",
     f"/label/{BORATE}/3.pdf", f"/label/{BORATE}/0.pdf", "/label/../../etc/passwd"],
)  # fmt: skip
def test_a_bottle_nobody_has_is_told(client: Client, path: str) -> None:
    answer = client.get(path)
    assert answer.status_code == 404
    assert outline(answer.data).headings[0] == (1, "No such page")


def test_what_does_not_fit_says_why_and_what_helps(
    client: Client, printer: Printer
) -> None:
    printer.fault = Misfit(
        "the words of this bottle do not fit",
        place="/home/osei/layouts/own.toml",
        remedy="Layout 105x148 carries them.",
    )
    answer = client.get(f"/label/{BORATE}.pdf")
    assert answer.status_code == 422
    page = outline(answer.data)
    assert page.faults == []
    assert "The words of this bottle do not fit. Layout 105x148 carries" in page.text
    assert f"labelkit label {BORATE}" in page.text
    assert "DO NOT DRINK" in page.text
    assert "/home" not in answer.text


def test_a_shelf_that_is_gone_is_told(client: Client, printer: Printer) -> None:
    printer.fault = ShelfError("was moved", place="/secret")
    answer = client.get(f"/label/{BORATE}.pdf")
    assert answer.status_code == 503
    assert answer.headers["Retry-After"] == "30"
    assert "/secret" not in answer.text


def test_a_name_from_another_bench_stays_one_plain_name(
    client: Client, shelf: SqliteShelf
) -> None:
    odd = record(BATH_PAGE, None, number="T0NG-5WET-F", recipe='../É "x"\\y/z ' * 9)
    shelf.add(odd)
    named = client.get("/label/T0NG-5WET-F.pdf").headers["Content-Disposition"]
    # RFC 6266, appendix D: a plain name, and the full one for who can read it
    plain, full = named.removeprefix('inline; filename="').split(
        "\"; filename*=UTF-8''"
    )
    for kept in (plain, unquote(full)):
        assert kept.endswith("-T0NG-5WET-F.pdf")
        assert len(kept) < 80
        assert not set(kept) & set('/\\"')
    assert unquote(full).startswith("é-x-y-z-é-")
