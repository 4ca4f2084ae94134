"""Workshops: a TOML file that names recipes, people and quantities."""

from collections.abc import Collection
from decimal import Decimal
from functools import partial
from pathlib import Path

from labelkit.chemistry.amounts import parse_amount
from labelkit.chemistry.numbers import quoted
from labelkit.errors import BadInput
from labelkit.files.tables import Faults, Table, nearest
from labelkit.files.toml import parse_toml, read_text
from labelkit.mixing.workshop import Task, Workshop

__all__ = ["read_workshop", "workshop_from_text"]

_FOR = ("person", "station", "room")
_MOST_COPIES = 200
_MOST_PEOPLE = 100
_TOP_KEYS = (
    "title", "date", "place", "teacher", "people", "stations", "note", "sheet",
    "both_sides",
)  # fmt: skip
NO_CARD = "none"
_ONE = Decimal(1)


def read_workshop(path: Path) -> Workshop:
    """The workshop in a file.

    Raises:
        Unknown: there is no such file.
        BadInput: the file has faults; all of them are told.
        ShelfError: it cannot be opened.
    """
    return workshop_from_text(read_text(path), place=path.name)


def workshop_from_text(text: str, *, place: str = "workshop.toml") -> Workshop:
    """The workshop in a text; ``place`` is named before every fault.

    Raises:
        BadInput: the text has faults; all of them are told.
    """
    faults = Faults()
    top = Table(parse_toml(text, place), place, faults, _TOP_KEYS)
    workshop = _workshop(top)
    top.close()
    faults.raise_any()
    assert workshop is not None
    return workshop


def _workshop(top: Table) -> Workshop | None:
    title = top.required_text("title", "Borate alkali for film")
    day = top.day("date")
    if "date" not in top:
        top.fault("date", "is missing", "Write date = 2031-04-12.")
    people, stations = _names(top, "people"), _names(top, "stations")
    tasks = tuple(_task(table, people, stations) for table in top.tables("recipe"))
    if "recipe" not in top:
        top.fault("recipe", "no recipe is named", "Write [[recipe]] with name, make.")
    both_sides = top.flag("both_sides")
    rest = {
        "place": top.text("place"),
        "teacher": top.text("teacher"),
        "note": top.text("note"),
        "sheet": top.text("sheet"),
    }
    if day is None:
        return None
    return Workshop(
        title,
        day,
        tuple(task for task in tasks if task is not None),
        people=people,
        stations=stations,
        both_sides=both_sides is not False,
        **rest,
    )


def _names(top: Table, key: str) -> tuple[str, ...]:
    """Names, each once."""
    example = '["A. Teal", "R. Moss"]'
    found = top.words(key, _name, example)
    for name in dict.fromkeys(name for name in found if found.count(name) > 1):
        top.fault(key, f"{quoted(name)} stands there twice", "Write each name once.")
    if len(found) > _MOST_PEOPLE:
        top.fault(
            key, f"names {len(found)}", f"Write at most {_MOST_PEOPLE}: split the file."
        )
    return tuple(dict.fromkeys(found))


def _name(text: str) -> str:
    line = " ".join(text.split())
    if not line or not line.isprintable():
        raise BadInput(f"{quoted(text)} is no name", remedy="Write it in letters.")
    return line


def _task(
    table: Table, people: tuple[str, ...], stations: tuple[str, ...]
) -> Task | None:
    name = table.required_text("name", "borate-alkali")
    make = table.parsed("make", parse_amount, "250 mL")
    audience = _audience(table, people, stations)
    card = table.text("card") or "a5"
    sizes = table.words("sizes", parse_amount, '["250 mL", "500 mL"]')
    copies = table.number("copies", least=_ONE, most=_ONE * _MOST_COPIES)
    if copies is not None and copies != int(copies):
        table.fault("copies", f"{quoted(copies)} is not whole", "Write a whole number.")
    weigh_out = table.flag("weigh_out")
    table.close()
    if not name:
        return None
    return Task(
        name,
        make,
        audience,
        "" if card == NO_CARD else card,
        sizes,
        int(copies or 1),
        weigh_out is not False,
    )


def _audience(
    table: Table, people: tuple[str, ...], stations: tuple[str, ...]
) -> tuple[str, ...]:
    """Who mixes a batch each; ``only`` names some of them."""
    whom = table.choice("for", _FOR, "person" if people else "room")
    everyone = {"person": people, "station": stations, "room": ("",)}[whom]
    if not everyone:
        key = {"person": "people", "station": "stations"}[whom]
        table.fault(
            "for", f"{quoted(whom)}, but {key} names nobody", f"Write {key} = [...]."
        )
    known = partial(_one_of, known=everyone)
    only = table.words("only", known, '["A. Teal"]')
    return tuple(name for name in everyone if name in only) if only else everyone


def _one_of(text: str, *, known: Collection[str]) -> str:
    name = " ".join(text.split())
    if name not in known:
        listed = ", ".join(filter(None, known)) or "nobody"
        raise BadInput(
            f"{quoted(text)} is not among them",
            remedy=nearest(name, known) or f"Known: {listed}.",
        )
    return name
