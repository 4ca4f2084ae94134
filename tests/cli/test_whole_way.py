"""The whole way: recipe, weights, label, scanned code, opened page."""

import json
from pathlib import Path
from random import Random

import cv2
import numpy as np
import pypdfium2
import pytest
import zxingcpp
from playwright.sync_api import Browser
from pypdf import PdfReader

from tests.cli.conftest import Run, labelkit

DPI = 150


CAP_PT = 24 * 72 / 25.4 + 1  # 24 mm across


def rasters(path: Path) -> list[np.ndarray]:
    """Each page at 150 dpi, as an office printer and a camera would give it back."""
    document = pypdfium2.PdfDocument(path)
    pages = [
        page.render(scale=DPI / 72).to_numpy()[:, :, :3].copy() for page in document
    ]
    document.close()
    return pages


@pytest.fixture(autouse=True)
def the_same_numbers_every_time(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is drawn for a batch number, so that a run can be repeated."""
    drawn = Random(74)
    monkeypatch.setattr("secrets.randbelow", lambda below: drawn.randrange(below))


def read_twice(picture: np.ndarray) -> str:
    """What zxing-cpp reads; OpenCV must read the same, as near as a camera comes."""
    (first,) = zxingcpp.read_barcodes(picture)
    assert first.text in [_opencv(picture, times) for times in (2, 3, 4)]
    return str(first.text)


def _opencv(picture: np.ndarray, times: int) -> str:
    nearer = cv2.resize(
        picture, None, fx=times, fy=times, interpolation=cv2.INTER_CUBIC
    )
    return cv2.QRCodeDetector().detectAndDecode(nearer)[0]


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
        pages = PdfReader(path).pages
        labels = [float(p.mediabox.width) > CAP_PT for p in pages]  # a cap has no code
        assert labels[0]
        for picture, is_label in zip(rasters(path), labels, strict=True):
            assert not is_label or number in read_twice(picture)
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
    samples = list((made / "recipes").glob("*.toml"))
    assert len(list((made / "prints").glob("*-*-*.pdf"))) == len(samples) == 11
    assert len(list((made / "pages" / "B").iterdir())) == 11
    assert len(list((made / "pages" / "R").iterdir())) == 11
    assert len(PdfReader(made / "prints" / "cards.pdf").pages) == 22
