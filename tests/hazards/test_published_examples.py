"""The published worked examples of references/hazard-examples.toml, one by one.

Their sources stand in that file, beside each case.
"""

import tomllib
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from labelkit.hazards.classes import INHALATION, read_class
from labelkit.hazards.classify import classify
from labelkit.hazards.data import HazardData, Limit
from labelkit.hazards.label import label_elements
from labelkit.hazards.mixture import Acidity, Classification, Ingredient, Mixture

FILE = Path(__file__).parent.parent / "references" / "hazard-examples.toml"
CASES = tomllib.loads(FILE.read_text("utf-8"), parse_float=Decimal)["case"]
MIXTURES = [case for case in CASES if case["kind"] == "mixture"]
LABELS = [case for case in CASES if case["kind"] == "label"]
REGIMES = {"EU-CLP": "eu-clp", "UN-GHS": "un-ghs"}

ENDPOINTS = {
    "skin": {"Skin Corr.", "Skin Irrit."},
    "eye": {"Eye Dam.", "Eye Irrit."},
    "sens": {"Resp. Sens.", "Skin Sens."},
    "cmr": {"Muta.", "Carc.", "Repr.", "Lact."},
    "stot": {"STOT SE", "STOT RE"},
    "aquatic": {"Aquatic Acute", "Aquatic Chronic"},
}
ROUTES = {"oral": {"oral"}, "dermal": {"dermal"}, "inhalation": set(INHALATION)}


def in_scope(text: str, scope: list[str]) -> bool:
    one = read_class(text)
    if one.family == "Acute Tox.":
        return any(one.detail in ROUTES.get(point, set()) for point in scope)
    return any(one.family in ENDPOINTS.get(point, set()) for point in scope)


def ingredient(row: dict[str, Any]) -> Ingredient:
    limits = tuple(
        Limit(
            scl["class"],
            Decimal(scl["min"]),
            Decimal(scl["below"]) if "below" in scl else None,
        )
        for scl in row.get("scl", [])
    )
    m = row.get("m", {})
    data = HazardData(
        id=row["name"],
        name=row["name"],
        classes=tuple(row.get("classes", [])),
        limits=limits,
        ate={route: Decimal(value) for route, value in row.get("ate", {}).items()},
        m_acute=Decimal(m["acute"]) if "acute" in m else None,
        m_chronic=Decimal(m["chronic"]) if "chronic" in m else None,
        euh=tuple(row.get("euh", [])),
        notes=tuple(row.get("notes", [])),
        non_additive=row.get("non_additive", False),
        acid_or_base=row.get("acid_or_base", False),
        unknown_acute=tuple(row.get("unknown_acute", [])),
    )
    return Ingredient(data, Decimal(row["pct"]))


def worked_out(case: dict[str, Any], regime: str) -> Classification:
    ph = case.get("ph")
    figure = None if ph is None else float(ph)
    mixture = Mixture(
        ingredients=tuple(ingredient(row) for row in case["ingredient"]),
        ph=None
        if figure is None
        else Acidity(figure, figure, figure, source="measured"),
        solid=case["state"] == "solid",
        for_public=case["general_public"],
    )
    return classify(mixture, regime)


def compare(
    found: Classification, expected: dict[str, Any], scope: list[str] | None
) -> None:
    reached = [c for c in found.classes if scope is None or in_scope(c, scope)]
    elements = label_elements(reached, [] if scope else found.euh)
    assert sorted(reached) == sorted(expected["classes"])
    assert sorted(elements.h) == sorted(expected["h"])
    assert sorted(elements.label_h) == sorted(expected["label_h"])
    assert sorted(elements.euh) == sorted(expected["euh"])
    assert sorted(elements.pictograms) == sorted(expected["pictograms"])
    assert elements.signal == expected["signal"]
    if "ate_mix" in expected:
        assert set(found.ate_mix) == set(expected["ate_mix"])
        for route, ate in expected["ate_mix"].items():
            assert abs(found.ate_mix[route] / ate - 1) <= Decimal("0.005")
    if scope is None or set(scope) & set(ROUTES):
        assert found.unknown == expected.get("unknown_statement_pct", {})


def test_the_file_holds_the_twelve_published_cases() -> None:
    assert (len(MIXTURES), len(LABELS), len(CASES)) == (10, 2, 12)


@pytest.mark.parametrize("case", MIXTURES, ids=lambda case: case["id"])
def test_a_published_mixture_comes_out_as_published(case: dict[str, Any]) -> None:
    found = worked_out(case, REGIMES[case["regime"]])
    compare(found, case["expect"], case.get("scope"))


@pytest.mark.parametrize(
    "case",
    [case for case in MIXTURES if "expect_clp" in case],
    ids=lambda case: case["id"],
)
def test_a_un_example_comes_out_as_worked_for_the_eu(case: dict[str, Any]) -> None:
    found = worked_out(case, "eu-clp")
    compare(found, case["expect_clp"], case.get("scope"))


@pytest.mark.parametrize("case", LABELS, ids=lambda case: case["id"])
def test_published_classes_give_the_published_label(case: dict[str, Any]) -> None:
    expected = case["expect"]
    elements = label_elements(case["given_classes"])
    assert sorted(elements.h) == sorted(expected["h"])
    assert sorted(elements.label_h) == sorted(expected["label_h"])
    assert sorted(elements.pictograms) == sorted(expected["pictograms"])
    assert elements.signal == expected["signal"]
