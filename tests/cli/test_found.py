"""UNKNOWN and WASTE, on the whole command line, in a folder of their own."""

import json
from pathlib import Path
from random import Random

import numpy as np
import pypdfium2
import pytest
import zxingcpp
from pypdf import PdfReader

from tests.cli.conftest import Answer, Run, labelkit

TOLD = (
    "--where", "window sill of the wash room", "--by", "M. Osei",
    "--on", "2026-03-14", "--looks", "brown glass, dark", "--says", "D 7",
    "--claim-by", "2026-04-14",
)  # fmt: skip
NEVER = "Do not open, smell, taste, pour out or throw away."


@pytest.fixture(autouse=True)
def the_same_numbers_every_time(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is drawn for a number, so that a run can be repeated."""
    drawn = Random(11)
    monkeypatch.setattr("secrets.randbelow", lambda below: drawn.randrange(below))


@pytest.fixture
def number(run: Run) -> str:
    """The number of a bottle that was found."""
    return number_of(run("label", "--unknown", *TOLD))


def number_of(answer: Answer) -> str:
    assert answer.code == 0, answer.err
    return answer.out.partition(":")[0]


def words_of(path: Path) -> str:
    pages = PdfReader(path).pages
    text = " ".join(page.extract_text() for page in pages)
    return " ".join(text.replace("\u00a0", " ").split())


def scanned(path: Path) -> list[str]:
    document = pypdfium2.PdfDocument(path)
    pictures = [page.render(scale=150 / 72).to_numpy()[:, :, :3] for page in document]
    document.close()
    return [
        code.text
        for picture in pictures
        for code in zxingcpp.read_barcodes(np.ascontiguousarray(picture))
    ]


def refused(answer: Answer, code: int, *told: str) -> None:
    assert (answer.code, answer.out) == (code, "")
    assert len(answer.err.splitlines()) == 1
    for words in told:
        assert words in answer.err


def test_a_found_bottle_gets_a_number_a_label_and_a_place(
    bench: Path, run: Run
) -> None:
    number = number_of(run("label", "--unknown", *TOLD))
    label = bench / "prints" / f"unknown-{number}.pdf"
    words = words_of(label)
    for told in (
        "UNKNOWN", NEVER, "2026-03-14", "window sill of the wash room", "M. Osei",
        "brown glass, dark", "D 7", "2026-04-14", number, "DO NOT DRINK",
        "01632 960 118", "Tern Street Print Room.",
    ):  # fmt: skip
        assert told in words
    (code,) = scanned(label)
    assert code.startswith(f"HTTPS://BOTTLES.EXAMPLE.ORG/B/{number}")
    assert json.loads(run("show", code, "--json").out)["batch"] == number


def test_with_nothing_told_everything_is_a_line(bench: Path, run: Run) -> None:
    number = number_of(run("label", "--unknown"))
    words = words_of(bench / "prints" / f"unknown-{number}.pdf")
    assert "where by looks like Old writing says" in words


def test_a_reprint_is_the_same_words_in_the_same_boxes(
    bench: Path, run: Run, number: str, tmp_path: Path
) -> None:
    first = words_of(bench / "prints" / f"unknown-{number}.pdf")
    settings = bench / "labelkit.toml"
    text = settings.read_text("utf-8").replace("Tern Street Print Room", "New Name")
    settings.write_text(text, encoding="utf-8")
    again = tmp_path / "again.pdf"
    assert run("label", number, "-o", again).code == 0
    assert words_of(again) == first
    assert scanned(again) == scanned(bench / "prints" / f"unknown-{number}.pdf")


@pytest.mark.parametrize("words", [("--layout", "small"), ("--bottle", "1L")])
def test_a_reprint_takes_no_other_size(
    run: Run, number: str, words: tuple[str, ...]
) -> None:
    refused(run("label", number, *words), 2, "has one size and one wording")


def test_it_is_shown_and_listed_as_found(run: Run, number: str) -> None:
    shown = run("show", number)
    assert shown.code == 0
    for told in (
        "UNKNOWN", NEVER, "window sill", "Claim by", "2026-04-14",
        "Treat as hazardous", "DO NOT DRINK", "01632 960 118",
    ):  # fmt: skip
        assert told in shown.out
    listed = run("shelf").out
    assert number in listed
    assert "found" in listed.casefold()
    (item,) = json.loads(run("shelf", "--json").out)["items"]
    assert (item["batch"], item["found"]) == (number, True)


def test_what_nobody_claims_in_time_is_due(run: Run, number: str) -> None:
    answer = run("shelf", "--due")
    assert answer.code == 1
    assert number in answer.out
    assert "claimed" in answer.err
    later = number_of(run("label", "--unknown", *TOLD[:-1], "2126-04-14"))
    assert later not in run("shelf", "--due").out


def test_its_answer_says_why_there_are_no_figures(run: Run, number: str) -> None:
    shown = json.loads(run("show", number, "--json").out)
    assert (shown["recipe"], shown["hazard"], shown["strength"]) == ("", None, None)
    assert shown["reasons"]["hazard"] == "what is in it is not known"
    assert shown["found"]["claim_by"] == "2026-04-14"
    assert shown["events"] == []


@pytest.mark.parametrize(
    "words",
    [
        ("hazards", "{}"), ("plan", "{}"), ("mix", "{}"), ("card", "{}"),
        ("compare", "{}", "borate-alkali"),
        ("plan", "pyro-working", "--stock", "pyro-a={}"),
        ("plan", "borate-alkali", "--stock", "borax-decahydrate={}"),
        ("mix", "pyro-working", "--stock", "pyro-a={}"),
        ("label", "--waste", "{}"),
    ],
    ids=" ".join,
)  # fmt: skip
def test_nothing_is_reckoned_from_what_nobody_knows(
    run: Run, number: str, words: tuple[str, ...]
) -> None:
    answer = run(*(word.format(number) for word in words))
    refused(answer, 1, number, "what is in it is not known")


def test_what_happens_to_it_is_written_down(run: Run, number: str) -> None:
    at = ("--on", "2026-03-20", "--by", "M. Osei")
    assert run("log", number, "moved", "--note", "shelf 4", *at).code == 0
    assert run("log", number, "tested", "--note", "old fixer, it says", *at).code == 0
    assert run("log", number, "discarded", *at).code == 0
    shown = run("show", number).out
    for told in ("shelf 4", "old fixer, it says", "discarded"):
        assert told in shown
    shown_as = json.loads(run("show", number, "--json").out)
    assert shown_as["title"] == "UNKNOWN"
    assert json.loads(run("shelf", "--json").out)["items"] == []


def test_opening_it_is_recorded_and_warned_of(run: Run, number: str) -> None:
    answer = run("log", number, "opened", "--on", "2026-03-20")
    assert answer.code == 0
    assert "UNKNOWN" in answer.err
    assert "opened" in run("show", number).out


def test_it_goes_to_another_shelf_whole(
    bench: Path, run: Run, number: str, tmp_path: Path
) -> None:
    lines = tmp_path / "shelf.jsonl"
    lines.write_text(run("export").out, encoding="utf-8")
    other = tmp_path / "other"
    assert labelkit("init", other).code == 0
    assert labelkit("import", lines, "--bench", other).code == 0
    assert labelkit("show", number, "--bench", other).out == run("show", number).out
    again = tmp_path / "again.pdf"
    assert labelkit("label", number, "--bench", other, "-o", again).code == 0
    assert words_of(again) == words_of(bench / "prints" / f"unknown-{number}.pdf")


def test_its_page_is_published_where_the_code_points(
    bench: Path, run: Run, number: str
) -> None:
    assert run("publish", bench / "pages").code == 0
    (code,) = scanned(bench / "prints" / f"unknown-{number}.pdf")
    folder = code.removeprefix("HTTPS://BOTTLES.EXAMPLE.ORG/")
    page = (bench / "pages" / folder / "index.html").read_text("utf-8")
    for told in ("UNKNOWN", NEVER, "Treat as hazardous", "DO NOT DRINK", number):
        assert told in page
    assert "test before use" not in page
    front = (bench / "pages" / "index.html").read_text("utf-8")
    assert "UNKNOWN" in front
    assert "window sill of the wash room" in front


def test_no_label_that_does_not_fit_takes_a_number(bench: Path, run: Run) -> None:
    answer = run("label", "--unknown", "--where", "a word " * 60)
    refused(answer, 1, "where", "Write it shorter.")
    assert not (bench / "prints").exists()
    assert run("shelf", "--json").out.count('"batch"') == 0


def test_the_bottle_is_kept_where_its_label_cannot_be_written(
    bench: Path, run: Run
) -> None:
    (bench / "taken").write_text("a file", encoding="utf-8")
    answer = run("label", "--unknown", "-o", bench / "taken" / "x.pdf")
    assert answer.code == 2
    number = answer.out.partition(":")[0]
    assert f"labelkit label {number}" in answer.err
    assert run("show", number).code == 0


def test_it_lies_on_a_sheet_after_used_slots(bench: Path, run: Run) -> None:
    answer = run(
        "label", "--unknown", "--sheet", "a4-74x105", "--skip", "1", "--copies", "2"
    )
    assert answer.code == 0
    assert "slots 2 to 3 of 4" in answer.out
    (path,) = (bench / "prints").glob("unknown-*.pdf")
    (page,) = PdfReader(path).pages
    assert round(float(page.mediabox.width) * 25.4 / 72) == 210
    assert len(scanned(path)) == 2


def test_on_the_sheet_of_another_label_it_takes_its_own(run: Run) -> None:
    answer = run("label", "--waste", "used fixer", "--sheet", "a4-74x52")
    assert answer.code == 0
    assert "a4-74x52 does not fit this label; a4-74x105" in answer.out


def test_waste_takes_no_number_and_no_place(bench: Path, run: Run) -> None:
    answer = run("label", "--waste", "used film developer", "--png")
    assert answer.code == 0
    path = bench / "prints" / "waste-used-film-developer.pdf"
    assert path.is_file()
    assert path.with_name(f"{path.stem}-1.png").is_file()
    assert scanned(path) == []
    assert not (bench / "shelf.sqlite3").exists()
    words = words_of(path)
    for told in ("WASTE", "Used film developer", "NEVER ADD", "Emptied by"):
        assert told in words


def test_waste_of_a_recipe_names_its_contents_and_what_they_must_not_meet(
    bench: Path, run: Run
) -> None:
    assert run("label", "--waste", "plain-fixer").code == 0
    path = bench / "prints" / "waste-plain-fixer.pdf"
    words = words_of(path)
    assert "Plain fixer" in words
    assert "odium thiosulfate" in words
    assert "acid (stop bath, vinegar): choking gas" in words
    assert scanned(path) == ["HTTPS://BOTTLES.EXAMPLE.ORG/R/PLAIN-FIXER"]


def test_waste_of_a_batch_points_to_it(bench: Path, run: Run) -> None:
    mixed = run("mix", "pyro-a", "--by", "M. Osei", "--on", "2026-03-14", "--json")
    number = json.loads(mixed.out)["batch"]
    assert run("label", "--waste", number, "-o", bench / "w.pdf").code == 0
    assert scanned(bench / "w.pdf") == [f"HTTPS://BOTTLES.EXAMPLE.ORG/B/{number}"]
    words = words_of(bench / "w.pdf")
    assert "Pyrogallol A" in words
    assert number in words


def test_a_chemical_by_any_of_its_forms_is_known(bench: Path, run: Run) -> None:
    out = bench / "w.pdf"
    assert run("label", "--waste", "sodium sulfide", "-o", out).code == 0
    assert "any acid" in words_of(out)
    assert run("label", "--waste", "borax", "-o", out).code == 0
    assert "Borax" in words_of(out)


def test_two_that_are_deadly_together_get_no_label(bench: Path, run: Run) -> None:
    answer = run("label", "--waste", "sodium sulfide, citric-stop")
    refused(answer, 1, "hydrogen sulfide", "Collect each in a vessel of its own.")
    assert not (bench / "prints").exists()


def test_two_that_are_better_apart_are_told_and_printed(run: Run) -> None:
    answer = run("label", "--waste", "citric-stop, plain-fixer")
    assert answer.code == 0
    assert "Beware: Citric stop bath and Plain fixer must not meet" in answer.err


def test_waste_needs_no_bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("LABELKIT_BENCH", raising=False)
    answer = labelkit("label", "--waste", "used fixer", "--never", "acid, bleach")
    assert answer.code == 0, answer.err
    words = words_of(tmp_path / "waste-used-fixer.pdf")
    assert "acid; bleach. No other waste." in words


def test_unknown_needs_a_shelf(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("LABELKIT_BENCH", raising=False)
    refused(labelkit("label", "--unknown"), 2, "there is no bench here")


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--unknown", "--waste", "x"), "--unknown and --waste are two labels"),
        (("--unknown", "7K3M-Q9TX-8"), "--unknown takes no BATCH"),
        (("--waste", "x", "7K3M-Q9TX-8"), "--waste takes no BATCH"),
        (("--waste", "x", "--where", "y"), "--waste takes no --where"),
        (("--waste", "x", "--claim-by", "2026-04-14"), "--waste takes no --claim-by"),
        (("--unknown", "--never", "y"), "--unknown takes no --never"),
        (("--unknown", "--layout", "tall"), "--unknown takes no --layout"),
        (("--waste", "x", "--bottle", "1L"), "--waste takes no --bottle"),
        (("--waste", " , "), "--waste: it does not say what is collected"),
        (("7K3M-Q9TX-8", "--where", "y"), "--where: says something of an UNKNOWN"),
        (("--unknown", "--claim-by", "soon"), "--claim-by: 'soon' is not a date"),
        (
            ("--unknown", "--on", "2026-03-14", "--claim-by", "2026-03-13"),
            "--claim-by: 2026-03-13 is before the day it was found",
        ),
        (("--waste", "7K3M-Q9TX-8"), "7K3M-Q9TX-8"),
        (("--unknown", "--where", "\u2603"), "U+2603 SNOWMAN"),
    ],
)
def test_what_does_not_go_together_is_refused_in_one_line(
    run: Run, words: tuple[str, ...], told: str
) -> None:
    refused(run("label", *words), 2, told)


def test_a_label_of_nothing_is_refused(run: Run) -> None:
    answer = run("label")
    assert answer.code == 2
    assert "Missing argument 'BATCH" in answer.err
