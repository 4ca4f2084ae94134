"""What is refused, word for word: the place, what is wrong, what to write instead."""

import shutil
import sqlite3
from pathlib import Path

import pytest

from tests.cli.conftest import Run
from tests.cli.terminal import as_json
from tests.mixing.writing import METABORATE

HEAD = 'title = "Try"\nmakes = "100 mL"\n'
WATER = '[[step]]\nadd = "water"\namount = "80 mL"\n'
UNITS = (
    "Write one of: g, kg, mg, mL, L, lb, oz, ozt, grain, drachm, drop, US fl oz, "
    "imp fl oz (and so on from minim to gallon)."
)


def add(chemical: str, amount: str) -> str:
    return f'[[step]]\nadd = "{chemical}"\namount = "{amount}"\n'


REFUSED = {
    "unknown key": (
        HEAD + 'strenght = "5 %"\n' + WATER,
        "try.toml, strenght: is not a known key. Did you mean strength?",
    ),
    "ambiguous chemical": (
        HEAD + WATER + add("washing soda", "1 g"),
        "try.toml, step 2, add: 'washing soda' fits several chemicals (anhydrous for "
        "decahydrate: 2.7 times too strong). Write the one in the jar: "
        "sodium-carbonate-anhydrous, sodium-carbonate-monohydrate, "
        "sodium-carbonate-decahydrate.",
    ),
    "no unit": (
        HEAD + WATER + add("metol", "5"),
        f"try.toml, step 2, amount: '5' has no unit. {UNITS}",
    ),
    "impossible unit": (
        HEAD + WATER + add("metol", "5 mls"),
        f"try.toml, step 2, amount: '5 mls' has an unknown unit. {UNITS}",
    ),
    "two readings of a number": (
        HEAD + WATER + add("metol", "1,000 g"),
        "try.toml, step 2, amount: '1,000 g' can be read in two ways. "
        "Write 1000 g or 1.000 g.",
    ),
    "no number": (
        HEAD + WATER + add("metol", "nan g"),
        "try.toml, step 2, amount: 'nan g' does not start with a number. "
        "Write a number and its unit.",
    ),
    "below nothing": (
        HEAD + WATER + add("metol", "-5 g"),
        "try.toml, step 2, amount: '-5 g' is not more than 0. Write a number above 0.",
    ),
    "nothing": (
        HEAD + WATER + add("metol", "0 g"),
        "try.toml, step 2, amount: '0 g' is not more than 0. Write a number above 0.",
    ),
    "no balance": (
        HEAD
        + '[[reaction]]\nfrom = ["sodium-chloride"]\nto = ["potassium-bromide"]\n'
        + WATER
        + add("sodium-chloride", "5 g"),
        "try.toml, reaction 1: sodium-chloride to potassium-bromide cannot be "
        "balanced: Cl, Na only before and Br, K only after. Name every by-product "
        "under 'to'; water, CO2, SO2, NH3 and O2 are found by labelkit.",
    ),
    "two readings of a reaction": (
        HEAD
        + '[[reaction]]\nfrom = ["boric-acid", "sodium-hydroxide", '
        + '"acetic-acid-glacial"]\nto = ["sodium-metaborate-tetrahydrate", '
        + '"sodium-acetate-trihydrate"]\n'
        + WATER
        + add("boric-acid", "5 g"),
        "try.toml, reaction 1: boric-acid + sodium-hydroxide + acetic-acid-glacial to "
        "sodium-metaborate-tetrahydrate + sodium-acetate-trihydrate balances in more "
        "than one way. Write one reaction at a time, such as: H3BO3 + NaOH + 2 H2O → "
        "NaBO2·4H2O; or NaOH + C2H4O2 + 2 H2O → C2H3NaO2·3H2O.",
    ),
    "reagent that is not added": (
        HEAD + METABORATE + WATER + add("sodium-hydroxide", "5 g"),
        "try.toml, reaction 1, from: borax-decahydrate is to react but no step adds "
        "it. Add it in a step, or name the form that is added.",
    ),
    "strength of what is not in it": (
        HEAD + '[strength]\nof = "pyrogallol"\n' + WATER + add("metol", "5 g"),
        "try.toml, strength, of: the solution holds no pyrogallol and no other form of "
        "pyrogallol. Name a form of what it holds: metol.",
    ),
    "step after the mark": (
        HEAD + WATER + '[[step]]\nmake_up_to = "100 mL"\n' + add("metol", "5 g"),
        "try.toml, step 3, add: comes after the final volume was made up in step 2. "
        "Write it above make_up_to.",
    ),
    "itself": (
        HEAD + WATER + add("recipe:try", "5 mL"),
        "try.toml, step 2, add: 'recipe:try' is this recipe itself. "
        "Name another recipe, or a chemical.",
    ),
    "itself through another": (
        HEAD + WATER + add("recipe:other", "5 mL"),
        "try.toml, add: try takes other takes try: a recipe cannot hold itself. "
        "Name another recipe in that step.",
    ),
    "a bag to pour from": (
        HEAD + WATER + add("recipe:bag", "5 mL"),
        "try.toml: bag is made by mass, so no mL of it can be poured. "
        "Name a recipe that makes a volume.",
    ),
    "a recipe that is not there": (
        HEAD + WATER + add("recipe:pyro-aa", "5 mL"),
        "try.toml: no recipe is called 'pyro-aa'. Did you mean pyro-a?",
    ),
    "too full": (
        HEAD + WATER + add("water", "40 mL") + '[[step]]\nmake_up_to = "100 mL"\n',
        "try.toml, step 3, make_up_to: 120 mL of liquids go in, more than the 100 mL "
        "it is made up to. Take less water at the start, or make more.",
    ),
    "too full by mass": (
        HEAD.replace("100 mL", "100 g")
        + add("water", "90 g")
        + add("metol", "20 g")
        + '[[step]]\nmake_up_to = "100 g"\n',
        "try.toml, step 3, make_up_to: 110 g go in, more than the 100 g it is made up "
        "to. Take less water at the start, or make more.",
    ),
    "more than is ever mixed": (
        HEAD + WATER + add("metol", "1e308 g"),
        "try.toml, step 2, amount: '1e308 g' is more than is ever mixed. "
        "Write at most 1000 kg.",
    ),
    "hotter than water gets": (
        HEAD + WATER + 'at = "300 degC"\n',
        "try.toml, step 1, at: '300 degC' is no temperature for mixing. "
        "Write one from -20 to 100 degC.",
    ),
    "purer than pure": (
        HEAD + WATER + add("metol", "5 g") + 'assay = "130 %"\n',
        "try.toml, step 2, assay: '130 %' is more than there can be. Write at most "
        "100 %; a hydrate that has dried out is over 100 % of itself: name the drier "
        "form instead.",
    ),
    "a ratio of one part": (
        HEAD + WATER + '[use]\nratio = "9"\n',
        "try.toml, use, ratio: '9' is a ratio of one part. "
        "Write the parts joined by +, such as 1+9.",
    ),
}


@pytest.fixture
def written(bench: Path) -> Path:
    """The recipes that the ones to be refused take from."""
    other = HEAD.replace("Try", "Other") + add("recipe:try", "5 mL")
    bag = HEAD.replace("100 mL", "100 g") + add("sodium-carbonate-anhydrous", "100 g")
    (bench / "recipes" / "other.toml").write_text(other, encoding="utf-8")
    (bench / "recipes" / "bag.toml").write_text(bag, encoding="utf-8")
    return bench


@pytest.mark.parametrize("command", ["plan", "mix", "hazards"])
@pytest.mark.parametrize("what", REFUSED)
def test_a_recipe_is_refused_word_for_word(
    what: str, command: str, written: Path, run: Run
) -> None:
    text, told = REFUSED[what]
    (written / "recipes" / "try.toml").write_text(text, encoding="utf-8")
    before = everything(written)
    answer = run(command, "try")
    assert (answer.code, answer.out, answer.err) == (2, "", f"{told}\n")
    assert everything(written) == before


def everything(folder: Path) -> set[Path]:
    return set(folder.rglob("*"))


def test_a_card_is_refused_where_its_recipe_is(written: Path, run: Run) -> None:
    text, told = REFUSED["reagent that is not added"]
    (written / "recipes" / "try.toml").write_text(text, encoding="utf-8")
    answer = run("card", "try", "plain-fixer")
    assert (answer.code, answer.out, answer.err) == (2, "", f"{told}\n")
    assert not (written / "prints").exists()


def test_every_fault_of_a_file_is_told_at_once(bench: Path, run: Run) -> None:
    faulty = 'makes = "1 x"\nkeeps = "soon"\n'
    text = faulty + add("metol", "5") + add("metol", "1,000 g")
    (bench / "recipes" / "try.toml").write_text(text, encoding="utf-8")
    answer = run("plan", "try")
    places = {line.split(": ")[0] for line in answer.err.strip().splitlines()}
    assert places == {
        "try.toml, title",
        "try.toml, makes",
        "try.toml, keeps",
        "try.toml, step 1, amount",
        "try.toml, step 2, amount",
    }


def test_an_unknown_chemical_is_refused_with_what_is_near_it(
    bench: Path, run: Run
) -> None:
    text = HEAD + WATER + add("sodium sulphid", "1 g")
    (bench / "recipes" / "try.toml").write_text(text, encoding="utf-8")
    err = run("plan", "try").err
    assert err.startswith(
        "try.toml, step 2, add: no chemical is called 'sodium sulphid'. Near it: "
    )
    assert "sodium-sulfide-anhydrous" in err
    assert "sodium-sulfite-anhydrous" in err


TYPED = {
    ("plan", "plain-fixer", "--make", "1 kg"): (
        "--make: plain-fixer makes 1 L; 1 kg is not a volume. "
        "Ask for it as the recipe has it, or write a measured density."
    ),
    ("mix", "plain-fixer", "--weighed", "3=nan g"): (
        "--weighed 3: 'nan g' does not start with a number. "
        "Write a number and its unit."
    ),
    ("mix", "plain-fixer", "--weighed", "99=10g"): (
        "--weighed: no step adds '99'. Name one of: 1 (water), 2 "
        "(sodium-sulfite-anhydrous), 3 (sodium-thiosulfate-pentahydrate)."
    ),
    ("mix", "plain-fixer", "--weighed", "10g"): (
        "--weighed: '10g' has no '='. "
        "Write STEP=AMOUNT, such as 2=17.4g or borax-decahydrate=17.4g."
    ),
    ("plan", "plain-fixer", "--make", "5 x"): (
        f"--make: '5 x' has an unknown unit. {UNITS}"
    ),
    ("mix", "plain-fixer", "--into", "3x1 L"): (
        "--into: '3x1 L' is 3 L of bottles for 1 L. "
        "Name bottles that hold no more than was made."
    ),
    ("mix", "plain-fixer", "--made-up-to", "1 kg"): (
        "--made-up-to: '1 kg' is not a volume. Write it in mL or L."
    ),
    ("mix", "plain-fixer", "--density", "5"): (
        "--density: '5' has no unit. Write it as 1.02 g/mL."
    ),
    ("mix", "plain-fixer", "--on", "14.3.2031"): (
        "--on: '14.3.2031' is not a date. Write it like 2031-03-14 or 2031-03-14T15:40."
    ),
    ("mix", "plain-fixer", "--ph", "20"): (
        "--ph: '20' is no pH. Write a number from -1 to 15, such as 10.6."
    ),
    ("show", "7K3M-Q9TX-8"): (
        "no batch '7K3M-Q9TX-8': nothing stands on this shelf yet. "
        "Mix something first: labelkit mix RECIPE."
    ),
    ("show", "7K3M-Q9TX-9"): (
        "'7K3M-Q9TX-9' is no batch number: a character is wrong, or two are swapped. "
        "Read it again from the label."
    ),
    ("log", "7K3M-Q9TX-8", "opened"): (
        "no batch '7K3M-Q9TX-8': nothing stands on this shelf yet. "
        "Mix something first: labelkit mix RECIPE."
    ),
    ("card", "plain-fixer", "--layout", "nope"): (
        "there is no card layout 'nope'. Write one of a4, a5, a6, pocket, pocket-wide."
    ),
    ("plan", "plain-fixer", "--lot", "metol"): (
        "--lot: 'metol' has no '='. Write CHEMICAL=ASSAY, such as sodium-hydroxide=97%."
    ),
    ("plan", "fixer"): "no recipe is called 'fixer'. Did you mean plain-fixer?",
    ("plan", "recipes/fixer.toml"): (
        "there is no file 'recipes/fixer.toml'. Check its name."
    ),
}


@pytest.mark.parametrize("words", TYPED, ids=" ".join)
def test_what_is_typed_is_refused_word_for_word(
    words: tuple[str, ...], bench: Path, run: Run
) -> None:
    before = everything(bench)
    answer = run(*words)
    assert (answer.code, answer.out, answer.err) == (2, "", f"{TYPED[words]}\n")
    assert everything(bench) == before


def test_a_bench_that_is_none_is_refused(tmp_path: Path, run: Run) -> None:
    answer = run("shelf", "--bench", tmp_path)
    assert answer.code == 2
    assert answer.err == (
        f"--bench: '{shown(tmp_path)}' is no bench: it has no labelkit.toml. "
        "Set one up with labelkit init.\n"
    )


def shown(path: Path) -> str:
    text = str(path)
    return text if len(text) <= 40 else f"{text[:39]}…"


def test_without_any_bench_it_says_how_to_get_one(
    tmp_path: Path, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    answer = run("mix", tmp_path / "bench" / "recipes" / "plain-fixer.toml")
    assert answer.code == 2
    assert answer.err == (
        "there is no bench here: no labelkit.toml in this folder or above. "
        "Run 'labelkit init FOLDER', or name one with --bench.\n"
    )


def mixed(run: Run, *words: str) -> str:
    answer = run("mix", *words, "--json")
    assert answer.code == 0, answer.err
    return str(as_json(answer.out)["batch"])


def test_another_batch_than_those_on_the_shelf_is_unknown(run: Run) -> None:
    mixed(run, "plain-fixer")
    for words in (["show"], ["label"], ["log"]):
        more = ["opened"] if words == ["log"] else []
        answer = run(*words, "7K3M-Q9TX-8", *more)
        assert answer.code == 2
        assert answer.err == (
            "no batch '7K3M-Q9TX-8' on this shelf. "
            "labelkit shelf lists what there is.\n"
        )


@pytest.mark.parametrize("command", ["label", "log"])
def test_a_bottle_that_is_not_there_is_refused(command: str, run: Run) -> None:
    number = mixed(run, "pyro-a", "--into", "2x125 mL")
    more = ["opened"] if command == "log" else []
    answer = run(command, f"{number}/3", *more)
    assert answer.code == 2
    assert answer.err == (
        f"BATCH/N: batch {number} has no bottle 3. Its bottles are numbered 1 to 2.\n"
    )


def test_a_layout_and_a_sheet_that_are_not_there_are_refused(run: Run) -> None:
    number = mixed(run, "plain-fixer")
    layout = run("label", number, "--layout", "nope")
    assert layout.code == 2
    assert layout.err.startswith("there is no label layout 'nope'. Write one of ")
    sheet = run("label", number, "--sheet", "nope")
    assert sheet.code == 2
    assert sheet.err.startswith("there is no sheet 'nope'. Write one of: a4-105x148,")
    bottle = run("label", number, "--bottle", "5 g")
    assert bottle.err == "--bottle: '5 g' is not a volume. Write it in mL or L.\n"


def test_a_sheet_that_does_not_fit_gives_way_to_one_that_does(run: Run) -> None:
    number = mixed(run, "pyro-a")
    answer = run("label", number, "--sheet", "a4-74x52")
    assert answer.code == 0
    assert "a4-74x52 does not fit this label; a4-" in answer.out


def test_a_label_too_large_for_every_sheet_says_no(bench: Path, run: Run) -> None:
    source = Path(__file__).resolve().parents[2] / "templates" / "labels" / "small.toml"
    (bench / "layouts").mkdir()
    odd = source.read_text("utf-8").replace("[74, 52]", "[75, 53]", 1)
    odd = odd.replace('name   = "small"', 'name   = "odd"')
    (bench / "layouts" / "odd.toml").write_text(odd, encoding="utf-8")
    number = mixed(run, "bromide-stock")
    answer = run("label", number, "--layout", "odd", "--sheet", "a4-74x52")
    assert (answer.code, answer.out) == (1, "")
    assert answer.err == (
        "a label of 75 x 53 mm does not fit sheet a4-74x52. "
        "Print one label a page: leave --sheet out.\n"
    )


def test_more_slots_than_a_sheet_has_cannot_be_skipped(run: Run) -> None:
    number = mixed(run, "bromide-stock")
    answer = run("label", number, "--sheet", "a4-74x52", "--skip", "10")
    assert answer.code == 2
    assert answer.err == (
        "skip: 10 slots cannot be skipped on a sheet of 10. Write 0 to 9.\n"
    )


def test_a_shelf_cut_short_is_left_as_it_is(bench: Path, run: Run) -> None:
    mixed(run, "plain-fixer")
    shelf = bench / "shelf.sqlite3"
    whole = shelf.read_bytes()
    shelf.write_bytes(whole[: len(whole) // 2])
    answer = run("shelf")
    assert answer.code == 2
    assert len(answer.err.splitlines()) == 1
    assert str(shelf) in answer.err
    assert shelf.read_bytes() == whole[: len(whole) // 2]


def test_a_database_of_another_program_is_refused(bench: Path, run: Run) -> None:
    with sqlite3.connect(bench / "shelf.sqlite3") as connection:
        connection.execute("CREATE TABLE batch (number TEXT)")
    connection.close()
    answer = run("shelf")
    assert answer.code == 2
    assert answer.err.endswith(
        "shelf.sqlite3: is a database of another program, not a shelf. "
        "Name another bench or file.\n"
    )


def test_a_print_that_cannot_be_written_is_said_so(bench: Path, run: Run) -> None:
    number = mixed(run, "plain-fixer")
    shutil.rmtree(bench / "prints")
    (bench / "prints").write_text("in the way", encoding="utf-8")
    answer = run("label", number)
    assert answer.code == 2
    assert "cannot be written: " in answer.err
    assert answer.err.endswith("Name another file with -o, or free the folder.\n")


@pytest.mark.parametrize(
    "content",
    [b"not a database at all, but long enough to look at", b"SQLite format 3\0"],
)
def test_a_shelf_that_is_none_is_left_as_it_is(
    content: bytes, bench: Path, run: Run
) -> None:
    shelf = bench / "shelf.sqlite3"
    shelf.write_bytes(content)
    answer = run("mix", "plain-fixer")
    assert answer.code == 2
    assert "shelf.sqlite3" in answer.err
    assert shelf.read_bytes() == content
    assert not (bench / "prints").exists()


def test_a_batch_is_kept_even_where_its_label_cannot_be_written(
    bench: Path, run: Run
) -> None:
    (bench / "prints").write_text("a file where a folder should be", encoding="utf-8")
    answer = run("mix", "plain-fixer")
    assert answer.code == 0
    assert "The batch is kept. Print it with: labelkit label " in answer.out
    assert run("shelf").out.count("Plain fixer") == 1


@pytest.mark.parametrize("command", ["demo", "init"])
def test_a_folder_that_cannot_be_written_is_said_so(
    command: str, tmp_path: Path, run: Run
) -> None:
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    answer = run(command, tmp_path / "file" / "below")
    assert answer.code == 2
    assert "below" in answer.err
    assert len(answer.err.strip().splitlines()) == 1


def test_pages_cannot_be_published_below_a_file(
    bench: Path, tmp_path: Path, run: Run
) -> None:
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    answer = run("publish", tmp_path / "file" / "pages")
    assert answer.code == 2
    assert len(answer.err.strip().splitlines()) == 1
