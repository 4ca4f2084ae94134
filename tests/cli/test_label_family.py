"""Tag, cap, dropper and pair as a person types them; small packs are recorded."""

import json
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.cli.conftest import Run, kept
from tests.cli.terminal import as_json

TEMPLATES = Path(__file__).resolve().parents[2] / "templates" / "labels"
BUILT_IN = sorted(file.stem for file in TEMPLATES.glob("*.toml"))
POINTS_PER_MM = 72 / 25.4


def mixed(run: Run, name: str, make: str = "50mL") -> str:
    answer = run("mix", name, "--make", make, "--json")
    assert answer.code == 0, answer.err
    return str(as_json(answer.out)["batch"])


def sizes(path: Path) -> list[tuple[int, int]]:
    return [
        (
            round(float(page.mediabox.width) / POINTS_PER_MM),
            round(float(page.mediabox.height) / POINTS_PER_MM),
        )
        for page in PdfReader(path).pages
    ]


def text_of(path: Path) -> str:
    pages = PdfReader(path).pages
    told = " ".join(page.extract_text() for page in pages).replace("\u00a0", " ")
    return " ".join(told.split())


def test_a_small_bottle_with_a_class_gets_its_tag_and_its_cap(
    bench: Path, run: Run
) -> None:
    number = mixed(run, "silver-nitrate")
    (first,) = (bench / "prints").glob("*.pdf")
    again = run("label", number, "-o", "again.pdf")
    assert again.code == 0, again.err
    assert sizes(first) == sizes(bench / "again.pdf") == [(74, 148), (24, 24)]
    assert "cap is not a label" not in again.err


def test_a_supplied_bottle_gets_no_label_without_its_supplier(
    bench: Path, run: Run
) -> None:
    number = mixed(run, "borate-alkali", "250mL")
    settings = bench / "labelkit.toml"
    text = settings.read_text("utf-8").replace('"room"', '"supply"')
    settings.write_text(text, encoding="utf-8")
    refused = run("label", number, "-o", "out.pdf")
    assert refused.code == 2
    told = [line.split(": ")[0] for line in refused.err.splitlines()]
    assert told == ["labelkit.toml, address", "labelkit.toml, phone"]
    assert "No label: labelkit.toml, address" in run("mix", "plain-fixer").out
    named = f'address = "3 Tern Street"\nphone = "01632 960 119"\n{text}'
    settings.write_text(named, encoding="utf-8")
    assert run("label", number, "-o", "out.pdf").code == 0
    assert "3 Tern Street, 01632 960 119" in text_of(bench / "out.pdf")


def test_what_gave_way_on_every_bottle_is_told_once(run: Run) -> None:
    answer = run("mix", "borate-alkali", "--into", "2x250 mL", "--json")
    number = str(as_json(answer.out)["batch"])
    told = run("label", number, "-o", "out.pdf").err.splitlines()
    assert told
    assert len(told) == len(set(told))


def test_a_cap_alone_is_printed_and_told_not_to_be_a_label(
    bench: Path, run: Run
) -> None:
    number = mixed(run, "silver-nitrate")
    for layout, size in (("cap", (24, 24)), ("dropper", (60, 40))):
        answer = run("label", number, "--layout", layout, "-o", "out.pdf")
        assert answer.code == 0, answer.err
        assert sizes(bench / "out.pdf") == [size]
        told = f"A {layout} is not a label by itself: the bottle needs its label too."
        assert told in answer.err


def test_a_dropper_without_a_class_may_stand_alone(bench: Path, run: Run) -> None:
    number = mixed(run, "bromide-stock")
    answer = run("label", number, "--layout", "dropper", "-o", "out.pdf")
    assert answer.code == 0, answer.err
    assert "not a label by itself" not in answer.err


def test_a_set_is_printed_in_its_order_and_its_caps_are_cut_out(
    bench: Path, run: Run
) -> None:
    a, b = mixed(run, "pyro-a"), mixed(run, "pyro-b")
    answer = run("label", b, a, "--sheet", "a4-148x74", "-o", "set.pdf")
    assert answer.code == 0, answer.err
    assert sizes(bench / "set.pdf") == [(210, 297), (210, 297)]
    assert answer.out.splitlines()[1:] == [
        "a4-148x74: slots 1 to 2 of 3",
        "plain paper, 24 x 24 mm to cut out: slots 1 to 2 of 54",
    ]
    tags = PdfReader(bench / "set.pdf").pages[0].extract_text()
    assert tags.index(a) < tags.index(b)


def test_labels_of_two_sizes_each_find_their_sheet(bench: Path, run: Run) -> None:
    small, large = mixed(run, "bromide-stock"), mixed(run, "plain-fixer", "1L")
    answer = run("label", small, large, "--sheet", "a4-74x52", "-o", "both.pdf")
    assert answer.code == 0, answer.err
    told = answer.out.splitlines()[1:]
    assert told[0] == "a4-74x52: slot 1 of 10"
    assert told[1].startswith("a4-74x52 does not fit this label; a4-148x74: slot 1")


@pytest.mark.parametrize(
    ("skip", "told"),
    [
        ("8", "a4-74x52: slots 9 to 10 of 10"),
        ("9", "one slot is too few for two labels; a4-74x52: slots 1 to 2 of 10"),
    ],
)
def test_a_pair_takes_two_neighbouring_slots(
    bench: Path, run: Run, skip: str, told: str
) -> None:
    number = mixed(run, "pyro-b")
    answer = run(
        "label", number, "--layout", "pair", "--sheet", "a4-74x52",
        "--skip", skip, "-o", "pair.pdf",
    )  # fmt: skip
    assert answer.code == 0, answer.err
    assert answer.out.splitlines()[1] == told
    assert len(sizes(bench / "pair.pdf")) == 1


def test_a_small_pack_leaves_off_says_so_and_is_recorded(bench: Path, run: Run) -> None:
    number = mixed(run, "silver-nitrate")
    answer = run("label", number, "--small-pack", "-o", "out.pdf")
    assert answer.code == 0, answer.err
    # CLP, Annex I, 1.5.2.1.1: the aquatic classes may, Skin Corr. 1B may not.
    told = "Small pack: H410 and P273 left off under CLP, Annex I, 1.5.2."
    assert told in text_of(bench / "out.pdf")
    assert "severe skin burns" in text_of(bench / "out.pdf")
    assert "aquatic life" not in text_of(bench / "out.pdf")
    assert "only where neither a fold-out, a tag nor an outer pack" in answer.err
    (event,) = kept(number)["events"]
    assert (event["what"], event["bottle"], event["note"]) == ("relabelled", 1, told)


def test_a_small_pack_is_never_made_by_itself(bench: Path, run: Run) -> None:
    number = mixed(run, "silver-nitrate")
    run("label", number, "-o", "out.pdf")
    assert "aquatic life" in text_of(bench / "out.pdf")
    assert kept(number)["events"] == []


@pytest.mark.parametrize(
    ("recipe", "make", "told"),
    [
        ("silver-nitrate", "250mL", "a bottle of 250 mL is no small pack"),
        ("bromide-stock", "50mL", "reaches no class that may leave a statement off"),
    ],
)
def test_a_small_pack_refused_prints_and_records_nothing(
    bench: Path, run: Run, recipe: str, make: str, told: str
) -> None:
    number = mixed(run, recipe, make)
    answer = run("label", number, "--small-pack", "-o", "out.pdf")
    assert answer.code == 2
    (line,) = answer.err.splitlines()
    assert told in line
    assert not (bench / "out.pdf").exists()
    assert kept(number)["events"] == []


def test_codes_are_printed_where_they_are_asked_for(bench: Path, run: Run) -> None:
    number = mixed(run, "pyro-b")
    run("label", number, "-o", "off.pdf")
    run("label", number, "--codes", "-o", "on.pdf")
    assert "H319" not in text_of(bench / "off.pdf")
    assert "Causes serious eye irritation (H319)." in text_of(bench / "on.pdf")


@pytest.mark.parametrize("layout", BUILT_IN)
def test_a_copy_of_a_built_in_layout_is_a_layout_of_ones_own(
    bench: Path, run: Run, layout: str
) -> None:
    folder = bench / "layouts"
    folder.mkdir()
    text = (TEMPLATES / f"{layout}.toml").read_text("utf-8")
    text = text.replace(f'name   = "{layout}"', 'name   = "mine"')
    (folder / "mine.toml").write_text(text, encoding="utf-8")
    assert run("check").code == 0
    recipe = "bromide-stock" if layout in ("small", "tall-wide") else "pyro-b"
    number = mixed(run, recipe)
    answer = run("label", number, "--layout", "mine", "-o", "mine.pdf")
    assert answer.code == 0, answer.err
    built_in = run("label", number, "--layout", layout, "-o", "built-in.pdf")
    assert built_in.code == 0
    assert sizes(bench / "mine.pdf") == sizes(bench / "built-in.pdf")


@pytest.mark.parametrize(
    ("layout", "old", "new", "told"),
    [
        (
            "tag", 'halves = "folded"', 'halves = "rolled"',
            "mine.toml, halves: is 'rolled'. Write one of folded, apart.",
        ),
        (
            "tag", "at    = [20.2, 11.2]", "at    = [20.2, 9.2]",
            "box 5 (name): comes nearer than 2 mm to the hole.",
        ),
        (
            "tag", "size  = [28.8, 3.8]\ntext  = [11.3, 8]",
            "size  = [28.8, 3.8]\ntext  = [11.3, 6]",
            "text: goes down to 6 pt. Write 6.6 pt or more.",
        ),
        (
            "tag", 'ends  = "back"', 'ends  = "top"',
            "(foot): ends: is 'top'. Write one of number, signal, back.",
        ),
        (
            "pair", "at    = [57, 17.2]\nsize  = [14, 0]",
            "at    = [67, 17.2]\nsize  = [14, 0]",
            "(label-1): lies over the margin of 3 mm at the middle, 74.",
        ),
        (
            "dropper", 'kind   = "dropper"', 'kind   = "label"',
            "box: none shows 'headline'",
        ),
        (
            "cap", 'kind   = "cap"', 'kind   = "hat"',
            "mine.toml, kind: is 'hat'. Write one of label, cap, dropper.",
        ),
    ],
)  # fmt: skip
def test_a_fault_in_ones_own_tag_is_told_with_file_box_and_field(
    bench: Path, run: Run, layout: str, old: str, new: str, told: str
) -> None:
    folder = bench / "layouts"
    folder.mkdir()
    text = (TEMPLATES / f"{layout}.toml").read_text("utf-8")
    assert text.count(old) >= 1
    (folder / "mine.toml").write_text(text.replace(old, new), encoding="utf-8")
    answer = run("check")
    assert answer.code == 1
    assert told.replace(": ends", ", ends") in answer.err
    assert all(line.startswith("mine.toml") for line in answer.err.splitlines())


def test_a_name_too_long_for_a_cap_never_costs_the_tag(bench: Path, run: Run) -> None:
    recipe = bench / "recipes" / "silver-nitrate.toml"
    text = recipe.read_text("utf-8")
    line = next(one for one in text.splitlines() if one.startswith("title"))
    long = 'title = "Acidified silver nitrate sensitiser"'
    recipe.write_text(text.replace(line, long), encoding="utf-8")
    number = mixed(run, "silver-nitrate")
    answer = run("label", number, "-o", "out.pdf")
    assert answer.code == 0, answer.err
    assert sizes(bench / "out.pdf") == [(74, 148)]
    assert "tag: no cap with it: " in answer.err


@pytest.mark.parametrize("command", ["label", "show"])
def test_words_of_a_later_form_are_refused_in_a_line_and_kept(
    bench: Path, run: Run, command: str
) -> None:
    number = mixed(run, "plain-fixer", "100mL")
    lines = bench / "lines.jsonl"
    shelf, *batches = run("export").out.splitlines()
    batch = json.loads(next(line for line in batches if number in line))
    batch["batch"]["data"]["words"] = {"bottles": [{"name": 5}], "page": {}}
    head = json.dumps(json.loads(shelf) | {"batches": 1, "events": 0})
    lines.write_text(f"{head}\n{json.dumps(batch)}\n", "utf-8")
    assert run("init", "other").code == 0
    other = ("--bench", str(bench / "other"))
    assert run("import", str(lines), *other).code == 0
    refused = run(command, number, *other)
    assert refused.code == 2
    (line,) = refused.err.splitlines()
    assert line.startswith(f"the words that batch {number} was kept with cannot be")
    assert number in run("shelf", *other).out
