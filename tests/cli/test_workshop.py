"""``labelkit workshop``: one file, one pack."""

from pathlib import Path

import pypdf
import pytest

from tests.cli.conftest import Run
from tests.cli.terminal import Terminal

POINTS_PER_MM = 72 / 25.4


def pages(path: Path) -> list[str]:
    return [
        page.extract_text().replace("\u00a0", " ")
        for page in pypdf.PdfReader(path).pages
    ]


def test_the_sample_prints_cover_cards_and_a_sheet_for_each(
    bench: Path, run: Run
) -> None:
    answer = run("workshop", "workshop.toml")
    assert answer.code == 0, answer.err
    told = pages(bench / "prints" / "workshop.pdf")
    first, *others = answer.out.splitlines()
    assert first.endswith("workshop.pdf")
    assert others == [
        f"{len(told)} pages; print on both sides, turned over the long edge"
    ]
    assert told[0].startswith("Film developer from raw powders")
    # 4 people x 8.65 g; (6 + 114) g/L x 2 L of developer and 20 g of fixer
    assert "34.6 g" in told[0]
    assert "260 g" in told[0]
    for name in ("A. Lindqvist", "R. Barros", "T. Okoro", "J. Whitlow"):
        assert sum(f"Weighing-out sheet for {name}" in page for page in told) == 1
    for name in ("Bench 1", "Bench 2"):
        assert sum(f"Weighing-out sheet for {name}" in page for page in told) == 1
    assert all("DO NOT DRINK" in page for page in told if page.strip())


def test_every_part_begins_on_a_front_where_both_sides_are_printed(
    bench: Path, run: Run
) -> None:
    assert run("workshop", "workshop.toml", "-o", "w.pdf").code == 0
    for number, page in enumerate(pages(bench / "w.pdf")):
        if "Weighing-out sheet" in page:
            assert number % 2 == 0
    text = (bench / "workshop.toml").read_text("utf-8")
    text = text.replace("# both_sides = false", "both_sides = false")
    (bench / "one.toml").write_text(text, encoding="utf-8")
    answer = run("workshop", "one.toml", "-o", "o.pdf")
    assert answer.code == 0, answer.err
    assert "print on fronts only" in answer.out
    told = pages(bench / "o.pdf")
    assert all(page.strip() for page in told)
    assert len(told) < len(pages(bench / "w.pdf"))


def test_without_a_sheet_cards_are_one_a_page(bench: Path, run: Run) -> None:
    text = """
        title = "Two baths"
        date = 2031-04-12
        [[recipe]]
        name = "citric-stop"
        card = "a6"
        copies = 3
        weigh_out = false
        [[recipe]]
        name = "plain-fixer"
        card = "none"
    """
    (bench / "two.toml").write_text(text, encoding="utf-8")
    answer = run("workshop", "two.toml", "-o", "t.pdf")
    assert answer.code == 0, answer.err
    sizes = [
        round(float(page.mediabox.width) / POINTS_PER_MM)
        for page in pypdf.PdfReader(bench / "t.pdf").pages
    ]
    assert sizes.count(105) == 6
    assert sizes[0] == 210


def test_a_card_on_a_sheet_that_does_not_take_it_is_laid_on_another(
    bench: Path, run: Run
) -> None:
    text = (bench / "workshop.toml").read_text("utf-8")
    text = text.replace('"a4-148x210"', '"a4-105x148"')
    (bench / "w.toml").write_text(text, encoding="utf-8")
    answer = run("workshop", "w.toml", "-o", "w.pdf")
    assert answer.code == 0
    assert "a4-105x148 does not fit this card; laid on a4-148x210" in answer.err


@pytest.mark.parametrize(
    ("old", "new", "told", "code"),
    [
        ('"plain-fixer"', '"plane-fixer"', "workshop.toml, recipe 3, name: ", 2),
        ('make      = "250 mL"', 'make = "250 g"', "workshop.toml, recipe 1, ", 2),
        ('"a5"  ', '"a6"  ', "workshop.toml, recipe 1, 'Borate alkali stock', card", 1),
        ('"a5"  ', '"a7"  ', "there is no card layout 'a7'", 2),
        ('"a4-148x210"', '"a4-1x1"', "there is no sheet 'a4-1x1'", 2),
        ("A. Lindqvist", "A. 🧪", "U+1F9EA", 2),
    ],
)
def test_what_is_wrong_is_told_with_its_place(
    bench: Path, run: Run, old: str, new: str, told: str, code: int
) -> None:
    path = bench / "workshop.toml"
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    answer = run("workshop", "workshop.toml", "-o", "w.pdf")
    assert answer.code == code, answer.err
    assert told in answer.err
    assert not (bench / "w.pdf").exists()


def test_every_recipe_that_is_not_there_is_told(bench: Path, run: Run) -> None:
    path = bench / "workshop.toml"
    text = path.read_text("utf-8").replace("plain-fixer", "plane-fixer")
    path.write_text(text.replace("film-developer", "flim"), encoding="utf-8")
    answer = run("workshop", "workshop.toml")
    assert answer.code == 2
    assert "recipe 2" in answer.err
    assert "recipe 3" in answer.err


def test_nothing_about_progress_is_written_where_nobody_watches(
    bench: Path, run: Run
) -> None:
    answer = run("workshop", "workshop.toml", "-o", "w.pdf")
    assert answer.err == ""


def test_pictures_are_written_beside_the_pack(bench: Path, run: Run) -> None:
    text = 'title = "One"\ndate = 2031-04-12\n[[recipe]]\nname = "citric-stop"\n'
    (bench / "one.toml").write_text(text, encoding="utf-8")
    answer = run("workshop", "one.toml", "--png", "-o", "o.pdf")
    assert answer.code == 0, answer.err
    assert (bench / "o-1.png").is_file()
    assert len(list(bench.glob("o-*.png"))) == len(pages(bench / "o.pdf"))


def test_a_bar_is_drawn_where_somebody_watches(bench: Path) -> None:
    told, code = Terminal(bench, "workshop", "workshop.toml").ended()
    assert code == 0
    assert "Placing" in told
    assert "100%" in told
