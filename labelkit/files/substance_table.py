"""What a chemical is, read from its table."""

import re
from decimal import Decimal
from itertools import pairwise
from typing import Any

from labelkit.chemistry.formulas import molar_mass
from labelkit.chemistry.numbers import quoted
from labelkit.chemistry.percents import parse_assay
from labelkit.chemistry.substances import Figure, Solubility, State, Substance
from labelkit.errors import BadInput
from labelkit.files.citing import citation, figure, numbers
from labelkit.files.data import Citation, flags, tags
from labelkit.files.tables import Table, nearest

__all__ = ["SOLUBILITY_UNITS", "substance_from"]

SOLUBILITY_UNITS = {
    "g_per_100_g_water": "g per 100 g water",
    "g_per_100_mL": "g per 100 mL",
    "g_per_100_mL_water": "g per 100 mL of water",
    "g_per_L_water": "g per L of water",
}
_BASES = ("this form", "anhydrous", "unclear")
_STATES = tuple(str(state) for state in State)
_ID = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_CAS = re.compile(r"\d{2,7}-\d\d-\d")
# How far a molar mass may be from its formula [g/mol]: tables of weights differ.
_SAME_MASS = Decimal("0.05")
_LEAST, _LARGEST_MASS = Decimal("0.001"), Decimal(100_000)
_HUNDRED = Decimal(100)


def substance_from(table: Table, *, stored: bool) -> Substance:
    """Read one ``[[chemical]]`` table; faults are noted in the table.

    Args:
        table: the table.
        stored: ours or a kept batch's: a molar mass is taken as it stands.
    """
    chemical = _id(table)
    names = table.words("names", str.strip, '["sodium hydroxide", "caustic soda"]')
    percent = table.number("percent_by_mass", _LEAST, _HUNDRED)
    state = _state(table, percent)
    formula = table.text("formula") or None
    whole = citation(table)
    return Substance(
        chemical,
        tuple(name for name in names if name) or (chemical.replace("-", " "),),
        parent=table.text("parent") or chemical,
        state=state,
        parent_units=_units(table),
        formula=formula,
        formula_missing_because=table.text("formula_missing_because"),
        molar_mass=_molar_mass(table, formula, stored=stored),
        cas=_cas(table),
        percent_by_mass=percent,
        density=_density(table, state, percent),
        assay_percent=table.parsed("assay", parse_assay, "97 %"),
        assay_advice=table.text("assay_advice"),
        heat_of_solution=figure(table, "heat_of_solution", "kJ/mol", "-44.5 kJ/mol"),
        solubility=tuple(
            found
            for each in table.tables("solubility")
            if (found := _solubility(each, whole)) is not None
        ),
        pka=_pka(table),
        miscible=bool(table.flag("miscible")),
        tags=_known(table, "tags", tags()),
        flags=_known(table, "flags", flags()),
        remarks=table.words("remarks", str.strip, '["Melts near 33 C."]'),
        source=whole.text,
        more=_more(table),
    )


def _id(table: Table) -> str:
    chemical = table.required_text("id", "house-alkali-flakes")
    if chemical and not _ID.fullmatch(chemical):
        table.fault(
            "id",
            f"{quoted(chemical)} cannot be an id",
            "Write lower-case letters and figures, joined by hyphens.",
        )
    return chemical


def _state(table: Table, percent: Decimal | None) -> State:
    default = State.SOLID if percent is None else State.SOLUTION
    return State(table.choice("state", _STATES, default))


def _units(table: Table) -> int:
    units = table.number("parent_units", Decimal(1), _HUNDRED) or Decimal(1)
    if units % 1:
        table.fault("parent_units", f"{units} is not whole", "Write 1, 2, 3 and so on.")
    return int(units)


def _molar_mass(table: Table, formula: str | None, *, stored: bool) -> Decimal | None:
    given = table.number("molar_mass", _LEAST, _LARGEST_MASS)
    if formula is None or (stored and given is not None):
        return given
    try:
        computed = molar_mass(formula)
    except BadInput as error:
        table.faults.take(error, f"{table.place}, formula")
        return given
    if given is not None and abs(given - computed) > _SAME_MASS:
        table.fault(
            "molar_mass",
            f"{given} is not that of {formula}",
            f"Write {computed} or leave it out.",
        )
    return computed if given is None else given


def _cas(table: Table) -> str:
    cas = table.text("cas")
    if not cas:
        return ""
    if not _CAS.fullmatch(cas):
        table.fault(
            "cas", f"{quoted(cas)} is no CAS number", "Write it like 1310-73-2."
        )
        return cas
    digits = cas.replace("-", "")
    weighted = (n * int(d) for n, d in enumerate(reversed(digits[:-1]), start=1))
    if sum(weighted) % 10 != int(digits[-1]):
        table.fault(
            "cas",
            f"{quoted(cas)} fails its check digit",
            "Copy it again from the data sheet.",
        )
    return cas


def _density(table: Table, state: State, percent: Decimal | None) -> Figure | None:
    density = figure(table, "density", "g/mL", "1.33 g/mL")
    if density is not None and density.value <= 0:
        table.fault("density", "is not above 0", 'Write it like "1.33 g/mL".')
    if percent is not None and state is not State.SOLID and "density" not in table:
        table.fault(
            "density",
            "is missing, and percent_by_mass needs it",
            'Write density = "1.33 g/mL".',
        )
    return density


def _solubility(table: Table, whole: Citation) -> Solubility | None:
    at_C = numbers(table, "at_C", "[0, 20, 40]")
    basis = table.choice("basis", _BASES, _BASES[0])
    own = citation(table)
    source = own if own.text else whole
    note = table.text("note")
    given = {key: numbers(table, key, "[7, 22, 49]") for key in SOLUBILITY_UNITS}
    series = {key: values for key, values in given.items() if values}
    table.close()
    if len(series) != 1:
        table.fault(
            "",
            f"has {len(series)} series of solubilities",
            f"Write one of: {', '.join(SOLUBILITY_UNITS)}.",
        )
        return None
    ((key, values),) = series.items()
    if len(values) != len(at_C) or any(b <= a for a, b in pairwise(at_C)):
        table.fault(
            key,
            f"{len(values)} values do not go with {len(at_C)} rising temperatures",
            "Write one value for each temperature, coldest first.",
        )
        return None
    if any(value < 0 for value in values):
        table.fault(key, "has a value below 0", "Write grams that dissolve.")
    points = tuple(zip(at_C, values, strict=True))
    unit = SOLUBILITY_UNITS[key]
    return Solubility(points, unit, basis, source.text, source.confidence, note)


def _pka(table: Table) -> tuple[Figure, ...]:
    values = numbers(table, "pka", "[6.35, 10.33]")
    if "pka" not in table:
        return ()
    of = table.words("pka_of", str.strip, '["carbonic acid 1", "carbonic acid 2"]')
    source = citation(table, "pka")
    if of and len(of) != len(values):
        table.fault(
            "pka_of",
            f"names {len(of)} steps for {len(values)} values",
            "Write one name for each value.",
        )
        return ()
    steps = of or ("",) * len(values)
    return tuple(
        Figure(value, source.text, source.confidence, step)
        for value, step in zip(values, steps, strict=True)
    )


def _known(table: Table, key: str, known: Any) -> frozenset[str]:
    words = table.words(key, str.strip, '["base"]')
    for word in words:
        if word not in known:
            hint = nearest(word, known) or f"Known: {', '.join(known)}."
            table.fault(key, f"{quoted(word)} is not known", hint)
    return frozenset(words)


_TEXTS = ("formula_note", "nominal_formula", "cas_note")
_SOURCED = ("cas", "assay_advice", "flags", "miscible")
_TEMPERATURES = ("density_at_C", "pka_at_C")


def _more(table: Table) -> dict[str, Any]:
    """What only the entry's page shows."""
    more: dict[str, Any] = {key: table.text(key) for key in _TEXTS}
    for key in _SOURCED:
        if key in table:
            source = citation(table, key)
            more[f"{key}_source"] = source.text
            more[f"{key}_confidence"] = str(source.confidence)
    for key in _TEMPERATURES:
        more[key] = table.number(key, Decimal(-50), Decimal(150))
    more["nominal_molar_mass"] = table.number(
        "nominal_molar_mass", _LEAST, _LARGEST_MASS
    )
    more["moles_per_formula"] = _moles(table)
    return {key: value for key, value in more.items() if value}


def _moles(table: Table) -> dict[str, int]:
    moles = table.table("moles_per_formula")
    found = {}
    for what in moles.data if moles else ():
        count = moles.number(what, Decimal(1), _HUNDRED) if moles else None
        if count is not None:
            found[what] = int(count)
    return found
