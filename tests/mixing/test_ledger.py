"""The ledger: every gram that goes in, and what becomes of it."""

from decimal import Decimal

import pytest

from labelkit.errors import BadInput
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.ledger import EMPTY, Ledger, Line, react
from labelkit.mixing.recipe import ReactionSpec

BORAX, LYE = "borax-decahydrate", "sodium-hydroxide"
METABORATE = "sodium-metaborate-tetrahydrate"
MAKING_METABORATE = ReactionSpec((BORAX, LYE), (METABORATE,))


def holding(catalogue: Catalogue, **grams: str) -> Ledger:
    ledger = EMPTY
    for name, mass_g in grams.items():
        substance = catalogue.substance(name.replace("_", "-"))
        ledger = ledger.with_chemical(substance, Decimal(mass_g), Decimal(100))
    return ledger


def refused(ledger: Ledger, spec: ReactionSpec, catalogue: Catalogue) -> str:
    with pytest.raises(BadInput) as caught:
        react(ledger, [spec], catalogue)
    return str(caught.value)


def test_what_an_assay_leaves_over_of_a_solid_is_inert(catalogue: Catalogue) -> None:
    lye = catalogue.substance(LYE)
    ledger = EMPTY.with_chemical(lye, Decimal(100), Decimal(97))
    assert ledger.present_g(LYE) == 97
    assert ledger.inert_g == 3
    assert ledger.water_g == 0


def test_what_a_solution_brings_besides_its_solute_is_water(
    catalogue: Catalogue,
) -> None:
    acid = catalogue.substance("acetic-acid-28pct")
    ledger = EMPTY.with_chemical(acid, Decimal(100), Decimal(100))
    assert ledger.present_g("acetic-acid-28pct") == 28
    assert ledger.inert_g == 0
    assert ledger.water_g == 72


def test_an_assay_of_a_solution_is_of_its_solute(catalogue: Catalogue) -> None:
    acid = catalogue.substance("acetic-acid-28pct")
    ledger = EMPTY.with_chemical(acid, Decimal(100), Decimal(50))
    assert ledger.present_g("acetic-acid-28pct") == 14
    assert ledger.water_g == 86


def test_the_same_chemical_twice_is_one_line(catalogue: Catalogue) -> None:
    sulfite = catalogue.substance("sodium-sulfite-anhydrous")
    ledger = EMPTY
    for mass_g in (6, 114):
        ledger = ledger.with_chemical(sulfite, Decimal(mass_g), Decimal(100))
    assert [line.added_g for line in ledger.lines.values()] == [Decimal(120)]


def test_a_reaction_leaves_its_trace_line_by_line(catalogue: Catalogue) -> None:
    ledger = holding(catalogue, borax_decahydrate="17.3", sodium_hydroxide="3.626")
    after, (run,) = react(ledger, [MAKING_METABORATE], catalogue)
    assert run.limiting == LYE
    assert after.lines[LYE] == Line(
        LYE, Decimal("3.626"), Decimal("3.626"), into=(METABORATE,)
    )
    assert after.lines[METABORATE].added_g == 0
    assert after.present_g(LYE) == 0
    assert 0 < after.present_g(BORAX) < Decimal("0.02")


def test_water_that_crystals_take_up_is_water_no_more(catalogue: Catalogue) -> None:
    ledger = holding(catalogue, borax_decahydrate="381.372", sodium_hydroxide="79.994")
    after, _ = react(ledger, [MAKING_METABORATE], catalogue)
    assert after.water_g == -5 * Decimal("18.015")  # 5 H2O of the equation


def test_reactions_run_in_the_order_of_the_file(catalogue: Catalogue) -> None:
    """The first one takes what it needs, the second one what is left."""
    ledger = holding(catalogue, boric_acid="61.833", sodium_hydroxide="79.994")
    ledger = ledger.plus(holding(catalogue, acetic_acid_glacial="200"))
    borate = ReactionSpec(("boric-acid", LYE), (METABORATE,))
    acetate = ReactionSpec(("acetic-acid-glacial", LYE), ("sodium-acetate-trihydrate",))
    after, runs = react(ledger, [borate, acetate], catalogue)
    assert [run.limiting for run in runs] == ["boric-acid", LYE]
    assert after.present_g(METABORATE) == Decimal("137.861")  # 1 mol
    assert after.present_g("sodium-acetate-trihydrate") == Decimal("136.08")  # 1 mol
    assert after.lines[LYE].into == (METABORATE, "sodium-acetate-trihydrate")


def test_a_second_reaction_takes_what_the_first_one_made(catalogue: Catalogue) -> None:
    ledger = holding(catalogue, sodium_bicarbonate="84.007", sodium_hydroxide="39.997")
    ledger = ledger.plus(holding(catalogue, citric_acid_monohydrate="500"))
    carbonate = ReactionSpec(
        ("sodium-bicarbonate", LYE), ("sodium-carbonate-anhydrous",)
    )
    citrate = ReactionSpec(
        ("sodium-carbonate-anhydrous", "citric-acid-monohydrate"),
        ("trisodium-citrate-dihydrate",),
    )
    after, (_, second) = react(ledger, [carbonate, citrate], catalogue)
    assert second.limiting == "sodium-carbonate-anhydrous"
    line = after.lines["sodium-carbonate-anhydrous"]
    assert line.added_g == 0
    assert line.present_g == 0
    assert line.formed_g == line.consumed_g == Decimal("105.988")


def test_scaling_a_ledger_scales_every_gram(catalogue: Catalogue) -> None:
    ledger = holding(catalogue, borax_decahydrate="17.3", sodium_hydroxide="3.626")
    after, _ = react(ledger.with_water(Decimal(350)), [MAKING_METABORATE], catalogue)
    half = after.scaled(Decimal("0.5"))
    whole = half.plus(half)
    for chemical, line in after.lines.items():
        assert abs(whole.present_g(chemical) - line.present_g) < Decimal("1e-24")
    assert abs(whole.mass_g - after.mass_g) < Decimal("1e-24")


def test_a_reagent_that_no_step_adds_is_refused(catalogue: Catalogue) -> None:
    ledger = holding(catalogue, borax_decahydrate="17.3")
    assert refused(ledger, MAKING_METABORATE, catalogue) == (
        "reaction 1, from: sodium-hydroxide is to react but no step adds it. "
        "Add it in a step, or name the form that is added."
    )


def test_a_reagent_that_is_used_up_already_is_refused(catalogue: Catalogue) -> None:
    ledger = holding(catalogue, borax_decahydrate="500", sodium_hydroxide="3.6")
    with pytest.raises(
        BadInput, match="reaction 2, from: sodium-hydroxide is to react"
    ):
        react(ledger, [MAKING_METABORATE, MAKING_METABORATE], catalogue)


def test_a_chemical_without_a_formula_takes_part_in_nothing(
    catalogue: Catalogue,
) -> None:
    spec = ReactionSpec(("ferric-ammonium-citrate-green",), ("citric-acid-anhydrous",))
    ledger = holding(catalogue, ferric_ammonium_citrate_green="10")
    assert refused(ledger, spec, catalogue) == (
        "reaction 1: ferric-ammonium-citrate-green has no formula, so no reaction with "
        "it can be balanced. Leave the reaction out: the solution is then taken as "
        "added."
    )
