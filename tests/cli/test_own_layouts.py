"""A bench's own layouts, and what `check` says of its files."""

from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.cli.conftest import Run
from tests.cli.terminal import as_json

TEMPLATES = Path(__file__).resolve().parents[2] / "templates"
POINTS_PER_MM = 72 / 25.4


@pytest.fixture
def layouts(bench: Path) -> Path:
    """A label, a card and a sheet of one's own, a little larger than the built-in."""
    folder = bench / "layouts"
    folder.mkdir()
    label = (TEMPLATES / "labels" / "tall.toml").read_text("utf-8")
    label = label.replace("[74, 105]", "[80, 105]", 1)
    label = label.replace('name   = "tall"', 'name   = "mine"')
    (folder / "mine.toml").write_text(label, encoding="utf-8")
    card = (TEMPLATES / "cards" / "a5.toml").read_text("utf-8")
    (folder / "wall.toml").write_text(card, encoding="utf-8")
    sheet = (TEMPLATES / "sheets" / "a4-74x105.toml").read_text("utf-8")
    (folder / "roll.toml").write_text(sheet, encoding="utf-8")
    return folder


def mixed(run: Run, name: str) -> str:
    answer = run("mix", name, "--json")
    assert answer.code == 0, answer.err
    return str(as_json(answer.out)["batch"])


def test_ones_own_layouts_are_listed_with_the_others(layouts: Path, run: Run) -> None:
    items = as_json(run("layouts", "--json").out)["items"]
    found = {(item["kind"], item["name"]): item["size_mm"] for item in items}
    assert found["label", "mine"] == [80, 105]
    assert found["card", "wall"] == [148, 210]
    assert found["sheet", "roll"] == [74, 105]
    assert found["label", "tall"] == [74, 105]


def test_a_label_is_set_in_ones_own_layout(layouts: Path, run: Run) -> None:
    number = mixed(run, "bromide-stock")
    answer = run("label", number, "--layout", "mine", "-o", layouts / "out.pdf")
    assert answer.code == 0, answer.err
    (page,) = PdfReader(layouts / "out.pdf").pages
    assert float(page.mediabox.width) == pytest.approx(80 * POINTS_PER_MM, abs=0.1)


def test_a_card_is_set_in_ones_own_layout(layouts: Path, run: Run) -> None:
    answer = run("card", "plain-fixer", "--layout", "wall", "-o", layouts / "out.pdf")
    assert answer.code == 0, answer.err
    assert len(PdfReader(layouts / "out.pdf").pages) == 2


def test_labels_go_on_ones_own_sheet(layouts: Path, run: Run) -> None:
    number = mixed(run, "borate-alkali")
    answer = run(
        "label", number, "--layout", "tall", "--sheet", "roll", "-o", layouts / "o.pdf"
    )
    assert answer.code == 0, answer.err
    assert "roll: slot" in answer.out
    calibration = run("layouts", "--calibrate", "roll")
    assert calibration.code == 0, calibration.err


@pytest.mark.parametrize("name", ["tall", "a5", "a4-74x52"])
def test_a_built_in_layout_is_copied_to_be_changed(
    bench: Path, run: Run, name: str
) -> None:
    answer = run("layouts", "--copy", name)
    assert answer.code == 0, answer.err
    assert (bench / "layouts" / f"my-{name}.toml").is_file()
    assert f"my-{name}" in run("layouts").out
    again = run("layouts", "--copy", name)
    assert again.code == 2
    assert "is there already" in again.err


def test_a_copied_label_is_printed_by_its_own_name(bench: Path, run: Run) -> None:
    number = mixed(run, "bromide-stock")
    assert run("layouts", "--copy", "small").code == 0
    answer = run("label", number, "--layout", "my-small", "-o", bench / "out.pdf")
    assert answer.code == 0, answer.err


def test_a_layout_that_is_not_there_is_not_copied(bench: Path, run: Run) -> None:
    answer = run("layouts", "--copy", "grand")
    assert answer.code == 2
    assert "--copy: there is no layout 'grand'" in answer.err
    assert not (bench / "layouts").exists()


def test_a_second_calibration_page_shows_what_the_settings_mend(
    bench: Path, run: Run
) -> None:
    def page(name: str) -> bytes:
        answer = run("layouts", "--calibrate", "a4-74x52", "-o", bench / name)
        assert answer.code == 0, answer.err
        return (bench / name).read_bytes()

    before = page("before.pdf")
    settings = bench / "labelkit.toml"
    kept = settings.read_text("utf-8")
    settings.write_text(f'nudge = ["1 mm", "2 mm"]\n{kept}', encoding="utf-8")
    assert page("after.pdf") != before


def test_a_layout_of_each_kind_is_checked_as_what_it_is(
    layouts: Path, run: Run
) -> None:
    assert run("check").code == 0
    for name, line in (
        ("mine", "margins = 3"),
        ("wall", "margins = 3"),
        ("roll", "margins = 3"),
    ):
        path = layouts / f"{name}.toml"
        path.write_text(f"{line}\n{path.read_text('utf-8')}", encoding="utf-8")
    answer = run("check")
    assert answer.code == 1
    lines = answer.err.splitlines()
    assert [line.split(", ")[0] for line in lines] == [
        "mine.toml",
        "roll.toml",
        "wall.toml",
    ]
    assert all("margins" in line for line in lines)


def test_a_faulty_layout_never_costs_a_batch(layouts: Path, run: Run) -> None:
    (layouts / "mine.toml").write_text("nothing of it", encoding="utf-8")
    answer = run("mix", "plain-fixer")
    assert answer.code == 0
    assert "No label: mine.toml: " in answer.out
    assert "The batch is kept." in answer.out
    (layouts / "mine.toml").unlink()
    number = as_json(run("shelf", "--json").out)["items"][0]["batch"]
    assert run("label", number).code == 0


@pytest.mark.parametrize(
    ("name", "line"), [("chemicals.toml", "frob = 1"), ("labelkit.toml", "frob = 1")]
)
def test_a_fault_that_every_recipe_meets_is_told_once(
    name: str, line: str, bench: Path, run: Run
) -> None:
    path = bench / name
    path.write_text(f"{path.read_text('utf-8')}\n{line}\n", encoding="utf-8")
    answer = run("check")
    assert answer.code == 1
    (told,) = answer.err.splitlines()
    assert told.startswith(f"{name}, ")


def test_every_fault_of_every_file_is_told(bench: Path, run: Run) -> None:
    (bench / "recipes" / "one.toml").write_text('makes = "1 x"', encoding="utf-8")
    (bench / "jars.toml").write_text("[[jar]]\n", encoding="utf-8")
    answer = run("check")
    assert answer.code == 1
    places = {
        line.partition(":")[0].partition(",")[0] for line in answer.err.split("\n")
    }
    assert places >= {"one.toml", "jars.toml"}


def test_a_recipe_that_reads_but_cannot_be_is_a_fault(bench: Path, run: Run) -> None:
    recipe = """
        title = "Full"
        makes = "100 mL"
        [[step]]
        add = "water"
        amount = "120 mL"
        [[step]]
        make_up_to = "100 mL"
    """
    path = bench / "recipes" / "full.toml"
    path.write_text(recipe, encoding="utf-8")
    answer = run("check", path)
    assert answer.code == 1
    assert answer.err.startswith("full.toml, step 2, make_up_to: 120 mL of liquids")
