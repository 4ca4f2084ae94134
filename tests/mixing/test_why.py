"""Every figure of a plan traced to its formula and its source."""

import pytest

from labelkit.mixing.trace import Trace
from labelkit.mixing.why import why
from tests.conftest import SAMPLES
from tests.mixing.checks.remarks import recipe, water
from tests.mixing.conftest import Room

NAMES = sorted(path.stem for path in (SAMPLES / "recipes").glob("*.toml"))


def traces(room: Room, name: str) -> tuple[Trace, ...]:
    plan = room.sample(name)
    return why(plan, room.handbook(plan.recipe), room.settings)


def of_text(room: Room, text: str) -> tuple[Trace, ...]:
    plan = room.plan(text)
    return why(plan, room.handbook(plan.recipe), room.settings)


def the(found: tuple[Trace, ...], start: str) -> Trace:
    """The one trace whose figure begins so."""
    (one,) = (trace for trace in found if trace.figure.startswith(start))
    return one


@pytest.mark.parametrize("name", NAMES)
def test_no_figure_is_without_formula_and_source(name: str, tern_street: Room) -> None:
    found = traces(tern_street, name)
    assert found
    assert all(trace.figure and trace.how and trace.source for trace in found)


@pytest.mark.parametrize("name", NAMES)
def test_every_figure_of_the_plan_is_traced(name: str, tern_street: Room) -> None:
    plan = tern_street.sample(name)
    told = [trace.figure for trace in traces(tern_street, name)]
    catalogue = tern_street.books.catalogue
    for dose in plan.job.doses:
        assert any(figure.startswith(f"step {dose.step}, ") for figure in told)
    for content in plan.solution.contents:
        called = catalogue.substance(content.chemical).name
        assert any(figure.startswith(called) for figure in told)
        assert f"classes of {content.chemical}" in told
    for hazard_class in plan.hazard.classes:
        assert hazard_class in told or hazard_class == "Eye Dam. 1"
    begun = {figure.split()[0].rstrip(":") for figure in told}
    assert {"pH", "density"} <= begun
    assert ("discard" in begun) == (plan.discard_after is not None)
    assert ("strength" in begun) == (plan.solution.strength is not None)
    assert len([f for f in told if f.startswith("reaction")]) == len(plan.solution.runs)


def test_a_weight_is_the_recipes_times_the_scale_corrected_for_the_jar(
    tern_street: Room,
) -> None:
    jars = tern_street.with_jars({"sodium-hydroxide": "95"})
    plan = jars.sample("borate-alkali", "250 mL")
    found = why(plan, jars.handbook(plan.recipe), jars.settings)
    lye = the(found, "step 5,")
    # 3.7 g x 1/2 x 98 / 95 = 1.908 g
    assert lye.figure == "step 5, weigh 1.9 g of sodium hydroxide"
    assert lye.how.startswith("3.7 g × 0.5 × 98 % ÷ 95 %")
    assert lye.source.endswith("assay 95 % of the jar")


def test_the_strength_and_the_headline_are_reckoned_before_your_eyes(
    tern_street: Room,
) -> None:
    found = traces(tern_street, "borate-alkali")
    assert "× 137.861 g/mol ÷ 1" in the(found, "strength").how
    assert the(found, "headline").how.startswith("1000 ÷ 49.992 g/L = 20.003 mL/g")
    assert "JCGM 100:2008" in the(found, "±").source
    reaction = the(found, "reaction")
    assert "until sodium hydroxide is used up" in reaction.how
    assert "17.3 g ÷ 381.372 g/mol" in reaction.how


def test_a_heat_names_its_table_and_how_far_it_is_trusted(tern_street: Room) -> None:
    lye = the(traces(tern_street, "borate-alkali"), "step 5: +18.0 K")
    assert "3.626 g of sodium-hydroxide" in lye.how
    assert "-44.51 kJ/mol" in lye.how
    assert "CRC Handbook" in lye.source
    assert lye.source.endswith("(found)")


def test_a_recalled_figure_says_so(tern_street: Room) -> None:
    borax = the(traces(tern_street, "borate-alkali"), "step 2: -3.8 K")
    assert borax.source.endswith("(memory)")


def test_a_measured_figure_is_told_apart_from_an_estimate(room: Room) -> None:
    text = recipe(
        water(500), ("sodium-acetate-anhydrous", "8.2 g"), ("acetic-acid-28pct", "21 g")
    )
    estimate = the(of_text(room, text), "pH")
    assert "Davies" in estimate.how
    assert "acetic: PHREEQC 3.8.6" in estimate.source
    measured = '\n[measured]\nph = 4.7\ndensity = "1.01 g/mL"'
    found = of_text(room, text + measured)
    assert the(found, "pH 4.7").source.startswith("measured")
    assert the(found, "density 1.01").source.startswith("measured")
    assert the(of_text(room, text), "density").source == "common practice, no source"


def test_a_figure_that_is_missing_says_why(tern_street: Room) -> None:
    assert the(traces(tern_street, "blueprint-a"), "pH: no figure").how == (
        "ferric ammonium citrate has no fixed make-up"
    )
    text = recipe(water(300, 40), ("potassium-carbonate", "600 g"))
    assert "400 g of solutes" in the(of_text(tern_street, text), "density").how


def test_a_class_names_its_rule_and_each_chemical_its_entry(tern_street: Room) -> None:
    found = traces(tern_street, "borate-alkali")
    repr_1b = the(found, "Repr. 1B FD")
    assert repr_1b.how == "borates 3.46 % ≥ 0.3 %"
    assert repr_1b.source == "Regulation (EC) No 1272/2008 (CLP), Annex I, Note 11"
    lye = the(found, "classes of sodium-hydroxide")
    assert "Skin Corr. 1A from 5 %" in lye.how
    assert "harmonised entry" in lye.source


def test_a_released_gas_is_reckoned_at_20_degrees(room: Room) -> None:
    declared = """
[[reaction]]
from = ["citric-acid-anhydrous", "sodium-bicarbonate"]
to   = ["trisodium-citrate-dihydrate"]
"""
    text = recipe(
        water(800), ("citric-acid-anhydrous", "19.2 g"), ("sodium-bicarbonate", "26 g")
    )
    gas = the(of_text(room, text + declared), "7.21 L of CO2")
    assert "24.055 L/mol" in gas.how


def test_hours_are_counted_by_the_clock(tern_street: Room) -> None:
    bath = the(traces(tern_street, "pyro-working"), "discard")
    assert bath.how == "mixed 2031-03-14 12:00 + 1 hour, by the clock"


def test_a_poured_bottle_is_named(tern_street: Room) -> None:
    found = traces(tern_street, "pyro-working")
    assert the(found, "step 2,").figure == "step 2, measure 5 mL of Pyrogallol A"


def test_a_form_without_a_formula_says_why_it_is_told_in_grams(
    tern_street: Room,
) -> None:
    found = traces(tern_street, "blueprint-a")
    assert "without a formula" in the(found, "strength").how
    assert the(found, "ferric ammonium citrate, green 250").source
