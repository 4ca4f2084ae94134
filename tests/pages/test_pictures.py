"""The pictograms in a page are the standard's drawings, and bring nothing with them."""

import re
from importlib.resources import files
from xml.etree import ElementTree

import pytest

from labelkit.errors import Unknown
from labelkit.pages.pictures import CODES, FRAME_RED, picture

NUMBER = re.compile(r"-?\d*\.?\d+(?:e-?\d+)?")


def original(code: str) -> list[str]:
    """Every path of the file as it comes, in order."""
    folder = files("ghs_hazard_pictogram") / "pictograms"
    drawing = ElementTree.fromstring((folder / f"{code.lower()}.svg").read_bytes())
    return [e.get("d", "") for e in drawing.iter() if e.tag.endswith("}path")]


# UN GHS, annex 1: nine pictograms.
def test_there_are_nine() -> None:
    assert tuple(f"GHS0{n}" for n in range(1, 10)) == CODES
    assert len({picture(code) for code in CODES}) == 9


@pytest.mark.parametrize("code", CODES)
def test_every_line_of_the_file_is_drawn_to_a_hundredth(code: str) -> None:
    drawn = re.findall(r' d="([^"]*)"', picture(code))
    assert len(drawn) == len(original(code))
    for ours, theirs in zip(drawn, original(code), strict=True):
        pairs = zip(NUMBER.findall(ours), NUMBER.findall(theirs), strict=True)
        assert all(abs(float(a) - float(b)) <= 0.0051 for a, b in pairs)
        assert NUMBER.sub("", ours) == NUMBER.sub("", theirs)


@pytest.mark.parametrize("code", CODES)
def test_a_drawing_brings_no_style_no_script_and_no_address(code: str) -> None:
    svg = picture(code)
    assert ElementTree.fromstring(svg).tag == "svg"
    assert not re.search(r"style=|href|<script|<style|url\(|http|on\w+=|id=", svg)


@pytest.mark.parametrize("code", CODES)
def test_the_frame_is_red_on_white_with_a_black_symbol(code: str) -> None:
    colours = set(re.findall(r'(?:fill|stroke)="([^"]*)"', picture(code)))
    assert {FRAME_RED, "#fff"} <= colours <= {FRAME_RED, "#fff", "#000", "none"}


def test_the_word_beside_it_is_its_name() -> None:
    assert 'aria-hidden="true"' in picture("GHS08")


@pytest.mark.parametrize("code", ["GHS10", "", "../ghs01"])
def test_there_is_no_other(code: str) -> None:
    with pytest.raises(Unknown, match="no pictogram"):
        picture(code)
