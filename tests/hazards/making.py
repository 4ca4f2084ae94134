"""Chemicals and mixtures for the tests of this folder, in few words."""

from decimal import Decimal
from typing import Any

from labelkit.hazards.classify import classify
from labelkit.hazards.data import Basis, HazardData, Limit
from labelkit.hazards.mixture import Acidity, Classification, Ingredient, Mixture

__all__ = [
    "ACETIC_ACID", "AMMONIUM_DICHROMATE", "HYDROCHLORIC_ACID", "HYDROGEN_PEROXIDE",
    "NEUTRAL", "POTASSIUM_DICHROMATE", "SODIUM_HYDROXIDE", "SODIUM_HYPOCHLORITE",
    "SULFURIC_ACID", "chemical", "limit", "measured", "reached", "reached_in",
    "said_by", "verdict",
]  # fmt: skip


def chemical(name: str, *classes: str, **more: Any) -> HazardData:
    return HazardData(
        id=name,
        name=name,
        classes=classes,
        basis=more.pop("basis", Basis.HARMONISED),
        confidence="found",
        tags=frozenset(more.pop("tags", ())),
        **more,
    )


def limit(hazard_class: str, minimum: str, below: str | None = None) -> Limit:
    return Limit(
        hazard_class, Decimal(minimum), None if below is None else Decimal(below)
    )


def measured(ph: float) -> Acidity:
    return Acidity(ph, ph, ph, source="measured")


# A pH that decides nothing, so that the tables alone do
NEUTRAL = measured(7)


def verdict(
    *parts: tuple[HazardData, str], regime: str = "eu-clp", **more: Any
) -> Classification:
    ingredients = tuple(Ingredient(data, Decimal(percent)) for data, percent in parts)
    return classify(Mixture(ingredients, **more), regime)


def reached(*parts: tuple[HazardData, str], **more: Any) -> set[str]:
    return set(verdict(*parts, **more).classes)


def reached_in(
    families: str | tuple[str, ...], *parts: tuple[HazardData, str], **more: Any
) -> list[str]:
    """The classes of these families alone, by how their names begin."""
    return [one for one in verdict(*parts, **more).classes if one.startswith(families)]


def said_by(rule: str, found: Classification) -> list[str]:
    """What the reasons say that name this rule."""
    return [reason.text for reason in found.because if reason.rule == rule]


# Annex VI, Table 3, as in ECHA's consolidated table up to ATP 23 (Delegated Regulation
# (EU) 2025/1222)
SODIUM_HYDROXIDE = chemical(
    "sodium hydroxide",
    "Skin Corr. 1A",
    limits=(
        limit("Skin Corr. 1A", "5"),
        limit("Skin Corr. 1B", "2", "5"),
        limit("Skin Irrit. 2", "0.5", "2"),
        limit("Eye Irrit. 2", "0.5", "2"),
    ),
    acid_or_base=True,
    tags=("base", "strong-base"),
)
ACETIC_ACID = chemical(
    "acetic acid",
    "Flam. Liq. 3",
    "Skin Corr. 1A",
    limits=(
        limit("Skin Corr. 1A", "90"),
        limit("Skin Corr. 1B", "25", "90"),
        limit("Skin Irrit. 2", "10", "25"),
        limit("Eye Irrit. 2", "10", "25"),
    ),
    acid_or_base=True,
    tags=("acid",),
)
SULFURIC_ACID = chemical(
    "sulfuric acid",
    "Skin Corr. 1A",
    limits=(
        limit("Skin Corr. 1A", "15"),
        limit("Skin Irrit. 2", "5", "15"),
        limit("Eye Irrit. 2", "5", "15"),
    ),
    acid_or_base=True,
    tags=("acid", "strong-acid"),
)
HYDROCHLORIC_ACID = chemical(
    "hydrochloric acid",
    "Skin Corr. 1B",
    "STOT SE 3 (H335)",
    limits=(
        limit("Skin Corr. 1B", "25"),
        limit("Skin Irrit. 2", "10", "25"),
        limit("Eye Irrit. 2", "10", "25"),
        limit("STOT SE 3 (H335)", "10"),
    ),
    acid_or_base=True,
    tags=("acid", "strong-acid"),
)
HYDROGEN_PEROXIDE = chemical(
    "hydrogen peroxide",
    "Ox. Liq. 1",
    "Acute Tox. 4 (dust/mist)",
    "Acute Tox. 4 (oral)",
    "Skin Corr. 1A",
    limits=(
        limit("Ox. Liq. 1", "70"),
        limit("Ox. Liq. 2", "50", "70"),
        limit("Skin Corr. 1A", "70"),
        limit("Skin Corr. 1B", "50", "70"),
        limit("Skin Irrit. 2", "35", "50"),
        limit("Eye Dam. 1", "8", "50"),
        limit("Eye Irrit. 2", "5", "8"),
        limit("STOT SE 3 (H335)", "35"),
    ),
    tags=("oxidiser", "peroxide"),
)
_DICHROMATE = (
    "Ox. Sol. 2",
    "Carc. 1B",
    "Muta. 1B",
    "Repr. 1B FD",
    "Acute Tox. 2 (dust/mist)",
    "Acute Tox. 4 (dermal)",
    "Acute Tox. 3 (oral)",
    "STOT RE 1",
    "Skin Corr. 1B",
    "Resp. Sens. 1",
    "Skin Sens. 1",
    "Aquatic Acute 1",
    "Aquatic Chronic 1",
)
POTASSIUM_DICHROMATE = chemical(
    "potassium dichromate",
    *_DICHROMATE,
    limits=(limit("STOT SE 3 (H335)", "5"),),
    notes=("3",),
    tags=("oxidiser", "dichromate"),
)
AMMONIUM_DICHROMATE = chemical(
    "ammonium dichromate",
    *_DICHROMATE,
    limits=(
        limit("STOT SE 3 (H335)", "5"),
        limit("Resp. Sens. 1", "0.2"),
        limit("Skin Sens. 1", "0.2"),
    ),
    notes=("G", "3"),
    tags=("oxidiser", "dichromate", "ammonium"),
)
SODIUM_HYPOCHLORITE = chemical(
    "sodium hypochlorite",
    "Skin Corr. 1B",
    "Eye Dam. 1",
    "Aquatic Acute 1",
    "Aquatic Chronic 1",
    limits=(limit("EUH031", "5"),),
    m_acute=Decimal(10),
    m_chronic=Decimal(1),
    euh=("EUH031",),
    tags=("base", "hypochlorite", "oxidiser"),
)
