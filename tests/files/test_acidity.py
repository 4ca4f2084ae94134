"""The acidity table: complete, sourced, and true to the formulas of the chemicals."""

import tomllib

import pytest

from labelkit.chemistry.formulas import atoms
from labelkit.errors import BadInput
from labelkit.files.acidity import parse_acidity, read_acidity
from labelkit.files.chemicals import read_catalogue
from labelkit.resources import data_dir

TEXT = (data_dir() / "acidity.toml").read_text("utf-8")
DATA = tomllib.loads(TEXT)
TABLE = read_acidity()
CATALOGUE = read_catalogue()

# Which element counts what a role brings, and how often; what hides in organic
# formulas or in several acids at once is left out.
COUNTED_BY = {
    "Na": {"sodium": 1},
    "K": {"potassium": 1},
    "B": {"boric": 1},
    "P": {"phosphoric": 1, "metaphosphate": 1},
    "Cl": {"chloride": 1, "hypochlorous": 1},
    "Br": {"bromide": 1},
    "I": {"iodide": 1},
    "Al": {"aluminium": 1},
    "Cu": {"copper2": 1},
    "Ag": {"silver": 1},
    "Mn": {"permanganate": 1},
    "W": {"tungstic": 1},
    "Cr": {"chromium3": 1, "chromate": 1},
    "Fe": {"iron3": 1, "ferricyanide": 1, "ferrocyanic": 1},
    "S": {
        "sulfurous": 1, "sulfate": 1, "sulfide": 1, "thiosulfate": 2, "thiocyanate": 1,
        "thiourea": 1,
    },
}  # fmt: skip
INERT_SULFUR = {"thiourea", "dimezone-s"}


def test_every_chemical_of_the_catalogue_has_a_role() -> None:
    assert set(TABLE.roles) == {entry.substance.id for entry in CATALOGUE}


@pytest.mark.parametrize("id_", sorted(TABLE.roles))
def test_a_role_brings_what_the_formula_holds(id_: str) -> None:
    formula = CATALOGUE.substance(id_).formula
    brings = TABLE.roles[id_].brings
    if formula is None:
        assert not brings
        return
    held = atoms(formula)
    for element, counts in COUNTED_BY.items():
        if element == "S" and id_ in INERT_SULFUR:
            continue
        brought = sum(count * brings.get(name, 0) for name, count in counts.items())
        assert brought == held.get(element, 0), f"{id_}: {element}"


@pytest.mark.parametrize("parent", sorted(TABLE.parent_roles))
def test_every_form_of_a_parent_with_a_role_brings_the_same(parent: str) -> None:
    forms = [e.substance for e in CATALOGUE if e.substance.parent == parent]
    # counted with sodium metaborate, but its potassium is told apart
    forms = [form for form in forms if form.id != "potassium-metaborate"]
    assert forms
    assert {form.parent_units for form in forms} == {1}
    assert all(TABLE.roles[f.id] == TABLE.parent_roles[parent] for f in forms)


def test_the_salts_of_one_acid_do_not_share_a_role() -> None:
    assert {"ascorbic-acid", "edta", "p-aminophenol"}.isdisjoint(TABLE.parent_roles)


def test_every_constant_has_a_source_and_a_confidence() -> None:
    for entry in [DATA["water"], *DATA["acid"]]:
        assert entry["source"].strip()
        assert entry["confidence"] in {"found", "computed", "memory"}


def test_the_constants_are_all_there() -> None:
    # count and sum, so that a slipped digit shows
    pks = [pk for acid in TABLE.acids.values() for pk in acid.pk]
    assert len(TABLE.acids) == 35
    assert len(pks) == 69
    assert sum(pks) == pytest.approx(471.955, abs=1e-9)


def test_steps_of_one_acid_follow_one_another() -> None:
    assert all(
        list(acid.pk) == sorted(acid.pk)
        for acid in TABLE.acids.values()
        if acid.id != "aluminium"  # its steps overlap
    )


def broken(old: str, new: str) -> str:
    assert old in TEXT
    with pytest.raises(BadInput) as caught:
        parse_acidity(TEXT.replace(old, new, 1))
    return str(caught.value)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('confidence = "found"', 'confidence = "sure"', "has no source"),
        ("pk = [4.756]\n", "pk = [4.756, 9]\n", "acid acetic: enthalpy_kJ and pk"),
        ("brings = {metol = 2", "brings = {metal = 2", "metal is no acid and no ion"),
        ('cannot = "no reliable constants for metol"', "", "metol: has no reason"),
        ('ids = ["glycin"]', 'ids = ["metol"]', "metol has a role already"),
        ("bound_pk = 3.0\n", "", "boric has no bound_pk"),
    ],
)
def test_a_fault_of_the_table_is_told_with_its_place(
    old: str, new: str, said: str
) -> None:
    assert said in broken(old, new)


def test_faults_are_told_together() -> None:
    told = broken("brings = {metol = 2", 'brings = {metal = 2, "x" = 1')
    assert "metal, x" in told
