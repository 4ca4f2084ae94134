"""The headline: an equation whose figures are read from across the room."""

import re
from functools import lru_cache

from labelkit.mixing.words import Headline, Run, Words
from labelkit.printing.typeset import Pieces, bearing_mm, width_of

__all__ = ["equation", "headline_width_mm", "is_in_name", "largest_pt", "substance"]

UNIT = 0.42  # of the figure
SIGN = 0.55  # of the figure
# White, as a space in type of this share of the figure.
_BEFORE_UNIT = 0.12
_ROUND_SIGN = 0.36
_BETWEEN_WORDS = 0.42

_FIGURE = re.compile(r"[\d.,½→]+\Z")
_SIGNS = {"=", "+"}


@lru_cache(maxsize=1024)
def equation(text: str, size_pt: float) -> Pieces:
    """``20 mL = 1 g`` with its figures large, its units and signs smaller.

    A headline without a figure, ``USE AS IS``, is set large as a whole.
    """
    tokens = text.replace("\u00a0", " ").split()
    if not any(map(_FIGURE.match, tokens)):
        return ((" ".join(tokens), "bold", size_pt),)
    pieces: Pieces = ()
    before = ""
    for token in tokens:
        if before:
            gap = _gap(before, token)
            pieces += ((" ", "regular", round(size_pt * gap, 3)),)
        pieces += (_piece(token, size_pt),)
        before = token
    return pieces


def _piece(token: str, size_pt: float) -> tuple[str, str, float]:
    if token in _SIGNS:
        return token, "regular", round(size_pt * SIGN, 3)
    if _FIGURE.match(token):
        return token, "bold", size_pt
    return token, "semibold", round(size_pt * UNIT, 3)


def _gap(before: str, token: str) -> float:
    if before in _SIGNS or token in _SIGNS:
        return _ROUND_SIGN
    figures = bool(_FIGURE.match(before)), bool(_FIGURE.match(token))
    return _BEFORE_UNIT if figures == (True, False) else _BETWEEN_WORDS


def headline_width_mm(text: str, size_pt: float) -> float:
    """How wide a headline is, hung [mm]."""
    pieces = equation(text, size_pt)
    return width_of(pieces) - (bearing_mm(*pieces[0]) if pieces else 0.0)


@lru_cache(maxsize=1024)
def largest_pt(text: str, width: float, wanted: float, smallest: float) -> float:
    """The largest size [pt] at which a headline is no wider than ``width`` [mm].

    From ``wanted`` down by one point; ``smallest`` where even that is too wide.
    """
    size = wanted
    while size > smallest and headline_width_mm(text, size) > width:
        size = max(size - 1, smallest)
    return size


def substance(headline: Headline) -> Words:
    """What the headline is about, its hydrate word lighter."""
    if not headline.hydrate:
        return (Run(headline.substance, strong=True),)
    return (Run(f"{headline.substance} ", strong=True), Run(headline.hydrate))


def is_in_name(headline: Headline, name: str) -> bool:
    """Whether the bottle's name already says the substance and its form."""
    told = name.casefold()
    return (
        headline.kind == "equivalence"
        and headline.substance.casefold() in told
        and headline.hydrate.casefold() in told
    )
