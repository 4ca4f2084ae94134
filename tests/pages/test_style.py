"""The stylesheet's colours carry enough contrast, by light and in the dark.

WCAG 2.2, 1.4.3, 1.4.6 and 1.4.11, with relative luminance and contrast ratio as defined
there; the print room asks for 7:1 of all text, which is 1.4.6.
"""

import re

import pytest

from labelkit.pages.pictures import FRAME_RED
from labelkit.resources import templates_dir

SHEET = (templates_dir() / "pages" / "style.css").read_text("utf-8")
TEXT, MARKS = 7.0, 3.0


def luminance(colour: str) -> float:
    channels = (int(colour[n : n + 2], 16) / 255 for n in (1, 3, 5))
    red, green, blue = (
        c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def colours(sheet: str) -> dict[str, str]:
    return dict(re.findall(r"(--[a-z-]+): (#[0-9a-f]{6})", sheet))


LIGHT = colours(SHEET[: SHEET.index("@media")])
DARK = LIGHT | colours(SHEET[SHEET.index("(prefers-color-scheme: dark)") :][:400])
PRINT = LIGHT | colours(SHEET[SHEET.index("@media print") :])


def test_the_ratio_is_the_published_one() -> None:
    # WCAG 2.2, definition of contrast ratio: from 1:1 to 21:1
    assert contrast("#ffffff", "#000000") == pytest.approx(21)
    assert contrast("#808080", "#808080") == pytest.approx(1)
    # shared print specification, section 7: #444 on white 9.6:1, the frame 5.8:1
    assert contrast("#444444", "#ffffff") == pytest.approx(9.7, abs=0.1)
    assert contrast(FRAME_RED, "#ffffff") == pytest.approx(5.8, abs=0.1)


@pytest.mark.parametrize("scheme", [LIGHT, DARK, PRINT], ids=["light", "dark", "print"])
@pytest.mark.parametrize(
    ("front", "back", "least"),
    [
        ("--ink", "--paper", TEXT),
        ("--soft", "--paper", TEXT),
        ("--bar-ink", "--bar", TEXT),
        ("--line", "--paper", MARKS),
        ("--bar-edge", "--paper", MARKS),
    ],
)
def test_a_pair_of_colours_is_told_apart(
    scheme: dict[str, str], front: str, back: str, least: float
) -> None:
    assert contrast(scheme[front], scheme[back]) >= least


@pytest.mark.parametrize("scheme", [LIGHT, DARK], ids=["light", "dark"])
def test_pictograms_stand_on_white(scheme: dict[str, str]) -> None:
    assert scheme["--tile"] == "#ffffff"
    assert contrast(FRAME_RED, scheme["--tile"]) >= MARKS


def test_dark_is_another_scheme_than_light() -> None:
    assert luminance(DARK["--paper"]) < 0.05 < luminance(LIGHT["--paper"])


def test_no_colour_stands_outside_the_named_ones() -> None:
    rules = re.sub(r"--[a-z-]+: #[0-9a-f]{6};", "", SHEET)
    assert not re.search(r"#[0-9a-fA-F]{3}|rgb|hsl|\b(red|grey|gray|blue)\b", rules)


def test_nothing_is_loaded_and_nothing_ends_the_style_early() -> None:
    assert not re.search(r"url\(|@import|@font-face|</", SHEET)
