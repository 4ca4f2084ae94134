"""The published page as a phone shows it, opened from a plain folder."""

from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tests.pages.print_room import BATH, BORATE, BROMIDE, TAIL

PHONE = {"width": 360, "height": 640}
# Whether all of an element's text lies on the screen and nothing lies over it.
SEEN = """(words) => {
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const at = walk.currentNode.data.replace(/\\s+/g, " ").indexOf(words);
    if (at < 0) continue;
    const range = document.createRange();
    range.selectNodeContents(walk.currentNode);
    const box = range.getBoundingClientRect();
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    const top = document.elementFromPoint(x, y);
    const inside = box.width > 1 && box.top >= 0 && box.left >= 0
      && box.bottom <= innerHeight && box.right <= innerWidth;
    const element = walk.currentNode.parentElement;
    if (inside && top && (element.contains(top) || top.contains(element))) return true;
  }
  return false;
}"""


class Visit:
    """A page as a visitor has it open; what it said and asked for is kept."""

    def __init__(self, browser: Browser, file: Path, **context: Any) -> None:
        self.context = browser.new_context(**{"viewport": PHONE, **context})
        self.page: Page = self.context.new_page()
        self.said: list[str] = []
        self.asked: list[str] = []
        self.page.on("console", lambda message: self.said.append(message.text))
        self.page.on("pageerror", lambda error: self.said.append(str(error)))
        self.page.on("request", lambda request: self.asked.append(request.url))
        self.page.goto(file.as_uri())

    def __enter__(self) -> "Visit":
        return self

    def __exit__(self, *_: object) -> None:
        self.context.close()

    def sees(self, words: str) -> bool:
        return bool(self.page.evaluate(SEEN, words))


FIRST_SCREENS = {
    BORATE: [
        "Borate alkali stock", "20", "sodium metaborate", "50 g/L", "2031-10-01",
        "2032-03-14", "Mixed 2031-03-14", BORATE, "DANGER", "Health hazard",
        "DO NOT DRINK", "01632 960 118",
    ],
    BROMIDE: [
        "Potassium bromide", "B", "10", "No discard date known", BROMIDE,
        "No hazard class reached by calculation. This does not mean safe.",
        "DO NOT DRINK", "01632 960 118",
    ],
    BATH: ["Pyro working bath", "100", "A + B + water", "2031-03-14 15:40", BATH,
           "This does not mean safe.", "DO NOT DRINK"],
}  # fmt: skip


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("number", FIRST_SCREENS)
def test_the_first_screen_of_a_small_phone_says_what_matters(
    browser: Browser, published: Path, number: str, scheme: str
) -> None:
    file = published / "B" / number / "index.html"
    with Visit(browser, file, color_scheme=scheme) as visit:
        unseen = [words for words in FIRST_SCREENS[number] if not visit.sees(words)]
        assert unseen == []
        assert visit.said == []
        assert visit.asked == [file.as_uri()]


def test_do_not_drink_stays_in_sight_to_the_end(
    browser: Browser, published: Path
) -> None:
    with Visit(browser, published / "B" / BORATE / "index.html") as visit:
        visit.page.evaluate("scrollTo(0, document.documentElement.scrollHeight)")
        assert not visit.sees("DANGER")
        assert visit.sees("DO NOT DRINK")


def test_without_script_the_dates_and_all_else_are_there(
    browser: Browser, published: Path
) -> None:
    file = published / "B" / BORATE / "index.html"
    with Visit(browser, file, java_script_enabled=False) as visit:
        text = visit.page.locator("main").inner_text()
        assert "2032-03-14" in text
        assert "in date" not in text
        visit.page.locator("summary").click()
        assert visit.page.get_by_text("Repr. 1B").is_visible()


@pytest.mark.parametrize(
    ("now", "badges"),
    [
        ("2031-09-30T23:59:00", ["in date", "in date"]),
        ("2031-10-01T23:59:00", ["in date", "in date"]),
        ("2031-10-02T00:00:00", ["PAST ITS DATE", "in date"]),
        ("2032-03-15T00:00:00", ["PAST ITS DATE", "PAST ITS DATE"]),
    ],
)
def test_a_bottle_is_in_date_through_its_last_day(
    browser: Browser, published: Path, now: str, badges: list[str]
) -> None:
    with Visit(browser, published / "404.html", timezone_id="Europe/Berlin") as visit:
        visit.page.clock.set_fixed_time(f"{now}+0{2 if now < '2031-10-26' else 1}:00")
        visit.page.goto((published / "B" / BORATE / "index.html").as_uri())
        assert visit.page.locator(".badge").all_inner_texts() == badges


@pytest.mark.parametrize(
    ("minute", "badge"), [("40", "in date"), ("41", "PAST ITS DATE")]
)
def test_a_bath_is_good_up_to_its_minute(
    browser: Browser, published: Path, minute: str, badge: str
) -> None:
    with Visit(browser, published / "404.html", timezone_id="Europe/Berlin") as visit:
        visit.page.clock.set_fixed_time(f"2031-03-14T15:{minute}:00+01:00")
        visit.page.goto((published / "B" / BATH / "index.html").as_uri())
        assert visit.page.locator(".badge").all_inner_texts() == [badge]


@pytest.mark.parametrize("width", [320, 360, 800, 1280])
@pytest.mark.parametrize(
    "page",
    ["index.html", "404.html", f"B/{BORATE}/{TAIL}/index.html",
     "R/BORATE-ALKALI/index.html"],
)  # fmt: skip
def test_nothing_runs_over_the_side(
    browser: Browser, published: Path, page: str, width: int
) -> None:
    # WCAG 2.2, 1.4.10: down to 320 CSS pixels without scrolling in two directions
    with Visit(
        browser, published / page, viewport={"width": width, "height": 640}
    ) as visit:
        across = visit.page.evaluate("document.documentElement.scrollWidth")
        assert across <= width
        assert visit.said == []


def test_links_are_large_enough_for_a_wet_finger(
    browser: Browser, published: Path
) -> None:
    # WCAG 2.2, 2.5.8: targets of at least 24 by 24 CSS pixels
    with Visit(browser, published / "index.html") as visit:
        boxes = [link.bounding_box() for link in visit.page.locator("a").all()]
        assert len(boxes) >= 6
        assert all(box and box["height"] >= 24 and box["width"] >= 24 for box in boxes)


def test_a_scanned_long_address_leads_on_to_the_shelf(
    browser: Browser, published: Path
) -> None:
    with Visit(browser, published / "B" / BORATE / TAIL / "index.html") as visit:
        visit.page.get_by_role("link", name="The shelf of Tern Street").click()
        assert visit.page.get_by_role("heading", level=1).inner_text() == "The shelf"
        visit.page.get_by_role("link", name="Borate alkali stock").click()
        assert visit.sees("DANGER")
        assert visit.said == []


def test_a_screen_reader_finds_its_way(browser: Browser, published: Path) -> None:
    with Visit(browser, published / "B" / BORATE / "index.html") as visit:
        page = visit.page
        assert page.get_by_role("main").count() == 1
        assert page.get_by_role("contentinfo").count() == 1
        assert page.get_by_role("navigation", name="Pages").count() == 1
        signs = page.get_by_role("list", name="Hazard pictograms")
        assert signs.get_by_role("listitem").all_inner_texts() == ["Health hazard"]
        weighed = page.get_by_role("region", name="What was weighed and measured")
        assert weighed.get_by_role("columnheader").all_inner_texts() == [
            "Step",
            "Planned",
            "As read",
        ]


def test_it_prints_black_on_white_from_a_dark_screen(
    browser: Browser, published: Path
) -> None:
    file = published / "B" / BORATE / "index.html"
    with Visit(browser, file, color_scheme="dark") as visit:
        visit.page.emulate_media(media="print")
        colour, ground, foot = visit.page.evaluate(
            """() => ["html", "html", ".foot"].map((at, n) => {
              const style = getComputedStyle(document.querySelector(at));
              return [style.color, style.backgroundColor, style.position][n];
            })"""
        )
        assert colour == "rgb(0, 0, 0)"
        assert ground == "rgb(255, 255, 255)"
        assert foot == "static"
