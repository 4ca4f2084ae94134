"""What a chemical can do to a person, read from its table."""

from decimal import Decimal
from typing import Any

from labelkit.chemistry.substances import Substance
from labelkit.files.citing import citation
from labelkit.files.tables import Table
from labelkit.hazards.checking import check_data
from labelkit.hazards.data import Basis, HazardData, Limit

__all__ = ["further", "hazard_from"]

_BASES = tuple(str(basis) for basis in Basis)
_OFFICIAL = (Basis.HARMONISED, Basis.GROUP)
_ORGAN_CODES = ("H370", "H371", "H372", "H373")
_COVERS = ("substance", "hydrate", "group")
_CLASSES_FOR = ("solute", "product")
_LARGEST = Decimal(1_000_000)
_NOTHING, _HUNDRED = Decimal(0), Decimal(100)


def hazard_from(table: Table, substance: Substance) -> HazardData:
    """Read the hazards out of the ``[[chemical]]`` table of ``substance``."""
    classes = _classes(table)
    m = table.table("m")
    source = citation(table)
    basis = _basis(table) if classes is not None else None
    data = HazardData(
        substance.id,
        table.text("label_name") or substance.name,
        classes,
        basis,
        str(source.confidence) if classes is not None else "",
        limits=_limits(table),
        ate=_amounts(table, "ate"),
        m_acute=m.number("acute", _NOTHING, _LARGEST) if m else None,
        m_chronic=m.number("chronic", _NOTHING, _LARGEST) if m else None,
        euh=_joined(table, "euh", "added_euh", '["EUH031"]'),
        notes=table.words("notes", str.strip, '["11"]'),
        non_additive=bool(table.flag("non_additive")),
        acid_or_base=bool(table.flag("acid_or_base")),
        unknown_acute=table.words("unknown_acute", str.strip, '["oral"]'),
        tags=substance.tags,
        organs=_organs(table),
        solute_share=_solute_share(table, substance, basis),
        source=source.text,
        remark=table.text("hazard_remark"),
    )
    if m:
        m.close()
    for fault in check_data(data):
        place = fault.place.removeprefix(data.id).removeprefix(", ")
        table.fault(place, fault.problem, fault.remedy)
    return data


def further(table: Table) -> dict[str, Any]:
    """What Annex VI and others say besides, for the entry's page."""
    more: dict[str, Any] = {
        "annex_vi": table.text("annex_vi"),
        "annex_vi_covers": table.choice("annex_vi_covers", _COVERS),
        "related_annex_vi": table.text("related_annex_vi"),
        "annex_vi_limit_star": table.flag("annex_vi_limit_star"),
        "annex_vi_marks": _texts(table, "annex_vi_marks"),
    }
    for key in ("self_classes", "added_euh", "m"):
        if key not in table:
            continue
        source = citation(table, key)
        if key != "m":
            more[key] = list(table.words(key, str.strip, "[]"))
        if f"{key}_source" in table:
            more[f"{key}_source"] = source.text
            more[f"{key}_confidence"] = str(source.confidence)
    return {key: value for key, value in more.items() if value}


def _classes(table: Table) -> tuple[str, ...] | None:
    example = '["Skin Corr. 1B", "Acute Tox. 4 (oral)"]'
    classes = _joined(table, "classes", "self_classes", example)
    return classes if "classes" in table or classes else None


def _joined(table: Table, key: str, added: str, example: str) -> tuple[str, ...]:
    """What an entry carries and what is added to it, each once."""
    both = (
        *table.words(key, str.strip, example),
        *table.words(added, str.strip, example),
    )
    return tuple(dict.fromkeys(both))


def _basis(table: Table) -> Basis:
    return Basis(table.choice("basis", _BASES, Basis.OWN))


def _limits(table: Table) -> tuple[Limit, ...]:
    found = []
    for row in table.tables("scl"):
        hazard_class = row.required_text("class", "Skin Corr. 1B")
        minimum = row.number("min", _NOTHING, _HUNDRED)
        below = row.number("below", _NOTHING, _HUNDRED)
        if minimum is None and "min" not in row:
            row.fault("min", "is missing", "Write min = 2, in % w/w.")
        row.close()
        if hazard_class and minimum is not None:
            found.append(Limit(hazard_class, minimum, below))
    return tuple(found)


def _amounts(table: Table, key: str) -> dict[str, Decimal]:
    inner = table.table(key)
    if inner is None:
        return {}
    read = {route: inner.number(route, _NOTHING, _LARGEST) for route in inner.data}
    return {route: amount for route, amount in read.items() if amount is not None}


def _organs(table: Table) -> dict[str, str]:
    organs = _texts(table, "organs")
    for code in organs:
        if code not in _ORGAN_CODES:
            hint = f"Write one of: {', '.join(_ORGAN_CODES)}."
            table.fault("organs", f"'{code}' names no organ", hint)
    return organs


def _texts(table: Table, key: str) -> dict[str, str]:
    inner = table.table(key)
    return {name: inner.text(name) for name in inner.data} if inner else {}


def _solute_share(table: Table, substance: Substance, basis: Basis | None) -> Decimal:
    """Grams of solute in one gram of what is classified.

    An official entry is the dissolved substance's; a data sheet is the product's.
    """
    default = "solute" if basis in _OFFICIAL else "product"
    classified = table.choice("classes_for", _CLASSES_FOR, default)
    return substance.solute_share if classified == "product" else Decimal(1)
