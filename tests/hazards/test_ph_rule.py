"""Annex I, 3.2.3.1.2 and 3.3.3.1.2, and what becomes of a pH that nobody measured.

The exception for acids and bases with limits of their own: German federal helpdesk FAQ
0533 and the Danish EPA's fact sheet on mixtures with extreme pH.
"""

import pytest

from labelkit.hazards.mixture import Acidity, Classification
from tests.hazards.making import (
    ACETIC_ACID,
    SODIUM_HYDROXIDE,
    SULFURIC_ACID,
    chemical,
    measured,
    verdict,
)

BOTH = {"Skin Corr. 1", "Eye Dam. 1"}
SALT = chemical("salt")
CARBONATE = chemical("sodium carbonate", tags=("base", "carbonate"))
BISULFATE = chemical("bisulfate", tags=("acid", "strong-acid"))
PHOSPHATE = chemical("phosphate", tags=("base", "strong-base"))
METABORATE = chemical("metaborate", tags=("base", "borate"))
SULFITE = chemical("sulfite", tags=("weak-base",))
SURFACTANT = chemical("surfactant", tags=("surfactant",))
IRRITANT = chemical("irritant", "Skin Irrit. 2")


def estimated(low: float, high: float) -> Acidity:
    return Acidity((low + high) / 2, low, high, source="estimate")


def corrosive(found: Classification) -> bool:
    return set(found.classes) >= BOTH


@pytest.mark.parametrize(
    ("ph", "expected"),
    [(2.0, True), (2.01, False), (7.0, False), (11.49, False), (11.5, True)],
)
def test_a_measured_ph_decides_as_it_is(ph: float, expected: bool) -> None:
    found = verdict((SALT, "5"), ph=measured(ph))
    assert corrosive(found) is expected
    assert not found.assumed_corrosive
    assert "pH" not in found.not_determined


@pytest.mark.parametrize(
    ("low", "high", "expected"),
    [
        (11.1, 11.5, True),
        (11.1, 11.49, False),
        (2.0, 2.6, True),
        (2.01, 2.6, False),
    ],
)
def test_an_estimate_fires_where_its_band_touches_a_limit(
    low: float, high: float, expected: bool
) -> None:
    found = verdict((CARBONATE, "5"), ph=estimated(low, high))
    assert corrosive(found) is expected
    assert not found.assumed_corrosive
    said = [r.text for r in found.because if r.rule.startswith("3.2.3.1.2")]
    assert "by estimate; measure to settle it" in said[0]


def test_an_estimate_never_switches_a_hazard_off() -> None:
    corrosive_salt = chemical("silver", "Skin Corr. 1B")
    found = verdict((corrosive_salt, "5"), ph=estimated(6.0, 7.0))
    assert {"Skin Corr. 1B", "Eye Dam. 1"} <= set(found.classes)


@pytest.mark.parametrize(
    ("bounds", "expected"),
    [
        ((11.5, 14.0), True),
        ((11.49, 14.0), False),
        ((0.0, 2.0), True),
        ((0.0, 2.01), False),
    ],
)
def test_a_proven_bound_beyond_a_limit_fires(
    bounds: tuple[float, float], expected: bool
) -> None:
    found = verdict((SALT, "5"), ph_bounds=bounds)
    assert corrosive(found) is expected
    assert not found.assumed_corrosive


def test_bounds_between_the_limits_settle_it() -> None:
    found = verdict((CARBONATE, "5"), ph_bounds=(2.01, 11.49))
    assert not found.classes
    assert "pH" not in found.not_determined


@pytest.mark.parametrize(
    ("data", "percent", "expected"),
    [
        (CARBONATE, "1", True),
        (CARBONATE, "0.99", False),
        (BISULFATE, "1", True),
        (BISULFATE, "0.99", False),
        (PHOSPHATE, "1", True),
        # pKa 9.2: half a mole per litre and more, common knowledge
        (METABORATE, "5", True),
        (METABORATE, "4.99", False),
        # these cannot reach pH 2 or 11.5
        (SULFITE, "25", False),
        (chemical("boric acid", tags=("borate", "very-weak-acid")), "5", False),
        (chemical("alum", tags=("mild-acid",)), "10", False),
        (
            chemical("bicarbonate", tags=("base", "carbonate", "bicarbonate")),
            "9",
            False,
        ),
        (SALT, "20", False),
        # its pH effect is in its own limits
        (SODIUM_HYDROXIDE, "1", False),
        (ACETIC_ACID, "5", False),
    ],
)
def test_an_unmeasured_acid_or_base_is_labelled_as_corrosive_to_be_safe(
    data: object, percent: str, expected: bool
) -> None:
    found = verdict((data, percent))  # type: ignore[arg-type]
    assert found.assumed_corrosive is expected
    assert corrosive(found) is expected
    assert "pH" in found.not_determined
    if expected:
        assert found.signal == "Danger"
        assert found.label_h[0] == "H314"
        texts = [r.text for r in found.because]
        assert any(t.startswith("pH not measured: labelled as corros") for t in texts)


def test_a_bound_settles_only_the_side_on_which_the_acid_or_base_pulls() -> None:
    assert not verdict((BISULFATE, "5"), ph_bounds=(2.5, 14.0)).assumed_corrosive
    assert verdict((BISULFATE, "5"), ph_bounds=(1.5, 7.0)).assumed_corrosive
    assert verdict((CARBONATE, "5"), ph_bounds=(2.5, 14.0)).assumed_corrosive


def test_several_small_shares_of_unmeasured_bases_count_together() -> None:
    assert verdict((CARBONATE, "0.6"), (PHOSPHATE, "0.4")).assumed_corrosive
    assert not verdict((CARBONATE, "0.59"), (PHOSPHATE, "0.4")).assumed_corrosive


def test_nothing_is_assumed_where_the_sum_is_corrosive_already() -> None:
    burning = chemical("burning base", "Skin Corr. 1B", tags=("base",))
    found = verdict((burning, "5"))
    assert "Skin Corr. 1B" in found.classes
    assert not found.assumed_corrosive


def test_a_dry_mixture_has_no_ph_and_none_is_assumed() -> None:
    found = verdict((CARBONATE, "50"), solid=True)
    assert not found.classes
    assert "pH" in found.not_determined


@pytest.mark.parametrize(
    ("percent", "expected"),
    [
        ("0.4", set()),
        ("1", {"Skin Irrit. 2", "Eye Irrit. 2"}),
        ("3", {"Skin Corr. 1B", "Eye Dam. 1"}),
    ],
)
def test_one_base_alone_with_limits_of_its_own_is_judged_by_them(
    percent: str, expected: set[str]
) -> None:
    found = verdict((SODIUM_HYDROXIDE, percent), (SALT, "5"), ph=measured(13.0))
    assert set(found.classes) == expected


@pytest.mark.parametrize(
    ("data", "percent", "decides"),
    [
        (IRRITANT, "1", True),
        (IRRITANT, "0.99", False),
        (CARBONATE, "1", True),
        (CARBONATE, "0.99", False),
        (SULFITE, "5", True),
        (SURFACTANT, "0.1", True),
        (SULFURIC_ACID, "0.99", False),
        (SALT, "30", False),
    ],
)
def test_beside_another_that_acts_the_ph_decides_again(
    data: object, percent: str, decides: bool
) -> None:
    found = verdict(
        (SODIUM_HYDROXIDE, "0.4"),
        (data, percent),  # type: ignore[arg-type]
        ph=measured(13.0),
    )
    if data is SULFURIC_ACID:  # a second one with limits of its own, at any share
        decides = True
    assert corrosive(found) is decides


def test_the_sub_category_of_the_sum_is_kept_beside_an_extreme_ph() -> None:
    found = verdict((SODIUM_HYDROXIDE, "6"), (CARBONATE, "5"), ph=measured(13.5))
    assert {"Skin Corr. 1A", "Eye Dam. 1"} <= set(found.classes)


def test_the_acid_or_base_behind_an_extreme_ph_is_named() -> None:
    found = verdict((PHOSPHATE, "4"), (BISULFATE, "1"), (SALT, "9"), ph=measured(12.0))
    assert found.names == ("phosphate",)
    weak = verdict((SULFITE, "9"), (SALT, "1"), ph=measured(11.6))
    assert weak.names == ("sulfite",)
