"""The whole way: recipe, weights, label, scanned code, opened page."""

import json
import re
from pathlib import Path
from random import Random

import pytest
from playwright.sync_api import Browser
from pypdf import PdfReader

from tests.cli.conftest import Run, labelkit
from tests.printing.decoding import (
    Picture,
    cut_out,
    pictures,
    read_by_opencv,
    read_by_zxing,
)

DPI = 150
LABEL_NAME = re.compile(r"(?P<recipe>.+)-(?P<number>\w{4}-\w{4}-\w)")
PT_PER_MM = 72 / 25.4
# What goes on the glass under a label that hangs: across [mm], with no room for a code.
CAPS = {"silver-nitrate": [(24, 24)]}


def rasters(path: Path) -> list[Picture]:
    """Each page at 150 dpi, as an office printer and a camera would give it back."""
    return pictures(path.read_bytes(), DPI)


def sizes_mm(path: Path) -> list[tuple[int, int]]:
    """Width and height of each page [mm]."""
    boxes = [page.mediabox for page in PdfReader(path).pages]
    return [(round(b.width / PT_PER_MM), round(b.height / PT_PER_MM)) for b in boxes]


@pytest.fixture(autouse=True)
def the_same_numbers_every_time(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is drawn for a batch number, so that a run can be repeated."""
    drawn = Random(74)
    monkeypatch.setattr("secrets.randbelow", lambda below: drawn.randrange(below))


def read_twice(picture: Picture) -> str:
    """What zxing-cpp reads; OpenCV must read the same, held over it as a camera is."""
    (first,) = read_by_zxing(picture)
    assert read_by_opencv(cut_out(picture)) == first
    return first


def mixed(run: Run, *words: str) -> str:
    """The number of a batch that is mixed now."""
    answer = run("mix", *words, "--by", "M. Osei", "--on", "2031-03-14", "--json")
    assert answer.code == 0, answer.err
    return str(json.loads(answer.out)["batch"])


def label_of(bench: Path, number: str) -> Path:
    (path,) = (bench / "prints").glob(f"*{number}*.pdf")
    return path


def test_a_scanned_label_opens_the_page_of_its_batch(
    bench: Path, run: Run, browser: Browser
) -> None:
    number = mixed(run, "borate-alkali", "--weighed", "2=17.4g")
    (picture,) = rasters(label_of(bench, number))
    address = f"HTTPS://BOTTLES.EXAMPLE.ORG/B/{number}"
    scanned = read_twice(picture)
    assert scanned.startswith(address)

    assert run("publish", bench / "pages").code == 0
    path = scanned.removeprefix("HTTPS://BOTTLES.EXAMPLE.ORG/")
    page = browser.new_page(viewport={"width": 360, "height": 640})
    page.goto((bench / "pages" / path / "index.html").as_uri())
    words = page.inner_text("body")
    page.close()
    for told in ("Borate alkali stock", number, "17.4 g", "DO NOT DRINK", "DANGER"):
        assert told in words
    assert json.loads(run("show", scanned, "--json").out)["batch"] == number


@pytest.mark.parametrize("base_url", ["https://bottles.example.org", ""])
def test_every_code_of_every_sample_reads_back(
    base_url: str, bench: Path, run: Run
) -> None:
    settings = bench / "labelkit.toml"
    text = settings.read_text("utf-8").replace("https://bottles.example.org", base_url)
    settings.write_text(text, encoding="utf-8")
    for recipe in sorted((bench / "recipes").glob("*.toml")):
        number = mixed(run, recipe.stem)
        path = label_of(bench, number)
        assert number in read_twice(rasters(path)[0])
        assert sizes_mm(path)[1:] == CAPS.get(recipe.stem, [])
        assert run("card", recipe.stem, "-o", bench / "card.pdf").code == 0
        assert read_twice(rasters(bench / "card.pdf")[1])


def test_what_the_label_must_say_can_be_read_out_of_the_file(
    bench: Path, run: Run
) -> None:
    number = mixed(run, "borate-alkali", "--into", "2x250 mL")
    first, second = PdfReader(label_of(bench, number)).pages
    words = " ".join(first.extract_text().replace("\u00a0", " ").split())
    for told in (
        "Borate alkali stock", "sodium metaborate tetrahydrate", number, "DANGER",
        "Health hazard", "May damage fertility. May damage the unborn child.",
        "IF exposed or concerned: Get medical advice.", "DO NOT DRINK",
        "Discard after 2032-03-14", "bottle 1 of 2", "NEVER WITH",
    ):  # fmt: skip
        assert told in words
    assert "bottle 2 of 2" in second.extract_text().replace("\u00a0", " ")


def test_a_reprint_is_the_same_file_whatever_was_changed_since(
    bench: Path, run: Run
) -> None:
    number = mixed(run, "borate-alkali")
    path = label_of(bench, number)
    first, shown = path.read_bytes(), run("show", number).out
    recipe = bench / "recipes" / "borate-alkali.toml"
    recipe.write_text(recipe.read_text("utf-8").replace("17.3 g", "1.0 g"), "utf-8")
    path.unlink()
    assert run("label", number).code == 0
    assert path.read_bytes() == first
    assert run("show", number).out == shown


def test_a_batch_is_worked_out_from_the_weights_as_read(run: Run) -> None:
    planned = json.loads(run("plan", "pyro-a", "--json").out)
    number = mixed(run, "pyro-a", "--weighed", "pyrogallol=20 g")
    kept = json.loads(run("show", number, "--json").out)
    assert planned["strength"]["g_per_L"] == 100
    assert kept["strength"]["g_per_L"] == 80
    assert kept["headline"]["text"] == "12.5 mL = 1 g"
    read = {row["step"]: row["read"] for row in kept["weighed"]}
    assert read == {1: False, 2: False, 3: True}


def test_a_working_bath_carries_what_its_bottles_hold(run: Run) -> None:
    weak = mixed(run, "pyro-a", "--weighed", "pyrogallol=12.5 g")
    bath = mixed(run, "pyro-working", "--stock", f"pyro-a={weak}")
    kept = json.loads(run("show", bath, "--json").out)
    poured = {row["chemical"]: row["batch"] for row in kept["measure"]}
    assert poured["recipe:pyro-a"] == weak
    pyrogallol = {c["chemical"]: c["g_per_L"] for c in kept["contents"]}["pyrogallol"]
    assert pyrogallol == pytest.approx(50 * 5 / 510)


def test_the_demo_makes_a_bench_with_labels_cards_and_pages(tmp_path: Path) -> None:
    answer = labelkit("demo", tmp_path / "demo")
    assert answer.code == 0, answer.err
    assert "No label" not in answer.out
    made = tmp_path / "demo"
    recipes = {path.stem for path in (made / "recipes").glob("*.toml")}
    numbers = {path.name for path in (made / "pages" / "B").iterdir()}
    assert len(recipes) == len(numbers) == 11
    labels = {path.stem for path in (made / "prints").glob("*.pdf")} - {"cards"}
    ours = [LABEL_NAME.fullmatch(name) for name in labels]
    assert {told["recipe"] for told in ours if told} == recipes
    assert {told["number"] for told in ours if told} == numbers
    # a page for each recipe, and one that lists them
    listed = {name.upper() for name in recipes} | {"index.html"}
    assert {path.name for path in (made / "pages" / "R").iterdir()} == listed
    # a front and a back of each card
    cards = PdfReader(made / "prints" / "cards.pdf")
    assert len(cards.pages) == 2 * len(recipes)
