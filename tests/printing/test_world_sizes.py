"""Sizes on the finished file, in another program's reading, against the law.

Regulation (EC) No 1272/2008, Annex I, 1.2.1, Table 1.3: label and pictogram sizes by
capacity. Regulation (EU) 2024/2865: heights of the small letters and distance of the
lines, read through summaries, not in the Official Journal.
"""

from collections import defaultdict
from collections.abc import Iterator
from functools import cache
from io import BytesIO
from itertools import pairwise
from math import hypot, sqrt
from typing import Any

import cv2
import numpy as np
import pypdfium2
import pytest
from fontTools.ttLib import TTFont
from msgspec import Struct
from msgspec.structs import replace
from pypdf import PdfReader

from labelkit.mixing.bench import Settings
from labelkit.mixing.words import BottleText
from labelkit.printing.boxes import Symbol
from labelkit.printing.fit import Placement
from labelkit.printing.label import place_label
from labelkit.printing.layouts import built_in
from tests.printing.world_loads import LOADS, load
from tests.printing.world_prints import LABELS, PRINTS, label_in, pdf_of, printed

MM = 25.4 / 72
DPI = 600

# Capacity [mL]: x-height [mm], label and side of a pictogram [mm]; at each limit of
# the table and just above the one before.
TABLE = {
    25: (1.2, (52, 74), 10),
    500: (1.2, (52, 74), 10),
    501: (1.4, (52, 74), 10),
    3000: (1.4, (52, 74), 10),
    3001: (1.8, (74, 105), 23),
    50_000: (1.8, (74, 105), 23),
    50_001: (2.0, (105, 148), 32),
    500_000: (2.0, (105, 148), 32),
    500_001: (2.0, (148, 210), 46),
}


class Said(Struct, frozen=True):
    """A stretch of text as the file draws it.

    Attributes:
        x_height: of its font at its size [mm].
        size: of its type [mm].
        x: where it begins; y, its baseline [mm].
    """

    words: str
    x_height: float
    size: float
    x: float
    y: float


def x_share(font: Any) -> float:
    """Height of a small x over the type size, from the font inside the file."""
    descriptor = font["/FontDescriptor"]
    inside = TTFont(BytesIO(descriptor["/FontFile2"].get_data()))
    return float(inside["OS/2"].sxHeight / inside["head"].unitsPerEm)


def said_on(pdf: bytes) -> Iterator[Said]:
    """Everything that is written in a file, as pypdf reads it."""
    for page in PdfReader(BytesIO(pdf)).pages:
        found: list[Said] = []
        shares: dict[str, float] = {}

        def note(
            words: str,
            cm: list[float],
            tm: list[float],
            font: Any,
            size: float,
            found: list[Said] = found,
            shares: dict[str, float] = shares,
        ) -> None:
            if not words.strip():
                return
            name = font["/BaseFont"]
            if name not in shares:
                shares[name] = x_share(font)
            scale = hypot(cm[0], cm[1]) * hypot(tm[0], tm[1])
            high = size * scale * MM
            x = (tm[4] * cm[0] + tm[5] * cm[2] + cm[4]) * MM
            y = (tm[4] * cm[1] + tm[5] * cm[3] + cm[5]) * MM
            found.append(Said(plain(words), high * shares[name], high, x, y))

        page.extract_text(visitor_text=note)
        yield from found


def plain(words: str) -> str:
    return " ".join(words.replace("\u00a0", " ").split())


@cache
def chosen(name: str, mL: int) -> tuple[BottleText, Placement]:
    """A bottle, and the label that is printed for it where none is named."""
    text = load(name, mL)
    settings = Settings(profile="supply", keyline=False)
    return text, place_label(text, layout=None, settings=settings)


CHOSEN = [
    (name, mL)
    for mL in TABLE
    for name in (("one", "five", "corr") if mL <= 500_000 else ("one",))
]


@pytest.mark.parametrize(("name", "mL"), CHOSEN)
def test_the_label_that_is_taken_is_no_smaller_than_the_law_asks(
    name: str, mL: int
) -> None:
    _, placement = chosen(name, mL)
    least_low, least_high = TABLE[mL][1]
    for page in PdfReader(BytesIO(printed(*placement.pages))).pages:
        low, high = sorted(float(v) * MM for v in page.mediabox[2:])
        assert low >= least_low - 0.01
        assert high >= least_high - 0.01


@pytest.mark.parametrize(("name", "mL"), CHOSEN)
def test_pictograms_are_as_large_as_the_law_asks(name: str, mL: int) -> None:
    text, placement = chosen(name, mL)
    found = diamonds_on(printed(*placement.pages))
    assert len(found) % len(text.hazard.pictograms) == 0
    assert found
    # the side of the red square, not the width of the diamond: design, print-spec r2
    sides = [across / sqrt(2) for across in found]
    assert min(sides) >= TABLE[mL][2] - 2 * 25.4 / DPI


def diamonds_on(pdf: bytes) -> list[float]:
    """How wide each red frame of a file is, from tip to tip [mm]."""
    wide: list[float] = []
    for page in pypdfium2.PdfDocument(pdf):
        blue, green, red = cv2.split(page.render(scale=DPI / 72).to_numpy()[:, :, :3])
        frames = (red > 150) & (green < 120) & (blue < 120)
        count, _, told, _ = cv2.connectedComponentsWithStats(frames.astype(np.uint8))
        wide += [float(told[n][2]) / DPI * 25.4 for n in range(1, count)]
    return wide


def test_the_measure_of_a_pictogram_sees_one_that_is_too_small() -> None:
    _, placement = chosen("one", 500)
    page = placement.page
    small = [replace(b, side=9.7) if isinstance(b, Symbol) else b for b in page.boxes]
    (across,) = diamonds_on(printed(replace(page, boxes=tuple(small))))
    assert across / sqrt(2) == pytest.approx(9.7, abs=0.1)


# ---------------------------------------------------------------- type


def hazard_block(text: BottleText) -> str:
    hazard = text.hazard
    told = ["".join(run.text for run in words) for words in hazard.precautions]
    return plain(" ".join((hazard.contains, *hazard.statements, *told)))


def stretches_of(text: BottleText, placement: Placement) -> list[Said]:
    """What the file says of the hazards; all of it, or the check is void."""
    said = list(said_on(printed(*placement.pages)))
    block = hazard_block(text)
    found = [one for one in said if one.words in block and len(one.words) > 1]
    together = plain(" ".join(one.words for one in found))
    assert block.replace(" ", "") in together.replace(" ", "")
    return found


@pytest.mark.parametrize(("name", "mL"), CHOSEN)
def test_small_letters_are_as_high_as_the_law_asks(name: str, mL: int) -> None:
    least = TABLE[mL][0]
    for said in stretches_of(*chosen(name, mL)):
        assert said.x_height >= least, said


@pytest.mark.parametrize(("name", "mL"), CHOSEN)
def test_lines_stand_as_far_apart_as_the_law_asks(name: str, mL: int) -> None:
    """At least 120 %, of the size of the type, the larger of two readings."""
    lines: dict[float, list[Said]] = defaultdict(list)
    for said in stretches_of(*chosen(name, mL)):
        lines[round(said.x, 2)].append(said)
    steps = [
        (abs(upper.y - lower.y), upper.size)
        for column in lines.values()
        for upper, lower in pairwise(column)
        if upper.y != lower.y
    ]
    assert steps
    for step, size in steps:
        assert step >= 1.2 * size - 0.01


@pytest.mark.parametrize("layout", LABELS)
@pytest.mark.parametrize("mL", [500, 3000, 50_000, 60_000])
def test_a_layout_that_is_named_keeps_the_same_minimum(layout: str, mL: int) -> None:
    """On the glass under a tag only the floor of all labels holds."""
    made_for = next(one for one in built_in() if one.name == layout)
    held = [name for name in LOADS[1:] if label_in(layout, load(name, mL))]
    for name in held[:2]:
        text = load(name, mL)
        placement = label_in(layout, text)
        assert placement is not None
        if made_for.kind == "label":
            high = [said.x_height for said in stretches_of(text, placement)]
            assert min(high) >= TABLE[{60_000: 500_000}.get(mL, mL)][0]


@pytest.mark.parametrize("name", [one for one in PRINTS if one != "calibration"])
def test_nothing_at_all_is_printed_smaller_than_the_smallest_type(name: str) -> None:
    # 6.6 pt, so 1.2 mm: design, print-spec section 3
    high = [said.x_height for said in said_on(pdf_of(name))]
    assert high
    assert min(high) >= 1.2


@pytest.mark.parametrize("name", ["label tall", "label drum", "card a6"])
def test_pdfium_measures_the_same_letters_as_high(name: str) -> None:
    """Its boxes are of the ink: an x is as high as the font's figure says."""
    pages = [page.get_textpage() for page in pypdfium2.PdfDocument(pdf_of(name))]
    boxes = [
        page.get_charbox(at)
        for page in pages
        for at, sign in enumerate(page.get_text_range())
        if sign == "x"
    ]
    ink = {round((top - bottom) * MM, 2) for _, bottom, _, top in boxes}
    told = {
        round(said.x_height, 2) for said in said_on(pdf_of(name)) if "x" in said.words
    }
    assert ink
    for high in ink:
        assert min(abs(high - other) for other in told) <= 0.02
