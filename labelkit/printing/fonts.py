"""The type that is printed: widths, minimum sizes, and which characters there are.

One family in three weights, condensed by drawing, never by scaling.
"""

import re
import unicodedata
from collections.abc import Iterable
from decimal import Decimal
from functools import cache, lru_cache
from importlib.resources import files
from io import BytesIO
from struct import unpack_from
from typing import Any

from labelkit.errors import BadInput
from labelkit.hazards.label_size import label_size, points_for
from labelkit.printing.boxes import Weight

__all__ = [
    "MM_PER_PT",
    "WEIGHTS",
    "cap_height_mm",
    "clean",
    "figures_alike",
    "min_size_pt",
    "missing_glyphs",
    "register",
    "typeface",
    "width_mm",
    "x_height_share",
]

MM_PER_PT = 25.4 / 72

_FILES = {
    "regular": "IBMPlexSansCondensed-Regular.ttf",
    "semibold": "IBMPlexSansCondensed-SemiBold.ttf",
    "bold": "IBMPlexSansCondensed-Bold.ttf",
}
WEIGHTS: tuple[Weight, ...] = tuple(_FILES)

# Where OpenType keeps the figures: bytes from the start of the table.
_UNITS_PER_EM = ("head", 18, ">H")
_X_HEIGHT = ("OS/2", 86, ">h")
_CAP_HEIGHT = ("OS/2", 88, ">h")

# Greek letters whose twins among the signs are in the font: micro and ohm.
_TWINS = str.maketrans({"\u03bc": "\u00b5", "\u03a9": "\u2126"})
_RIGHT_TO_LEFT = {"R", "AL", "AN", "RLE", "RLO", "RLI"}
_NAMED = 2  # of several characters besides the first
_FIGURE = re.compile(r"[1-9]")
_FIRST_PICTURE = 0x1F000  # the first of the Unicode blocks that hold emoji


@cache
def typeface(weight: Weight) -> Any:
    """The reportlab font of a weight, read once per process."""
    from reportlab.pdfbase.ttfonts import TTFont

    folder = files("fontpkg_ibm_plex_sans_condensed") / "files"
    data = BytesIO((folder / _FILES[weight]).read_bytes())
    return TTFont(f"label-{weight}", data, asciiReadable=False, shapable=False)


def register(weights: Iterable[Weight] = WEIGHTS) -> dict[Weight, str]:
    """Make weights known to reportlab; the names it then knows them by."""
    from reportlab.pdfbase.pdfmetrics import registerFont

    fonts = {weight: typeface(weight) for weight in weights}
    for font in fonts.values():
        registerFont(font)
    return {weight: font.fontName for weight, font in fonts.items()}


def width_mm(text: str, weight: Weight, size_pt: float) -> float:
    """How wide text is set, without kerning [mm]."""
    return _width_em(text, weight) * size_pt * MM_PER_PT


@lru_cache(maxsize=16_384)
def _width_em(text: str, weight: Weight) -> float:
    face = typeface(weight).face
    widths, other = face.charWidths, face.defaultWidth
    return float(sum([widths.get(ord(mark), other) for mark in text])) / 1000


def figures_alike(text: str) -> str:
    """The text with its figures alike; they are all as wide."""
    return _FIGURE.sub("0", text)


def x_height_share() -> float:
    """Height of the small letters as a share of the type size, in the regular weight.

    The heavier weights are a little taller, so what holds for this one holds for all.
    """
    return _figure(_X_HEIGHT) / _figure(_UNITS_PER_EM)


def cap_height_mm(size_pt: float) -> float:
    """Height of a capital letter [mm] at a type size [pt]."""
    return _figure(_CAP_HEIGHT) / _figure(_UNITS_PER_EM) * size_pt * MM_PER_PT


@lru_cache(maxsize=64)
def min_size_pt(volume_mL: float) -> float:
    """The smallest type size [pt] on a vessel of a capacity [mL].

    From the x-height that Regulation (EU) 2024/2865 asks for and the font's own
    figures, rounded up to a tenth of a point.
    """
    litres = Decimal(max(volume_mL, 1.0)) / 1000  # 0 stands for no vessel at all
    x_height_mm = label_size(litres).x_height_mm
    share = Decimal(_figure(_X_HEIGHT)) / _figure(_UNITS_PER_EM)
    return float(points_for(x_height_mm, share))


@cache
def _figure(where: tuple[str, int, str]) -> int:
    table, offset, kind = where
    return int(unpack_from(kind, typeface("regular").face.get_table(table), offset)[0])


def missing_glyphs(text: str) -> str:
    """The characters of a text that one of the weights cannot print, in order."""
    return "".join(mark for mark in dict.fromkeys(text) if not _printable(mark))


@cache
def _printable(mark: str) -> bool:
    return all(ord(mark) in typeface(weight).face.charToGlyph for weight in WEIGHTS)


def clean(text: str, field: str) -> str:
    """The text as it is printed, or a fault that tells which characters cannot be.

    Accents are joined to their letters, and the Greek mu becomes the micro sign,
    which looks the same and is in the font.

    Raises:
        BadInput: naming the field and the first few of the characters.
    """
    joined = text if text.isascii() else unicodedata.normalize("NFC", text)
    printed = joined.translate(_TWINS)
    bad = [mark for mark in dict.fromkeys(printed) if _problem(mark)]
    if bad:
        told = f"{_problem(bad[0])}{_others(bad[1:])} in '{_shown(printed)}'"
        raise BadInput(told, place=field, remedy="Write it in other words.")
    return printed


def _others(bad: list[str]) -> str:
    """``, besides '⚠', U+0009 and 3 more,``; "" for none."""
    if not bad:
        return ""
    named = [f"'{m}'" if m.isprintable() else f"U+{ord(m):04X}" for m in bad[:_NAMED]]
    left = len(bad) - len(named)
    *front, last = [*named, f"{left} more"] if left else named
    return f", besides {' and '.join([', '.join(front), last] if front else [last])},"


@cache
def _problem(mark: str) -> str:
    name = f"U+{ord(mark):04X} {unicodedata.name(mark, '')}".rstrip()
    if unicodedata.category(mark) in {"Cc", "Cf", "Zl", "Zp", "Cs", "Co"}:
        return f"the invisible character {name}"
    if unicodedata.bidirectional(mark) in _RIGHT_TO_LEFT:
        return f"the letter '{mark}' ({name}) of a script that runs from right to left"
    if _printable(mark):
        return ""
    kind = "picture" if ord(mark) >= _FIRST_PICTURE else "character"
    return f"the {kind} '{mark}' ({name}), which the printed type does not have"


def _shown(text: str) -> str:
    words = text.replace("\u00a0", " ")
    visible = "".join(mark if mark.isprintable() else "\ufffd" for mark in words)
    return visible if len(visible) <= 40 else f"{visible[:39]}…"
