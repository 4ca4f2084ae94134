"""Recipes written for a test, and what their plans tell."""

from collections.abc import Callable, Iterable
from typing import Any

from tests.chemistry.published import Case
from tests.mixing.conftest import Room

Figures = dict[str, float | str]
Worked = Callable[[Case, Room], Figures]

METABORATE = """
[[reaction]]
from = ["borax-decahydrate", "sodium-hydroxide"]
to   = ["sodium-metaborate-tetrahydrate"]

[strength]
of = "sodium-metaborate-tetrahydrate"
"""


def text(makes: str, steps: Iterable[tuple[str, str]], *tables: str) -> str:
    """A recipe of these steps that is filled up to what it makes."""
    written = [f'title = "Worked example"\nmakes = "{makes}"', *tables]
    for add, amount in steps:
        written.append(f'[[step]]\nadd = "{add}"\namount = "{amount}"')
    return "\n".join([*written, f'[[step]]\nmake_up_to = "{makes}"'])


# Far more lye than the borax can take: a warning
LYE_LEFT = text(
    "1 L",
    [("water", "800 mL"), ("borax-decahydrate", "20 g"), ("sodium-hydroxide", "8 g")],
    METABORATE,
)


def salt(id_: str, formula: str, **more: str) -> str:
    """A chemical of one's own."""
    table = {"id": id_, "formula": formula, "state": "solid", **more}
    lines = [f"{key} = {value!r}" for key, value in table.items()]
    return "\n".join(["[[chemical]]", f'names = ["{id_}"]', *lines])


def sold_solution(formula: str, percent: float, density: float) -> str:
    """A solution of one's own, as it is sold."""
    lines = [
        "[[chemical]]",
        'id = "sold"',
        'names = ["sold"]',
        f'formula = "{formula}"',
        'state = "solution"',
        f"percent_by_mass = {percent}",
        f'density = "{density} g/mL"',
    ]
    return "\n".join(lines)


def content(plan: dict[str, Any], chemical: str) -> dict[str, float]:
    """The line of one chemical among what a plan contains."""
    (line,) = (c for c in plan["contents"] if c["chemical"] == chemical)
    return dict(line)


def formula_of(chemical: str, room: Room) -> str:
    formula = room.books.catalogue.substance(chemical).formula
    assert formula is not None
    return formula.replace(".", "·")
