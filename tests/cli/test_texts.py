"""What plans and batches look like on the terminal."""

from pathlib import Path

import pytest

from tests.cli.conftest import Run
from tests.cli.terminal import as_json
from tests.mixing.writing import LYE_LEFT

SAMPLES = [
    "blueprint-a", "borate-alkali", "film-developer", "pyro-a", "pyro-working",
]  # fmt: skip


@pytest.mark.parametrize("name", SAMPLES)
def test_a_plan_is_78_wide_and_carries_its_cautions(name: str, run: Run) -> None:
    answer = run("plan", name)
    assert answer.code == 0
    assert max(map(len, answer.out.splitlines())) <= 78
    for told in (
        "Call and read out this plan.",
        "Call 01632 960 118",
        "a licensed professional decides where the law asks for one.",
    ):
        assert told in " ".join(answer.out.split())


def test_a_plan_is_laid_out_for_the_wall(run: Run) -> None:
    lines = run("plan", "borate-alkali").out.splitlines()
    assert lines[0] == f"{'Borate alkali stock':<66}makes 500 mL"
    assert lines[1] == "=" * 78
    headline = "20 mL = 1 g sodium metaborate tetrahydrate"
    assert lines[2] == f"{headline:<54}50 g/L, 5 % w/v (±1.4 %)"
    assert lines[4] == f"{'   1   Water, 40 °C':<72}300 mL"
    assert "     in the second jug:" in lines
    assert f"{'     4   Water, 15 °C':<73}50 mL" in lines
    assert f"{'   7   Fill with cold water up to':<70}→ 500 mL" in lines


def test_the_hazards_of_a_plan_come_with_what_to_do(run: Run) -> None:
    out = " ".join(run("plan", "borate-alkali").out.split())
    for told in (
        "DANGER Health hazard May damage fertility. May damage the unborn child.",
        "Contains borates. Not determined: metal corrosion.",
        "Wear protective gloves and eye protection.",
        "Dispose of contents and container to the Tern Street waste shelf.",
        "Swallowed: rinse mouth. In eyes: rinse with water for several minutes.",
        "NEVER WITH ammonium fixer or salts: stinging gas.",
    ):
        assert told in out


def test_no_class_is_never_called_harmless(run: Run) -> None:
    out = " ".join(run("plan", "blueprint-a").out.split())
    assert "No hazard class reached by calculation. This does not mean safe." in out


def test_remarks_are_marked_by_how_grave_they_are(bench: Path, run: Run) -> None:
    (bench / "recipes" / "lye.toml").write_text(LYE_LEFT, encoding="utf-8")
    out = run("plan", "lye").out
    assert "\nWARN        " in out
    assert "g of sodium hydroxide are left over; " in " ".join(out.split())


def test_a_batch_is_shown_whole(run: Run) -> None:
    answer = run(
        "mix", "borate-alkali", "--weighed", "2=17.4g", "--into", "2x250 mL",
        "--by", "M. Osei", "--on", "2031-03-14", "--use", "hold", "--json",
    )  # fmt: skip
    number = as_json(answer.out)["batch"]
    run("log", f"{number}/2", "opened", "--by", "R. Amara", "--on", "2031-04-01T09:30")
    out = run("show", number).out
    lines = out.splitlines()
    assert lines[0] == f"Borate alkali stock   {number}"
    assert lines[3] == "Mixed 2031-03-14 by M. Osei, Tern Street Print Room."
    assert lines[4] == "Discard after 2032-03-14"
    assert "HOLD" in lines
    assert "DO NOT DRINK" in lines
    assert "Bottles     250 mL, 250 mL" in lines
    assert any(line.endswith("17.3 g                17.4 g") for line in lines)
    assert any(line.endswith("3.7 g     planned, not read") for line in lines)
    assert "2031-04-01 09:30  bottle 2 opened by R. Amara" in lines
    assert (
        "Now         Bottle 1: Full: 250 mL. Discard after 2032-03-14. HOLD." in lines
    )
    assert (
        "Now         Bottle 2: Opened: 250 mL. Discard after 2032-03-14. HOLD." in lines
    )
    assert "Call and read out this page." in " ".join(out.split())
    assert max(map(len, lines)) <= 78


def test_a_scanned_address_shows_its_batch(run: Run) -> None:
    number = as_json(run("mix", "plain-fixer", "--json").out)["batch"]
    address = f"HTTPS://BOTTLES.EXAMPLE.ORG/B/{number}/PLAIN-FIXER-2031-03-14"
    assert run("show", address).out.startswith(f"Plain fixer   {number}")
    assert run("show", f"{number} PLAIN FIXER MIXED 2031-03-14").code == 0
    assert run("show", number.lower().replace("-", " ")).code == 0


def test_hazards_explain_which_ingredient_by_which_rule(run: Run) -> None:
    out = " ".join(run("hazards", "pyro-a").out.split())
    assert "Rules: eu-clp Signal word: Warning" in out
    assert "pyrogallol 10 % ≥ 1 %" in out
    assert "Table 3.5.2" in out


def test_one_chemical_is_shown_whole_and_several_in_lines(run: Run) -> None:
    one = run("chemicals", "silver-nitrate").out
    assert one.startswith("silver nitrate   (silver-nitrate)\n====")
    assert "Molar mass    169.873 g/mol" in one
    assert "CAS number    7761-88-8" in one
    several = run("chemicals", "borax").out.splitlines()
    assert any(line.startswith("borax-decahydrate ") for line in several)
    assert len(run("chemicals").out.splitlines()) > 90
