"""Bad input: one clear line each, exit 2, nothing written, no traceback."""

from pathlib import Path

import pytest

from tests.cli.conftest import Run

WATER = '[[step]]\nadd = "water"\namount = "80 mL"\n'
HEAD = 'title = "Try"\nmakes = "100 mL"\n'
SALT = '[[step]]\nadd = "sodium-chloride"\namount = "{}"\n'

RECIPES = {
    "an unknown key": (
        HEAD + 'strenght = "5 %"\n' + WATER,
        "try.toml, strenght: is not a known key. Did you mean strength?",
    ),
    "an unknown chemical": (
        HEAD + WATER + '[[step]]\nadd = "sodium sulphid"\namount = "1 g"\n',
        "step 2, add: no chemical is called 'sodium sulphid'",
    ),
    "an ambiguous chemical": (
        HEAD + WATER + '[[step]]\nadd = "washing soda"\namount = "1 g"\n',
        "sodium-carbonate-decahydrate",
    ),
    "an amount without a unit": (
        HEAD + WATER + SALT.format("5"),
        "step 2, amount: '5' has no unit",
    ),
    "an impossible unit": (
        HEAD + WATER + SALT.format("5 degC"),
        "step 2, amount: '5 degC' has an unknown unit",
    ),
    "a thousands comma": (
        HEAD + WATER + SALT.format("1,000 g"),
        "can be read in two ways. Write 1000 g or 1.000 g.",
    ),
    "not a number": (
        HEAD + WATER + SALT.format("nan g"),
        "step 2, amount: 'nan g' does not start with a number",
    ),
    "a negative amount": (
        HEAD + WATER + SALT.format("-5 g"),
        "step 2, amount: '-5 g' is not more than 0",
    ),
    "nothing of it": (
        HEAD + WATER + SALT.format("0 g"),
        "step 2, amount: '0 g' is not more than 0",
    ),
    "an absurd amount": (HEAD + WATER + SALT.format("1e308 g"), "step 2, amount"),
    "a reaction that cannot balance": (
        HEAD
        + '[[reaction]]\nfrom = ["sodium-chloride"]\nto = ["potassium-bromide"]\n'
        + WATER
        + SALT.format("5 g"),
        "try.toml, reaction 1: sodium-chloride to potassium-bromide cannot be balanced",
    ),
    "a reaction with two readings": (
        HEAD
        + '[[reaction]]\nfrom = ["sodium-hydroxide", "potassium-hydroxide", '
        + '"sodium-bicarbonate"]\n'
        + 'to = ["sodium-carbonate-anhydrous", "potassium-carbonate"]\n'
        + WATER
        + SALT.format("5 g"),
        "balances in more than one way. Write one reaction at a time, such as: ",
    ),
    "a reagent nobody adds": (
        HEAD
        + '[[reaction]]\nfrom = ["borax-decahydrate", "sodium-hydroxide"]\n'
        + 'to = ["sodium-metaborate-tetrahydrate"]\n'
        + WATER
        + SALT.format("5 g"),
        "borax-decahydrate is to react but no step adds it",
    ),
    "a strength of what is not in it": (
        HEAD + '[strength]\nof = "pyrogallol"\n' + WATER + SALT.format("5 g"),
        "the solution holds no pyrogallol",
    ),
    "a step after the mark": (
        HEAD + WATER + '[[step]]\nmake_up_to = "100 mL"\n' + SALT.format("5 g"),
        "step 3",
    ),
    "a recipe that contains itself": (
        HEAD + WATER + '[[step]]\nadd = "recipe:try"\namount = "5 mL"\n',
        "try",
    ),
    "less room than goes in": (
        HEAD
        + WATER
        + '[[step]]\nadd = "water"\namount = "40 mL"\n'
        + '[[step]]\nmake_up_to = "100 mL"\n',
        "120 mL of liquids go in, more than the 100 mL it is made up to",
    ),
    "a step at 300 degC": (
        HEAD + '[[step]]\nadd = "water"\namount = "80 mL"\nat = "300 degC"\n',
        "step 1, at: '300 degC'",
    ),
    "an assay of 130 %": (
        HEAD + WATER + SALT.format("5 g") + 'assay = "130 %"\n',
        "step 2, assay: '130 %'",
    ),
    "a ratio of one part": (
        HEAD + WATER + '[use]\nratio = "9"\n',
        "use, ratio: '9'",
    ),
}


@pytest.mark.parametrize("what", RECIPES)
def test_a_faulty_recipe_is_refused_in_one_line(
    what: str, bench: Path, run: Run
) -> None:
    text, told = RECIPES[what]
    (bench / "recipes" / "try.toml").write_text(text, encoding="utf-8")
    answer = run("plan", "try")
    assert answer.code == 2
    assert told in answer.err
    assert len(answer.err.strip().splitlines()) == 1
    assert answer.out == ""
    assert run("mix", "try").code == 2
    assert not (bench / "shelf.sqlite3").exists()
    assert not (bench / "prints").exists()


def test_every_fault_of_a_file_is_told_at_once(bench: Path, run: Run) -> None:
    text = 'makes = "1 x"\nkeeps = "soon"\n' + SALT.format("5") + SALT.format("1,000 g")
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


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("plan", "no-such-recipe"), "no recipe is called 'no-such-recipe'"),
        (("plan", "plain-fixer", "--make", "5 x"), "--make: '5 x' has an unknown unit"),
        (("plan", "plain-fixer", "--make", "100 g"), "is not a volume"),
        (("mix", "plain-fixer", "--weighed", "2=ten"), "--weighed 2: 'ten'"),
        (("mix", "plain-fixer", "--weighed", "99=10g"), "no step adds '99'"),
        (("mix", "plain-fixer", "--weighed", "10g"), "'10g' has no '='"),
        (("mix", "plain-fixer", "--into", "9x1 L"), "9 L of bottles for 1 L"),
        (("mix", "plain-fixer", "--ph", "20"), "--ph: '20' is no pH"),
        (("mix", "plain-fixer", "--on", "soon"), "--on: 'soon' is not a date"),
        (("show", "7K3M-Q9TX-8"), "7K3M-Q9TX-8"),
        (("show", "7K3M-Q9TX-9"), "7K3M-Q9TX-9"),
        (("label", "7K3M-Q9TX-8"), "7K3M-Q9TX-8"),
        (("plan", "plain-fixer", "--bench", "nowhere"), "nowhere"),
        (("plan", "plain-fixer", "--lot", "lye"), "--lot: 'lye' has no '='"),
    ],
)
def test_what_is_typed_wrongly_is_refused_in_one_line(
    words: tuple[str, ...], told: str, run: Run
) -> None:
    answer = run(*words)
    assert answer.code == 2
    assert told in answer.err
    assert len(answer.err.strip().splitlines()) == 1


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
    assert len(run("shelf").out.strip().splitlines()) == 1


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
