"""Widths and figures are compared with fontTools' own reading of the same files."""

from importlib.resources import files

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from labelkit.errors import BadInput
from labelkit.printing import fonts

WEIGHTS = {"regular": "Regular", "semibold": "SemiBold", "bold": "Bold"}


def font_file(weight: str) -> TTFont:
    folder = files("fontpkg_ibm_plex_sans_condensed") / "files"
    return TTFont(str(folder / f"IBMPlexSansCondensed-{WEIGHTS[weight]}.ttf"))


FILES = {weight: font_file(weight) for weight in WEIGHTS}
ADVANCES = {
    weight: {
        chr(code): font["hmtx"][glyph][0]
        for code, glyph in font["cmap"].getBestCmap().items()
    }
    for weight, font in FILES.items()
}
PRINTABLE = sorted(mark for mark in ADVANCES["regular"] if mark.isprintable())


@given(st.text(PRINTABLE), st.sampled_from(sorted(WEIGHTS)), st.floats(6.6, 60))
def test_a_text_is_as_wide_as_its_advances_add_up_to(
    text: str, weight: str, size: float
) -> None:
    units = sum(ADVANCES[weight][mark] for mark in text)
    expected = units / FILES[weight]["head"].unitsPerEm * size * 25.4 / 72
    assert fonts.width_mm(text, weight, size) == pytest.approx(expected)


@pytest.mark.parametrize("weight", WEIGHTS)
def test_digits_are_all_equally_wide(weight: str) -> None:
    widths = {fonts.width_mm(digit, weight, 10) for digit in "0123456789"}
    assert len(widths) == 1


def test_x_height_and_cap_height_are_those_of_the_file() -> None:
    table, em = FILES["regular"]["OS/2"], FILES["regular"]["head"].unitsPerEm
    assert fonts.x_height_share() == table.sxHeight / em
    assert fonts.cap_height_mm(10) == pytest.approx(
        table.sCapHeight / em * 10 * 25.4 / 72
    )


def test_the_regular_weight_has_the_smallest_x_height() -> None:
    heights = {weight: FILES[weight]["OS/2"].sxHeight for weight in WEIGHTS}
    assert min(heights, key=lambda weight: heights[weight]) == "regular"


@pytest.mark.parametrize(
    ("volume_mL", "x_height_mm"),
    [
        # Regulation (EU) 2024/2865, minimum x-heights by capacity, through summaries
        pytest.param(10, 1.2, id="a dropper"),
        pytest.param(500, 1.2, id="0.5 L"),
        pytest.param(500.1, 1.4, id="just over 0.5 L"),
        pytest.param(3000, 1.4, id="3 L"),
        pytest.param(3000.1, 1.8, id="just over 3 L"),
        pytest.param(50_000, 1.8, id="50 L"),
        pytest.param(50_001, 2.0, id="just over 50 L"),
    ],
)
def test_small_letters_are_as_high_as_the_rule_asks(
    volume_mL: float, x_height_mm: float
) -> None:
    size = fonts.min_size_pt(volume_mL)
    share = FILES["regular"]["OS/2"].sxHeight / 1000
    assert size * share * 25.4 / 72 >= x_height_mm
    assert (size - 0.1) * share * 25.4 / 72 < x_height_mm


def test_the_smallest_sizes_are_those_worked_out_for_the_labels() -> None:
    # x-height [mm] / 0.516 / 0.352778, rounded up to 0.1, worked out by hand
    sizes = [fonts.min_size_pt(volume) for volume in (500, 3000, 50_000, 60_000)]
    assert sizes == [6.6, 7.7, 9.9, 11.0]


def test_all_weights_have_the_same_characters() -> None:
    assert set(ADVANCES["regular"]) == set(ADVANCES["bold"])
    assert set(ADVANCES["regular"]) == set(ADVANCES["semibold"])


def test_missing_characters_are_named_once_and_in_order() -> None:
    assert fonts.missing_glyphs("a ☐ µ ≡ ☐ ₂ → ½ ✓ −") == "☐≡"


def test_the_greek_mu_is_printed_as_the_micro_sign() -> None:
    assert fonts.clean("5 \u03bcL", "strength") == "5 \u00b5L"


def test_a_loose_accent_joins_its_letter() -> None:
    assert fonts.clean("Cafe\u0301", "name") == "Café"


@given(st.text(PRINTABLE))
def test_what_the_font_can_print_passes_unharmed(text: str) -> None:
    cleaned = fonts.clean(text, "name")
    assert fonts.clean(cleaned, "name") == cleaned
    assert not fonts.missing_glyphs(cleaned)


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("line\nbreak", "the invisible character U+000A in 'line\ufffdbreak'"),
        ("soft\u00adhyphen", "U+00AD SOFT HYPHEN"),
        ("turned\u202eround", "U+202E RIGHT-TO-LEFT OVERRIDE"),
        ("סודה", "script that runs from right to left"),
        ("صودا", "script that runs from right to left"),
        ("hot 🔥", "the picture '🔥' (U+1F525 FIRE)"),
        ("⚠ hot", "the character '⚠' (U+26A0 WARNING SIGN)"),
        ("thin\u2009space", "U+2009 THIN SPACE"),
    ],
)
def test_what_cannot_be_printed_is_named_with_its_field(
    text: str, problem: str
) -> None:
    with pytest.raises(BadInput) as caught:
        fonts.clean(text, "name")
    assert problem in str(caught.value)
    assert all(fault.place == "name" for fault in caught.value.faults)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("⚠ hot", "does not have in '⚠ hot'"),
        ("⚠\u00a012", "does not have in '⚠ 12'"),
        ("⚠ ⚠ ⚠", "does not have in '⚠ ⚠ ⚠'"),
        ("⚠ ☐", "does not have, besides '☐', in "),
        ("⚠ a \t ☐", "does not have, besides U+0009 and '☐', in "),
        ("סודה ⚠", "right to left, besides 'ו', 'ד' and 2 more, in "),
        ("ש" + "אבגדהוזחטי" * 40, "besides 'א', 'ב' and 8 more, in "),
    ],
)
def test_however_many_characters_are_missing_they_are_told_in_one_line(
    text: str, told: str
) -> None:
    with pytest.raises(BadInput) as caught:
        fonts.clean(text, "note")
    (fault,) = caught.value.faults
    assert told in fault.problem
    assert len(str(fault)) < 240


def test_only_the_weights_asked_for_are_registered() -> None:
    from reportlab.pdfbase import pdfmetrics

    names = fonts.register(["bold"])
    assert list(names) == ["bold"]
    assert pdfmetrics.getFont(names["bold"]).face.name == b"IBMPlexSansCond-Bold"
