"""Chemicals that people write: every fault found at once, nothing half-read used."""

import json
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.chemistry.substances import Confidence, State
from labelkit.errors import BadInput
from labelkit.files.chemicals import (
    entries_from_tables,
    read_catalogue,
    read_gases,
    read_own_chemicals,
)
from labelkit.files.data import flags, read_data, tags
from labelkit.files.entry_table import entry_as_table
from labelkit.hazards.data import Basis, Limit
from labelkit.mixing.catalogue import Entry

PRODUCT_PAGE = """
[[chemical]]
id      = "house-alkali-flakes"
names   = ["house alkali flakes"]
parent  = "sodium-hydroxide"
formula = "NaOH"
cas     = "1310-73-2"
state   = "solid"
assay   = "97 %"
classes = ["Skin Corr. 1A", "Acute Tox. 4 (oral)"]
basis   = "self"
scl     = [{ class = "Skin Corr. 1B", min = 2, below = 5 }]
ate     = { oral = 320 }
m       = { acute = 10, chronic = 1 }
euh     = ["EUH031"]
notes   = ["11"]
non_additive  = false
acid_or_base  = true
unknown_acute = ["dermal"]
source  = "supplier's data sheet, 2026-03"
"""


def own(tmp_path: Path, text: str) -> tuple[Entry, ...]:
    path = tmp_path / "chemicals.toml"
    path.write_text(text, "utf-8")
    return read_own_chemicals(path)


def read(**table: Any) -> tuple[list[Entry], list[str]]:
    entries, faults = entries_from_tables([{"id": "mine", **table}], place="f.toml")
    return entries, [str(fault) for fault in faults]


def only_fault(**table: Any) -> str:
    _, faults = read(**table)
    (fault,) = faults
    return fault


def test_every_key_of_an_own_chemical_is_read(tmp_path: Path) -> None:
    (entry,) = own(tmp_path, PRODUCT_PAGE)
    substance, hazard = entry.substance, entry.hazard
    assert substance.name == hazard.name == "house alkali flakes"
    assert substance.parent == "sodium-hydroxide"
    assert substance.molar_mass == Decimal("39.997")
    assert substance.assay_percent == 97
    assert substance.state is State.SOLID
    assert hazard.classes == ("Skin Corr. 1A", "Acute Tox. 4 (oral)")
    assert hazard.basis is Basis.SELF
    assert hazard.confidence == "found"
    assert hazard.limits == (Limit("Skin Corr. 1B", Decimal(2), Decimal(5)),)
    assert hazard.ate == {"oral": 320}
    assert hazard.m_acute == 10
    assert hazard.m_chronic == 1
    assert hazard.euh == ("EUH031",)
    assert hazard.notes == ("11",)
    assert hazard.unknown_acute == ("dermal",)
    assert hazard.acid_or_base
    assert not hazard.non_additive
    assert hazard.source == substance.source == "supplier's data sheet, 2026-03"


def test_without_a_file_there_are_no_own_chemicals(tmp_path: Path) -> None:
    assert read_own_chemicals(tmp_path / "chemicals.toml") == ()


def test_the_least_that_can_be_written_is_an_id(tmp_path: Path) -> None:
    (entry,) = own(tmp_path, '[[chemical]]\nid = "mystery-powder"\n')
    assert entry.substance.name == "mystery powder"
    assert entry.substance.parent == "mystery-powder"
    assert entry.hazard.classes is None
    assert entry.hazard.basis is None


def test_no_classes_and_no_data_are_not_the_same() -> None:
    (known,), _ = read(classes=[])
    (unknown,), _ = read()
    assert known.hazard.classes == ()
    assert known.hazard.basis is Basis.OWN
    assert unknown.hazard.classes is None


def test_every_fault_of_a_file_is_found_at_once(tmp_path: Path) -> None:
    with pytest.raises(BadInput) as caught:
        own(
            tmp_path,
            """
            [[chemical]]
            id = "house-alkali"
            cas = "1310-73-3"
            assay = "103 %"
            colour = "white"
            classes = ["Skin Corr. 1D"]
            [[chemical]]
            names = ["no id"]
            ate = { oral = 0 }
            """,
        )
    lines = str(caught.value).splitlines()
    assert len(lines) == 6
    assert all(line.startswith("chemicals.toml, ") for line in lines)
    said = "\n".join(lines)
    for word in (
        "check digit",
        "103 %",
        "colour: is not a known key",
        "Skin Corr. 1D",
        "id:",
        "ate, oral",
    ):
        assert word in said


@pytest.mark.parametrize(
    ("table", "words"),
    [
        ({"densty": "1 g/mL"}, "densty: is not a known key. Did you mean density?"),
        ({"id": "Two Words"}, "cannot be an id"),
        ({"names": "one"}, "names"),
        ({"formula": "Nacl"}, "cannot be read from 'cl' on"),
        ({"formula": "NaCl", "molar_mass": 40}, "Write 58.443 or leave it out"),
        ({"molar_mass": 0}, "out of reach"),
        ({"molar_mass": True}, "true is not what is asked for"),
        ({"parent": "sodium-hydroxid"}, "Did you mean sodium-hydroxide?"),
        ({"parent_units": Decimal("1.5")}, "1.5 is not whole"),
        ({"cas": "1310732"}, "is no CAS number"),
        ({"cas": "1310-73-1"}, "fails its check digit"),
        ({"state": "powder"}, "'powder' is not known"),
        ({"assay": "100.1 %"}, "more than there can be"),
        ({"percent_by_mass": 60}, "density: is missing"),
        ({"percent_by_mass": 101, "density": "1.3 g/mL"}, "out of reach"),
        ({"density": "1.3 kg"}, "is not in g/mL"),
        ({"density": "-1 g/mL"}, "is not above 0"),
        ({"heat_of_solution": "-44 J/g"}, "is not in kJ/mol"),
        ({"pka": ["strong"]}, "is no number"),
        ({"pka": [1, 2], "pka_of": ["first"]}, "names 1 steps for 2 values"),
        ({"tags": ["asid"]}, "Did you mean acid?"),
        ({"flags": ["hygroscopical"]}, "Did you mean hygroscopic?"),
        ({"classes": ["Skin Corr. 4"]}, "is no hazard class"),
        ({"classes": [], "basis": "guess"}, "'guess' is not known"),
        ({"scl": [{"class": "Skin Irrit. 2"}]}, "scl 1, min: is missing"),
        ({"scl": [{"min": 2}]}, "scl 1, class: is missing"),
        ({"scl": [{"class": "Eye Irrit. 2", "min": 5, "below": 5}]}, "holds nothing"),
        ({"ate": {"oral": 0}}, "0 is no acute toxicity estimate"),
        ({"ate": {"mouth": 5}}, "'mouth' is no route"),
        ({"m": {"acute": 0}}, "0 is no multiplying factor"),
        ({"m": {"cute": 10}}, "Did you mean acute?"),
        ({"euh": ["EUH999"]}, "'EUH999' is no EUH code"),
        ({"unknown_acute": ["nose"]}, "'nose' is no route"),
        ({"organs": {"H302": "liver"}}, "'H302' names no organ"),
        ({"acid_or_base": True}, "no skin or eye limit"),
        ({"solubility": [{"at_C": [20]}]}, "has 0 series"),
        (
            {"solubility": [{"at_C": [20, 0], "g_per_100_g_water": [7, 5]}]},
            "rising temperatures",
        ),
        (
            {"solubility": [{"at_C": [0, 20], "g_per_100_g_water": [7]}]},
            "1 values do not go with 2",
        ),
        ({"solubility": [{"at_C": [0], "g_per_100_g_water": [-1]}]}, "below 0"),
    ],
)
def test_a_fault_names_its_key_and_what_to_write(
    table: dict[str, Any], words: str
) -> None:
    fault = only_fault(**table)
    assert words in fault
    assert fault.startswith("f.toml, ")


def test_limits_that_overlap_are_refused_and_those_that_touch_are_not() -> None:
    def limits(below: int) -> list[dict[str, Any]]:
        return [
            {"class": "Skin Irrit. 2", "min": 1, "below": below},
            {"class": "Skin Corr. 1B", "min": 5},
        ]

    assert read(scl=limits(5))[1] == []
    assert "overlaps" in only_fault(scl=limits(6))


def test_the_same_id_twice_and_the_same_name_twice_are_refused() -> None:
    tables: list[dict[str, Any]] = [
        {"id": "a", "names": ["house soda"]},
        {"id": "b", "names": ["House-Soda"]},
        {"id": "a"},
    ]
    _, faults = entries_from_tables(tables, place="f.toml")
    said = [str(fault) for fault in faults]
    assert len(said) == 2
    assert "f.toml, b, names: 'house soda' is also what a is called" in said[0]
    assert "f.toml, a: stands here twice" in said[1]


def test_a_solution_needs_a_density_and_wet_flakes_do_not() -> None:
    (liquid,), none = read(percent_by_mass=60, density="1,33 g/mL")
    assert none == []
    assert liquid.substance.state is State.SOLUTION
    assert liquid.substance.density is not None
    assert liquid.substance.density.value == Decimal("1.33")
    (flakes,), none = read(percent_by_mass=60, state="solid")
    assert none == []
    assert flakes.substance.solute_share == Decimal("0.6")


@pytest.mark.parametrize(
    ("table", "share"),
    [
        ({}, "0.6"),  # a supplier's sheet classifies what is in the bottle
        ({"basis": "self"}, "0.6"),
        ({"basis": "harmonised"}, "1"),  # the entry is the dissolved substance's
        ({"classes_for": "solute"}, "1"),
        ({"basis": "harmonised", "classes_for": "product"}, "0.6"),
    ],
)
def test_classes_are_for_the_product_unless_they_are_official(
    table: dict[str, Any], share: str
) -> None:
    whole = {"percent_by_mass": 60, "density": "1.3 g/mL", "classes": ["Eye Dam. 1"]}
    (entry,), faults = read(**whole, **table)
    assert faults == []
    assert entry.hazard.solute_share == Decimal(share)


def test_a_source_key_of_ours_is_written_out_and_other_words_are_kept() -> None:
    (entry,), _ = read(
        density="1.2 g/mL",
        density_source="crc-recalled",
        heat_of_solution="5 kJ/mol",
        source="data sheet of the Tern Street Print Room",
    )
    density, heat = entry.substance.density, entry.substance.heat_of_solution
    assert density is not None
    assert density.source.startswith("CRC Handbook")
    assert density.confidence is Confidence.MEMORY
    assert heat is not None
    assert heat.source == "data sheet of the Tern Street Print Room"
    assert heat.confidence is Confidence.FOUND


def test_a_figure_without_any_source_is_from_memory() -> None:
    (entry,), _ = read(density="1.2 g/mL")
    assert entry.substance.density is not None
    assert entry.substance.density.confidence is Confidence.MEMORY


ENTRIES = [*read_catalogue(), *read_gases().values()]


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.substance.id)
def test_what_a_batch_stores_reads_back_the_same(entry: Entry) -> None:
    stored = json.loads(json.dumps(entry_as_table(entry)))
    (back,), faults = entries_from_tables([stored], place="batch", stored=True)
    assert faults == []
    assert back == entry
    assert back.substance.more == entry.substance.more


def test_an_own_chemical_reads_back_the_same(tmp_path: Path) -> None:
    (entry,) = own(tmp_path, PRODUCT_PAGE)
    stored = json.loads(json.dumps(entry_as_table(entry)))
    assert not any(isinstance(value, float) for value in stored.values())
    (back,), faults = entries_from_tables([stored], place="batch", stored=True)
    assert (back, faults) == (entry, [])


@given(
    st.decimals("0.001", "1000", places=3),
    st.decimals("0.5", "2", places=4),
    st.lists(st.sampled_from(sorted(tags())), unique=True),
)
def test_stored_numbers_keep_every_digit(
    mass: Decimal, density: Decimal, words: list[str]
) -> None:
    table = {"molar_mass": mass, "density": f"{density} g/mL", "tags": words}
    (entry,), said = read(**table)
    assert said == []
    stored = json.loads(json.dumps(entry_as_table(entry)))
    (back,), faults = entries_from_tables([stored], place="batch", stored=True)
    assert (back, faults) == (entry, [])


def test_the_built_in_files_use_no_unknown_word() -> None:
    used_tags = set().union(*(entry.substance.tags for entry in read_catalogue()))
    used_flags = set().union(*(entry.substance.flags for entry in read_catalogue()))
    assert used_tags <= set(tags())
    assert used_flags == set(flags())


def test_every_word_asked_about_names_forms_that_exist() -> None:
    asks = read_data("asks.toml")["ask"]
    catalogue = read_catalogue()
    assert all(form in catalogue for ask in asks for form in ask["forms"])
    words = [word for ask in asks for word in ask["words"]]
    # none is lost by being asked about twice
    assert len(catalogue.asks) == len(words)
