"""The shelf, the recipes and the page for what is not there."""

from collections.abc import Iterator
from pathlib import Path
from urllib.parse import unquote, urljoin

import pytest
from msgspec.structs import replace

from labelkit.mixing.said import AID_FULL
from labelkit.pages.site import Page, Site
from labelkit.shelf import SqliteShelf, open_shelf
from tests.pages.print_room import (
    BATH,
    BORATE,
    BORATE_PAGE,
    BROMIDE,
    TAIL,
    happened,
    record,
)
from tests.pages.reading import outline

HOST = "https://any.example/below/"


@pytest.fixture
def pages(site: Site) -> dict[str, bytes]:
    return {page.path: page.body for page in site.everything()}


def links(path: str, body: bytes) -> Iterator[str]:
    """Where the links of a page lead, as paths of the site."""
    for href in outline(body).values("href"):
        if not href.startswith(("tel:", "data:")):
            yield unquote(urljoin(f"{HOST}{path}", href)).removeprefix(HOST)


def test_there_is_a_page_for_each_address(pages: dict[str, bytes]) -> None:
    assert sorted(pages) == sorted(
        [
            "index.html",
            "404.html",
            f"B/{BORATE}/index.html",
            f"B/{BORATE}/{TAIL}/index.html",
            f"B/{BROMIDE}/index.html",
            f"B/{BATH}/index.html",
            "R/index.html",
            "R/BORATE-ALKALI/index.html",
            "R/BROMIDE-STOCK/index.html",
            "R/TORN-PAGE/index.html",
        ]
    )


def test_every_link_leads_to_a_page(pages: dict[str, bytes]) -> None:
    led = {path: set(links(path, body)) for path, body in pages.items()}
    led.pop("404.html")
    assert all(found <= set(pages) for found in led.values())
    assert {f"B/{BORATE}/index.html", "R/BORATE-ALKALI/index.html"} <= led["index.html"]
    assert "index.html" in led[f"B/{BORATE}/{TAIL}/index.html"]
    assert "R/BORATE-ALKALI/index.html" in led[f"B/{BORATE}/index.html"]


def test_a_page_for_any_depth_links_by_the_whole_address_or_not_at_all(
    site: Site, pages: dict[str, bytes]
) -> None:
    whole = "https://bottles.example.org/index.html"
    assert whole in outline(pages["404.html"]).values("href")
    nowhere = replace(site, settings=replace(site.settings, base_url=""))
    last: Page = list(nowhere.everything())[-1]
    assert last.path == "404.html"
    hrefs = outline(last.body).values("href")
    assert [h for h in hrefs if not h.startswith(("tel:", "data:"))] == []


def test_nothing_is_loaded_from_anywhere(pages: dict[str, bytes]) -> None:
    for body in pages.values():
        found = outline(body)
        assert found.values("src") == []
        icon = [a for t, a in found.tags if t == "link"]
        assert [a["rel"] for a in icon] == ["icon"]
        assert str(icon[0]["href"]).startswith("data:")


def test_every_page_is_well_built_and_says_do_not_drink(
    pages: dict[str, bytes],
) -> None:
    for path, body in pages.items():
        found = outline(body)
        assert found.faults == [], path
        assert "DO NOT DRINK" in found.text, path
        assert AID_FULL in found.text, path
        assert found.headings[0][0] == 1, path


def test_the_newest_batch_comes_first(pages: dict[str, bytes]) -> None:
    text = outline(pages["index.html"]).text
    places = [text.index(number) for number in (BATH, BORATE, BROMIDE)]
    assert places == sorted(places)


def test_a_line_of_the_shelf_tells_what_a_hand_needs(pages: dict[str, bytes]) -> None:
    text = outline(pages["index.html"]).text
    assert (
        f"Borate alkali stock {BORATE} DANGER ASK M. Osei 20 mL = 1 g sodium "
        "metaborate tetrahydrate Discard after 2031-10-01. Mixed 2031-03-14 by "
        "M. Osei." in text
    )
    assert f"Potassium bromide part B {BROMIDE}" in text
    assert "No discard date known: test before use." in text
    assert "1 + 1 + 100: A + B + water" in text


def test_a_discarded_batch_leaves_the_front_for_a_page_of_its_own(
    site: Site, shelf: SqliteShelf
) -> None:
    shelf.append(happened("discarded", None))
    pages = {page.path: page.body for page in site.everything()}
    assert BORATE not in outline(pages["index.html"]).text
    assert "1 discarded batch" in outline(pages["index.html"]).text
    assert "discarded/index.html" in outline(pages["index.html"]).values("href")
    gone = outline(pages["discarded/index.html"])
    assert f"../B/{BORATE}/index.html" in gone.values("href")
    assert "DISCARDED" in outline(pages[f"B/{BORATE}/index.html"]).text


def test_an_empty_shelf_says_so(site: Site, tmp_path: Path) -> None:
    with open_shelf(tmp_path / "empty.sqlite3", create=True) as empty:
        front = replace(site, shelf=empty).front("")
    assert "Nothing stands on the shelf." in outline(front).text


def test_a_recipe_has_its_steps_its_hazards_and_its_batches(
    pages: dict[str, bytes],
) -> None:
    text = outline(pages["R/BORATE-ALKALI/index.html"]).text
    for must in (
        "Recipe, revision 1", "20 mL = 1 g", "For 250 mL use a beaker of 500 mL.",
        "STOP No dust. 1 Borax decahydrate Stir until clear. 8.7 g 17.3 g",
        "2 Cool to 25 °C", "DANGER", "May damage fertility.", "NEVER WITH ammonium",
        "Gloves on.", BORATE,
    ):  # fmt: skip
        assert must in text
    assert BROMIDE not in text


def test_a_recipe_at_fault_has_a_page_that_keeps_the_bench_private(
    pages: dict[str, bytes],
) -> None:
    text = outline(pages["R/TORN-PAGE/index.html"]).text
    assert "Cannot be worked out" in text
    assert "labelkit check" in text
    assert "/home" not in pages["R/TORN-PAGE/index.html"].decode()


def test_one_page_answers_alike_whoever_asks(
    site: Site, pages: dict[str, bytes]
) -> None:
    assert site.front("") == pages["index.html"]
    assert site.batch(BORATE, "../../") == pages[f"B/{BORATE}/index.html"]
    assert site.recipe("borate-ALKALI", "../../") == pages["R/BORATE-ALKALI/index.html"]


def test_a_recipe_lists_no_batch_of_one_whose_name_begins_alike(
    site: Site, shelf: SqliteShelf
) -> None:
    half = replace(BORATE_PAGE, number="7K3M-Q9TX-8", recipe="borate-alkali-half")
    shelf.add(record(half, None))
    page = site.recipe("borate-alkali", "../../")
    assert page is not None
    assert "7K3M-Q9TX-8" not in outline(page).text
    paged = {page.path: page.body for page in site.everything()}
    assert page == paged["R/BORATE-ALKALI/index.html"]


def test_what_a_number_looks_like_is_said_where_there_is_none(site: Site) -> None:
    text = outline(site.unknown("../", "There is no batch 7M3K-2QWX-Y here.")).text
    for must in (
        "There is no batch 7M3K-2QWX-Y here.", "ABCD-EFGH-K", "without I, L, O and U",
        "Do not open, smell, taste, pour out or throw away.", "UNKNOWN",
        "hazardous waste", "Swallowed: rinse mouth.", "DO NOT DRINK",
    ):  # fmt: skip
        assert must in text
