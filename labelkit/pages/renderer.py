"""From plain values to a page: the one place where HTML is written.

The style and the short script stand in every page, so that a page is whole in one file
and one request; the policy names both by their hashes and allows nothing else.
"""

import re
from base64 import b64encode
from collections.abc import Iterable
from functools import cache
from hashlib import sha256
from itertools import groupby
from typing import Any

from jinja2 import Environment, FunctionLoader, StrictUndefined
from markupsafe import Markup, escape

from labelkit.mixing.said import in_vessel
from labelkit.mixing.words import CardRow
from labelkit.pages.pictures import CODES, picture
from labelkit.resources import templates_dir

__all__ = ["GENERATOR", "policy", "render"]

GENERATOR = "labelkit"
STYLES = ("style.css", "forms.css", "log.css")
SCRIPTS = ("date.js", "dose.js", "weigh.js")
_FIGURE = re.compile(r"[\d.,½→]+\Z")
_DATE = re.compile(r"\d{4}-\d\d-\d\d")
_SIGNS = {"=", "+"}


def render(template: str, **values: Any) -> str:
    """The page of a template, by the file's name without ``.html``.

    Args:
        template: such as ``batch``.
        **values: what it says; a value it asks for and is not given is a fault of ours.
    """
    return _environment().get_template(f"{template}.html").render(values)


@cache
def policy() -> str:
    """What a page may load or run: its own style, its own script, nothing else.

    Content Security Policy Level 3 (W3C).
    """
    return "; ".join(
        (
            "default-src 'none'",
            f"style-src {_hashes(STYLES)}",
            f"script-src {_hashes(SCRIPTS)}",
            "img-src data:",
            "connect-src 'self'",
            "base-uri 'none'",
            "form-action 'self'",
        )
    )


@cache
def _environment() -> Environment:
    environment = Environment(
        loader=FunctionLoader(_file),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    environment.globals |= {
        "inline": _inline,
        "policy": policy(),
        "generator": GENERATOR,
    }
    environment.filters |= {
        "dated": _dated,
        "equation": _equation,
        "picture": _picture,
        "vessels": _vessels,
    }
    return environment


@cache
def _file(name: str) -> str:
    return (templates_dir() / "pages" / name).read_text("utf-8")


def _inline(name: str) -> Markup:
    """A style or script of ours, to stand in the page."""
    return Markup(_file(name))  # noqa: S704 - a file of ours


def _hashes(names: Iterable[str]) -> str:
    return " ".join(f"'{_hash(_file(name))}'" for name in names)


def _hash(text: str) -> str:
    return f"sha256-{b64encode(sha256(text.encode()).digest()).decode()}"


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
    """``20 mL = 1 g`` as figures, units and signs; a headline without figures whole."""
    tokens = text.replace("\u00a0", " ").split()
    if not any(map(_FIGURE.match, tokens)):
        return [("whole", " ".join(tokens))]
    return [(_kind(token), token) for token in _joined(tokens)]


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
