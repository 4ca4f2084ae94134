"""On a small phone every sample's record says what matters before any scrolling.

360 by 640 CSS pixels. The demo's own recipes are mixed by the commands a person types,
and each element is measured where Chromium puts it.
"""

import json
import shutil
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from playwright.sync_api import Browser, Page, ViewportSize

from labelkit.cli.group import commands
from labelkit.mixing.record import page_text
from labelkit.pages.frozen_page import pouring_of
from labelkit.resources import samples_dir
from labelkit.shelf import open_shelf

PHONE: ViewportSize = {"width": 360, "height": 640}
RECIPES = (
    "silver-nitrate", "borate-alkali", "film-developer", "pyro-a", "pyro-b",
    "plain-fixer", "citric-stop", "bromide-stock", "blueprint-a", "blueprint-b",
    "pyro-working",
)  # fmt: skip
# The boxes of what matters, and of the foot that stands over the page's end.
BOXES = """() => {
  const bottom = (element) => element.getBoundingClientRect().bottom;
  const of = (css) => [...document.querySelectorAll(css)].map(bottom);
  return {
    name: of(".name"), equation: of(".equation"), strength: of(".strength"),
    pour: of(".pour form"), date: of(".discard"), made: of(".made"),
    signal: of(".told .signal"), pictograms: of(".pictograms li"),
    none: of(".none strong"), foot: of(".foot"),
    foot_top: [document.querySelector(".foot").getBoundingClientRect().top],
  };
}"""


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A bench with a batch of each sample, opened, and its pages."""
    folder = tmp_path_factory.mktemp("samples") / "bench"
    shutil.copytree(str(samples_dir()), folder)
    for recipe in RECIPES:
        more = ["--use", "hold"] if recipe == "silver-nitrate" else []
        run(folder, "mix", recipe, "--by", "M. Osei", "--on", "2031-03-14 14:40", *more)
    run(folder, "publish", str(folder / "pages"))
    return folder


def run(bench: Path, command: str, *words: str) -> None:
    done = CliRunner().invoke(
        commands,
        [command, "--bench", str(bench), *words],
        input="",
        catch_exceptions=False,
    )
    assert done.exit_code == 0, done.output


def numbers(bench: Path) -> dict[str, str]:
    if not (bench / "shelf.sqlite3").is_file():
        return {}
    with open_shelf(bench / "shelf.sqlite3", create=False) as shelf:
        return {record.number: record.recipe for record in shelf.all()}


def opened(browser: Browser, bench: Path, recipe: str) -> tuple[Page, str]:
    number = next(n for n, r in numbers(bench).items() if r == recipe)
    page = browser.new_context(viewport=PHONE).new_page()
    page.goto((bench / "pages" / "B" / number / "index.html").as_uri())
    return page, number


@pytest.mark.parametrize("recipe", RECIPES)
def test_all_that_matters_stands_above_the_foot(
    browser: Browser, bench: Path, recipe: str
) -> None:
    page, number = opened(browser, bench, recipe)
    boxes: dict[str, list[float]] = page.evaluate(BOXES)
    page.context.close()
    (foot_top,), foot = boxes.pop("foot_top"), boxes.pop("foot")
    assert foot == [640]
    low = {what: at for what, at in boxes.items() if at and max(at) > foot_top}
    assert low == {}
    with open_shelf(bench / "shelf.sqlite3", create=False) as shelf:
        record = shelf.get(number)
    words = page_text(record)
    assert len(boxes["name"]) == len(boxes["equation"]) == len(boxes["date"]) == 1
    assert len(boxes["pour"]) == (2 if pouring_of(words, record) else 0)
    assert len(boxes["signal"]) == bool(words.hazard.signal)
    assert len(boxes["pictograms"]) == len(words.hazard.pictograms)
    assert len(boxes["none"]) == bool(words.hazard.none_reached)


def test_a_dose_is_answered_without_scrolling(browser: Browser, bench: Path) -> None:
    page, _ = opened(browser, bench, "silver-nitrate")
    page.get_by_label("Grams wanted").fill("3")
    page.get_by_label("mL poured").fill("25")
    answers = page.locator(".pour output").all_inner_texts()
    bottoms = [
        box["y"] + box["height"]
        for output in page.locator(".pour output").all()
        if (box := output.bounding_box())
    ]
    scrolled = page.evaluate("scrollY")
    page.context.close()
    # 100 g/L: 10 mL carry 1 g
    assert answers == ["30 mL", "2.5 g"]
    assert scrolled == 0
    assert max(bottoms) < 588


def test_a_bottle_on_hold_says_so_at_the_top(browser: Browser, bench: Path) -> None:
    page, _ = opened(browser, bench, "silver-nitrate")
    box: Any = page.get_by_text("HOLD", exact=True).bounding_box()
    page.context.close()
    assert box["y"] + box["height"] < 100


def test_the_samples_are_all_there(bench: Path) -> None:
    files = {path.stem for path in (bench / "recipes").glob("*.toml")}
    assert files == set(RECIPES)
    assert sorted(numbers(bench).values()) == sorted(RECIPES)
    manifest = json.loads((bench / "pages" / ".labelkit-pages.json").read_text())
    assert len([path for path in manifest if path.startswith("B/")]) == len(RECIPES)
