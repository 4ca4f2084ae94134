"""The one way in: words to a page, and the page to a PDF that reads and scans."""

from decimal import Decimal
from io import BytesIO

import pypdf
import pypdfium2
import pytest
import zxingcpp
from msgspec.structs import replace

from labelkit.errors import BadInput, Misfit, Unknown
from labelkit.mixing.bench import Settings
from labelkit.mixing.words import BottleText, Run
from labelkit.printing.boxes import Page, Text
from labelkit.printing.label import place_label
from labelkit.printing.layouts import Layout, layout_named
from labelkit.printing.pdf import draw
from labelkit.printing.said import missing, printable
from labelkit.printing.typeset import plain
from tests.printing.label_texts import (
    BATH,
    BORATE,
    BROMIDE,
    CARBONATE,
    DEVELOPER,
    PYROGALLOL,
    SILVER,
)

BOTTLES = [BORATE, BROMIDE, BATH, PYROGALLOL, CARBONATE, DEVELOPER, SILVER]
ROOM = Settings(room="Tern Street Print Room", profile="room")


def pdf_of(text: BottleText, settings: Settings = ROOM) -> bytes:
    placement = place_label(text, layout=None, settings=settings)
    return draw(
        [placement.page],
        title=text.name,
        author=settings.room,
        subject="bottle label",
        mono=settings.mono,
    )


def shown(text: str) -> str:
    return " ".join(text.replace("\u00a0", " ").split())


@pytest.mark.parametrize("text", BOTTLES, ids=lambda text: text.name)
def test_everything_a_label_must_say_is_found_in_its_pdf(text: BottleText) -> None:
    reader = pypdf.PdfReader(BytesIO(pdf_of(text)))
    (page,) = reader.pages
    told = shown(page.extract_text()).casefold()
    for words in (text.name, text.number, text.discard, "DO NOT DRINK", text.aid,
                  text.emergency, *text.hazard.statements):  # fmt: skip
        assert shown(words).casefold() in told
    for precaution in text.hazard.precautions:
        assert shown(plain(precaution)).casefold() in told


@pytest.mark.parametrize("channel", ["grey", "R"])
@pytest.mark.parametrize("text", BOTTLES, ids=lambda text: text.name)
def test_every_code_reads_back_at_150_dpi(text: BottleText, channel: str) -> None:
    # Acceptance: design, print-spec section 6; red alone is what a safelight leaves.
    page = pypdfium2.PdfDocument(pdf_of(text))[0]
    image = page.render(scale=150 / 72).to_pil().convert("RGB")
    seen = image.convert("L") if channel == "grey" else image.getchannel(channel)
    (found,) = zxingcpp.read_barcodes(seen)
    assert found.text == text.code


def test_a_page_has_the_size_of_its_layout_and_the_name_of_its_bottle() -> None:
    placement = place_label(BORATE, layout=None, settings=ROOM)
    assert placement.layout == "tall"
    page = placement.page
    assert (page.width, page.height, page.title) == (74, 105, "Borate alkali stock")
    heading = next(box for box in page.boxes if isinstance(box, Text))
    assert (heading.field, heading.role) == ("name", "heading")


def test_the_foot_comes_last_in_reading_order() -> None:
    placement = place_label(BORATE, layout=None, settings=ROOM)
    *_, warning, call, number = placement.page.boxes
    assert [b.field for b in (warning, call, number) if isinstance(b, Text)] == [
        "do-not-drink", "emergency", "emergency",
    ]  # fmt: skip


def test_the_settings_name_the_layout() -> None:
    settings = replace(ROOM, label="wrap")
    assert place_label(BROMIDE, layout=None, settings=settings).layout == "wrap"
    with pytest.raises(Unknown, match="no label layout 'huge'"):
        place_label(BROMIDE, layout=None, settings=replace(ROOM, label="huge"))


def test_a_layout_given_wins_over_the_settings() -> None:
    settings = replace(ROOM, label="wrap")
    placement = place_label(BROMIDE, layout=layout_named("tall"), settings=settings)
    assert placement.layout == "tall"


def test_the_same_words_give_the_same_boxes() -> None:
    first = place_label(DEVELOPER, layout=None, settings=ROOM)
    assert place_label(DEVELOPER, layout=None, settings=ROOM) == first


def test_characters_that_are_not_printed_are_told_with_their_field() -> None:
    text = replace(BORATE, name="Borax ☐", off_when="or when ⚠")
    with pytest.raises(BadInput) as refused:
        place_label(text, layout=None, settings=ROOM)
    assert [fault.place for fault in refused.value.faults] == ["name", "off_when"]


def test_the_greek_mu_is_printed_as_the_micro_sign() -> None:
    assert printable(replace(BORATE, made="5 \u03bcg")).made == "5 \u00b5g"


def test_words_without_a_fault_are_printed_as_they_are() -> None:
    assert printable(BORATE) == BORATE


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"name": "Other stock"}, "Other stock"),
        ({"number": "0000-0000-0"}, "0000-0000-0"),
        ({"code": "OTHER"}, "the code"),
        ({"contents": (Run("With silver 3 g/L."),)}, "With silver 3 g/L."),
        ({"never_with": "NEVER WITH acid."}, "NEVER WITH acid."),
        ({"use_mark": "HOLD"}, "HOLD"),
        (
            {"hazard": replace(BORATE.hazard, statements=("Toxic if swallowed",))},
            "Toxic if swallowed",
        ),
        (
            {"hazard": replace(BORATE.hazard, alert="pH not measured")},
            "pH not measured",
        ),
    ],
)
def test_what_is_left_off_is_found_out(changes: dict[str, object], told: str) -> None:
    page = place_label(BORATE, layout=None, settings=ROOM).page
    text = replace(BORATE, **changes)
    assert missing(text, page) == [told]


def test_a_label_that_leaves_off_what_it_must_say_is_refused() -> None:
    tall = layout_named("tall")
    silent = [replace(box, x=0) for box in tall.boxes if box.kind != "strength"]
    mute = replace(tall, name="mute", boxes=tuple(silent))
    with pytest.raises(
        Misfit, match="layout mute: it leaves off 5 % w/v; 50 g/L; Made"
    ):
        place_label(BORATE, layout=mute, settings=ROOM)


def test_a_pictogram_left_off_is_found_out() -> None:
    page = place_label(BORATE, layout=None, settings=ROOM).page
    bare = Page(page.width, page.height, page.boxes[:2])
    assert "GHS08" in missing(BORATE, bare)


def test_a_layout_of_the_bench_may_be_chosen() -> None:
    wrap = layout_named("wrap")
    own = Layout(
        "slim", 148, 73.9, wrap.margin, wrap.floor, wrap.boxes, chosen=("class",)
    )
    text = replace(DEVELOPER, volume_mL=Decimal(500))
    placement = place_label(text, layout=None, settings=ROOM, own=(own,))
    assert placement.layout == "slim"


def test_mono_and_colour_place_everything_alike() -> None:
    colour = place_label(PYROGALLOL, layout=None, settings=ROOM)
    black = place_label(PYROGALLOL, layout=None, settings=replace(ROOM, mono=True))
    assert black.spare == colour.spare
    assert black.steps == colour.steps
    assert pdf_of(PYROGALLOL, replace(ROOM, mono=True)) != pdf_of(PYROGALLOL)
