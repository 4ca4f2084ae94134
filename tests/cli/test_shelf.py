"""What stands on the shelf, and what is wrong on it: the most urgent first."""

from pathlib import Path

from tests.cli.conftest import Run
from tests.cli.terminal import as_json


def mixed(run: Run, *words: str) -> str:
    answer = run("mix", *words, "--json")
    assert answer.code == 0, answer.err
    return str(as_json(answer.out)["batch"])


def test_the_shelf_begins_with_what_is_past_and_ends_with_what_keeps(run: Run) -> None:
    good = mixed(run, "borate-alkali", "--on", "2031-04-30")
    old = mixed(run, "plain-fixer", "--on", "2020-01-01")
    soon = mixed(run, "plain-fixer", "--on", "2031-03-14", "--use", "hold")
    lines = run("shelf").out.splitlines()
    starts = [lines.index(heading) for heading in (
        "Past its date: discard or test", "Discard within 14 days", "In date",
    )]  # fmt: skip
    assert starts == sorted(starts)
    for start, number in zip(starts, (old, soon, good), strict=True):
        assert lines[start + 1].startswith(f"{number} ")
    assert lines[starts[0] + 1].split() == [
        old, "Plain", "fixer", "1", "L", "full", "2020-03-01",
    ]  # fmt: skip
    assert lines[starts[0] + 2] == "  PAST ITS DATE"
    assert lines[starts[1] + 2] == "  HOLD"
    assert max(map(len, lines)) <= 78
    assert run("log", old, "discarded").code == 0
    assert old not in run("shelf").out


def test_a_long_title_never_pushes_the_date_away(bench: Path, run: Run) -> None:
    recipe = bench / "recipes" / "plain-fixer.toml"
    text = recipe.read_text("utf-8")
    long = "Plain fixer of the long evenings, second version with more of everything"
    recipe.write_text(text.replace('"Plain fixer"', f'"{long}"'), "utf-8")
    number = mixed(run, "plain-fixer", "--on", "2031-04-30")
    header, *_, line = run("shelf").out.splitlines()
    assert line.startswith(number)
    assert "Plain fixer of t…" in line
    date = header.index("discard after")
    assert line[date:] == "2031-06-30"
    assert len(line) <= 78


def test_bottles_that_stand_alike_are_one_line_and_words_narrow_it_down(
    run: Run,
) -> None:
    number = mixed(run, "pyro-a", "--into", "12x10 mL")
    mixed(run, "bromide-stock")
    run("log", f"{number}/5", "used", "4mL")
    said = run("shelf", "PYROGALLOL").out
    assert f"{number}/1-4 " in said
    assert f"{number}/6-12 " in said
    assert "4 x 10 mL" in said
    (line,) = (s for s in said.splitlines() if s.startswith(f"{number}/5 "))
    assert "6 of 10 mL" in line
    assert "Bromide" not in said
    assert "bromide" not in said
    items = as_json(run("shelf", "pyro", "--json").out)["items"]
    assert [item["bottle"] for item in items] == list(range(1, 13))
    nothing = run("shelf", "gum", "arabic")
    assert nothing.code == 1
    assert "no bottle on the shelf holds 'gum arabic' in its words" in nothing.err


def test_due_exits_1_and_lists_only_what_is_past(run: Run) -> None:
    assert run("shelf", "--due").code == 0
    old = mixed(run, "plain-fixer", "--on", "2020-01-01")
    mixed(run, "bromide-stock")
    answer = run("shelf", "--due", "--json")
    assert answer.code == 1
    assert answer.err == "1 past their date. Discard or test them.\n"
    (item,) = as_json(answer.out)["items"]
    assert (item["batch"], item["past"], item["marks"]) == (
        old,
        True,
        ["PAST ITS DATE"],
    )


def test_a_found_bottle_is_listed_and_due_when_nobody_claimed_it(run: Run) -> None:
    made = run(
        "label", "--unknown", "--where", "window sill", "--claim-by", "2031-04-30",
        "--on", "2031-04-01",
    )  # fmt: skip
    assert made.code == 0, made.err
    out = run("shelf").out
    assert "Found, nobody knows what is in it: leave it closed" in out
    assert "claim 2031-04-30" in out
    assert "  PAST ITS CLAIM DATE; FOUND" in out
    due = run("shelf", "--due")
    assert due.code == 1
    assert "1 found and not claimed in time." in due.err
    assert "Discard" not in due.err
    checked = run("check", "--shelf")
    assert checked.code == 1
    assert "nobody knows what is in it. Leave it closed" in checked.err


def test_an_empty_shelf_holds_nothing(run: Run) -> None:
    assert run("shelf").out == "Nothing.\n"
    answer = run("check", "--shelf")
    assert answer.code == 0
    assert answer.out == (
        "On the shelf nothing past its date, and nothing found that must stand apart. "
        "This does not mean safe.\n"
    )


def test_bottles_that_must_not_stand_together_are_told_until_they_are_moved(
    run: Run,
) -> None:
    stop = mixed(run, "citric-stop", "--on", "2031-04-30")
    blue = mixed(run, "blueprint-b", "--on", "2031-04-30")
    answer = run("check", "--shelf", "--json")
    assert answer.code == 1
    (item,) = as_json(answer.out)["items"]
    assert (item["kind"], item["bottles"], item["others"]) == ("apart", [stop], [blue])
    # acids apart from cyanide: school and university safety pages
    assert "hydrogen cyanide" in item["problem"]
    assert "school-chemical" in item["source"] or "school" in item["source"]
    (line,) = answer.err.splitlines()
    assert f"{stop} (Citric stop bath) and {blue} (" in line
    assert f"labelkit log {blue} moved --to PLACE." in line
    assert run("log", blue, "moved", "--to", "cupboard B").code == 0
    assert run("check", "--shelf").code == 0
    assert run("log", stop, "moved", "--to", "Cupboard B").code == 0
    assert "stand together at Cupboard B" in run("check", "--shelf").err


def test_the_shelf_is_looked_at_beside_files_that_are_named(
    bench: Path, run: Run
) -> None:
    old = mixed(run, "plain-fixer", "--on", "2020-01-01")
    broken = bench / "recipes" / "broken.toml"
    broken.write_text('title = "Broken"\n', "utf-8")
    only_shelf = run("check", "--shelf")
    assert old in only_shelf.err
    assert "broken" not in only_shelf.err
    both = run("check", "--shelf", str(broken))
    assert old in both.err
    assert "broken.toml" in both.err
