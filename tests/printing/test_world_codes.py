"""Every code of every print is read back by two programs, whole and damaged.

Sizes and quiet zone: ISO/IEC 18004. Resolutions and damage: design, print-spec sections
6 and 14.
"""

import random
import re
import secrets
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from labelkit.printing.codes import encode
from labelkit.printing.layouts import layout_named
from tests.cli.conftest import labelkit
from tests.printing.decoding import (
    Picture,
    blurred,
    cut_out,
    pictures,
    read_by_opencv,
    read_by_zxing,
    stained,
    tilted,
)
from tests.printing.world_prints import CARDS, LABELS, card, label, pdf_of

DPI = (120, 150, 300)
HOST = "HTTPS://BOTTLES.EXAMPLE.ORG/"
# Eight signs of Crockford's base 32 and a check sign; design, reckoning.
NUMBER = re.compile(r"\b[0-9A-HJKMNP-TV-Z]{4}-[0-9A-HJKMNP-TV-Z]{4}-[0-9A-Z*~$=]")
WITH_CODE = [name for name in LABELS if layout_named(name).kind == "label"]


def expected_of(name: str) -> set[str]:
    """What the codes of a print must say, from its words alone."""
    kind, _, which = name.partition(" ")
    if kind == "label":
        return {label(which)[0].code} if which in WITH_CODE else set()
    return {card(which)[0].code} if kind == "card" else set()


def require_read(page: Picture, payload: str) -> None:
    """The one finds the code on the whole page, the other is held over it."""
    assert read_by_zxing(page) == [payload]
    assert read_by_opencv(cut_out(page)) == payload


@pytest.mark.parametrize("dpi", DPI)
@pytest.mark.parametrize(
    "name", [*(f"label {one}" for one in WITH_CODE), *(f"card {one}" for one in CARDS)]
)
def test_the_code_of_every_label_and_card_is_read_by_two_programs(
    name: str, dpi: int
) -> None:
    (payload,) = expected_of(name)
    (shown,) = [page for page in pictures(pdf_of(name), dpi) if read_by_zxing(page)]
    require_read(shown, payload)


@pytest.mark.parametrize("dpi", DPI)
@pytest.mark.parametrize(
    ("name", "payload"),
    [
        ("notice unknown-known", f"{HOST}B/0NKN-4W88-2/UNKNOWN-2031-03-14"),
        ("notice waste-of-a-batch", f"{HOST}B/7K3M-Q9TX-8"),
    ],
)
def test_the_code_of_a_notice_is_read_by_two_programs(
    name: str, payload: str, dpi: int
) -> None:
    (picture,) = pictures(pdf_of(name), dpi)
    require_read(picture, payload)


def test_what_has_no_code_shows_none() -> None:
    """Else a decoder that makes codes up would pass everything above."""
    for name in ("label cap", "workshop cover"):
        for picture in pictures(pdf_of(name), 120):
            assert read_by_zxing(picture) == []
            assert read_by_opencv(picture) == ""


# ISO/IEC 18004:2015, table 7: alphanumeric characters at levels M and Q, by version.
CAPACITIES = {
    1: (20, 16), 2: (38, 29), 3: (61, 47), 4: (90, 67), 5: (122, 87), 6: (154, 108)
}  # fmt: skip


@pytest.mark.parametrize(
    "length", sorted({n for two in CAPACITIES.values() for n in two})
)
def test_a_symbol_holds_what_the_standard_says(length: int) -> None:
    """The smallest at level M; level Q where that version holds it at no cost."""
    for characters in (length, length + 1):
        holding = [v for v, (at_m, _) in CAPACITIES.items() if characters <= at_m]
        version = holding[0] if holding else 7
        at_q = CAPACITIES[version][1] if holding else 125
        made = encode("A" * characters)
        assert made.version == version
        assert made.level == ("Q" if characters <= at_q else "M")


# ---------------------------------------------------------------- the samples


@pytest.fixture(scope="module")
def prints(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """All that the demo prints: the label of every sample, and every card."""
    folder = tmp_path_factory.mktemp("demo") / "bench"
    drawn = random.Random(18004)  # the same numbers each time
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(secrets, "randbelow", drawn.randrange)
        answer = labelkit("demo", folder)
    assert answer.code == 0, answer.err
    return folder / "prints"


def sides(pdf: Path) -> Iterator[tuple[str, list[Picture]]]:
    """The words of each page, and its pictures at every resolution."""
    data = pdf.read_bytes()
    drawn = [pictures(data, dpi) for dpi in DPI]
    told = [page.extract_text() for page in PdfReader(BytesIO(data)).pages]
    yield from ((words, [d[n] for d in drawn]) for n, words in enumerate(told))


def test_every_label_of_the_samples_opens_the_batch_that_is_printed_on_it(
    prints: Path,
) -> None:
    labels = sorted(set(prints.glob("*.pdf")) - {prints / "cards.pdf"})
    assert len(labels) == 11
    for pdf in labels:
        told, shown = next(sides(pdf))
        (number,) = set(NUMBER.findall(told))
        for picture in shown:
            require_read(picture, f"{HOST}B/{number}")


def test_every_card_of_the_samples_opens_its_recipe(prints: Path) -> None:
    names = {
        re.sub(r"^.*/", "", text)
        for _, shown in sides(prints / "cards.pdf")
        for text in read_by_zxing(shown[0])
    }
    assert len(names) == 11
    for _, shown in sides(prints / "cards.pdf"):
        if not read_by_zxing(shown[0]):
            continue
        (payload,) = read_by_zxing(shown[0])
        assert re.fullmatch(f"{HOST}R/[A-Z-]+", payload)
        for picture in shown:
            require_read(picture, payload)


# ---------------------------------------------------------------- damage

DAMAGED = ["label tall", "label wrap", "label tag", "card a6"]
# What both programs still read, measured; a symbol of level Q makes up for a quarter of
# its words, of level M for some 15 % (ISO/IEC 18004, error correction levels).
STAIN = 0.35  # of the side, so an eighth of the symbol
BLUR = 0.4  # of a module
TOO_MUCH = {"stain": 0.6, "blur": 1.5}


def sharp(name: str) -> Picture:
    (page,) = [p for p in pictures(pdf_of(name), 300) if read_by_zxing(p)]
    return cut_out(page)


def module_of(name: str) -> float:
    """Pixels at 300 dpi: 0.4233 mm on labels, 0.5 on cards; print-spec section 6."""
    return (0.4233 if name.startswith("label") else 0.5) / 25.4 * 300


@pytest.mark.parametrize("degrees", [5, 90, 180])
@pytest.mark.parametrize("name", DAMAGED)
def test_a_code_is_read_however_the_bottle_is_held(name: str, degrees: float) -> None:
    (payload,) = expected_of(name)
    turned = tilted(sharp(name), degrees)
    assert read_by_zxing(turned) == [payload]
    assert read_by_opencv(turned) == payload


@pytest.mark.parametrize("grey", [0, 140, 255], ids=["ink", "tea", "bleach"])
@pytest.mark.parametrize("name", DAMAGED)
def test_a_code_with_a_stained_corner_is_read(name: str, grey: int) -> None:
    (payload,) = expected_of(name)
    spoilt = stained(sharp(name), STAIN, grey)
    assert read_by_zxing(spoilt) == [payload]
    assert read_by_opencv(spoilt) == payload


@pytest.mark.parametrize("name", DAMAGED)
def test_a_code_out_of_focus_is_read(name: str) -> None:
    (payload,) = expected_of(name)
    soft = blurred(sharp(name), BLUR * module_of(name))
    assert read_by_zxing(soft) == [payload]
    assert read_by_opencv(soft) == payload


@pytest.mark.parametrize("name", DAMAGED)
def test_damage_is_done_that_can_be_too_much(name: str) -> None:
    picture = sharp(name)
    for spoilt in (
        stained(picture, TOO_MUCH["stain"], 0),
        blurred(picture, TOO_MUCH["blur"] * module_of(name)),
    ):
        assert read_by_zxing(spoilt) == []
        assert read_by_opencv(spoilt) == ""
