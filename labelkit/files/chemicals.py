"""Chemicals: the built-in catalogue, a bench's own, and those a recipe brings."""

from collections.abc import Iterable, Mapping, Sequence
from difflib import get_close_matches
from functools import lru_cache
from pathlib import Path
from typing import Any

from msgspec.structs import replace

from labelkit.chemistry.numbers import quoted
from labelkit.chemistry.substances import Parent, Substance
from labelkit.errors import BadInput, Fault
from labelkit.files.citing import revived
from labelkit.files.data import read_data
from labelkit.files.entry_table import entry_as_table
from labelkit.files.hazard_table import further, hazard_from
from labelkit.files.substance_table import SOLUBILITY_UNITS, substance_from
from labelkit.files.tables import Faults, Table
from labelkit.files.toml import parse_toml, read_text
from labelkit.mixing.catalogue import Ask, Catalogue, Entry
from labelkit.mixing.lookalikes import LookAlike
from labelkit.mixing.naming import cost_of_confusion, fold
from labelkit.resources import data_dir

__all__ = [
    "entries_from_tables",
    "entry_as_table",
    "read_catalogue",
    "read_gases",
    "read_own_chemicals",
]

_NUMBERS = frozenset(
    {
        "ate", "density_at_C", "m", "molar_mass", "moles_per_formula",
        "nominal_molar_mass", "parent_units", "percent_by_mass", "pka", "pka_at_C",
        "scl",
    }
)  # fmt: skip
_SERIES = frozenset({"at_C", *SOLUBILITY_UNITS})
# How like a known parent a word must be to be taken for a slip (difflib's ratio).
_SLIP = 0.85


@lru_cache(maxsize=1)
def read_catalogue() -> Catalogue:
    """The built-in chemicals.

    Raises:
        BadInput: one of our own files has a fault.
    """
    files = sorted(data_dir().joinpath("chemicals").iterdir(), key=lambda f: f.name)
    tables = [
        table
        for file in files
        if file.name.endswith(".toml")
        for table in read_data("chemicals", file.name)["chemical"]
    ]
    entries = {e.substance.id: e for e in _without_faults(tables, "built-in chemicals")}
    words = read_data("asks.toml")
    return Catalogue(
        entries,
        asks={fold(ask.word): ask for ask in _asks(words["ask"], entries)},
        look_alikes=tuple(
            LookAlike(tuple(each["words"]), each["why"]) for each in words["look_alike"]
        ),
        parents={
            each["id"]: Parent(**each) for each in read_data("parents.toml")["parent"]
        },
    )


def read_gases() -> dict[str, Entry]:
    """The gases that mixtures may give off, by formula."""
    tables = read_data("gases.toml")["chemical"]
    entries = _without_faults(tables, "gases.toml")
    return {e.substance.formula: e for e in entries if e.substance.formula}


def read_own_chemicals(path: Path) -> tuple[Entry, ...]:
    """A bench's own chemicals; () where it has no such file.

    Raises:
        BadInput: the file has faults; all of them are named.
    """
    if not path.exists():
        return ()
    faults = Faults()
    top = Table(parse_toml(read_text(path), path.name), path.name, faults)
    tables = [table.data for table in top.tables("chemical")]
    top.close()
    entries, found = entries_from_tables(tables, place=path.name)
    every = [*faults, *found]
    if every:
        raise BadInput.of(every)
    return tuple(entries)


def entries_from_tables(
    tables: Sequence[Mapping[str, Any]], *, place: str, stored: bool = False
) -> tuple[list[Entry], list[Fault]]:
    """Read ``[[chemical]]`` tables, wherever they stand, with every fault in them.

    Args:
        tables: as parsed.
        place: the file, for the faults.
        stored: from a kept batch: numbers may be texts, and molar masses and parents
            are taken as they stand.
    """
    faults = Faults()
    if stored:
        tables = [_revived(table) for table in tables]
    entries = _entries(tables, place, faults, stored=stored)
    if not stored:
        _slips(entries, place, faults)
    return entries, list(faults)


def _without_faults(tables: list[dict[str, Any]], place: str) -> list[Entry]:
    faults = Faults()
    entries = _entries(tables, place, faults, stored=True)
    faults.raise_any()
    return entries


def _entries(
    tables: Iterable[Mapping[str, Any]], place: str, faults: Faults, *, stored: bool
) -> list[Entry]:
    entries = []
    for number, data in enumerate(tables, start=1):
        where = str(data.get("id") or f"chemical {number}")
        table = Table(data, f"{place}, {where}", faults)
        entries.append(_entry(table, stored=stored))
        table.close()
    _twice(entries, place, faults)
    return entries


def _entry(table: Table, *, stored: bool) -> Entry:
    substance = substance_from(table, stored=stored)
    hazard = hazard_from(table, substance)
    more = {**substance.more, **further(table)}
    return Entry(replace(substance, more=more), hazard)


def _revived(data: Mapping[str, Any]) -> dict[str, Any]:
    table = revived(data, _NUMBERS)
    series = table.get("solubility")
    if isinstance(series, list):
        table["solubility"] = [
            revived(one, _SERIES) if isinstance(one, dict) else one for one in series
        ]
    return table


def _asks(
    tables: Iterable[Mapping[str, Any]], entries: Mapping[str, Entry]
) -> Iterable[Ask]:
    for table in tables:
        cost = cost_of_confusion([entries[form].substance for form in table["forms"]])
        for word in table["words"]:
            yield Ask(word, tuple(table["forms"]), cost)


def _twice(entries: Iterable[Entry], place: str, faults: Faults) -> None:
    """Note every id and every name that two entries of one file share."""
    taken: dict[str, str] = {}
    ids: set[str] = set()
    for entry in entries:
        substance = entry.substance
        if substance.id in ids:
            faults.add(
                f"{place}, {substance.id}", "stands here twice", "Keep one of the two."
            )
        ids.add(substance.id)
        for word in dict.fromkeys(fold(n) for n in (substance.id, *substance.names)):
            other = taken.setdefault(word, substance.id)
            if other != substance.id:
                faults.add(
                    f"{place}, {substance.id}, names",
                    f"{quoted(word)} is also what {other} is called",
                    "Give each its own names.",
                )


def _slips(entries: Sequence[Entry], place: str, faults: Faults) -> None:
    """Note every parent that is almost, but not quite, a known one."""
    mine = {entry.substance.id for entry in entries}
    known = {substance.parent for substance in read_catalogue().substances}
    for substance in (entry.substance for entry in entries):
        if slip := _slip(substance, known | mine):
            faults.add(
                f"{place}, {substance.id}, parent",
                f"{quoted(substance.parent)} is not known",
                f"Did you mean {slip}?",
            )


def _slip(substance: Substance, known: set[str]) -> str:
    if substance.parent in known:
        return ""
    near = get_close_matches(substance.parent, known, n=1, cutoff=_SLIP)
    return near[0] if near else ""
