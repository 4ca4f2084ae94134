"""Mixing at a terminal: asked step by step, taken back, broken off and resumed."""

from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import Run, kept, labelkit
from tests.cli.terminal import Terminal, as_json, batch_of, readings
from tests.mixing.writing import METABORATE

HEAD = """
title = "Borax and lye"
makes = "500 mL"
keeps = "12 months"
"""
STEPS = """
[[step]]
add = "water"
amount = "350 mL"

[[step]]
add = "{borax}"
amount = "20 g"

[[step]]
add = "sodium-hydroxide"
amount = "4 g"
caution = "Goggles on."

[[step]]
text = "Let it cool."

[[step]]
make_up_to = "500 mL"
"""
RECIPE = HEAD + METABORATE + STEPS


@pytest.fixture
def lye(bench: Path) -> Path:
    """The bench with a recipe of two powders, and no jar of another assay."""
    recipe = RECIPE.format(borax="borax-decahydrate")
    (bench / "recipes" / "lye.toml").write_text(recipe, encoding="utf-8")
    (bench / "jars.toml").unlink()
    return bench


def to_the_end(
    at: Terminal, made: str = "", ph: str = "11.3", into: str = ""
) -> dict[str, Any]:
    """The questions after the last step."""
    at.asked("Made up to [", made)
    at.asked("Mixed by:", "M. Osei")
    at.asked("pH measured", ph)
    at.asked("Into which bottles", into)
    said, code = at.ended()
    assert code == 0, said
    return kept(batch_of(said))


def test_every_step_is_asked_for_and_what_was_read_is_kept(lye: Path) -> None:
    at = Terminal(lye, "mix", "lye")
    assert "Borax and lye. Enter: as planned." in at.asked("read [350 mL]:")
    assert "2  Borax decahydrate" in at.asked("read [20.0 g]:", "20.1")
    assert "STOP  Goggles on." in at.asked("read [4.0 g]:", "4,1 g")
    assert "4  Let it cool." in at.asked("done:")
    assert "Fill with cold water up to 500 mL" in at.asked("done:")
    batch = to_the_end(at, made="505 mL", into="2x250 mL")
    assert readings(batch) == {1: (350, False), 2: (20.1, True), 3: (4.1, True)}
    assert batch["make"] == {"mL": 505}
    assert batch["made_by"] == "M. Osei"
    assert batch["ph"]["from"] == "measured"
    assert [bottle["mL"] for bottle in batch["bottles"]] == [250, 250]


def test_enter_takes_the_plan_and_says_that_nobody_read_it(lye: Path) -> None:
    at = Terminal(lye, "mix", "lye")
    for question in ("read [350", "read [20.0", "read [4.0", "done", "done"):
        at.asked(question)
    batch = to_the_end(at)
    assert not any(row["read"] for row in batch["weighed"])
    assert labelkit("show", batch["batch"]).out.count("planned, not read") == 3


def test_a_figure_typed_as_planned_was_read(lye: Path) -> None:
    at = Terminal(lye, "mix", "lye")
    at.asked("read [350 mL]:", "350 mL")
    at.asked("read [20.0 g]:", "20.0 g")
    at.asked("read [4.0 g]:", "4")
    at.asked("done:")
    at.asked("done:")
    assert all(row["read"] for row in to_the_end(at)["weighed"])


def test_b_goes_back_and_shows_what_was_read(lye: Path) -> None:
    at = Terminal(lye, "mix", "lye")
    at.asked("read [350 mL]:")
    at.asked("read [20.0 g]:", "19.9")
    at.asked("read [4.0 g]:", "b")
    at.asked("read [19.9 g]:", "20.2")
    at.asked("read [4.0 g]:")
    at.asked("done:", "B")
    at.asked("read [4.0 g]:", "3.9")
    at.asked("done:")
    at.asked("done:")
    batch = to_the_end(at)
    assert readings(batch)[2] == (20.2, True)
    assert readings(batch)[3] == (3.9, True)


def test_a_reading_far_off_is_asked_again(lye: Path) -> None:
    at = Terminal(lye, "mix", "lye")
    at.asked("read [350 mL]:")
    at.asked("read [20.0 g]:", "17.9")
    said = at.asked("read [20.0 g]:", "17.9")
    assert "17.9 is 10 % less than planned. Type it once more to keep it." in said
    at.asked("read [4.0 g]:", "4.4")  # just 10 % is not asked again
    at.asked("done:")
    at.asked("done:")
    assert readings(to_the_end(at))[2] == (17.9, True)


def test_what_cannot_be_read_is_asked_again(lye: Path) -> None:
    at = Terminal(lye, "mix", "lye")
    at.asked("read [350 mL]:")
    at.asked("read [20.0 g]:", "1,000 g")
    assert "can be read in two ways" in at.asked("read [20.0 g]:", "a pinch")
    assert "does not start with a number" in at.asked("read [20.0 g]:")
    at.break_off()


def test_after_too_much_the_rest_is_offered_larger(lye: Path) -> None:
    at = Terminal(lye, "mix", "lye")
    at.asked("read [350 mL]:")
    at.asked("read [20.0 g]:", "20.0")
    at.asked("read [4.0 g]:", "5")
    at.asked("read [4.0 g]:", "5")
    said = at.asked("Go on like that?", "y")
    assert (
        "To keep the strength: 5.0 g more of Borax decahydrate, 625 mL in all." in said
    )
    assert "2  Borax decahydrate" in at.asked("read, more [5.0 g]:", "5.1")
    at.asked("done:")
    assert "up to 625 mL" in at.asked("done:")
    batch = to_the_end(at)
    assert readings(batch) == {1: (437.5, False), 2: (25.1, True), 3: (5, True)}
    assert batch["make"] == {"mL": 625}
    as_planned = as_json(labelkit("plan", "lye", "--json").out)
    assert batch["strength"]["g_per_L"] == pytest.approx(
        as_planned["strength"]["g_per_L"], rel=0.001
    )


def test_the_offer_names_what_is_still_to_come(lye: Path) -> None:
    at = Terminal(lye, "mix", "lye")
    at.asked("read [350 mL]:")
    at.asked("read [20.0 g]:", "25")
    at.asked("read [20.0 g]:", "25")
    said = at.asked("Go on like that?", "y")
    assert "To keep the strength: 5.0 g of Sodium hydroxide, 625 mL in all." in said
    at.asked("read [5.0 g]:", "5")
    at.asked("done:")
    at.asked("done:")
    assert to_the_end(at)["make"] == {"mL": 625}


def test_the_offer_may_be_declined(lye: Path) -> None:
    at = Terminal(lye, "mix", "lye")
    at.asked("read [350 mL]:")
    at.asked("read [20.0 g]:", "25")
    at.asked("read [20.0 g]:", "25")
    at.asked("Go on like that?", "n")
    at.asked("read [4.0 g]:")
    at.asked("done:")
    at.asked("done:")
    batch = to_the_end(at)
    assert batch["make"] == {"mL": 500}
    assert batch["reaction"][0]["limiting"] == "sodium-hydroxide"


def test_a_broken_off_mix_goes_on_where_it_stopped(lye: Path) -> None:
    first = Terminal(lye, "mix", "lye")
    first.asked("read [350 mL]:", "340")
    first.asked("read [20.0 g]:", "25")
    first.asked("read [20.0 g]:", "25")
    first.asked("Go on like that?", "y")
    first.child.expect_exact("read [5.0 g]")
    first.break_off()
    again = Terminal(lye, "mix", "lye")
    again.asked("A mix of this was broken off. Go on with it?", "y")
    assert "Sodium hydroxide" in again.asked("read [5.0 g]:", "5")
    again.asked("done:")
    again.asked("done:")
    batch = to_the_end(again)
    assert readings(batch) == {1: (340, True), 2: (25, True), 3: (5, True)}
    assert batch["make"] == {"mL": 625}


def test_a_finished_mix_is_not_resumed(lye: Path, run: Run) -> None:
    first = Terminal(lye, "mix", "lye")
    first.asked("read [350 mL]:")
    first.child.expect_exact("read [20.0 g]")
    first.break_off()
    assert run("mix", "lye").code == 0
    again = Terminal(lye, "mix", "lye")
    assert "broken off" not in again.asked("read [350 mL]:")
    again.break_off()


def test_a_mix_of_a_recipe_that_changed_begins_anew(lye: Path) -> None:
    first = Terminal(lye, "mix", "lye")
    first.asked("read [350 mL]:")
    first.child.expect_exact("read [20.0 g]")
    first.break_off()
    path = lye / "recipes" / "lye.toml"
    path.write_text(path.read_text("utf-8").replace('"4 g"', '"4.1 g"'), "utf-8")
    again = Terminal(lye, "mix", "lye")
    assert "of another recipe or quantity." in again.asked("read [350 mL]:")
    again.break_off()


def test_what_an_option_says_is_the_answer_offered(lye: Path) -> None:
    at = Terminal(
        lye, "mix", "lye", "--weighed", "2=20.3g", "--by", "R. Amara", "--ph", "11.2",
        "--made-up-to", "500mL", "--into", "500mL",
    )  # fmt: skip
    at.asked("read [350 mL]:")
    at.asked("read [20.3 g]:")
    at.asked("read [4.0 g]:")
    at.asked("done:")
    at.asked("done:")
    said, code = at.ended()
    assert code == 0, said
    batch = kept(batch_of(said))
    assert readings(batch)[2] == (20.3, True)
    assert batch["made_by"] == "R. Amara"


def test_an_unclear_word_is_asked_for_by_number(lye: Path) -> None:
    recipe = RECIPE.format(borax="borax")
    (lye / "recipes" / "lye.toml").write_text(recipe, encoding="utf-8")
    at = Terminal(lye, "plan", "lye")
    said = at.asked("Which", "9")
    assert "'borax' fits several chemicals" in said
    forms = [line.split() for line in said.splitlines() if line.startswith("  ")]
    number = next(n for n, form in forms if form == "borax-decahydrate")
    at.asked("Which", number)
    said, code = at.ended()
    assert code in (0, 1), said
    assert "Borax decahydrate" in said


def test_without_a_terminal_an_unclear_word_is_refused(lye: Path, run: Run) -> None:
    recipe = RECIPE.format(borax="borax")
    (lye / "recipes" / "lye.toml").write_text(recipe, encoding="utf-8")
    answer = run("plan", "lye")
    assert answer.code == 2
    assert "'borax' fits several chemicals" in answer.err
    for form in ("borax-decahydrate", "borax-pentahydrate", "borax-anhydrous"):
        assert form in answer.err
    assert "Which" not in answer.out + answer.err


def test_json_asks_nothing_even_at_a_terminal(lye: Path) -> None:
    said, code = Terminal(lye, "mix", "lye", "--json").ended()
    assert code == 0
    assert "read [" not in said
