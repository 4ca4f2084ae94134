"""What holds of every label that is printed at all, read from the finished file.

The list is that of design, print-spec section 13; what `test_label_invariants` checks
on the placed boxes is looked for here in what pypdf, pdfium and zxing-cpp see.
"""

from collections.abc import Iterator
from decimal import Decimal
from io import BytesIO

import numpy as np
import pytest
import zxingcpp
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from pypdf import PdfReader

from labelkit.mixing.bench import Settings
from labelkit.mixing.words import BottleText
from labelkit.printing.boxes import Bar, Code, Page, Symbol, Text
from labelkit.printing.fit import Placement
from labelkit.printing.layouts import built_in, layout_named
from labelkit.printing.leaves import apart
from tests.printing.decoding import QR, Picture, pictures, read_by_zxing
from tests.printing.label_texts import LOADS
from tests.printing.test_label_invariants import BOTTLES, MODEST, NUMBER, placed
from tests.printing.world_prints import LABELS, label, label_in, printed

DPI = 200
QUIET = 4  # modules on each side; ISO/IEC 18004:2015, 6.3.8
PROFILES = ["own", "room", "supply"]
OFTEN = settings(
    max_examples=100, deadline=None, suppress_health_check=[HealthCheck.too_slow]
)


def loose(words: str) -> str:
    """Without the white, which a line's end changes."""
    return "".join(words.replace("\u00a0", " ").split())


def required(text: BottleText) -> Iterator[str]:
    """What must be read on the label of a bottle: print-spec section 4."""
    hazard = text.hazard
    yield from (text.name, text.number, text.headline.text, "DO NOT DRINK")
    yield from (hazard.signal, hazard.alert, hazard.contains, *hazard.statements)
    yield from hazard.open_points
    yield from (text.never_with, text.discard, text.emergency, text.supplier)
    for runs in (*hazard.precautions, text.first_words):
        yield "".join(run.text for run in runs)
    yield from (run.text for run in hazard.none_reached)
    yield from (sign.word for sign in hazard.pictograms)
    if text.part:
        yield from (text.part.ratio, text.part.letter)


def drawn_words(pdf: bytes) -> list[str]:
    """Everything that is written in a file, in the order in which it is drawn."""
    found: list[str] = []
    for page in PdfReader(BytesIO(pdf)).pages:
        page.extract_text(visitor_text=lambda words, *_: found.append(words))
    return found


def require_read_back(text: BottleText, placement: Placement) -> None:
    pdf = printed(*placement.pages)
    told = loose(" ".join(drawn_words(pdf)))
    for words in required(text):
        assert loose(words) in told, words
    require_codes(text, pictures(pdf, DPI))


def require_codes(text: BottleText, shown: list[Picture]) -> None:
    """As many as there are to be, saying what they should, in their quiet zone."""
    read = [found for picture in shown for found in read_by_zxing(picture)]
    assert read == ([text.code] if text.code else [])
    for picture in shown:
        for found in zxingcpp.read_barcodes(picture, formats=QR):
            require_quiet(picture, found)


def require_quiet(picture: Picture, found: zxingcpp.Barcode) -> None:
    """Nothing dark in the four modules round the symbol, and none of them cut off."""
    at = found.position
    corners = np.array([
        (p.x, p.y)
        for p in (at.top_left, at.top_right, at.bottom_right, at.bottom_left)
    ])  # fmt: skip
    module = 0.4233 / 25.4 * DPI  # print-spec section 6
    near = round(2 * module)  # what is drawn so near is taken for a part of it
    left, top = np.maximum(corners.min(axis=0) - near, 0)
    right, bottom = corners.max(axis=0) + near + 1
    dark = np.argwhere(picture[top:bottom, left:right] < 200)
    bottom, right = dark.max(axis=0) + np.array([top + 1, left + 1])
    top, left = dark.min(axis=0) + np.array([top, left])
    for side in (bottom - top, right - left):
        version = (side / module - 17) / 4
        assert version == pytest.approx(round(version), abs=0.2)
    zone = int(QUIET * module)
    assert min(left, top) >= zone - 1
    assert right + zone - 1 <= picture.shape[1]
    assert bottom + zone - 1 <= picture.shape[0]
    rows = slice(max(top - zone, 0), bottom + zone)
    around = picture[rows, max(left - zone, 0) : right + zone]
    assert (around < 200).sum() == (picture[top:bottom, left:right] < 200).sum()


def require_one_panel(placement: Placement) -> None:
    """Pictograms, signal word, H and P together: CLP, Article 32."""
    page = placement.page
    layout = layout_named(placement.layout)
    if layout.halves:
        page = apart(page)[1]
    needed = {"signal", "contains", "statements", "precautions"}
    hazards = [
        box
        for box in page.boxes
        if isinstance(box, Symbol) or (isinstance(box, Text) and box.field in needed)
    ]
    begins = panel_of(page)
    foot = max(b.y for b in page.boxes if isinstance(b, Bar) and b.field == "foot")
    above = [box for box in hazards if box.y < foot]
    assert all(box.x >= begins for box in above)


def panel_of(page: Page) -> float:
    """Where the hazard panel begins: right of an upright rule, else anywhere [mm]."""
    upright = [
        box.x + box.w
        for box in page.boxes
        if isinstance(box, Bar) and box.field == "rule" and box.h > 20 > box.w
    ]
    return max(upright, default=0.0)


def require_whole(text: BottleText, placement: Placement | None) -> None:
    if placement and layout_named(placement.layout).kind == "label":
        require_read_back(text, placement)
        require_one_panel(placement)


@OFTEN
@given(BOTTLES, st.sampled_from(built_in()), st.sampled_from(PROFILES))
def test_any_label_is_read_back_whole(
    text: BottleText, layout: object, profile: str
) -> None:
    require_whole(text, placed(text, layout, Settings(profile=profile)))  # type: ignore[arg-type]


@OFTEN
@given(MODEST, NUMBER, st.sampled_from(LABELS), st.sampled_from([50, 250, 500, 1000]))
def test_a_bottle_of_the_room_is_read_back_whole_from_every_layout(
    text: BottleText, number: str, layout: str, mL: int
) -> None:
    code = f"HTTPS://BOTTLES.EXAMPLE.ORG/B/{number}"
    text = replace(text, number=number, code=code, volume_mL=Decimal(mL))
    require_whole(text, label_in(layout, text))


@pytest.mark.parametrize("layout", LABELS)
def test_the_heaviest_load_of_each_layout_is_read_back_whole(layout: str) -> None:
    require_whole(*label(layout))


def test_most_of_what_is_tried_is_printed_and_not_refused() -> None:
    """Else the checks above would be of little worth."""
    tried = [
        label_in(layout, replace(text, volume_mL=Decimal(250)))
        for layout in LABELS
        for text in LOADS.values()
    ]
    assert sum(map(bool, tried)) > len(tried) / 2


@pytest.mark.parametrize("layout", ["tall", "wrap", "tag"])
def test_what_is_taken_off_or_drawn_over_is_seen(layout: str) -> None:
    text, placement = label(layout)
    page = placement.page
    code = next(box for box in page.boxes if isinstance(box, Code))
    stain = Bar(code.x - 1, code.y + 2, 0.5, 3)
    for boxes in (
        tuple(b for b in page.boxes if getattr(b, "field", "") != "precautions"),
        tuple(b for b in page.boxes if b is not code),
        (*page.boxes, stain),
    ):
        with pytest.raises(AssertionError):
            require_read_back(text, replace(placement, page=replace(page, boxes=boxes)))
