"""A card as a file: its words, its size, and its code read back."""

from io import BytesIO

import pypdf
import pypdfium2
import pytest
import zxingcpp

from labelkit.mixing.bench import Settings
from labelkit.mixing.words import CardText
from labelkit.printing.card import place_card
from labelkit.printing.card_layout import card_layout
from labelkit.printing.pdf import draw
from tests.printing.card_texts import BLUEPRINT, BORATE, DEVELOPER
from tests.printing.placed import plain_spaces

CARDS = [
    (BORATE, "a5"),
    (BLUEPRINT, "a6"),
    (DEVELOPER, "a4"),
    (BORATE, "pocket-wide"),
    (BORATE, "pocket"),
]


def printed(text: CardText, key: str) -> bytes:
    pages = place_card(text, layout=card_layout(key), settings=Settings())
    return draw(pages, title=text.name, author="M. Osei", subject="mixing card")


@pytest.mark.parametrize(("text", "key"), CARDS)
def test_the_file_has_both_sides_in_the_size_of_the_card(
    text: CardText, key: str
) -> None:
    layout = card_layout(key)
    reader = pypdf.PdfReader(BytesIO(printed(text, key)))
    boxes = [page.mediabox for page in reader.pages]
    assert len(boxes) == 2
    for box in boxes:
        assert float(box.width) == pytest.approx(layout.width / 25.4 * 72, abs=0.1)
        assert float(box.height) == pytest.approx(layout.height / 25.4 * 72, abs=0.1)


@pytest.mark.parametrize(("text", "key"), CARDS)
def test_the_warning_and_the_statements_are_in_the_text_of_the_file(
    text: CardText, key: str
) -> None:
    reader = pypdf.PdfReader(BytesIO(printed(text, key)))
    front, back = (plain_spaces(page.extract_text()) for page in reader.pages)
    assert "DO NOT DRINK" in front
    assert "DO NOT DRINK" in back
    for statement in text.hazard.statements:
        for sentence in statement.split(". "):
            assert sentence in back


@pytest.mark.parametrize("dpi", [150, 300])
@pytest.mark.parametrize(("text", "key"), CARDS)
def test_the_code_reads_back(text: CardText, key: str, dpi: int) -> None:
    page = pypdfium2.PdfDocument(printed(text, key))[1]
    picture = page.render(scale=dpi / 72, grayscale=True).to_pil()
    assert [found.text for found in zxingcpp.read_barcodes(picture)] == [text.code]
