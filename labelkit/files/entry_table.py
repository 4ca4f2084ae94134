"""A chemical as one flat table of plain JSON, for a batch to keep, and to read back."""

from decimal import Decimal
from typing import Any

from labelkit.chemistry.substances import Figure, Solubility, Substance
from labelkit.files.substance_table import SOLUBILITY_UNITS
from labelkit.hazards.data import HazardData, Limit
from labelkit.mixing.catalogue import Entry

__all__ = ["entry_as_table"]

_KEYS_BY_UNIT = {unit: key for key, unit in SOLUBILITY_UNITS.items()}


def entry_as_table(entry: Entry) -> dict[str, Any]:
    """The entry in the schema of ``[[chemical]]``, with sources in full.

    Numbers are texts, so that JSON loses none of their digits;
    `labelkit.files.chemicals.entries_from_tables` reads it back with ``stored=True``.
    """
    table = {
        **_substance(entry.substance),
        **_hazard(entry.hazard),
        **{key: _plain(value) for key, value in entry.substance.more.items()},
    }
    empty: tuple[Any, ...] = (None, "", {}, False)
    return {
        key: value
        for key, value in table.items()
        if value not in empty and (value != [] or key == "classes")
    }


def _substance(substance: Substance) -> dict[str, Any]:
    return {
        "id": substance.id,
        "names": list(substance.names),
        "parent": substance.parent,
        "parent_units": substance.parent_units,
        "state": str(substance.state),
        "formula": substance.formula,
        "formula_missing_because": substance.formula_missing_because,
        "molar_mass": _number(substance.molar_mass),
        "cas": substance.cas,
        "percent_by_mass": _number(substance.percent_by_mass),
        "assay": _in_unit(substance.assay_percent, "%"),
        "assay_advice": substance.assay_advice,
        "miscible": substance.miscible,
        "tags": sorted(substance.tags),
        "flags": sorted(substance.flags),
        "remarks": list(substance.remarks),
        **_figure("density", substance.density, "g/mL"),
        **_figure("heat_of_solution", substance.heat_of_solution, "kJ/mol"),
        **_pka(substance.pka),
        "solubility": [_solubility(each) for each in substance.solubility],
        "source": substance.source,
    }


def _figure(key: str, figure: Figure | None, unit: str) -> dict[str, Any]:
    if figure is None:
        return {}
    return {
        key: _in_unit(figure.value, unit),
        f"{key}_source": figure.source,
        f"{key}_confidence": str(figure.confidence),
        f"{key}_note": figure.note,
    }


def _pka(steps: tuple[Figure, ...]) -> dict[str, Any]:
    if not steps:
        return {}
    return {
        "pka": [_number(step.value) for step in steps],
        "pka_of": [step.note for step in steps],
        "pka_source": steps[0].source,
        "pka_confidence": str(steps[0].confidence),
    }


def _solubility(series: Solubility) -> dict[str, Any]:
    return {
        "at_C": [_number(at_C) for at_C, _ in series.points],
        _KEYS_BY_UNIT[series.unit]: [_number(value) for _, value in series.points],
        "basis": series.basis,
        "source": series.source,
        "confidence": str(series.confidence),
        "note": series.note,
    }


def _hazard(hazard: HazardData) -> dict[str, Any]:
    m = {"acute": _number(hazard.m_acute), "chronic": _number(hazard.m_chronic)}
    return {
        "label_name": hazard.name,
        "classes": None if hazard.classes is None else list(hazard.classes),
        "classes_for": "solute" if hazard.solute_share == 1 else "product",
        "basis": str(hazard.basis) if hazard.basis else None,
        "confidence": hazard.confidence,
        "scl": [_limit(limit) for limit in hazard.limits],
        "ate": {route: _number(ate) for route, ate in hazard.ate.items()},
        "m": {key: factor for key, factor in m.items() if factor is not None},
        "euh": list(hazard.euh),
        "notes": list(hazard.notes),
        "non_additive": hazard.non_additive,
        "acid_or_base": hazard.acid_or_base,
        "unknown_acute": list(hazard.unknown_acute),
        "organs": dict(hazard.organs),
        "hazard_remark": hazard.remark,
    }


def _limit(limit: Limit) -> dict[str, Any]:
    row = {"class": limit.hazard_class, "min": _number(limit.minimum)}
    if limit.below is not None:
        row["below"] = _number(limit.below)
    return row


def _number(value: Decimal | None) -> str | None:
    return None if value is None else f"{value:f}"


def _in_unit(value: Decimal | None, unit: str) -> str | None:
    return None if value is None else f"{value:f} {unit}"


def _plain(value: Any) -> Any:
    return _number(value) if isinstance(value, Decimal) else value
