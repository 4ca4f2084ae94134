"""Text of a layout's own: a template over the bottle's words, run in a sandbox."""

import re
from collections.abc import Mapping
from functools import cache, lru_cache
from typing import Any

from msgspec import Struct
from msgspec.structs import asdict

from labelkit.errors import BadInput
from labelkit.mixing.words import BottleText, Run
from labelkit.printing.fonts import clean
from labelkit.printing.typeset import plain

__all__ = ["check_words", "own_words"]

_WHITE = re.compile(r"[ \t\r\n]+")


@lru_cache(maxsize=256)
def own_words(template: str, text: BottleText) -> str:
    """The template filled in.

    Raises:
        BadInput: it asks for what is not there, or says what cannot be printed.
    """
    try:
        said = _sandbox().from_string(template).render(_plain(text))
    except Exception as error:
        raise BadInput(
            f"'{template}' cannot be filled in: {error}",
            place="words",
            remedy=f"Use the names {', '.join(text.__struct_fields__)}.",
        ) from None
    return clean(_WHITE.sub(" ", said), "words")


def check_words(template: str) -> str:
    """What is wrong with a template as it is written; "" for nothing."""
    from jinja2 import TemplateSyntaxError

    try:
        _sandbox().parse(template)
    except TemplateSyntaxError as error:
        return str(error)
    return ""


@cache
def _sandbox() -> Any:
    from jinja2 import StrictUndefined
    from jinja2.sandbox import ImmutableSandboxedEnvironment

    return ImmutableSandboxedEnvironment(undefined=StrictUndefined, autoescape=False)


def _plain(value: Any) -> Any:
    """Values as plain dicts, lists and text, so that a template sees nothing else."""
    if isinstance(value, tuple):
        if value and all(isinstance(part, Run) for part in value):
            return plain(value)
        return [_plain(part) for part in value]
    if isinstance(value, Struct):
        return {name: _plain(part) for name, part in asdict(value).items()}
    if isinstance(value, Mapping):
        return {key: _plain(part) for key, part in value.items()}
    return value if isinstance(value, str | bool | int) or value is None else str(value)
