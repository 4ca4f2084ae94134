"""Names of chemicals: an exact one never asks, an inexact one never guesses."""

from decimal import Decimal

import pytest

from labelkit.chemistry.substances import State, Substance
from labelkit.errors import Ambiguous, BadInput, Unknown
from labelkit.files.chemicals import read_catalogue
from labelkit.hazards.data import HazardData
from labelkit.mixing.catalogue import Catalogue, Entry
from labelkit.mixing.naming import cost_of_confusion, fold, form_word

CATALOGUE = read_catalogue()
SUBSTANCES = CATALOGUE.substances


def own(chemical: str, *names: str, parent: str = "") -> Entry:
    substance = Substance(chemical, names, parent or chemical, State.SOLID)
    return Entry(substance, HazardData(chemical, names[0]))


def ambiguous(word: str) -> Ambiguous:
    with pytest.raises(Ambiguous) as caught:
        CATALOGUE.find(word)
    return caught.value


def unknown(word: str) -> str:
    with pytest.raises(Unknown) as caught:
        CATALOGUE.find(word)
    return str(caught.value)


@pytest.mark.parametrize("substance", SUBSTANCES, ids=lambda s: s.id)
def test_an_id_never_asks(substance: Substance) -> None:
    assert CATALOGUE.find(substance.id) is substance


@pytest.mark.parametrize("substance", SUBSTANCES, ids=lambda s: s.id)
def test_the_printed_name_never_asks(substance: Substance) -> None:
    assert CATALOGUE.find(substance.name.upper()) is substance


@pytest.mark.parametrize("substance", SUBSTANCES, ids=lambda s: s.id)
def test_every_name_means_its_chemical_or_asks_with_it_among_the_forms(
    substance: Substance,
) -> None:
    for name in substance.names:
        if ask := CATALOGUE.asks.get(fold(name)):
            assert substance.id in ask.forms
        else:
            assert CATALOGUE.find(name) is substance


@pytest.mark.parametrize(
    "written",
    [
        "sodium carbonate, anhydrous", "Sodium  Carbonate Anhydrous",
        "sodium-carbonate-anhydrous", " sodium_carbonate_anhydrous ",
        "sodium carbonate‑anhydrous",
    ],
)  # fmt: skip
def test_case_spaces_and_hyphens_do_not_matter(written: str) -> None:
    assert CATALOGUE.find(written).id == "sodium-carbonate-anhydrous"


def test_accents_matter_and_british_spelling_does_not() -> None:
    assert fold("Élan") != fold("elan")
    assert CATALOGUE.find("sodium metabisulphite").id == "sodium-metabisulfite"


@pytest.mark.parametrize(
    ("word", "forms"),
    [
        ("borax", {"borax-decahydrate", "borax-pentahydrate", "borax-anhydrous"}),
        (
            "Washing Soda",
            {
                "sodium-carbonate-decahydrate",
                "sodium-carbonate-monohydrate",
                "sodium-carbonate-anhydrous",
            },
        ),
        ("lye", {"sodium-hydroxide", "potassium-hydroxide"}),
        ("hypo", {"sodium-thiosulfate-pentahydrate", "sodium-thiosulfate-anhydrous"}),
        ("bromide", {"potassium-bromide"}),
    ],
)
def test_a_word_that_fits_several_forms_is_refused(word: str, forms: set[str]) -> None:
    error = ambiguous(word)
    assert error.word == word
    assert set(error.forms) == forms
    assert isinstance(error, BadInput)
    assert all(form in str(error) for form in forms)
    assert len(str(error).splitlines()) == 1


@pytest.mark.parametrize(
    ("word", "cost"),
    [
        # molar masses: CIAAW 2021 by periodictable: 286.138 / 105.988 = 2.700
        ("washing soda", "anhydrous for decahydrate: 2.7 times too strong"),
        # 381.363 / 201.214 = 1.895
        ("borax", "anhydrous for decahydrate: 1.9 times too strong"),
        # 137.859 / 65.798 = 2.095
        ("metaborate", "anhydrous for tetrahydrate: 2.1 times too strong"),
        # 210.138 / 192.123 = 1.094
        ("citric acid", "anhydrous for monohydrate: 1.09 times too strong"),
        # 99.8 / 5 = 19.96
        ("acetic acid", "99.8 % for 5 %: 20.0 times too strong"),
        # 240.18 / 78.04 = 3.078; the flakes lie between
        ("sodium sulfide", "anhydrous for nonahydrate: 3.1 times too strong"),
        ("lye", "not all are the same chemical"),
    ],
)
def test_the_cost_of_choosing_wrongly_is_told(word: str, cost: str) -> None:
    assert f"({cost})" in str(ambiguous(word))


def test_an_ambiguity_keeps_its_forms_when_it_is_placed() -> None:
    placed = ambiguous("borax").at("stock.toml, step 2, add")
    assert placed.forms[0] == "borax-decahydrate"
    assert placed.word == "borax"
    assert str(placed).startswith("stock.toml, step 2, add: 'borax' fits")


def test_a_question_that_was_answered_is_not_asked_again() -> None:
    choices = {"washing soda": "sodium-carbonate-decahydrate"}
    found = CATALOGUE.find("Washing-Soda", choices)
    assert found.id == "sodium-carbonate-decahydrate"
    with pytest.raises(Ambiguous):
        CATALOGUE.find("soda", choices)


def test_a_name_nobody_has_names_what_is_near_and_what_only_looks_so() -> None:
    said = unknown("sodium sulfit")
    near, _, alike = said.partition("Names like it")
    assert "sodium-sulfite-anhydrous" in near
    assert "sodium-sulfide-anhydrous" in alike
    assert "sodium-bisulfate-anhydrous" in alike


def test_a_look_alike_is_never_offered_as_a_slip_of_the_pen() -> None:
    said = unknown("sodium sulfate")
    assert "Near it" not in said
    assert "other chemicals: " in said
    assert "sodium-sulfite-anhydrous" in said


def test_ferricyanide_and_ferrocyanide_are_shown_side_by_side() -> None:
    said = unknown("ferricyanide")
    assert "Near it: potassium-ferricyanide." in said
    assert "other chemicals: potassium-ferrocyanide-trihydrate." in said


def test_a_name_like_nothing_says_what_to_do() -> None:
    assert "add it as your own" in unknown("xyzzy")


def test_look_alikes_of_a_chemical_share_its_first_word_where_any_do() -> None:
    alike = {s.id for s in CATALOGUE.alike("sodium sulfite, anhydrous")}
    assert "sodium-sulfide-anhydrous" in alike
    assert "copper-sulfate-pentahydrate" not in alike
    assert not CATALOGUE.alike("gelatin")


def test_a_persons_own_name_wins_over_an_ask() -> None:
    catalogue = CATALOGUE.with_own([own("house-soda", "washing soda")])
    assert catalogue.find("washing soda").id == "house-soda"
    with pytest.raises(Ambiguous):
        catalogue.find("borax")


def test_own_entries_come_first_and_replace_built_in_ones() -> None:
    catalogue = CATALOGUE.with_own([own("gelatin", "my gelatin"), own("zinc", "zinc")])
    assert [e.substance.id for e in catalogue][:2] == ["gelatin", "zinc"]
    assert len(catalogue) == len(CATALOGUE) + 1
    assert catalogue.substance("gelatin").name == "my gelatin"
    assert catalogue.own == {"gelatin", "zinc"}
    assert CATALOGUE.with_own([]) is CATALOGUE


def test_a_catalogue_can_be_walked_counted_and_asked() -> None:
    assert len(list(CATALOGUE)) == len(CATALOGUE) == 106
    assert "borax-decahydrate" in CATALOGUE
    assert "borax" not in CATALOGUE
    assert CATALOGUE["water"].hazard.id == "water"


def test_an_empty_catalogue_knows_nothing() -> None:
    with pytest.raises(Unknown):
        Catalogue({}).find("water")


@pytest.mark.parametrize(
    ("words", "first"),
    [
        ("carbonate", "potassium-carbonate"),
        ("soda crystals", "sodium-carbonate-decahydrate"),
        ("497-19-8", "sodium-carbonate-anhydrous"),
        ("7775-19", "sodium-metaborate-anhydrous"),
        ("Na2CO3", "sodium-carbonate-anhydrous"),
        ("Na2CO3.10H2O", "sodium-carbonate-decahydrate"),
        ("NH4SCN", "ammonium-thiocyanate"),
        ("H4NCl", "ammonium-chloride"),
        ("vitamin", "ascorbic-acid"),
        ("hydroquinon", "hydroquinone"),
        ("metaborate 8 mol", "sodium-metaborate-tetrahydrate"),
    ],
)
def test_a_search_finds_the_best_first(words: str, first: str) -> None:
    assert CATALOGUE.search(words)[0].id == first


def test_a_search_by_formula_finds_isomers_too() -> None:
    found = {s.id for s in CATALOGUE.search("C6H6O2")}
    assert found == {"hydroquinone", "pyrocatechol"}
    assert CATALOGUE.search("  ") == ()


@pytest.mark.parametrize(
    ("chemical", "word"),
    [
        ("sodium-carbonate-decahydrate", "decahydrate"),
        ("sodium-carbonate-monohydrate", "monohydrate"),
        ("potassium-alum-dodecahydrate", "dodecahydrate"),
        ("borax-anhydrous", "anhydrous"),
        ("acetic-acid-glacial", "99.8 %"),
        ("sodium-sulfide-60pct-flakes", "60 % flakes"),
        ("ammonium-thiosulfate-solid", "solid"),
        ("gum-arabic", "gum arabic"),
    ],
)
def test_a_form_is_told_from_its_sisters_by_a_word(chemical: str, word: str) -> None:
    assert form_word(CATALOGUE.substance(chemical)) == word


def test_forms_of_the_same_strength_cost_nothing() -> None:
    same = [
        Substance(f"form-{i}", (f"form {i}",), "p", State.SOLID, molar_mass=Decimal(m))
        for i, m in enumerate(("100", "100.4"))
    ]
    assert cost_of_confusion(same) == ""
    assert cost_of_confusion(same[:1]) == ""
    assert cost_of_confusion([]) == ""
