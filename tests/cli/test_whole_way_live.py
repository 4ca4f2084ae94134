"""From the sink to the printed code, the page it opens, the log, and the next bottle.

The program runs by itself, as a person starts it; whoever opens its pages has nothing
but a browser.
"""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from decimal import Decimal
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from io import BytesIO
from pathlib import Path
from threading import Thread
from typing import Any
from urllib.parse import urlsplit

import pypdfium2
import pytest
import zxingcpp
from msgspec import Struct
from playwright.sync_api import Browser, Locator
from pypdf import PdfReader

from tests.cli.conftest import labelkit
from tests.cli.terminal import as_json
from tests.pages.phone import DESK, PHONE, Phone
from tests.pages.served import HOST, free_port, program

DPI = 150
FORM = "borax-pentahydrate"
# Whether an element lies whole on the screen, with nothing over it.
IN_SIGHT = """(element) => {
  const box = element.getBoundingClientRect();
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  const top = document.elementFromPoint(x, y);
  return scrollY === 0 && box.width > 1 && box.height > 1
    && box.top >= 0 && box.left >= 0
    && box.bottom <= innerHeight && box.right <= innerWidth
    && top !== null && (element.contains(top) || top.contains(element));
}"""


class Way(Struct, frozen=True):
    """How somebody goes it."""

    viewport: dict[str, int]
    script: bool = True
    lan: bool = False


WAYS = {
    "phone": Way(PHONE),
    "phone in the network": Way(PHONE, lan=True),
    "desk without script": Way(DESK, script=False),
}


@pytest.fixture
def number(bench: Path) -> str:
    """A batch mixed at a terminal; nothing but lye limits what comes of it."""
    answer = labelkit(
        "mix", "borate-alkali", "--bench", bench, "--by", "M. Osei",
        "--weighed", "2=17.4g", "--weighed", "5=3.3g", "--json",
    )  # fmt: skip
    assert answer.code == 0, answer.err
    return str(as_json(answer.out)["batch"])


def read_code(pdf: bytes) -> str:
    """What a camera reads of the first label, printed at 150 dpi."""
    document = pypdfium2.PdfDocument(pdf)
    picture = document[0].render(scale=DPI / 72).to_numpy()
    document.close()
    (found,) = zxingcpp.read_barcodes(picture)
    return str(found.text)


def words_of(pdf: bytes) -> list[str]:
    return [page.extract_text() for page in PdfReader(BytesIO(pdf)).pages]


def boxes_of(pdf: bytes) -> list[Any]:
    """Every object on the pages: its kind and where it stands."""
    document = pypdfium2.PdfDocument(pdf)
    found = [
        (number, one.type, one.get_bounds())
        for number, page in enumerate(document)
        for one in page.get_objects()
    ]
    document.close()
    return found


def path_of(payload: str) -> str:
    """The way on a host that a code names: the path alone matters."""
    return urlsplit(payload).path.removeprefix("/")


@contextmanager
def moved_to(address: str) -> Iterator[str]:
    """A host that sends whoever asks on to the same path elsewhere, and no more."""

    class Redirect(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            self.send_response(301)
            self.send_header("Location", address.rstrip("/") + self.path)
            self.end_headers()

        def log_message(self, *_: object) -> None:
            return

    with ThreadingHTTPServer((HOST, 0), Redirect) as server:
        Thread(target=server.serve_forever).start()
        try:
            yield f"http://{HOST}:{server.server_port}/"
        finally:
            server.shutdown()


class Visit(Phone):
    """A person with a browser before the pages of a served bench."""

    def seen(self, *elements: Locator) -> None:
        for element in elements:
            (handle,) = element.element_handles()
            assert handle.evaluate(IN_SIGHT), handle.inner_text()

    def words(self) -> str:
        return self.page.locator("main").inner_text().replace("\u00a0", " ")

    def pdf(self, link: str) -> bytes:
        """What a link leads to, as the browser's own viewer gets it."""
        href = self.page.get_by_role("link", name=link).evaluate("(a) => a.href")
        answer = self.context.request.get(href)
        assert answer.ok
        assert answer.headers["content-type"] == "application/pdf"
        return answer.body()

    def give_pin(self, pin: str) -> None:
        """Where one was drawn it is asked for, once; else never."""
        asked = self.page.get_by_label("PIN", exact=True)
        assert asked.count() == bool(pin)
        if pin:
            asked.fill(pin)
            self.press("Go on")


@pytest.mark.parametrize("how", WAYS)
def test_from_the_code_on_a_bottle_to_the_next_bottle(
    browser: Browser, bench: Path, number: str, how: str
) -> None:
    way = WAYS[how]
    (printed,) = (bench / "prints").glob("*.pdf")
    first = printed.read_bytes()
    payload = read_code(first)
    assert payload == f"HTTPS://BOTTLES.EXAMPLE.ORG/B/{number}"

    port = free_port()
    options = ["--lan"] if way.lan else []
    with program(bench, port, *options) as (_, said):
        pin = re.search(r"^PIN, .*: (\d{3} \d{3})$", said, re.MULTILINE)
        assert bool(pin) == way.lan
        with Visit(
            browser,
            f"http://{HOST}:{port}/",
            viewport=way.viewport,
            java_script_enabled=way.script,
        ) as visit:
            visit.open(path_of(payload))
            all_at_once(visit, number)
            a_dose(visit, bench, number)
            written_down(visit, pin[1] if pin else "")
            again = visit.pdf("Its label as PDF")
            assert words_of(again) == words_of(first)
            assert boxes_of(again) == boxes_of(first)
            assert read_code(again) == payload

            made = the_next_bottle(visit)
            visit.open(path_of(read_code(visit.pdf("The label, as PDF"))))
            assert made in visit.words()
            assert made != number
            assert "Borax pentahydrate" in visit.words()
            assert visit.wrong == []


def all_at_once(visit: Visit, number: str) -> None:
    """What a hand with a bottle must know, without scrolling."""
    page = visit.page
    visit.seen(
        page.get_by_role("heading", name="Borate alkali stock"),
        page.locator(".equation"),
        page.locator(".substance", has_text="sodium metaborate"),
        page.locator(".strength", has_text="g/L"),
        page.locator(".badge", has_text="in date"),
        page.get_by_text("DO NOT DRINK"),
        page.get_by_text(re.compile("^danger$", re.IGNORECASE)),
        page.get_by_label("Grams wanted"),
        page.get_by_label("mL poured"),
        page.get_by_text(number),
    )
    signs = page.get_by_role("list", name="Hazard pictograms").get_by_role("listitem")
    assert signs.all_inner_texts() == ["Health hazard"]
    visit.seen(signs.first)


def a_dose(visit: Visit, bench: Path, number: str) -> None:
    """One entry, answered with the figure that decimal arithmetic gives."""
    kept = as_json(labelkit("show", number, "--bench", bench, "--json").out)["strength"]
    strength_g_per_L = Decimal(str(kept["g_per_L"]))
    # 3.3 g of lye at 98 %, 2 mol of metaborate tetrahydrate for each of NaOH, in
    # 500 mL; M [g/mol] from CIAAW 2021: NaOH 39.997, NaBO2.4H2O 137.86
    lye_mol = Decimal("3.3") * Decimal("0.98") / Decimal("39.997")
    by_hand = 2 * lye_mol * Decimal("137.86") / Decimal("0.5")
    assert abs(strength_g_per_L - by_hand) < Decimal("0.01")

    field = visit.page.get_by_label("Grams wanted")
    field.fill("7.3")
    field.press("Enter")
    told = visit.page.get_by_role("status").filter(has_text=re.compile("mL$")).first
    visit.seen(told)
    figure = Decimal(told.inner_text().removesuffix("mL").strip())
    exact_mL = Decimal("7.3") * 1000 / strength_g_per_L
    assert figure == to_figures(exact_mL, len(figure.normalize().as_tuple().digits))
    # no figure moves it further than its own uncertainty, at a coverage factor of 2
    assert abs(figure - exact_mL) <= 2 * Decimal(str(kept["relative_u"])) * exact_mL


def to_figures(exact: Decimal, count: int) -> Decimal:
    """Rounded to so many significant figures."""
    return round(exact, count - 1 - exact.adjusted())


def written_down(visit: Visit, pin: str) -> None:
    page = visit.page
    page.get_by_role("link", name="Write down what happened").click()
    visit.give_pin(pin)
    page.get_by_role("radio", name="Used").check(force=True)
    page.get_by_label("How much").fill("60")
    visit.press("Write it down")
    page.wait_for_url("**/B/**#since")
    stands = page.get_by_role("region", name="How it stands").inner_text()
    assert "440 mL of 500 mL left" in stands.replace("\u00a0", " ")


def the_next_bottle(visit: Visit) -> str:
    """Planned with another form, weighed, finished and saved; its number."""
    page = visit.open("plan/borate-alkali")
    page.get_by_text("I have another form").click()
    page.get_by_label("Take Borax decahydrate from").select_option(f"form:{FORM}")
    page.get_by_role("button", name="Work it out").last.click()
    # M [g/mol] from CIAAW 2021: 17.3 g x 291.30 / 381.37 = 13.2 g
    assert "13.2 g" in visit.words()
    visit.press("Start weighing")
    number = visit.number()
    page.get_by_label("Read at step 2").fill("13.2")
    visit.press("All in: go on to the bottle")
    page.wait_for_url("**/finish/**")
    page.get_by_label("Mixed by").fill("R. Amara")
    visit.press("Save the batch")
    page.wait_for_url(f"**/done/{number}")
    return number


def test_old_codes_hold_where_one_host_sends_on_to_another(
    browser: Browser, bench: Path, number: str
) -> None:
    longer = f"B/{number}/BORATE-ALKALI-STOCK-23ML-1G-2031-03-14"
    with (
        program(bench, port := free_port()),
        moved_to(f"http://{HOST}:{port}/") as old,
    ):
        page = browser.new_page()
        for path in (f"B/{number}", f"b/{number.lower()}", longer, longer.lower()):
            page.goto(old + path)
            assert page.url == f"http://{HOST}:{port}/{path}"
            assert number in page.locator("main").inner_text()
        page.get_by_role("link", name="The shelf of Tern Street").click()
        assert page.get_by_role("heading", level=1).inner_text() == "The shelf"
        page.close()
