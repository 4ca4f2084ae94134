"""What the templates say of a value that is not there as a page shows it."""

import re
from collections.abc import Iterable, Iterator
from itertools import groupby

from markupsafe import Markup, escape

from labelkit.mixing.said import in_vessel
from labelkit.mixing.words import CardRow, Words
from labelkit.pages.pictures import CODES, picture

__all__ = ["FILTERS"]

_FIGURE = re.compile(r"[\d.,½→]+\Z")
_DATE = re.compile(r"\d{4}-\d\d-\d\d")
_SIGNS = {"=", "+"}


def _words(runs: Words) -> Markup:
    """Runs of text, those in the heavier weight as strong."""
    told = [
        f"<strong>{escape(run.text)}</strong>" if run.strong else escape(run.text)
        for run in runs
    ]
    return Markup("".join(told))  # noqa: S704 - escaped before


def _picture(code: str) -> Markup:
    """The drawing; nothing for a code of a later standard, whose word still stands."""
    drawn = picture(code) if code in CODES else ""
    return Markup(drawn)  # noqa: S704 - made of fixed tags by pictures


def _dated(text: str) -> Markup:
    """The text with dates that no line breaks within."""
    bound = _DATE.sub(r'<span class="day">\g<0></span>', str(escape(text)))
    return Markup(bound)  # noqa: S704 - escaped before


def _vessels(rows: Iterable[CardRow]) -> list[tuple[str, list[CardRow]]]:
    """Steps that follow one another in one vessel, under what it is called."""
    return [
        (in_vessel(vessel) if vessel else "", list(group))
        for vessel, group in groupby(rows, key=lambda row: row.vessel)
    ]


def _equation(text: str) -> list[tuple[str, str]]:
    """``20 mL = 1 g`` as figures, units and signs; a headline without figures whole.

    White stands round what is no figure, but not at either end.
    """
    tokens = text.replace("\u00a0", " ").split()
    if not any(map(_FIGURE.match, tokens)):
        return [("whole", " ".join(tokens))]
    return list(_spaced([(_kind(token), token) for token in _joined(tokens)]))


def _spaced(told: list[tuple[str, str]]) -> Iterator[tuple[str, str]]:
    last = len(told) - 1
    for n, (kind, token) in enumerate(told):
        if kind == "figure":
            yield kind, token
        else:
            yield kind, f"{' ' if n else ''}{token}{' ' if n < last else ''}"


def _joined(tokens: Iterable[str]) -> list[str]:
    """Words that follow one another stay together: ``Bag makes``."""
    kept: list[str] = []
    for token in tokens:
        if kept and _kind(token) == _kind(kept[-1]) == "unit":
            kept[-1] = f"{kept[-1]} {token}"
        else:
            kept.append(token)
    return kept


def _kind(token: str) -> str:
    if token in _SIGNS:
        return "sign"
    return "figure" if _FIGURE.match(token) else "unit"


FILTERS = {
    "dated": _dated,
    "equation": _equation,
    "picture": _picture,
    "vessels": _vessels,
    "words": _words,
}
