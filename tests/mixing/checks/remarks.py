"""Recipes in a few words, and what is remarked on them."""

from collections.abc import Iterable, Mapping

from msgspec.structs import replace

from labelkit.files.legal import read_legal_notes
from labelkit.mixing.check import Check, Level
from labelkit.mixing.doses import Stock
from tests.mixing.conftest import Room

Step = str | tuple[str, ...]


def water(volume_mL: float, at_C: float = 20) -> Step:
    """Tap water of a temperature."""
    return ("water", f"{volume_mL} mL", f'at = "{at_C} degC"')


def recipe(*steps: Step, makes: str = "1 L", head: str = "", fill: bool = True) -> str:
    """A recipe: each step as (chemical, amount, further lines) or as plain lines."""
    lines = ['title = "Remarked on"', f'makes = "{makes}"', head]
    for step in steps:
        lines.append("[[step]]")
        lines += [step] if isinstance(step, str) else _adding(*step)
    if fill:
        lines += ["[[step]]", f'make_up_to = "{makes}"']
    return "\n".join(lines)


def own(id_: str, *tags: str, state: str = "solid", more: str = "") -> str:
    """A chemical of one's own with these tags; it stands after the recipe's steps."""
    listed = ", ".join(f'"{tag}"' for tag in tags)
    return (
        f'\n[[chemical]]\nid = "{id_}"\nnames = ["{id_}"]\nstate = "{state}"\n'
        f'tags = [{listed}]\nsource = "made up for a test"\n{more}'
    )


def _adding(chemical: str, amount: str, *more: str) -> Iterable[str]:
    return (f'add = "{chemical}"', f'amount = "{amount}"', *more)


def remarks(
    room: Room,
    text: str,
    *codes: str,
    make: str | None = None,
    stocks: Mapping[str, Stock] | None = None,
) -> list[Check]:
    """The remarks of these codes on a recipe; all of them where none is named."""
    plan = room.plan(text, make, stocks=stocks)
    return [check for check in plan.checks if not codes or check.code in codes]


def levels(room: Room, text: str, *codes: str) -> list[tuple[Level, int | None]]:
    """Level and step of each remark of these codes."""
    return [(check.level, check.step) for check in remarks(room, text, *codes)]


def only(room: Room, text: str, code: str) -> Check:
    """The one remark of that code."""
    found = remarks(room, text, code)
    assert len(found) == 1, [check.text for check in found]
    return found[0]


def with_law(room: Room, **settings: str) -> Room:
    """A room that knows the notes on the law, with other settings."""
    books = replace(room.books, legal=read_legal_notes())
    return replace(room, books=books).set_up(**settings)
