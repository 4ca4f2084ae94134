"""Ink on its ground by the formula of WCAG 2, in colour, in grey and under red light.

Relative luminance and contrast ratio: WCAG 2.2, definitions. What is asked: 7:1 for
text (success criterion 1.4.6), 3:1 for lines that carry meaning (1.4.11).
"""

from collections import Counter
from collections.abc import Iterator
from functools import cache
from io import BytesIO
from typing import Any

import cv2
import numpy as np
import pypdfium2
import pytest
from pypdf import PdfReader
from pypdf.generic import ContentStream

from labelkit.printing.boxes import Page, Symbol
from tests.printing.world_prints import LABELS, PRINTS, label, pdf_of, printed

DPI = 150
Colour = tuple[int, int, int]
Picture = np.ndarray[Any, np.dtype[np.uint8]]
BLACK, WHITE, RED = (0, 0, 0), (255, 255, 255), (0xCC, 0x0D, 0x1F)
TINT = (236, 236, 236)  # 7.5 % of black
PICTOGRAMS = [f"GHS0{n}" for n in range(1, 10)]


def luminance(colour: Colour) -> float:
    parts = [value / 255 for value in colour]
    linear = [
        v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in parts
    ]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: Colour, other: Colour) -> float:
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        (BLACK, WHITE, 21),
        ((0x76, 0x76, 0x76), WHITE, 4.54),  # the lightest grey of 4.5:1; from memory
        ((255, 0, 0), WHITE, 4.0),  # design, print-spec section 7
        (RED, WHITE, 5.8),  # likewise
        (BLACK, TINT, 17),  # likewise
    ],
)
def test_the_formula_gives_the_figures_that_are_known(
    one: Colour, other: Colour, ratio: float
) -> None:
    assert contrast(one, other) == pytest.approx(
        ratio, abs=0.9 if ratio == 17 else 0.05
    )


# ---------------------------------------------------------------- inks


def inks_of(pdf: bytes) -> set[Colour]:
    """Every colour that a file sets, on its pages and in its forms."""
    seen = PdfReader(BytesIO(pdf))
    found: set[Colour] = set()
    for page in seen.pages:
        resources: Any = page["/Resources"]
        forms = resources.get("/XObject", {})
        streams = [page.get_contents(), *(form.get_object() for form in forms.values())]
        for stream in streams:
            for operands, operator in ContentStream(stream, seen).operations:
                found |= set(_colour(operands, operator))
    return found


def _colour(operands: Any, operator: bytes) -> Iterator[Colour]:
    if operator in (b"g", b"G"):
        yield (round(float(operands[0]) * 255),) * 3
    elif operator in (b"rg", b"RG"):
        red, green, blue = (round(float(value) * 255) for value in operands)
        yield red, green, blue
    else:
        assert operator not in (b"k", b"K", b"cs", b"CS", b"sc", b"scn", b"sh")


@pytest.mark.parametrize("name", PRINTS)
def test_no_other_ink_is_used_than_the_four_whose_contrast_is_known(name: str) -> None:
    assert inks_of(pdf_of(name)) <= {BLACK, WHITE, RED, TINT}


def test_every_ink_is_met_somewhere() -> None:
    met = {
        ink
        for name in ("label tall", "card a5", "card a4")
        for ink in inks_of(pdf_of(name))
    }
    assert met == {BLACK, WHITE, RED, TINT}


@pytest.mark.parametrize(
    ("ink", "ground", "least"),
    [(BLACK, WHITE, 7), (WHITE, BLACK, 7), (BLACK, TINT, 7), (RED, WHITE, 3)],
)
def test_every_ink_stands_out_on_its_ground(
    ink: Colour, ground: Colour, least: float
) -> None:
    assert contrast(ink, ground) >= least


# ---------------------------------------------------------------- as it is seen


@cache
def sheets(name: str) -> tuple[tuple[Picture, tuple[tuple[int, ...], ...]], ...]:
    """Each page in colour, and where pdfium says that words stand [pixels]."""
    seen = []
    for page in pypdfium2.PdfDocument(pdf_of(name)):
        picture = page.render(scale=DPI / 72).to_numpy()[:, :, :3]
        words = page.get_textpage()
        high, k = page.get_height(), DPI / 72
        every = [words.get_rect(n) for n in range(words.count_rects())]
        rects = [rect for rect in every if words.get_text_bounded(*rect).strip()]
        places = tuple(
            (int(left * k), int((high - top) * k), int(right * k) + 1,
             int((high - bottom) * k) + 1)
            for left, bottom, right, top in rects
        )  # fmt: skip
        seen.append((cv2.cvtColor(picture, cv2.COLOR_BGR2RGB), places))
    return tuple(seen)


def words_on(name: str) -> Iterator[Picture]:
    for picture, places in sheets(name):
        for left, top, right, bottom in places:
            yield picture[top:bottom, left:right]


@pytest.mark.parametrize("name", PRINTS)
def test_all_words_stand_out_from_what_is_seen_round_them(name: str) -> None:
    seen = 0
    for words in words_on(name):
        pixels: list[list[int]] = words.reshape(-1, 3).tolist()
        colours = Counter((red, green, blue) for red, green, blue in pixels)
        ground = colours.most_common(1)[0][0]
        best = max(contrast(ground, colour) for colour in colours)
        assert best >= 7
        seen += 1
    assert seen


def dark_share(channel: np.ndarray[Any, Any]) -> float:
    return float((channel < 128).mean())


@pytest.mark.parametrize("name", PRINTS)
def test_words_lose_nothing_in_grey_or_under_red_light(name: str) -> None:
    """A red safelight shows the red channel; a black printer the luma of Rec. 601."""
    for words in words_on(name):
        ink = dark_share(words.max(axis=2))  # dark in every channel
        assert dark_share(words[:, :, 0]) == pytest.approx(ink, abs=0.01)
        assert dark_share(cv2.cvtColor(words, cv2.COLOR_RGB2GRAY)) >= ink - 0.01


# ---------------------------------------------------------------- pictograms

SIDE_MM, FINE = 16.0, 600


def symbol(code: str, *, keyline: bool = True, mono: bool = False) -> Picture:
    """A pictogram in colour, cut out at its tips."""
    at = Symbol(5, 5, SIDE_MM, code, keyline=keyline)
    pdf = printed(Page(40, 40, (at,)), mono=mono)
    shown = pypdfium2.PdfDocument(pdf)[0].render(scale=FINE / 72).to_numpy()
    low = int(5 / 25.4 * FINE)
    high = low + int(SIDE_MM * 2**0.5 / 25.4 * FINE) + 1
    return np.asarray(shown[low:high, low:high, 2::-1], dtype=np.uint8)


def inside(picture: Picture) -> np.ndarray[Any, np.dtype[np.bool_]]:
    """Where the white of the diamond is: within three quarters of its tips."""
    side = len(picture)
    away = np.abs(np.arange(side) - side / 2)
    return np.asarray(away[:, None] + away[None, :] < 0.75 * side / 2)


@pytest.mark.parametrize("code", PICTOGRAMS)
def test_a_symbol_stays_whole_in_grey_and_under_red_light(code: str) -> None:
    shown = symbol(code)
    within = inside(shown)
    whole = dark_share(shown.max(axis=2)[within])
    assert whole > 0.05  # never an empty frame
    grey = cv2.cvtColor(shown, cv2.COLOR_RGB2GRAY)
    assert dark_share(grey[within]) == pytest.approx(whole, abs=0.005)
    assert dark_share(shown[:, :, 0][within]) == pytest.approx(whole, abs=0.005)
    assert dark_share(symbol(code, mono=True)[:, :, 0][within]) == pytest.approx(
        whole, abs=0.005
    )


@pytest.mark.parametrize("code", PICTOGRAMS)
def test_a_frame_is_dark_in_grey_and_keeps_its_edge_under_red_light(code: str) -> None:
    shown = symbol(code)
    frame = (shown == np.array(RED)).all(axis=2)
    grey = cv2.cvtColor(shown, cv2.COLOR_RGB2GRAY)[frame]
    level = int(np.median(grey))
    assert level == pytest.approx(72, abs=1)  # design, print-spec section 7
    assert contrast((level,) * 3, WHITE) >= 3
    # Outside the inner diamond there is nothing but the frame and its black edge.
    outside = ~inside(shown)
    edge = dark_share(shown[:, :, 0][outside])
    plain = dark_share(symbol(code, keyline=False)[:, :, 0][outside])
    assert edge > plain + 0.01


@pytest.mark.parametrize("name", LABELS)
def test_a_black_printer_gets_no_colour(name: str) -> None:
    pages = label(name)[1].pages
    assert inks_of(printed(*pages, mono=True)) <= {BLACK, WHITE}
    assert RED in inks_of(printed(*pages)) or not any(
        isinstance(box, Symbol) for page in pages for box in page.boxes
    )
