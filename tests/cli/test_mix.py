"""Mixing without a terminal: what the options say is kept, and kept for good."""

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from tests.cli.conftest import Answer, Run, kept
from tests.cli.terminal import Terminal, as_json, batch_of

DEADLY = """
title = "Bleach and acid"
makes = "250 mL"
[[step]]
add = "water"
amount = "100 mL"
[[step]]
add = "sodium-hypochlorite-household"
amount = "50 mL"
[[step]]
add = "citric-acid-monohydrate"
amount = "5 g"
[[step]]
make_up_to = "250 mL"
"""
FLAKES = """
title = "Soda from flakes"
makes = "250 mL"
[strength]
of = "sodium-carbonate-anhydrous"
[measured]
ph = 11.2
[[step]]
add = "Tern Street soda flakes"
amount = "29.25 g"
[[step]]
make_up_to = "250 mL"
"""


def write(bench: Path, name: str, text: str) -> None:
    (bench / "recipes" / f"{name}.toml").write_text(text, encoding="utf-8")


def mixed(answer: Answer) -> dict[str, Any]:
    assert answer.code == 0, answer.err
    return as_json(answer.out)


def labels(bench: Path) -> list[Path]:
    return sorted((bench / "prints").glob("*.pdf"))


def test_who_when_and_for_whom_are_kept(run: Run) -> None:
    batch = mixed(
        run(
            "mix", "plain-fixer", "--by", "R. Amara", "--on", "2031-03-14T15:40",
            "--use", "maker", "--json",
        )
    )  # fmt: skip
    assert batch["made_by"] == "R. Amara"
    assert batch["mixed_on"] == "2031-03-14 15:40"
    assert batch["discard_after"] == "2031-05-14"
    assert batch["use"] == "maker"


def test_each_bottle_gets_its_label(bench: Path, run: Run) -> None:
    mixed(run("mix", "pyro-a", "--into", "2x100 mL, 5x10 mL", "--json"))
    (path,) = labels(bench)
    # up to 125 mL with a class: a tag, and a cap for the glass; print-spec section 5
    assert len(PdfReader(path).pages) == 2 * 7


def test_a_deadly_mix_waits_until_it_is_acknowledged(bench: Path, run: Run) -> None:
    write(bench, "deadly", DEADLY)
    answer = run("mix", "deadly")
    assert answer.code == 1
    assert answer.err.startswith("Do not mix: household bleach")
    assert "If it is mixed all the same, say --acknowledge incompatible." in answer.err
    assert answer.out == ""
    assert run("shelf").out.strip() == "Nothing."
    assert labels(bench) == []


def test_what_is_acknowledged_is_recorded_and_told(bench: Path, run: Run) -> None:
    write(bench, "deadly", DEADLY)
    batch = mixed(run("mix", "deadly", "--acknowledge", "incompatible", "--json"))
    assert batch["acknowledged"] == ["incompatible"]
    assert "Do not mix: household bleach" in run("show", batch["batch"]).out
    (label,) = labels(bench)
    words = " ".join(PdfReader(label).pages[0].extract_text().split())
    assert "Mixed in spite of a warning: incompatible." in words


def test_another_code_acknowledges_nothing(bench: Path, run: Run) -> None:
    write(bench, "deadly", DEADLY)
    assert run("mix", "deadly", "--acknowledge", "solubility").code == 1


def test_at_a_terminal_the_word_itself_is_typed(bench: Path, run: Run) -> None:
    write(bench, "deadly", DEADLY)
    at = Terminal(bench, "mix", "deadly", "--by", "M. Osei", "--into", "250 mL")
    for question in ("read [100", "read [50", "read [5.0", "done", "Made up to", "pH"):
        at.asked(question)
    said = at.asked("Type incompatible to say that you know:", "yes")
    assert "STOP  Do not mix: household bleach" in said
    at.asked("Type incompatible to say that you know:", "incompatible")
    said, code = at.ended()
    assert code == 0, said
    assert kept(batch_of(said))["acknowledged"] == ["incompatible"]


def test_a_plan_of_something_deadly_says_no(bench: Path, run: Run) -> None:
    write(bench, "deadly", DEADLY)
    answer = run("plan", "deadly", "--json")
    assert answer.code == 1
    checks = json.loads(answer.out)["checks"]
    assert {key: checks[0][key] for key in ("code", "level", "step")} == {
        "code": "incompatible",
        "level": "stop",
        "step": 3,
    }
    assert answer.err.strip() == (
        "this can kill or maim: incompatible. "
        "Change the recipe; 'mix' records it only with --acknowledge."
    )


def test_a_batch_is_kept_though_no_label_fits(bench: Path, run: Run) -> None:
    recipe = bench / "recipes" / "plain-fixer.toml"
    text = recipe.read_text("utf-8")
    long_title = " ".join(["Plain fixer of the old kind"] * 200)
    recipe.write_text(text.replace("Plain fixer", long_title, 1), "utf-8")
    answer = run("mix", "plain-fixer")
    assert answer.code == 0
    assert "No label:" in answer.out
    number = batch_of(answer.out)
    assert f"The batch is kept. Print it with: labelkit label {number}" in answer.out
    assert kept(number)["batch"] == number
    refused = run("label", number)
    assert refused.code == 1
    assert labels(bench) == []


def test_a_batch_number_stands_for_its_frozen_recipe(bench: Path, run: Run) -> None:
    write(bench, "flakes", FLAKES)
    first = mixed(run("mix", "flakes", "--json"))
    write(bench, "flakes", FLAKES.replace("29.25 g", "2 g"))
    assert as_json(run("plan", "flakes", "--json").out)["weigh"] != first["weigh"]
    again = as_json(run("plan", first["batch"], "--json").out)
    assert again["weigh"] == first["weigh"]
    assert again["strength"] == first["strength"]
    once_more = mixed(run("mix", first["batch"].lower(), "--json"))
    assert once_more["recipe"] == "flakes"
    assert once_more["batch"] != first["batch"]


def test_a_frozen_recipe_keeps_chemicals_that_are_gone(bench: Path, run: Run) -> None:
    write(bench, "flakes", FLAKES)
    first = mixed(run("mix", "flakes", "--json"))
    (bench / "chemicals.toml").unlink()
    assert run("plan", "flakes").code == 2
    again = as_json(run("plan", first["batch"], "--json").out)
    assert again["contents"] == first["contents"]


CHANGES: dict[str, tuple[str, Callable[[str], str]]] = {
    "the recipe": ("recipes/flakes.toml", lambda text: text.replace("29.25", "5")),
    "the title": ("recipes/flakes.toml", lambda text: text.replace("Soda", "Other")),
    "the chemical": (
        "chemicals.toml",
        lambda text: text.replace("Eye Irrit. 2", "Skin Corr. 1B").replace("97", "50"),
    ),
    "the room": (
        "labelkit.toml",
        lambda text: text.replace("Tern Street", "Elsewhere"),
    ),
    "the number to call": ("labelkit.toml", lambda text: text.replace("118", "999")),
    "the rules": ("labelkit.toml", lambda text: text.replace("eu-clp", "us-hcs")),
    "the balance": ("labelkit.toml", lambda text: text.replace("0.1 g", "1 g")),
    "the address": ("labelkit.toml", lambda text: text.replace("example", "invalid")),
    "the cupboard": ("jars.toml", lambda text: ""),
}


@pytest.mark.parametrize("what", CHANGES)
def test_nothing_that_changes_later_changes_a_batch(
    what: str, bench: Path, run: Run
) -> None:
    write(bench, "flakes", FLAKES)
    number = mixed(run("mix", "flakes", "--on", "2031-03-14", "--json"))["batch"]
    (path,) = labels(bench)
    before = path.read_bytes(), run("show", number).out, kept(number)
    name, change = CHANGES[what]
    file = bench / name
    changed = change(file.read_text("utf-8"))
    assert changed != file.read_text("utf-8")
    file.write_text(changed, encoding="utf-8")
    path.unlink()
    assert run("label", number).code == 0
    assert (path.read_bytes(), run("show", number).out, kept(number)) == before


def test_a_second_print_writes_the_same_bytes(bench: Path, run: Run) -> None:
    number = mixed(run("mix", "silver-nitrate", "--json"))["batch"]
    (path,) = labels(bench)
    first = path.read_bytes()
    assert run("label", number, "-o", bench / "again.pdf").code == 0
    assert (bench / "again.pdf").read_bytes() == first


def test_a_label_of_one_bottle_leaves_the_others_alone(bench: Path, run: Run) -> None:
    number = mixed(run("mix", "pyro-a", "--into", "2x125 mL", "--json"))["batch"]
    (whole,) = labels(bench)
    before = whole.read_bytes()
    assert run("label", f"{number}/2").code == 0
    assert whole.read_bytes() == before
    assert len(labels(bench)) == 2


def test_numbers_are_as_printed_and_never_the_same(run: Run) -> None:
    numbers = {mixed(run("mix", "plain-fixer", "--json"))["batch"] for _ in range(5)}
    assert len(numbers) == 5
    for number in numbers:
        assert re.fullmatch(r"[0-9A-HJKMNP-TV-Z]{4}-[0-9A-HJKMNP-TV-Z]{4}-.", number)


def test_a_lot_reaches_the_scale(run: Run) -> None:
    weaker = mixed(
        run("mix", "borate-alkali", "--lot", "sodium-hydroxide=49%", "--json")
    )
    weighed = {row["chemical"]: row["g"] for row in weaker["weighed"]}
    assert weighed["sodium-hydroxide"] == pytest.approx(7.4)


def test_a_bottle_of_another_recipe_is_not_poured(run: Run) -> None:
    other = mixed(run("mix", "plain-fixer", "--json"))["batch"]
    answer = run("mix", "pyro-working", "--stock", f"pyro-a={other}")
    assert answer.code == 2
    assert answer.err.strip() == (
        f"--stock: batch {other} is plain-fixer, not pyro-a. "
        f"Write plain-fixer={other}, or name another batch."
    )


def test_a_bottle_past_its_date_is_told_and_recorded(run: Run) -> None:
    old = mixed(run("mix", "pyro-a", "--on", "2029-01-01", "--json"))["batch"]
    bath = mixed(
        run("mix", "pyro-working", "--stock", f"pyro-a={old}", "--on", "2031-03-14",
            "--json")
    )  # fmt: skip
    assert "expired-stock" in {check["code"] for check in bath["checks"]}


def test_a_bottle_that_was_discarded_is_told_and_recorded(run: Run) -> None:
    gone = mixed(run("mix", "pyro-a", "--json"))["batch"]
    assert run("log", gone, "discarded").code == 0
    bath = mixed(run("mix", "pyro-working", "--stock", f"pyro-a={gone}", "--json"))
    told = [c["text"] for c in bath["checks"] if c["code"] == "expired-stock"]
    assert told == [f"Pyrogallol ({gone}) was discarded: is this the right bottle?"]


def test_a_small_bottle_gets_no_label_for_a_large_one(bench: Path, run: Run) -> None:
    mixed(run("mix", "plain-fixer", "--make", "100mL", "--json"))
    (label,) = labels(bench)
    width, height = PdfReader(label).pages[0].mediabox[2:]
    assert (round(width / 72 * 25.4), round(height / 72 * 25.4)) == (74, 105)


@pytest.mark.parametrize(
    "parts", [("blueprint-a", "blueprint-b"), ("pyro-b", "pyro-a")]
)
def test_the_parts_of_a_set_look_alike_whichever_is_mixed_first(
    bench: Path, run: Run, parts: tuple[str, str]
) -> None:
    sizes = set()
    for part in parts:
        mixed(run("mix", part, "--json"))
        (label,) = (bench / "prints").glob(f"{part}-*.pdf")
        sizes.add(tuple(PdfReader(label).pages[0].mediabox[2:]))
    assert len(sizes) == 1


def test_a_part_whose_other_recipe_is_away_gets_its_label(
    bench: Path, run: Run
) -> None:
    (bench / "recipes" / "pyro-a.toml").unlink()
    mixed(run("mix", "pyro-b", "--json"))
    (label,) = labels(bench)
    width, height = PdfReader(label).pages[0].mediabox[2:]
    assert (round(width / 72 * 25.4), round(height / 72 * 25.4)) == (148, 52)
