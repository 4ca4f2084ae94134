"""From plain values to a page: the one place where HTML is written.

The style and the short script stand in every page, so that a page is whole in one file
and one request; the policy names both by their hashes and allows nothing else.
"""

from base64 import b64encode
from collections.abc import Iterable
from functools import cache
from hashlib import sha256
from typing import Any

from jinja2 import Environment, FunctionLoader, StrictUndefined
from markupsafe import Markup

from labelkit.pages.filters import FILTERS
from labelkit.resources import templates_dir

__all__ = ["GENERATOR", "pieces", "policy", "render"]

GENERATOR = "labelkit"
STYLES = ("style.css", "forms.css", "log.css")
SCRIPTS = ("date.js", "dose.js", "weigh.js")


def render(template: str, **values: Any) -> str:
    """The page of a template, by the file's name without ``.html``.

    Args:
        template: such as ``batch``.
        **values: what it says; a value it asks for and is not given is a fault of ours.
    """
    return _environment().get_template(f"{template}.html").render(values)


def pieces(template: str, names: Iterable[str], **values: Any) -> dict[str, Markup]:
    """The pieces that a template sets, each as HTML to stand in a page.

    Args:
        template: such as ``batch_frozen``.
        names: of the pieces.
        **values: what they say, as in `render`.
    """
    made = _environment().get_template(f"{template}.html").make_module(values)
    return {name: getattr(made, name) for name in names}


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
        auto_reload=False,
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
    environment.filters |= FILTERS
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
