"""Workshops: a TOML file that names recipes, people and quantities."""

from collections.abc import Callable, Collection
from decimal import Decimal
from functools import partial
from pathlib import Path
from typing import Protocol

from labelkit.chemistry.amounts import parse_amount
from labelkit.chemistry.numbers import quoted
from labelkit.errors import BadInput, ShelfError
from labelkit.files.tables import Faults, Table, nearest
from labelkit.files.toml import parse_toml, read_text
from labelkit.mixing.workshop import Task, Workshop

__all__ = ["Names", "is_a_workshop", "read_workshop", "workshop_from_text"]

_FOR = ("person", "station", "room")
_MOST_COPIES = 200
_MOST_PEOPLE = 100
_TOP_KEYS = (
    "title", "date", "place", "teacher", "people", "stations", "note", "sheet",
    "both_sides",
)  # fmt: skip
NO_CARD = "none"
# Keys that no recipe has.
_TELLING = frozenset({"recipe", "people", "stations", "teacher", "both_sides"})
_ONE = Decimal(1)


class Names(Protocol):
    """What the names in a workshop file stand for, at a bench.

    Every method raises `labelkit.errors.BadInput` where a name stands for nothing.
    """

    def recipe(self, name: str) -> object:
        """The recipe of that name."""

    def plan(self, task: Task) -> object:
        """The recipe of a task worked out for its quantity."""

    def sizes(self, task: Task) -> object:
        """The recipe of a task worked out for every size on its card."""

    def card(self, name: str) -> object:
        """The card layout of that name."""

    def sheet(self, name: str) -> object:
        """The sheet of that name."""


def is_a_workshop(path: Path) -> bool:
    """Whether a file is a workshop and no recipe, by its keys, faults or not."""
    try:
        keys = parse_toml(read_text(path), path.name).keys()
    except (BadInput, ShelfError):
        return False
    return "step" not in keys and bool(keys & _TELLING)


def read_workshop(path: Path, names: Names | None = None) -> Workshop:
    """The workshop in a file.

    Args:
        path: of the file.
        names: looks up what it names, so that a name that stands for nothing is told
            together with the other faults; without it, nothing is looked up.

    Raises:
        Unknown: there is no such file.
        BadInput: the file has faults; all of them are told.
        ShelfError: it cannot be opened.
    """
    return workshop_from_text(read_text(path), place=path.name, names=names)


def workshop_from_text(
    text: str, *, place: str = "workshop.toml", names: Names | None = None
) -> Workshop:
    """The workshop in a text; ``place`` is named before every fault.

    Raises:
        BadInput: the text has faults; all of them are told.
    """
    faults = Faults()
    top = Table(parse_toml(text, place), place, faults, _TOP_KEYS)
    workshop = _workshop(top, names)
    top.close()
    faults.raise_any()
    assert workshop is not None
    return workshop


def _workshop(top: Table, names: Names | None) -> Workshop | None:
    title = top.required_text("title", "Borate alkali for film")
    day = top.day("date")
    if "date" not in top:
        top.fault("date", "is missing", "Write date = 2031-04-12.")
    people, stations = _names(top, "people"), _names(top, "stations")
    tables = top.tables("recipe")
    tasks = tuple(_task(table, people, stations, names) for table in tables)
    if "recipe" not in top:
        top.fault("recipe", "no recipe is named", "Write [[recipe]] with name, make.")
    both_sides = top.flag("both_sides")
    rest = {
        "place": top.text("place"),
        "teacher": top.text("teacher"),
        "note": top.text("note"),
        "sheet": top.text("sheet"),
    }
    if names is not None and rest["sheet"]:
        _look_up(top, "sheet", partial(names.sheet, rest["sheet"]))
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
    table: Table,
    people: tuple[str, ...],
    stations: tuple[str, ...],
    names: Names | None,
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
    task = Task(
        name,
        make,
        audience,
        "" if card == NO_CARD else card,
        sizes,
        int(copies or 1),
        weigh_out is not False,
    )
    if names is not None:
        _look_up_task(table, task, names)
    return task if name else None


def _look_up_task(table: Table, task: Task, names: Names) -> None:
    """Note what a task names and is not there, or cannot be made so."""
    if task.card:
        _look_up(table, "card", partial(names.card, task.card))
    there = task.recipe and _look_up(table, "name", partial(names.recipe, task.recipe))
    if there and _look_up(table, "", partial(names.plan, task)):
        _look_up(table, "sizes", partial(names.sizes, task))


def _look_up(table: Table, key: str, look: Callable[[], object]) -> bool:
    """Whether what stands under a key is there; what is wrong with it is noted."""
    try:
        look()
    except BadInput as error:
        table.faults.take(error, f"{table.place}, {key}".removesuffix(", "))
        return False
    return True


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
