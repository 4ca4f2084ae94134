"""The files of every kind of print, read by pypdf and pdfium and checked by qpdf.

ISO 32000-1 for catalogue, fonts and structure; ISO 14289-1 for what a tagged document
must have; design, print-spec section 12 for what is asked of ours.
"""

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from hashlib import sha256
from io import BytesIO
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from fontTools.ttLib import TTFont
from pypdf import PdfReader
from pypdf.generic import IndirectObject

from labelkit.printing.pdf import draw_papers
from labelkit.printing.sheet_files import read_sheet
from labelkit.printing.sheets import impose
from tests.printing.sheet_texts import SHEET
from tests.printing.world_prints import (
    CARDS,
    LABELS,
    PRINTS,
    card,
    label,
    pdf_of,
    printed,
)

ROOT = Path(__file__).resolve().parents[2]
NAMED = {"H1", "P", "Figure", "Table", "TR", "TD", "Sect", "Document"}
DIGESTS = """
from hashlib import sha256
from tests.printing.world_prints import PRINTS, pdf_of
for name in PRINTS:
    print(sha256(pdf_of(name)).hexdigest(), name)
"""


def resolved(thing: Any) -> Any:
    return thing.get_object() if isinstance(thing, IndirectObject) else thing


def root_of(pdf: bytes) -> Any:
    return resolved(PdfReader(BytesIO(pdf), strict=True).trailer["/Root"])


def on_a_sheet() -> bytes:
    """A sheet of labels, as a long run prints it: without tags."""
    page = label("tall")[1].page
    papers = impose([page] * 5, read_sheet("a4-74x105"))
    return draw_papers(papers, title="x", author="y", subject="z", tagged=False)


# ---------------------------------------------------------------- the same bytes


def test_another_process_in_another_place_prints_the_same_bytes(tmp_path: Path) -> None:
    """Other hash seed, time zone, language and folder."""
    other = os.environ | {
        "PYTHONHASHSEED": "1",
        "TZ": "Pacific/Auckland",
        "LC_ALL": "C",
        "PYTHONPATH": str(ROOT),
    }
    done = subprocess.run(
        [sys.executable, "-c", DIGESTS],
        cwd=tmp_path,
        env=other,
        capture_output=True,
        text=True,
        check=True,
    )
    here = [f"{sha256(pdf_of(name)).hexdigest()} {name}" for name in PRINTS]
    assert done.stdout.splitlines() == here


# ---------------------------------------------------------------- fonts


def fonts_of(pdf: bytes) -> Iterator[Any]:
    """Every font that a page or a form of a file names."""
    for page in PdfReader(BytesIO(pdf), strict=True).pages:
        resources = [resolved(page["/Resources"])]
        forms = resolved(resources[0].get("/XObject", {}))
        for form in map(resolved, forms.values()):
            resources.append(resolved(form.get("/Resources", {})))
        for one in resources:
            yield from map(resolved, resolved(one.get("/Font", {})).values())


@pytest.mark.parametrize("name", PRINTS)
def test_all_fonts_are_subsets_inside_the_file_and_read_back(name: str) -> None:
    fonts = list(fonts_of(pdf_of(name)))
    assert fonts
    for font in fonts:
        assert re.match(r"/[A-Z]{6}\+IBMPlexSansCond", font["/BaseFont"])
        inside = resolved(font["/FontDescriptor"])["/FontFile2"].get_data()
        glyphs = TTFont(BytesIO(inside))["maxp"].numGlyphs
        assert glyphs <= 257  # the whole family has more than a thousand
        assert "/ToUnicode" in font


@pytest.mark.parametrize("name", PRINTS)
def test_no_font_is_anywhere_in_the_file_that_is_not_whole_in_it(name: str) -> None:
    seen = PdfReader(BytesIO(pdf_of(name)), strict=True)
    size: Any = seen.trailer["/Size"]
    things: list[Any] = [seen.get_object(number) for number in range(1, int(size))]
    fonts = [
        one for one in things if isinstance(one, dict) and one.get("/Type") == "/Font"
    ]
    assert fonts
    for font in fonts:
        assert "/FontFile2" in resolved(font["/FontDescriptor"])
    assert b"Helvetica" not in pdf_of(name)


# ---------------------------------------------------------------- what it says


@pytest.mark.parametrize("name", PRINTS)
def test_a_file_says_what_it_is_in_which_language_and_how_to_print_it(
    name: str,
) -> None:
    seen = PdfReader(BytesIO(pdf_of(name)), strict=True)
    about, root = seen.metadata, resolved(seen.trailer["/Root"])
    assert about is not None
    assert about.title
    assert about.author
    assert about.subject
    assert about.creator == "labelkit"
    assert root["/Lang"] == "en-GB"
    shown = resolved(root["/ViewerPreferences"])
    assert shown["/PrintScaling"] == "/None"
    assert bool(shown["/DisplayDocTitle"].value) is True
    packet = resolved(root["/Metadata"]).get_data().decode()
    assert f">{about.title}<" in packet


# ---------------------------------------------------------------- structure


def elements(pdf: bytes) -> list[tuple[str, Any, str]]:
    """Kind, element and kind of its parent, in reading order."""
    found: list[tuple[str, Any, str]] = []

    def walk(element: Any, parent: str) -> None:
        kind = str(element["/S"])[1:]
        found.append((kind, element, parent))
        kids = resolved(element["/K"])
        for kid in kids if isinstance(kids, list) else []:
            walk(resolved(kid), kind)

    walk(resolved(resolved(root_of(pdf)["/StructTreeRoot"])["/K"]), "")
    return found


TAGGED = [name for name in PRINTS if name != "calibration"]


@pytest.mark.parametrize("name", TAGGED)
def test_a_print_can_be_read_aloud(name: str) -> None:
    found = elements(pdf_of(name))
    kinds = [kind for kind, _, _ in found]
    assert set(kinds) <= NAMED
    assert {"H1", "P"} <= set(kinds)
    assert root_of(pdf_of(name))["/MarkInfo"]["/Marked"] in (True, "true")
    for kind, element, parent in found:
        if kind == "Figure":
            assert element["/Alt"].strip()
        if kind in ("TR", "TD"):
            assert parent == {"TR": "Table", "TD": "TR"}[kind]


@pytest.mark.parametrize("name", LABELS)
def test_every_picture_of_a_label_has_its_words(name: str) -> None:
    text, placement = label(name)
    told = [
        e["/Alt"]
        for kind, e, _ in elements(pdf_of(f"label {name}"))
        if kind == "Figure"
    ]
    signs = [one for one in told if one.endswith("pictogram")]
    codes = [one for one in told if not one.endswith("pictogram")]
    if placement.by_itself:
        assert len(codes) == 1
        assert text.number in codes[0]
        # each pictogram once, or once on either half
        assert len(signs) % max(len(text.hazard.pictograms), 1) == 0
        assert bool(signs) == bool(text.hazard.pictograms)


def rows_of(pdf: bytes) -> list[int]:
    """How many cells each row of a file's tables has."""
    return [
        sum(1 for kid in resolved(element["/K"]) if resolved(kid)["/S"] == "/TD")
        for kind, element, _ in elements(pdf)
        if kind == "TR"
    ]


@pytest.mark.parametrize("key", [one for one in CARDS if not one.startswith("pocket")])
def test_the_steps_of_a_card_are_the_rows_of_a_table(key: str) -> None:
    """An amount is read in one row with what it is an amount of."""
    text, _ = card(key)
    whole = 2 + len(text.columns)  # number, what, and an amount for each batch size
    measured = [row for row in text.rows if row.amounts]
    cells = rows_of(pdf_of(f"card {key}"))
    assert len([count for count in cells if count >= whole]) == len(measured)


def test_the_steps_of_a_weighing_sheet_are_the_rows_of_a_table() -> None:
    cells = rows_of(pdf_of("weighing sheet"))
    assert len(cells) == len(SHEET.rows)


def test_a_heading_is_the_first_thing_that_is_read_of_a_bottle() -> None:
    for name in LABELS:
        kinds = [kind for kind, _, _ in elements(pdf_of(f"label {name}"))]
        words = [kind for kind in kinds if kind in ("H1", "P")]
        assert words.index("H1") <= 1, name  # after a part mark at most


# ---------------------------------------------------------------- qpdf


@pytest.fixture(scope="session")
def qpdf() -> str:
    """The program; a machine without it passes over the tests that need it."""
    found = shutil.which("qpdf")
    if not found and "CI" not in os.environ:
        pytest.skip("qpdf is not installed")
    assert found, "CI installs qpdf"
    return found


def checked(qpdf: str, pdf: bytes, folder: Path) -> tuple[int, str]:
    path = folder / "print.pdf"
    path.write_bytes(pdf)
    done = subprocess.run([qpdf, "--check", path], capture_output=True, text=True)
    return done.returncode, done.stdout + done.stderr


@pytest.mark.parametrize("name", PRINTS)
def test_qpdf_finds_no_fault(name: str, qpdf: str, tmp_path: Path) -> None:
    code, told = checked(qpdf, pdf_of(name), tmp_path)
    assert code == 0, told
    assert "No syntax or stream encoding errors found" in told


def test_qpdf_finds_no_fault_in_a_sheet_without_tags_nor_in_black(
    qpdf: str, tmp_path: Path
) -> None:
    pages = label("tall")[1].pages
    for pdf in (on_a_sheet(), printed(*pages, mono=True, tagged=False)):
        code, told = checked(qpdf, pdf, tmp_path)
        assert code == 0, told


def test_qpdf_sees_a_fault(qpdf: str, tmp_path: Path) -> None:
    whole = pdf_of("label tall")
    assert checked(qpdf, whole.replace(b"endobj", b"endobx", 1), tmp_path)[0] != 0
    assert checked(qpdf, whole[: len(whole) // 2], tmp_path)[0] != 0


@pytest.mark.parametrize("name", PRINTS)
def test_pdfium_opens_it_and_finds_something_on_every_page(name: str) -> None:
    for page in pypdfium2.PdfDocument(pdf_of(name)):
        assert page.render(scale=1).to_numpy().min() < 128
        assert page.get_textpage().get_text_range().strip()
