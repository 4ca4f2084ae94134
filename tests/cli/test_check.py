"""``labelkit check``: what would be refused later is told now, in one line a key."""

from pathlib import Path

import pytest

from tests.cli.conftest import Answer, Run
from tests.cli.terminal import as_json

HEBREW = "שלום עולם"


def changed(path: Path, old: str, new: str) -> None:
    text = path.read_text("utf-8")
    assert old in text, old
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def lines(answer: Answer) -> list[str]:
    assert answer.code == 1, answer.err
    return answer.err.splitlines()


def test_the_samples_have_no_fault(bench: Path, run: Run) -> None:
    assert run("check").code == 0


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (HEBREW, "'ש' (U+05E9 HEBREW LETTER SHIN) of a script that runs from right"),
        ("محلول", "U+0645 ARABIC LETTER MEEM"),
        ("Hot 🔥🧪☠", "U+1F525 FIRE), which the printed type does not have, besides"),
        ("硫代硫酸钠", "U+786B"),
        ("bell \\u0007 \\u0008", "cannot be printed (U+0007)"),
        ("turned \\u202e", "cannot be printed (U+202E)"),
    ],
)
def test_a_title_that_cannot_be_printed_is_one_fault(
    bench: Path, run: Run, words: str, told: str
) -> None:
    path = bench / "recipes" / "borate-alkali.toml"
    changed(path, '"Borate alkali stock"', f'"{words}"')
    (line,) = lines(run("check", path))
    assert line.startswith("borate-alkali.toml, title: ")
    assert told in line
    assert len(line) < 240
    assert run("plan", "borate-alkali").code == (0 if "\\" not in words else 2)


@pytest.mark.parametrize(
    ("place", "table"),
    [
        ("part", 'part = "א"'),
        ("off_when", 'off_when = "⚠"'),
        ("note", 'note = "⚠"'),
        ("test", 'test = "⚠"'),
        ("step 1, text", '[[step]]\ntext = "⚠"'),
        ("step 1, caution", '[[step]]\ntext = "x"\ncaution = "⚠"'),
        ("bench_notes, storage", '[bench_notes]\nstorage = "⚠"'),
        ("use, capacity, of",
         '[use]\ncapacity = { amount = 1, of = "⚠", per = "1 L" }'),
    ],
)  # fmt: skip
def test_whatever_is_printed_is_looked_at(
    bench: Path, run: Run, place: str, table: str
) -> None:
    top = "" if table.startswith("[") else table
    text = f"""
        title = "Bromide"
        makes = "1 L"
        {top}
        {table if not top else ""}
        [[step]]
        add = "potassium-bromide"
        amount = "10 g"
        [[step]]
        make_up_to = "1 L"
    """
    path = bench / "recipes" / "odd.toml"
    path.write_text(text, encoding="utf-8")
    (line,) = lines(run("check", path))
    assert line.startswith(f"odd.toml, {place}: ")


def test_a_fault_of_a_letter_is_told_with_the_other_faults(
    bench: Path, run: Run
) -> None:
    path = bench / "recipes" / "odd.toml"
    path.write_text(f'title = "{HEBREW}"\nmakes = "1 x"\n', encoding="utf-8")
    places = [line.split(": ")[0] for line in lines(run("check", path))]
    assert places == ["odd.toml, makes", "odd.toml, step", "odd.toml, title"]


def test_an_own_chemical_is_printed_by_its_first_name(bench: Path, run: Run) -> None:
    path = bench / "chemicals.toml"
    before = path.read_text("utf-8")
    own = '\n[[chemical]]\nid = "flakes"\nsource = "ours"\nnames = [{}]\n'
    path.write_text(before + own.format('"Flakes", "צהוב"'), encoding="utf-8")
    assert run("check").code == 0
    path.write_text(before + own.format('"צהוב", "Flakes"'), encoding="utf-8")
    (line,) = lines(run("check"))
    assert line.startswith("chemicals.toml, flakes, names: the letter 'צ'")


def test_settings_and_jars_are_printed_too(bench: Path, run: Run) -> None:
    changed(bench / "labelkit.toml", '"Tern Street Print Room"', f'"{HEBREW}"')
    jars = bench / "jars.toml"
    jars.write_text(
        '[[jar]]\nchemical = "borax-decahydrate"\nlot = "⚠ 12"\n', encoding="utf-8"
    )
    told = [line.split(": ")[0] for line in lines(run("check"))]
    assert told == ["labelkit.toml, room", "jars.toml, jar 1, lot"]
    alone = lines(run("check", "workshop.toml"))
    assert all(line.startswith("workshop.toml, ") for line in alone)
    assert any("HEBREW LETTER SHIN" in line for line in alone)


def test_a_layout_that_printing_refuses_is_a_fault(bench: Path, run: Run) -> None:
    assert run("layouts", "--copy", "tall").code == 0
    path = bench / "layouts" / "my-tall.toml"
    whole = path.read_text("utf-8")
    for old, new, told in (
        ("[74, 105]", "[7400, 10500]", "my-tall.toml, size: is [7400, 10500]."),
        ('"ratio"', '"count"', "my-tall.toml, box: none shows 'ratio'."),
    ):
        path.write_text(whole, encoding="utf-8")
        changed(path, old, new)
        (line,) = lines(run("check"))
        assert line.startswith(told)


def test_a_workshop_is_known_by_its_keys(bench: Path, run: Run) -> None:
    assert run("check", "workshop.toml").code == 0
    (bench / "workshop.toml").rename(bench / "spring.toml")
    assert run("check", "spring.toml").code == 0
    before = run("check").err or run("check").out
    (bench / "spring.toml").unlink()
    after = run("check").err or run("check").out
    assert int(before.split()[0]) == int(after.split()[0]) + 1


BAD = f"""
title = "{HEBREW}"
people = ["A", "B"]
sheet = "a4-1x1"
colour = "red"
[[recipe]]
name = "flim"
card = "a7"
copies = 0
[[recipe]]
name = "plain-fixer"
make = "2 kg"
[[recipe]]
name = "citric-stop"
sizes = ["1 L", "2 kg"]
"""


def test_every_fault_of_a_workshop_is_told_in_the_first_round(
    bench: Path, run: Run
) -> None:
    (bench / "bad.toml").write_text(BAD, encoding="utf-8")
    expected = {
        "date", "recipe 1, copies", "recipe 1, card", "recipe 1, name",
        "recipe 2, make", "recipe 3, sizes", "sheet", "colour",
    }  # fmt: skip
    told = run("workshop", "bad.toml")
    assert told.code == 2
    places = {line.split(": ")[0] for line in told.err.splitlines()}
    assert places == {f"bad.toml, {place}" for place in expected}
    places = {line.split(": ")[0] for line in lines(run("check", "bad.toml"))}
    assert places == {f"bad.toml, {place}" for place in (*expected, "title")}


def test_a_workshop_whose_card_does_not_fit_is_a_fault(bench: Path, run: Run) -> None:
    changed(bench / "workshop.toml", '"a5"  ', '"a6"  ')
    (line,) = lines(run("check", "workshop.toml"))
    assert line.startswith("workshop.toml, recipe 1, 'Borate alkali stock', card a6")


def test_a_fault_of_a_recipe_is_not_told_again_for_its_workshop(
    bench: Path, run: Run
) -> None:
    changed(bench / "recipes" / "plain-fixer.toml", "makes", "maks")
    told = lines(run("check"))
    assert all(line.startswith("plain-fixer.toml, ") for line in told)
    alone = lines(run("check", "workshop.toml"))
    assert alone[0].startswith("workshop.toml, recipe 3, name, plain-fixer.toml, ")


def test_the_same_slip_in_a_recipe_and_in_its_workshop_is_told_of_both(
    bench: Path, run: Run
) -> None:
    changed(bench / "recipes" / "plain-fixer.toml", '"1 L"', '"1 l5"')
    changed(bench / "workshop.toml", '"250 mL"', '"1 l5"')
    places = [line.split(": ")[0] for line in lines(run("check"))]
    assert places == ["plain-fixer.toml, makes", "workshop.toml, recipe 1, make"]


def test_what_is_neither_recipe_nor_workshop_is_read_as_a_recipe(
    bench: Path, run: Run
) -> None:
    path = bench / "notes.toml"
    path.write_text('title = "x"\n', encoding="utf-8")
    assert lines(run("check", path))[0].startswith("notes.toml, makes: is missing")
    path.write_text("title = ", encoding="utf-8")
    assert "is not TOML" in lines(run("check", path))[0]
    assert "there is no file" in lines(run("check", "nowhere.toml"))[0]
    assert run("check").code == 0


def test_faults_are_answered_as_json(bench: Path, run: Run) -> None:
    (bench / "bad.toml").write_text(BAD, encoding="utf-8")
    items = as_json(run("check", "bad.toml", "--json").out)["items"]
    assert {"place", "problem", "remedy"} == set(items[0])
    assert sum(item["place"] == "bad.toml, title" for item in items) == 1
