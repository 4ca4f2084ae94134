"""``labelkit card``: cards on pages and sheets, pictures, sheets to weigh out by."""

from io import BytesIO
from pathlib import Path

import pypdf
import pypdfium2
import pytest
import zxingcpp

from tests.cli.conftest import Run

POINTS_PER_MM = 72 / 25.4


def sizes(path: Path) -> list[tuple[int, int]]:
    return [
        (
            round(float(page.mediabox.width) / POINTS_PER_MM),
            round(float(page.mediabox.height) / POINTS_PER_MM),
        )
        for page in pypdf.PdfReader(path).pages
    ]


def codes(path: Path, page: int) -> list[str]:
    document = pypdfium2.PdfDocument(path)
    picture = document[page].render(scale=200 / 72, grayscale=True).to_pil()
    return sorted(found.text for found in zxingcpp.read_barcodes(picture))


def test_cards_are_one_a_page_unless_a_sheet_is_named(bench: Path, run: Run) -> None:
    answer = run("card", "plain-fixer", "citric-stop", "--copies", "2", "-o", "c.pdf")
    assert answer.code == 0, answer.err
    assert sizes(bench / "c.pdf") == [(148, 210)] * 8
    assert answer.out.splitlines() == ["c.pdf"]


def test_four_a6_cards_lie_on_a_sheet_with_their_backs_behind_them(
    bench: Path, run: Run
) -> None:
    names = ("plain-fixer", "citric-stop", "bromide-stock")
    answer = run(
        "card", *names, "--layout", "a6", "--sheet", "a4-105x148", "--skip", "1",
        "-o", "c.pdf",
    )  # fmt: skip
    assert answer.code == 0, answer.err
    assert answer.out.splitlines()[1] == (
        "a4-105x148: slots 2 to 4 of 4; print on both sides, turned over the long edge"
    )
    assert sizes(bench / "c.pdf") == [(210, 297)] * 2
    assert codes(bench / "c.pdf", 0) == []
    assert codes(bench / "c.pdf", 1) == [
        f"HTTPS://BOTTLES.EXAMPLE.ORG/R/{name.upper()}" for name in sorted(names)
    ]


def test_the_sheet_of_the_cards_size_is_taken_where_the_named_one_does_not_fit(
    bench: Path, run: Run
) -> None:
    answer = run("card", "plain-fixer", "--sheet", "a4-74x52", "-o", "c.pdf")
    assert answer.code == 0
    assert answer.err.strip() == ("a4-74x52 does not fit this card; laid on a4-148x210")
    assert answer.out.splitlines()[1].startswith("a4-148x210: slot 1 of 2")


def test_a_card_of_no_sheets_size_is_told_to_go_without(bench: Path, run: Run) -> None:
    answer = run("card", "plain-fixer", "--layout", "a4", "--sheet", "a4-74x52")
    assert answer.code == 1
    assert "Print one card a page: leave --sheet out." in answer.err


def test_the_edge_over_which_the_printer_turns_is_told(bench: Path, run: Run) -> None:
    words = ("card", "citric-stop", "--layout", "a6", "--sheet", "a4-105x148")
    short = run(*words, "--flip", "short", "-o", "s.pdf")
    assert "turned over the short edge" in short.out
    assert run(*words, "-o", "l.pdf").code == 0
    assert (bench / "s.pdf").read_bytes() != (bench / "l.pdf").read_bytes()


def test_more_slots_than_there_are_cannot_be_skipped(bench: Path, run: Run) -> None:
    answer = run("card", "citric-stop", "--sheet", "a4-148x210", "--skip", "2")
    assert answer.code == 2
    assert "skip: 2 slots cannot be skipped on a sheet of 2" in answer.err


def test_a_picture_of_each_page_is_written(bench: Path, run: Run) -> None:
    answer = run("card", "citric-stop", "--png", "-o", "c.pdf")
    assert answer.code == 0, answer.err
    assert answer.out.split() == ["c.pdf", "c-1.png", "c-2.png"]
    for number in (1, 2):
        assert (bench / f"c-{number}.png").read_bytes().startswith(b"\x89PNG")


def test_without_the_package_that_draws_pages_that_is_told(
    bench: Path, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(__import__("sys").modules, "pypdfium2", None)
    answer = run("card", "citric-stop", "--png", "-o", "c.pdf")
    assert answer.code == 2
    assert "--png: the package pypdfium2 is not installed" in answer.err
    assert (bench / "c.pdf").is_file()


def test_ones_own_sheet_takes_cards_and_is_calibrated(bench: Path, run: Run) -> None:
    folder = bench / "layouts"
    folder.mkdir()
    sheet = "paper = [210, 297]\nlabel = [105, 148]\ncolumns = 1\nrows = 1\n"
    sheet += "at = [20, 20]\npitch = [105, 148]\n"
    (folder / "tray.toml").write_text(sheet, encoding="utf-8")
    words = ("card", "citric-stop", "--layout", "a6", "--sheet", "tray")
    answer = run(*words, "-o", "c.pdf")
    assert answer.code == 0, answer.err
    assert "tray: slot 1 of 1" in answer.out
    assert run("layouts", "--calibrate", "tray", "-o", "k.pdf").code == 0


def test_which_of_several_cards_does_not_fit_is_told(bench: Path, run: Run) -> None:
    answer = run("card", "citric-stop", "borate-alkali", "--layout", "a6")
    assert answer.code == 1
    assert answer.err.startswith("'Borate alkali stock', card a6, steps: 7 steps need")


def test_a_sheet_to_weigh_out_by_is_for_one_batch(bench: Path, run: Run) -> None:
    answer = run("card", "borate-alkali", "--weigh-out", "--make", "250mL")
    assert answer.code == 0, answer.err
    path = bench / "prints" / "borate-alkali-weigh-out.pdf"
    assert answer.out.strip().endswith("borate-alkali-weigh-out.pdf")
    (page,) = pypdf.PdfReader(path).pages
    told = page.extract_text().replace("\u00a0", " ")
    for words in ("8.7 g", "jar TS-0412", "tare", "initials", "DO NOT DRINK"):
        assert words in told
    assert "--weighed 2=____g" in told


def test_every_sample_has_a_sheet_to_weigh_out_by(bench: Path, run: Run) -> None:
    names = sorted(path.stem for path in (bench / "recipes").glob("*.toml"))
    answer = run("card", *names, "--weigh-out", "-o", "w.pdf")
    assert answer.code == 0, answer.err
    text = " ".join(
        page.extract_text()
        for page in pypdf.PdfReader(BytesIO((bench / "w.pdf").read_bytes())).pages
    )
    assert text.count("Weighing-out sheet") == len(names) >= 11


def test_a_recipe_of_forty_ingredients_has_a_sheet_but_no_card(
    bench: Path, run: Run
) -> None:
    steps = '[[step]]\nadd = "potassium-bromide"\namount = "5 g"\n' * 40
    text = f'title = "Many"\nmakes = "1 L"\n{steps}[[step]]\nmake_up_to = "1 L"\n'
    (bench / "recipes" / "many.toml").write_text(text, encoding="utf-8")
    answer = run("card", "many", "--layout", "a4")
    assert answer.code == 1
    assert "or print --weigh-out, which takes as many pages" in answer.err
    assert run("card", "many", "--weigh-out", "-o", "w.pdf").code == 0
    assert len(sizes(bench / "w.pdf")) > 2
