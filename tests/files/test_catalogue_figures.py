"""The built-in catalogue: its totals, and what can be worked out again from it.

Totals were taken from the collection of facts the first 96 forms were made from, so
that a slipped digit or a lost row shows. What follows from the figures stands, worked
out by other means, in references/chemicals-derived.toml. The salts that were added
since, mostly made here and not bought, are counted apart.
"""

import tomllib
from collections import Counter
from decimal import Decimal
from pathlib import Path
from typing import Any

import periodictable
import pytest

from labelkit.chemistry.formulas import composition, molar_mass
from labelkit.chemistry.solubility import as_form
from labelkit.chemistry.substances import Confidence, Figure, Solubility, Substance
from labelkit.files.chemicals import read_catalogue
from labelkit.files.rules import read_rules

REFERENCES = Path(__file__).parent.parent / "references"
DERIVED = {
    form["id"]: form
    for form in tomllib.loads(
        REFERENCES.joinpath("chemicals-derived.toml").read_text("utf-8"),
        parse_float=Decimal,
    )["form"]
}
CATALOGUE = read_catalogue()
EVERY = {substance.id: substance for substance in CATALOGUE.substances}
SUBSTANCES = {i: substance for i, substance in EVERY.items() if i in DERIVED}
WITH_FORMULA = [s for s in EVERY.values() if s.formula]
ADDED = {
    "dipotassium-tartrate-hemihydrate", "disodium-tartrate-dihydrate",
    "potassium-acetate", "potassium-bicarbonate", "potassium-bisulfite",
    "potassium-metaborate", "potassium-sulfite-anhydrous", "sodium-bromide",
    "sodium-oxalate", "tripotassium-citrate-monohydrate",
}  # fmt: skip


def derived(key: str) -> list[Any]:
    chosen = [pytest.param(f[key], i, id=i) for i, f in DERIVED.items() if key in f]
    assert chosen
    return chosen


def test_all_96_forms_of_69_parents_are_there() -> None:
    assert len(SUBSTANCES) == 96
    assert set(SUBSTANCES) == set(DERIVED)
    assert len({s.parent for s in SUBSTANCES.values()}) == 69
    assert set(CATALOGUE.parents) == {s.parent for s in EVERY.values()}


def test_what_was_added_to_them_is_counted_apart() -> None:
    assert set(EVERY) - set(SUBSTANCES) == ADDED
    added = [EVERY[i] for i in ADDED]
    assert sum(s.molar_mass or 0 for s in added) == Decimal("1820.528")
    points = [p for s in added for series in s.solubility for p in series.points]
    assert len(points) == 63
    assert sum(value for _, value in points) == Decimal("7526.739")
    assert len({s.parent for s in added}) == 10


def test_molar_masses_add_up() -> None:
    masses = [s.molar_mass for s in SUBSTANCES.values() if s.molar_mass is not None]
    assert len(masses) == 93
    assert sum(masses) == Decimal("15828.338")


def test_solubilities_add_up() -> None:
    series = [each for s in SUBSTANCES.values() for each in s.solubility]
    points = [point for each in series for point in each.points]
    assert (len(series), len(points)) == (76, 518)
    assert sum(value for _, value in points) == Decimal("44008.384")
    assert Counter(str(s.confidence) for s in series) == {"found": 62, "memory": 14}


def test_heats_of_solution_add_up() -> None:
    heats = [s.heat_of_solution for s in SUBSTANCES.values() if s.heat_of_solution]
    assert len(heats) == 41
    assert sum(heat.value for heat in heats) == Decimal("440.81")
    confidences = Counter(str(heat.confidence) for heat in heats)
    assert confidences == {"found": 14, "computed": 12, "memory": 15}


def test_pkas_add_up() -> None:
    steps = [step for s in SUBSTANCES.values() for step in s.pka]
    assert len(steps) == 71
    assert sum(step.value for step in steps) == Decimal("453.123")
    firsts = Counter(str(s.pka[0].confidence) for s in SUBSTANCES.values() if s.pka)
    assert firsts == {"memory": 38, "found": 5}


def test_densities_and_percentages_add_up() -> None:
    densities = [s.density for s in SUBSTANCES.values() if s.density]
    assert len(densities) == 20
    assert sum(density.value for density in densities) == Decimal("22.0932")
    confidences = Counter(str(density.confidence) for density in densities)
    assert confidences == {"memory": 7, "computed": 13}
    shares = [s.percent_by_mass for s in SUBSTANCES.values() if s.percent_by_mass]
    assert (len(shares), sum(shares)) == (15, Decimal("602.8"))


def test_words_add_up() -> None:
    everything = SUBSTANCES.values()
    # one more tag than was collected: water is tagged as such
    assert sum(len(s.tags) for s in everything) == 238
    assert sum(len(s.flags) for s in everything) == 95
    assert sum(len(s.remarks) for s in everything) == 78
    # one more name than was collected: "sodium sulfite"
    assert sum(len(s.names) for s in everything) == 208
    assert sum(bool(s.assay_advice) for s in everything) == 18
    assert sum(s.miscible for s in everything) == 7


def test_moles_and_cas_numbers_add_up() -> None:
    counts = [s.more.get("moles_per_formula", {}) for s in SUBSTANCES.values()]
    assert sum(bool(each) for each in counts) == 35
    assert sum(sum(each.values()) for each in counts) == 76
    cas = Counter(s.more["cas_confidence"] for s in SUBSTANCES.values())
    assert cas == {"found": 93, "memory": 3}


@pytest.mark.parametrize("substance", WITH_FORMULA, ids=lambda s: s.id)
def test_each_molar_mass_is_that_of_its_formula(substance: Substance) -> None:
    assert substance.formula is not None
    assert substance.molar_mass == molar_mass(substance.formula)
    # another library with another table of atomic weights
    counted = composition(substance.formula).atoms
    theirs = sum(periodictable.elements.symbol(a).mass * n for a, n in counted.items())
    assert float(substance.molar_mass) == pytest.approx(theirs, abs=0.02)


@pytest.mark.parametrize(("mass", "chemical"), derived("periodictable"))
def test_each_formula_weighs_what_was_computed_elsewhere(
    mass: Decimal, chemical: str
) -> None:
    known = SUBSTANCES[chemical].molar_mass
    assert known is not None
    assert abs(known - mass) <= Decimal("0.02")


def test_a_form_without_formula_says_why() -> None:
    missing = {s.id for s in SUBSTANCES.values() if s.formula is None}
    assert missing == {"ferric-ammonium-citrate-green", "gum-arabic", "gelatin"}
    assert all(SUBSTANCES[i].formula_missing_because for i in missing)
    assert all(SUBSTANCES[i].molar_mass is None for i in missing)


@pytest.mark.parametrize(("grams", "chemical"), derived("per_gram_of_parent"))
def test_grams_that_replace_a_gram_of_the_parent_follow(
    grams: Decimal, chemical: str
) -> None:
    substance = SUBSTANCES[chemical]
    parent = CATALOGUE.parents[substance.parent]
    assert substance.molar_mass is not None
    assert parent.formula is not None
    # of a solution the reference counts the solute
    got = substance.molar_mass / substance.parent_units / molar_mass(parent.formula)
    assert abs(got - grams) <= Decimal("0.00002")


@pytest.mark.parametrize(("heat", "chemical"), derived("j_per_g"))
def test_heat_by_the_gram_follows(heat: Decimal, chemical: str) -> None:
    substance = SUBSTANCES[chemical]
    assert substance.heat_of_solution is not None
    assert substance.molar_mass is not None
    got = substance.heat_of_solution.value * 1000 / substance.molar_mass
    # the reference was rounded to a whole J/g after its kJ/mol had been rounded
    assert abs(got - heat) <= 1


@pytest.mark.parametrize(("series", "chemical"), derived("per_100_g_water"))
def test_solubilities_of_a_hydrate_follow_from_the_anhydrous_ones(
    series: list[dict[str, Any]], chemical: str
) -> None:
    substance = SUBSTANCES[chemical]
    stored = [
        each
        for each in substance.solubility
        if each.basis == "anhydrous" and each.unit == "g per 100 g water"
    ]
    assert len(stored) == len(series)
    for each, wanted in zip(stored, series, strict=True):
        got = {at: as_form(float(value), substance) for at, value in each.points}
        for at_C, value in zip(wanted["at_C"], wanted["values"], strict=True):
            assert got[at_C] == pytest.approx(float(value), rel=6e-4, abs=0.006)
        boundless = set(got) - set(wanted["at_C"])
        assert all(got[at] > 1000 for at in boundless)


@pytest.mark.parametrize("chemical", SUBSTANCES)
def test_the_rules_a_chemical_stands_in_follow_from_its_tags(chemical: str) -> None:
    got = {rule.id for rule in read_rules() if rule.touches(SUBSTANCES[chemical].tags)}
    assert got == set(DERIVED[chemical].get("rules", ()))


@pytest.mark.parametrize(
    ("chemical", "percents"),
    [
        # the same copy of the CRC table as the first forms, 98th ed. [% w/w]
        ("potassium-bicarbonate", {0: "18.62", 20: "24.92", 70: "40.45"}),
        ("potassium-sulfite-anhydrous", {0: "51.3", 20: "51.49", 100: "53.06"}),
        ("potassium-acetate", {0: "68.4", 20: "72.09", 100: "80.55"}),
        ("sodium-oxalate", {0: "2.62", 20: "3.3", 100: "6.08"}),
        ("sodium-bromide", {0: "44.4", 20: "47.7", 100: "54.9"}),
    ],
)
def test_added_solubilities_are_those_of_the_table(
    chemical: str, percents: dict[int, str]
) -> None:
    ((series),) = EVERY[chemical].solubility
    got = dict(series.points)
    for at_C, percent in percents.items():
        wanted = 100 * Decimal(percent) / (100 - Decimal(percent))
        assert got[Decimal(at_C)] == pytest.approx(wanted, rel=Decimal("5e-4"))


@pytest.mark.parametrize("chemical", EVERY)
def test_every_figure_names_its_source_in_full(chemical: str) -> None:
    substance = EVERY[chemical]
    figures = [substance.density, substance.heat_of_solution, *substance.pka]
    sourced: list[Figure | Solubility] = [f for f in figures if f is not None]
    sourced += substance.solubility
    for figure in sourced:
        # a key that does not resolve stays one word
        assert len(figure.source.split()) > 2
        assert figure.confidence in set(Confidence)
    texts = [value for key, value in substance.more.items() if key.endswith("_source")]
    assert all(len(text.split()) > 2 for text in (*texts, substance.source))


def test_every_key_of_every_data_file_that_names_a_source_resolves() -> None:
    from labelkit.files.data import sources
    from labelkit.resources import data_dir

    cited: set[str] = set()

    def walk(value: Any) -> None:
        if isinstance(value, dict):
            for key, inner in value.items():
                if isinstance(inner, str) and (
                    key == "source" or key[-7:] == "_source"
                ):
                    cited.add(inner)
                walk(inner)
        elif isinstance(value, list):
            for inner in value:
                walk(inner)

    folder = Path(str(data_dir()))
    ours = ["annex_vi", "authorities", "gases", "legal", "rules"]
    files = [*folder.joinpath("chemicals").glob("*.toml")]
    files += [folder / f"{name}.toml" for name in ours]
    for file in files:
        walk(tomllib.loads(file.read_text("utf-8")))
    assert cited
    assert cited <= set(sources())


def test_a_recalled_source_is_never_called_found() -> None:
    from labelkit.files.data import sources

    for key, source in sources().items():
        recalled = "recalled" in key
        assert (source.confidence is Confidence.MEMORY) or not recalled, key
