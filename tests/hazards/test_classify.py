"""The verdict as a whole: what it holds, what it refuses, what it tells of itself."""

from decimal import Decimal

import pytest

from labelkit.errors import BadInput
from labelkit.hazards.data import Basis, HazardData
from labelkit.hazards.mixture import Acidity
from tests.hazards.making import SODIUM_HYDROXIDE, chemical, measured, verdict

HYDROQUINONE = chemical(
    "hydroquinone", "Carc. 2", "Muta. 2", "Acute Tox. 4 (oral)", "Eye Dam. 1",
    "Skin Sens. 1", "Aquatic Acute 1", m_acute=Decimal(10),
)  # fmt: skip
METOL = chemical(
    "metol", "Acute Tox. 4 (oral)", "STOT RE 2", "Skin Sens. 1", "Aquatic Acute 1",
    "Aquatic Chronic 1",
)  # fmt: skip
POTASH = HazardData(
    "potassium carbonate",
    "potassium carbonate",
    ("Skin Irrit. 2", "Eye Irrit. 2", "STOT SE 3 (H335)"),
    basis=Basis.SELF,
    confidence="memory",
    tags=frozenset({"base", "carbonate"}),
)
SULFITE = HazardData(
    "sodium sulfite", "sodium sulfite", (), tags=frozenset({"weak-base"})
)
BROMIDE = HazardData("bromide", "bromide", ("Eye Irrit. 2",), basis=Basis.SELF)
PYROGALLOL = chemical(
    "pyrogallol", "Muta. 2", "Acute Tox. 4 (dust/mist)", "Acute Tox. 4 (dermal)",
    "Acute Tox. 4 (oral)", "Aquatic Chronic 3",
)  # fmt: skip
METABISULFITE = chemical(
    "metabisulfite",
    "Acute Tox. 4 (oral)",
    "Eye Dam. 1",
    euh=("EUH031",),
    tags=("mild-acid",),
)
CARBONATE = chemical("carbonate", "Eye Irrit. 2", tags=("base", "carbonate"))
SILVER = chemical(
    "silver nitrate", "Ox. Sol. 2", "Skin Corr. 1B", "Aquatic Acute 1",
    "Aquatic Chronic 1",
    m_acute=Decimal(1000), m_chronic=Decimal(100), tags=("oxidiser", "silver"),
)  # fmt: skip


def test_a_film_developer_worked_by_hand() -> None:
    found = verdict(
        (METOL, "0.6"), (SULFITE, "12"), (HYDROQUINONE, "2.0"), (POTASH, "8"),
        (BROMIDE, "0.4"), ph=measured(10.6),
    )  # fmt: skip
    assert found.label_h == ("H351", "H341", "H317", "H319", "H412")
    assert (found.signal, found.pictograms) == ("Warning", ("GHS08", "GHS07"))
    assert found.names == ("hydroquinone", "metol")
    assert found.ate_mix["oral"] > 20000
    assert found.not_determined == ("metal corrosion",)
    assert any(r.rule == "Table 3.3.4" for r in found.because)


def test_pyrogallol_in_metabisulfite_worked_by_hand() -> None:
    found = verdict((PYROGALLOL, "10.0"), (METABISULFITE, "1.0"), ph_bounds=(3.0, 6.0))
    assert found.classes == ("Muta. 2", "Eye Irrit. 2")
    assert found.euh == ("EUH031",)
    assert round(found.ate_mix["oral"]) == 4545
    assert round(found.ate_mix["dermal"]) == 11000
    assert found.ate_mix["dust/mist"] == 15
    assert (found.signal, found.pictograms) == ("Warning", ("GHS08", "GHS07"))


def test_carbonate_without_a_measured_ph_is_corrosive_to_be_safe() -> None:
    safe = verdict((CARBONATE, "20"))
    assert safe.assumed_corrosive
    assert (safe.label_h, safe.signal) == (("H314",), "Danger")
    measured_one = verdict((CARBONATE, "20"), ph=measured(11.4))
    assert (measured_one.label_h, measured_one.signal) == (("H319",), "Warning")


def test_silver_nitrate_worked_by_hand() -> None:
    found = verdict((SILVER, "10"))
    assert found.label_h == ("H314", "H410")
    assert found.pictograms == ("GHS05", "GHS09")
    assert found.not_determined == ("metal corrosion", "pH", "oxidising")


@pytest.mark.parametrize(
    ("parts", "line"),
    [
        (
            ["60", "40.02"],
            "the ingredients add up to 100.02 % of the mixture."
            " Weigh every part, or measure the density.",
        ),
        (["-1"], "salt 0: a share of -1 % cannot be. Give 0 to 100 % by mass."),
        (["NaN"], "salt 0: a share of NaN % cannot be. Give 0 to 100 % by mass."),
        (
            ["Infinity"],
            "salt 0: a share of Infinity % cannot be. Give 0 to 100 % by mass.",
        ),
    ],
)
def test_shares_that_cannot_be_are_refused_in_one_line(
    parts: list[str], line: str
) -> None:
    with pytest.raises(BadInput) as refused:
        verdict(*((chemical(f"salt {n}"), share) for n, share in enumerate(parts)))
    assert str(refused.value) == line


def test_rounding_above_a_hundred_is_let_pass() -> None:
    assert verdict((chemical("a"), "60"), (chemical("b"), "40.01")).classes == ()


def test_an_unknown_regime_is_refused() -> None:
    with pytest.raises(BadInput) as refused:
        verdict((METOL, "1"), regime="mars")
    assert str(refused.value) == (
        "regime: 'mars' is no set of rules."
        " Write one of: eu-clp, gb-clp, un-ghs, us-hcs."
    )


def test_a_ph_that_is_no_number_is_refused() -> None:
    with pytest.raises(BadInput, match="this pH is no number"):
        verdict((METOL, "1"), ph=Acidity(float("nan"), 7, 7, "estimate"))


def test_no_ingredient_at_all_still_ends_in_a_verdict() -> None:
    found = verdict()
    assert (found.classes, found.signal, found.p) == ((), "", ())
    assert found.not_determined == ("metal corrosion", "pH")


def test_chemicals_without_data_and_without_entry_are_named_apart() -> None:
    amidol = HazardData("amidol", "amidol")
    water = HazardData("water", "water", ())
    found = verdict((amidol, "1"), (SULFITE, "5"), (METOL, "1"), (water, "90"))
    assert found.no_data == ("amidol",)
    assert found.no_entry == ("sodium sulfite",)


def test_a_name_that_an_official_entry_bears_is_not_told_to_have_none() -> None:
    borax = HazardData("borax", "borates", (), basis=Basis.HARMONISED)
    others = [HazardData(name, "borates", (), basis=Basis.SELF) for name in "ab"]
    assert verdict((borax, "1"), (others[0], "1")).no_entry == ()
    assert verdict((others[0], "1"), (others[1], "1")).no_entry == ("borates",)


def test_what_rests_on_less_than_an_entry_is_told() -> None:
    said = [r.text for r in verdict((POTASH, "5"), (METOL, "1")).because]
    assert (
        "potassium carbonate: classes as notifiers give them themselves, who may"
        " differ; recalled from memory, to be checked" in said
    )
    assert not any(text.startswith("metol: classes") for text in said)


def test_the_same_chemical_twice_is_one_ingredient() -> None:
    once = verdict((SODIUM_HYDROXIDE, "2"))
    assert verdict((SODIUM_HYDROXIDE, "1"), (SODIUM_HYDROXIDE, "1")) == once


def test_reasons_of_what_was_reached_stand_first() -> None:
    found = verdict((HYDROQUINONE, "2"), ph=measured(7))
    first = [r.hazard_class for r in found.because][: len(found.classes)]
    assert first == list(found.classes)
