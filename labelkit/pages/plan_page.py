"""The page of a plan: the form as it was filled in, and what comes of it."""

from collections.abc import Collection, Mapping
from typing import Any

from msgspec import Struct

from labelkit.errors import Fault, LabelkitError, ShelfError, Unknown
from labelkit.mixing.check import Level
from labelkit.mixing.desk import Choice, Desk, PlanSheet, Wish
from labelkit.mixing.remarks import is_reserved

__all__ = ["plan_values"]

_UNPROCESSABLE = 422
_FIELDS = {"--make": "make", "--swap": "take", "--stock": "take", "--lot": "lot"}


class _Taken(Struct, frozen=True):
    """A choice as it stands in the form.

    Attributes:
        chosen: the value of the option that is chosen; "" for the recipe's own.
        lot: the assay that was typed.
        fault: what is wrong with either.
    """

    choice: Choice
    chosen: str
    lot: str
    fault: str = ""

    @property
    def reserved(self) -> str:
        """That the bottle that is chosen is somebody's; "" for none such."""
        for bottle in self.choice.bottles:
            if self.chosen == f"bottle:{bottle.value}" and is_reserved(bottle.mark):
                return f"{bottle.text} is marked {bottle.mark}."
        return ""

    @property
    def unlisted(self) -> str:
        """What is chosen and in no list, such as a bottle that is gone; else ""."""
        forms = [f"form:{form.value}" for form in self.choice.forms]
        bottles = [f"bottle:{bottle.value}" for bottle in self.choice.bottles]
        listed = self.chosen in (*forms, *bottles)
        return "" if listed else self.chosen.partition(":")[2]


def plan_values(
    desk: Desk, wish: Wish, refused: LabelkitError | None = None
) -> tuple[int, dict[str, Any]]:
    """The status and what the template is told.

    Args:
        desk: works it out.
        wish: from the form.
        refused: why it could not be begun; None where that was not asked.

    Raises:
        Unknown: there is no such recipe.
    """
    try:
        sheet = desk.plan(wish)
    except (ShelfError, Unknown) as error:
        if isinstance(error, ShelfError) or not _is_of_the_form(error):
            raise
        return _UNPROCESSABLE, _faulty(desk, wish, error)
    except LabelkitError as error:
        return _UNPROCESSABLE, _faulty(desk, wish, error)
    if refused is not None:
        return _UNPROCESSABLE, _values(sheet, sheet, wish, {"": _lines(refused)})
    return 200, _values(sheet, sheet, wish, {})


def _faulty(desk: Desk, wish: Wish, error: LabelkitError) -> dict[str, Any]:
    """The form with its faults; without one where the recipe itself has them."""
    try:
        plain = desk.plan(Wish(wish.recipe))
    except ShelfError:
        raise
    except LabelkitError as its_own:
        return _values(None, None, wish, {"": _lines(its_own)})
    return _values(plain, None, wish, _by_field(error, wish, plain.choices))


def _values(
    form: PlanSheet | None,
    sheet: PlanSheet | None,
    wish: Wish,
    faults: Mapping[str, str],
) -> dict[str, Any]:
    choices = form.choices if form else ()
    taken = [_taken(choice, wish, faults) for choice in choices]
    checks = sheet.checks if sheet else ()
    return {
        "name": form.wish.recipe if form else wish.recipe,
        "form": form,
        "sheet": sheet,
        "wish": wish,
        "taken": taken,
        "reserved": [one.reserved for one in taken if one.reserved],
        "changed": any(one.chosen or one.lot for one in taken),
        "faults": faults,
        "grave": [c for c in checks if c.level is Level.STOP],
        "remarks_told": [c for c in checks if c.level is not Level.STOP],
    }


def _taken(choice: Choice, wish: Wish, faults: Mapping[str, str]) -> _Taken:
    name, chosen = choice.name, ""
    if name in wish.stock:
        chosen = f"bottle:{wish.stock[name]}"
    elif name in wish.swap:
        chosen = f"form:{wish.swap[name]}"
    lot = wish.lot.get(wish.swap.get(name, name), "")
    fault = faults.get(f"take-{name}", faults.get(f"lot-{name}", ""))
    return _Taken(choice, chosen, lot, fault)


def _is_of_the_form(error: LabelkitError) -> bool:
    """Whether it is a chemical or a bottle that is unknown, and not the recipe."""
    return any(fault.place.startswith("-") for fault in error.faults)


def _by_field(
    error: LabelkitError, wish: Wish, choices: Collection[Choice]
) -> dict[str, str]:
    """The faults by the field they stand beside; "" for those of none."""
    fields = {"make"} | {f"take-{c.name}" for c in choices if c.forms or c.bottles}
    fields |= {f"lot-{c.name}" for c in choices if not c.poured}
    found: dict[str, list[str]] = {}
    for fault in error.faults:
        field = _field(fault, wish)
        shown = field if field in fields else ""
        found.setdefault(shown, []).append(_line(fault))
    return {name: " ".join(lines) for name, lines in found.items()}


def _field(fault: Fault, wish: Wish) -> str:
    kind = _FIELDS.get(fault.place.split(",")[0], "")
    if kind in ("", "make"):
        return kind
    asked = wish.lot if kind == "lot" else {**wish.swap, **wish.stock}
    names = [name for name, value in asked.items() if value and value in str(fault)]
    names = names or list(asked)
    if len(names) != 1:
        return ""
    before = {into: out for out, into in wish.swap.items()}
    name = names[0] if kind == "take" else before.get(names[0], names[0])
    return f"{kind}-{name}"


def _lines(error: LabelkitError) -> str:
    return "\n".join(map(str, error.faults))


def _line(fault: Fault) -> str:
    told = f"{fault.problem}. {fault.remedy}".strip()
    return f"{told[:1].upper()}{told[1:]}"
