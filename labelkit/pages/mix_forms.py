"""What the forms of mixing send, read into what the desk understands."""

from collections.abc import Iterable, Mapping

from labelkit.errors import BadInput
from labelkit.mixing.desk import Finish, Typed, Wish
from labelkit.pages.asked import Asked

__all__ = ["finish_from", "neat", "one_each", "step_named", "typed_from", "wish_from"]

_LONGEST = 200
_MOST_DIGITS = 3
_FORM, _BOTTLE = "form", "bottle"


def neat(text: str) -> str:
    """The text on one line, without what cannot be printed, and not endless."""
    printable = "".join(c if c.isprintable() else " " for c in text[: 4 * _LONGEST])
    return " ".join(printable.split())[:_LONGEST]


def one_each(asked: Asked) -> dict[str, str]:
    """What was sent, one value for each name.

    Raises:
        BadInput: a name was sent with two values.
    """
    found = {}
    for name, values in asked.form.items():
        neatened = dict.fromkeys(neat(value) for value in values)
        if len(neatened) > 1:
            raise BadInput(
                f"{neat(name)} was sent with {len(neatened)} values",
                remedy="Open the page again, and fill each field once.",
            )
        found[name] = next(iter(neatened), "")
    return found


def wish_from(recipe: str, fields: Mapping[str, str]) -> Wish:
    """What someone wants mixed, from the fields of the plan's form or its address.

    An address may say ``swap=A=B,C=D``, ``stock=NAME=BATCH`` and ``lot=C=97%``; the
    form says ``take-A`` with ``form:B`` or ``bottle:BATCH``, and ``lot-A``.
    """
    swap = _pairs(fields.get("swap", ""))
    stock = _pairs(fields.get("stock", ""))
    lot = _pairs(fields.get("lot", ""))
    for name, word in _numbered(fields, "take-"):
        kind, _, value = word.partition(":")
        if kind == _FORM:
            swap[name] = value
        elif kind == _BOTTLE:
            stock[name] = value
    for name, word in _numbered(fields, "lot-"):
        if name not in stock:
            lot[swap.get(name, name)] = word
    return Wish(
        recipe,
        neat(fields.get("make", "")),
        swap,
        stock,
        lot,
        neat(fields.get("by", "")),
    )


def typed_from(fields: Mapping[str, str]) -> tuple[Typed, Typed]:
    """What a page showed when it was opened, and what is on it now, by step."""
    shown, now = (
        Typed(
            read=_steps(fields, f"{before}read-"),
            more=_steps(fields, f"{before}more-"),
            sure=_steps(fields, f"{before}sure-"),
            ticked=frozenset(_steps(fields, f"{before}tick-")),
        )
        for before in ("was-", "")
    )
    return shown, now


def finish_from(fields: Mapping[str, str]) -> Finish:
    """What is said at the end."""
    return Finish(
        made_up_to=fields.get("made-up-to", ""),
        ph=fields.get("ph", ""),
        density=fields.get("density", ""),
        into=fields.get("into", ""),
        by=fields.get("by", ""),
        use=fields.get("use", ""),
        seen=dict(_numbered(fields, "seen-")),
    )


def step_named(word: str) -> int | None:
    """The number of a step; None where the word is none."""
    short = len(word) <= _MOST_DIGITS
    return int(word) if short and word.isascii() and word.isdigit() else None


def _pairs(text: str) -> dict[str, str]:
    pieces = [piece for piece in neat(text).split(",") if piece.strip()]
    sides = (piece.partition("=") for piece in pieces)
    return {name.strip(): value.strip() for name, _, value in sides}


def _numbered(fields: Mapping[str, str], prefix: str) -> Iterable[tuple[str, str]]:
    """Every field whose name begins so and that says something."""
    for name, word in fields.items():
        if name.startswith(prefix) and neat(word):
            yield neat(name.removeprefix(prefix)), neat(word)


def _steps(fields: Mapping[str, str], prefix: str) -> dict[int, str]:
    found = ((step_named(name), word) for name, word in _numbered(fields, prefix))
    return {step: word for step, word in found if step is not None}
