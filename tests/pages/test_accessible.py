"""Every kind of page, held against axe-core's rules and WCAG 2.2's target sizes."""

from importlib.resources import files
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from msgspec.structs import replace
from playwright.sync_api import Browser, Page, ViewportSize

from labelkit.mixing.finding import Found, freeze_found
from labelkit.pages.answering import answer
from labelkit.pages.asked import Asked
from labelkit.pages.site import Site
from tests.pages.conftest import filled
from tests.pages.print_room import (
    BATH_PAGE,
    BORATE,
    BROMIDE,
    NOON,
    ROOM,
    Cards,
    happened,
    record,
)
from tests.pages.reading import outline

AXE = (files("axe_playwright_python") / "axe.min.js").read_text("utf-8")
PHONE: ViewportSize = {"width": 360, "height": 640}
DESK: ViewportSize = {"width": 1280, "height": 900}
LATE = NOON.replace(year=2033)
HELD, FOUND, BARE = "7K3M-Q9TX-8", "QQQQ-QQQQ-8", "0123-4567-M"
KINDS: dict[str, Asked] = {
    "shelf": Asked("", {"q": "o", "show": "all"}),
    "a list there is not": Asked("", {"show": "none"}),
    "batch": Asked(f"B/{BORATE}", {"g": "3"}),
    "fault in a dose": Asked(f"B/{BROMIDE}", {"g": "three", "mL": "900"}),
    "held": Asked(f"B/{HELD}"),
    "found": Asked(f"B/{FOUND}"),
    "bare": Asked(f"B/{BARE}"),
    "recipe": Asked("R/borate-alkali", {"make": "750 mL"}),
    "fault in a quantity": Asked("R/borate-alkali", {"make": "lots"}),
    "recipe at fault": Asked("R/torn-page"),
    "recipes": Asked("R/"),
    "unknown": Asked("B/ABC"),
    "trouble": Asked("\x00"),
    "kept front": Asked("kept"),
    "kept discarded": Asked("kept"),
}


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A page of each kind as a file."""
    folder = tmp_path_factory.mktemp("kinds")
    with filled(folder / "shelf.sqlite3") as shelf:
        shelf.append(happened("used", 2, amount_mL="60"))
        held = replace(BATH_PAGE, number=HELD, use_mark="HOLD")
        shelf.add(record(held, None))
        shelf.add(freeze_found(Found(NOON, "sill", "M. Osei"), FOUND, ROOM))
        shelf.add(record(replace(held, number=BARE), None, data={"words": {}}))
        shelf.append(happened("discarded", None, batch=BARE))
        live = Site(shelf, Cards(), ROOM, live=True, clock=lambda: LATE)
        kept = {p.path: p.body for p in replace(live, live=False).everything()}
        for kind, asked in KINDS.items():
            body = answer(live, asked).body
            if kind.startswith("kept"):
                path = "index.html" if "front" in kind else "discarded/index.html"
                body = kept[path]
            (folder / f"{kind}.html").write_bytes(body)
    return folder


def faults(page: Page, rules: str = "") -> list[str]:
    """What axe-core finds serious or critical, by all rules or those named."""
    only = f", runOnly: {rules.split()}" if rules else ""
    found: dict[str, Any] = page.evaluate(
        f"() => axe.run(document, {{resultTypes: ['violations']{only}}})"
    )
    return [
        f"{fault['id']}: {node['html'][:90]}"
        for fault in found["violations"]
        if fault["impact"] in ("serious", "critical")
        for node in fault["nodes"]
    ]


@pytest.mark.parametrize("kind", KINDS)
def test_no_page_has_a_serious_fault(browser: Browser, folder: Path, kind: str) -> None:
    context = browser.new_context(viewport=PHONE, bypass_csp=True)
    page = context.new_page()
    page.goto((folder / f"{kind}.html").as_uri())
    page.evaluate(AXE)
    told = {}
    for name, size in (("phone", PHONE), ("desk", DESK)):
        page.set_viewport_size(size)
        page.emulate_media(color_scheme="light")
        told[f"{name}, light"] = faults(page)
        page.emulate_media(color_scheme="dark")
        told[f"{name}, dark"] = faults(page, "color-contrast")
    context.close()
    assert {where: found for where, found in told.items() if found} == {}


def test_axe_sees_a_planted_fault(browser: Browser, folder: Path) -> None:
    context = browser.new_context(viewport=PHONE, bypass_csp=True)
    page = context.new_page()
    page.goto((folder / "batch.html").as_uri())
    page.evaluate(AXE)
    page.evaluate("document.querySelector('label[for=entry-g]').remove()")
    found = faults(page)
    context.close()
    assert [fault for fault in found if fault.startswith("label:")]


@pytest.mark.parametrize("kind", KINDS)
def test_what_is_tapped_is_large_enough(
    browser: Browser, folder: Path, kind: str
) -> None:
    # WCAG 2.2, 2.5.8: 24 by 24 CSS pixels; 2.5.5: 44 for what is tapped with wet hands
    context = browser.new_context(viewport=PHONE)
    page = context.new_page()
    page.goto((folder / f"{kind}.html").as_uri())
    small = page.evaluate(
        """() => [...document.querySelectorAll("a, button, input")].filter(e => {
          const box = e.getBoundingClientRect();
          const main = e.matches("button, input, .acts a, .pages a, .onward, .foot a");
          const least = main ? 44 : 24;
          return box.width > 0 && (box.height < least || (main && box.width < least)
            || box.width < 24);
        }).map(e => e.outerHTML.slice(0, 90))"""
    )
    context.close()
    assert small == []


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_is_well_built(folder: Path, kind: str) -> None:
    found = outline((folder / f"{kind}.html").read_bytes())
    ids = found.values("id")
    levels = [level for level, _ in found.headings]
    named = [*found.values("aria-labelledby"), *found.values("aria-describedby")]
    fields = {a.get("id") for tag, a in found.tags if tag == "input"}
    labelled = {a.get("for") for tag, a in found.tags if tag == "label"}
    assert found.faults == []
    assert len(ids) == len(set(ids))
    assert {name for value in named for name in value.split()} <= set(ids)
    assert fields == labelled
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(b - a <= 1 for a, b in pairwise(levels))


def test_the_kinds_are_what_they_are_called(folder: Path) -> None:
    signs = {
        "shelf": "Searched for", "a list there is not": "There is no list",
        "batch": "Grams wanted = 60 mL", "fault in a dose": "'three' does not start",
        "held": "HOLD", "found": "UNKNOWN", "bare": "Treat as hazardous",
        "recipe": "For 750 mL", "fault in a quantity": "'lots' does not start",
        "recipe at fault": "Cannot be worked out", "recipes": "torn-page",
        "unknown": "No such page", "trouble": "cannot be read",
        "kept front": "What stands on it", "kept discarded": BARE,
    }  # fmt: skip
    texts = {k: outline((folder / f"{k}.html").read_bytes()).text for k in KINDS}
    assert [kind for kind in KINDS if signs[kind] not in texts[kind]] == []
