"""The acidity constants that travel with labelkit, read into one table."""

from collections.abc import Iterator, Mapping
from typing import Any

from labelkit.chemistry.acid_roles import AcidityTable, Ion, Role
from labelkit.chemistry.equilibria import Acid, Polymer
from labelkit.errors import BadInput, Fault
from labelkit.files.toml import parse_toml
from labelkit.resources import data_dir

__all__ = ["parse_acidity", "read_acidity"]

PLACE = "acidity.toml"
CONFIDENCE = ("found", "computed", "memory")

_Entry = Mapping[str, Any]


def read_acidity() -> AcidityTable:
    """The built-in table of acids, ions and what each chemical brings."""
    return parse_acidity((data_dir() / PLACE).read_text("utf-8"))


def parse_acidity(text: str) -> AcidityTable:
    """The table that ``text`` holds.

    Raises:
        BadInput: an acid without its source or with lists of unequal length, a role
            that brings what is not in the table, or a chemical with two roles.
    """
    data = parse_toml(text, PLACE)
    faults = [*_acid_faults(data), *_role_faults(data)]
    if faults:
        raise BadInput.of(faults)
    roles = [(entry, _role(entry)) for entry in data["role"]]
    return AcidityTable(
        water=_acid({"id": "water", "charge": 0, **data["water"]}),
        acids={entry["id"]: _acid(entry) for entry in data["acid"]},
        ions={entry["id"]: _ion(entry) for entry in data["ion"]},
        roles={chemical: role for e, role in roles for chemical in e["ids"]},
        parent_roles={e["parent"]: role for e, role in roles if "parent" in e},
        sources={e["id"]: f"{e['source']} ({e['confidence']})" for e in data["acid"]},
    )


def _acid(entry: _Entry) -> Acid:
    enthalpy, equation = entry.get("enthalpy_kJ"), entry.get("equation")
    return Acid(
        entry["id"],
        entry["charge"],
        _floats(entry["pk"]),
        enthalpy_kJ=_floats(enthalpy) if enthalpy else None,
        equation=(
            (float(equation[0]), float(equation[1]), float(equation[2]))
            if equation
            else None
        ),
        polymers=tuple(
            Polymer(p["units"], p["protons"], float(p["log_k"]))
            for p in entry.get("polymers", ())
        ),
        doubt=float(entry.get("doubt", 0)),
        rough=entry.get("rough", False),
        metal=entry.get("metal", False),
        bound_pk=_optional(entry.get("bound_pk")),
    )


def _ion(entry: _Entry) -> Ion:
    needs = _optional(entry.get("needs_ph"))
    return Ion(entry["id"], entry["charge"], needs, entry.get("why", ""))


def _role(entry: _Entry) -> Role:
    own_range = entry.get("own_range")
    return Role(
        {name: float(count) for name, count in entry["brings"].items()},
        cannot=entry.get("cannot", ""),
        binds=entry.get("binds", ""),
        own_range=(float(own_range[0]), float(own_range[1])) if own_range else None,
        metal=entry.get("metal", False),
        no_bound=entry.get("no_bound", ""),
    )


def _optional(number: Any) -> float | None:
    return None if number is None else float(number)


def _floats(numbers: list[Any]) -> tuple[float, ...]:
    return tuple(float(number) for number in numbers)


def _acid_faults(data: _Entry) -> Iterator[Fault]:
    for entry in [{"id": "water", **data["water"]}, *data["acid"]]:
        place = f"{PLACE}, acid {entry['id']}"
        if not entry.get("source") or entry.get("confidence") not in CONFIDENCE:
            yield Fault(
                place,
                "has no source or no confidence",
                f"Name the source; confidence is one of: {', '.join(CONFIDENCE)}.",
            )
        enthalpy = entry.get("enthalpy_kJ", entry["pk"])
        if len(enthalpy) != len(entry["pk"]):
            yield Fault(place, "enthalpy_kJ and pk differ in length", "Give one each.")


def _role_faults(data: _Entry) -> Iterator[Fault]:
    known = {entry["id"] for entry in (*data["acid"], *data["ion"])}
    rough = {entry["id"] for entry in data["acid"] if entry.get("rough")}
    bindable = {entry["id"] for entry in data["acid"] if "bound_pk" in entry}
    seen: set[str] = set()
    for entry in data["role"]:
        place = f"{PLACE}, role {', '.join(entry['ids'])}"
        strange = {*entry["brings"], entry.get("binds", "")} - known - {""}
        if strange:
            listed = ", ".join(sorted(strange))
            yield Fault(place, f"{listed} is no acid and no ion", "Add it above.")
        unbound = {entry.get("binds", "")} - {"", *bindable}
        if unbound:
            listed = ", ".join(unbound)
            yield Fault(place, f"{listed} has no bound_pk", "Give the acid one.")
        needs_reason = bool(rough & set(entry["brings"])) or "binds" in entry
        if needs_reason and not entry.get("cannot"):
            yield Fault(place, "has no reason", "Write cannot: why there is no number.")
        for chemical in seen.intersection(entry["ids"]):
            yield Fault(place, f"{chemical} has a role already", "Keep one of them.")
        seen.update(entry["ids"])
