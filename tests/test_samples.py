"""The samples: what the demo mixes plans, mixes and prints, and is classified rightly.

The hazard classes are worked by hand from the rules (CLP, as in the regulation's Annex
I): by the shares of what goes in, g/L ÷ 10 unless a density was measured.
"""

import json
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from tests.cli.conftest import Run, bench, run
from tests.conftest import SAMPLES

__all__ = ["bench", "run"]

NAMES = sorted(path.stem for path in (SAMPLES / "recipes").glob("*.toml"))

# Recipe: classes, H statements, pictograms, signal word, and the working by hand.
CLASSES: dict[str, tuple[set[str], set[str], set[str], str]] = {
    # boron as weighed in 3.46 % ≥ 0.3 % (Note 11); the lye is consumed and pH 11.2 does
    # not touch 11.5, so skin and eye give way
    "borate-alkali": ({"Repr. 1B FD"}, {"H360FD"}, {"GHS08"}, "Danger"),
    # Muta. 2: 10 ≥ 1 %; Eye Irrit. 2: metabisulfite's Eye Dam. 1 in 1.0 ≥ 1 %; EUH031
    "pyro-a": (
        {"Muta. 2", "Eye Irrit. 2"}, {"H341", "H319"}, {"GHS08", "GHS07"}, "Warning",
    ),
    # carbonate 20 % ≥ 10 %; measured pH 11.3 < 11.5
    "pyro-b": ({"Eye Irrit. 2"}, {"H319"}, {"GHS07"}, "Warning"),
    # Carc. 2 and Muta. 2: hydroquinone 2.0 ≥ 1 %; Skin Sens. 1 likewise; Eye Irrit. 2:
    # 2.0/1 + 8/10; Aquatic Chronic 3: metol's Chronic 1, 100 × 0.6 = 60 ≥ 25
    "film-developer": (
        {"Carc. 2", "Muta. 2", "Skin Sens. 1", "Eye Irrit. 2", "Aquatic Chronic 3"},
        {"H351", "H341", "H317", "H319", "H412"},
        {"GHS08", "GHS07"},
        "Warning",
    ),
    # Skin Corr. 1B: 10 ≥ 5 %; M-factors of registrants 1000 and 100
    "silver-nitrate": (
        {"Skin Corr. 1B", "Eye Dam. 1", "Aquatic Acute 1", "Aquatic Chronic 1"},
        {"H314", "H410"},
        {"GHS05", "GHS09"},
        "Danger",
    ),
    # Eye Irrit. 2 from 10 %: 9.35 % by the measured density
    "bromide-stock": (set(), set(), set(), ""),
    # pyrogallol 0.098 %, metabisulfite 0.010 %, carbonate 0.20 %: all below 1 %
    "pyro-working": (set(), set(), set(), ""),
    # Eye Irrit. 2 from 10 %: 1.5 %; measured pH 2.2 > 2
    "citric-stop": (set(), set(), set(), ""),
    # no official entry for the green citrate, normally not classified
    "blueprint-a": (set(), set(), set(), ""),
}  # fmt: skip

HEADLINES = {
    "blueprint-a": "4 mL = 1 g",
    "blueprint-b": "10 mL = 1 g",
    "borate-alkali": "20 mL = 1 g",
    "bromide-stock": "10 mL = 1 g",
    "citric-stop": "USE AS IS",
    "film-developer": "1 + 9",
    "plain-fixer": "USE AS IS",
    "pyro-a": "10 mL = 1 g",
    "pyro-b": "5 mL = 1 g",
    "pyro-working": "1 + 1 + 100",
    "silver-nitrate": "10 mL = 1 g",
}


def planned(run: Run, name: str) -> dict[str, Any]:
    answer = run("plan", name, "--json")
    assert answer.code == 0, answer.err
    plan: dict[str, Any] = json.loads(answer.out)
    return plan


def test_every_sample_has_its_headline_pinned() -> None:
    assert sorted(HEADLINES) == NAMES


@pytest.mark.parametrize("name", NAMES)
def test_a_sample_plans_without_a_grave_remark(name: str, run: Run) -> None:
    checks = planned(run, name)["checks"]
    assert [c for c in checks if c["level"] in ("stop", "warn")] == []


@pytest.mark.parametrize("name", NAMES)
def test_a_sample_has_the_headline_worked_out_by_hand(name: str, run: Run) -> None:
    assert planned(run, name)["headline"]["text"] == HEADLINES[name]


@pytest.mark.parametrize("name", CLASSES)
def test_a_sample_has_the_classes_worked_out_by_hand(name: str, run: Run) -> None:
    classes, statements, pictograms, signal = CLASSES[name]
    hazard = planned(run, name)["hazard"]
    assert set(hazard["label_h"]) == statements
    assert set(hazard["pictograms"]) == pictograms
    assert hazard["signal"] == signal
    assert {plain(found) for found in hazard["classes"]} == classes


def plain(hazard_class: str) -> str:
    """The class without the part in brackets that names routes and organs."""
    return hazard_class.partition(" (")[0]


def test_the_borate_stock_is_as_strong_as_worked_out_by_hand(run: Run) -> None:
    """17.3 g borax (0.04536 mol), 3.7 g × 0.98 of lye (0.09066 mol, limiting)."""
    plan = planned(run, "borate-alkali")
    strength, (reaction,) = plan["strength"], plan["reaction"]
    assert strength["g_per_L"] == pytest.approx(50.0, abs=0.05)
    assert strength["mL_per_g"] == pytest.approx(20.0, abs=0.05)
    assert strength["relative_u"] == pytest.approx(0.014, abs=0.0005)
    assert reaction["limiting"] == "sodium-hydroxide"
    assert reaction["coefficients"] == {
        "borax-decahydrate": 1,
        "sodium-hydroxide": 2,
        "sodium-metaborate-tetrahydrate": 4,
    }
    (left,) = reaction["leftover"]
    assert left["g"] == pytest.approx(0.0127, abs=0.0005)


def test_what_the_borate_would_be_as_added_is_told_in_hazards(run: Run) -> None:
    """NaOH 0.73 % ≥ 0.5 %: Skin and Eye Irrit. 2, were it not for the pH."""
    as_added = planned(run, "borate-alkali")["hazard"]["as_added"]
    assert {"Skin Irrit. 2", "Eye Irrit. 2"} <= set(as_added["classes"])


def test_the_pyrogallol_gives_off_gas_with_acid(run: Run) -> None:
    """Metabisulfite 1.0 % ≥ 1 % and classified."""
    assert planned(run, "pyro-a")["hazard"]["euh"] == ["EUH031"]


def test_metol_is_named_where_it_may_set_off_an_allergy(run: Run) -> None:
    """0.6 % ≥ 0.1 %, the limit of elicitation."""
    hazard = planned(run, "film-developer")["hazard"]
    named = {*hazard["names"], *hazard["euh208_names"]}
    assert {"metol", "hydroquinone"} <= named


def test_a_bromide_without_a_measured_density_is_an_eye_irritant(
    bench: Path, run: Run
) -> None:
    """10 g in 100 mL are 10.0 % by g/L ÷ 10: at the limit, and it counts."""
    recipe = bench / "recipes" / "bromide-stock.toml"
    text = recipe.read_text("utf-8").replace('density = "1.07 g/mL"', "")
    recipe.write_text(text, encoding="utf-8")
    hazard = planned(run, "bromide-stock")["hazard"]
    assert set(hazard["label_h"]) == {"H319"}
    assert hazard["signal"] == "Warning"


@pytest.mark.parametrize("name", NAMES)
def test_a_sample_is_mixed_labelled_and_carded(
    name: str, bench: Path, run: Run
) -> None:
    answer = run("mix", name, "--by", "M. Osei", "--json")
    assert answer.code == 0, answer.err
    number = json.loads(answer.out)["batch"]
    assert "No label" not in answer.err
    (label,) = (bench / "prints").glob("*.pdf")
    words = PdfReader(label).pages[0].extract_text()
    assert number in words
    assert "DO NOT DRINK" in words
    card = run("card", name)
    assert card.code == 0, card.err
    front, back = PdfReader(Path(card.out.strip())).pages
    assert "DO NOT DRINK" in front.extract_text()
    assert "DO NOT DRINK" in back.extract_text()


def test_every_file_of_the_samples_is_without_fault(bench: Path, run: Run) -> None:
    answer = run("check")
    assert answer.code == 0, answer.err
    assert answer.out.strip() == f"{len(NAMES) + 4} files read, no fault found."
