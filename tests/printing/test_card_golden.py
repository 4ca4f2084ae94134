"""Cards as placed boxes, box by box."""

import pytest

from labelkit.mixing.bench import Settings
from labelkit.mixing.words import CardText
from labelkit.printing.card import place_card
from labelkit.printing.card_layout import card_layout
from tests.printing.card_texts import BLUEPRINT, BORATE, DEVELOPER, ONE_BATCH, STOP_BATH
from tests.printing.conftest import CheckGolden
from tests.printing.placed import as_text


@pytest.mark.parametrize(
    ("name", "text", "layout"),
    [
        ("borate-a5", BORATE, "a5"),
        ("blueprint-a6", BLUEPRINT, "a6"),
        ("developer-a5", DEVELOPER, "a5"),
        ("borate-pocket-wide", BORATE, "pocket-wide"),
        ("blueprint-pocket-wide", BLUEPRINT, "pocket-wide"),
        ("borate-pocket", BORATE, "pocket"),
        ("stop-bath-pocket", STOP_BATH, "pocket"),
        ("one-batch-a5", ONE_BATCH, "a5"),
    ],
)
def test_a_card_is_placed_as_it_was_before(
    name: str, text: CardText, layout: str, check_golden: CheckGolden
) -> None:
    pages = place_card(text, layout=card_layout(layout), settings=Settings())
    check_golden(f"cards/{name}", as_text(pages))
