"""Pocket cards: headline, scale, hazards and code on the size of a bank card."""

from decimal import Decimal

import pytest
from msgspec.structs import replace

from labelkit.errors import Misfit
from labelkit.mixing.bench import Settings
from labelkit.mixing.words import CardText, Pictogram
from labelkit.printing.boxes import Bar, Code, Page, Symbol, Text
from labelkit.printing.card import place_card
from labelkit.printing.card_layout import card_layout
from labelkit.printing.codes import QUIET_ZONE
from labelkit.printing.extents import extent_of
from tests.printing.card_texts import BLUEPRINT, BORATE, STOP_BATH
from tests.printing.placed import words_of
from tests.printing.test_card_invariants import require_sound


def placed(text: CardText, settings: Settings | None = None) -> tuple[Page, Page]:
    layout = card_layout("pocket")
    return place_card(text, layout=layout, settings=settings or Settings())


@pytest.mark.parametrize("text", [BORATE, STOP_BATH, replace(STOP_BATH, emergency="")])
@pytest.mark.parametrize("settings", [Settings(), Settings(mono=True)])
def test_a_pocket_card_is_whole_and_nothing_stands_on_anything_else(
    text: CardText, settings: Settings
) -> None:
    pages = placed(text, settings)
    told = replace(text, rows=(), notes=(), room="")
    require_sound(told, card_layout("pocket"), pages)


def test_it_has_the_headline_the_scale_and_no_steps() -> None:
    front, back = placed(BORATE)
    assert BORATE.headline.text in [
        line.says for b in front.boxes if isinstance(b, Text) for line in b.lines
    ]
    assert [b for b in front.boxes if isinstance(b, Bar) and b.field == "scale"]
    fields = {getattr(b, "field", "") for page in (front, back) for b in page.boxes}
    assert not fields & {"what", "amount", "note", "write in"}


def test_warning_and_code_stand_in_a_column_beside_the_words() -> None:
    _, back = placed(BORATE)
    (code,) = [b for b in back.boxes if isinstance(b, Code)]
    (sign,) = [b for b in back.boxes if isinstance(b, Symbol)]
    texts = [b for b in back.boxes if isinstance(b, Text)]
    words = [b for b in texts if b.field in {"statements", "precautions", "aid"}]
    assert len(words) == 3
    edge = min(extent_of(code).left - QUIET_ZONE * code.module, extent_of(sign).left)
    assert all(block.x + block.w <= edge + 0.05 for block in words)
    (signal,) = [b for b in texts if b.field == "signal"]
    assert extent_of(sign).bottom < signal.lines[0].y < code.y


def test_what_does_not_fit_names_the_card_that_takes_it() -> None:
    two = (*BORATE.hazard.pictograms, Pictogram("GHS07", "Irritant"))
    loaded = replace(BORATE, hazard=replace(BORATE.hazard, pictograms=two))
    with pytest.raises(Misfit, match=r"^card pocket, back: .* Use --layout a"):
        placed(loaded)
    with pytest.raises(Misfit, match=r"card pocket, .* Use --layout"):
        placed(replace(BORATE, volume_mL=Decimal(1000)))


def test_the_mark_of_a_part_stands_clear_of_the_rule() -> None:
    short = replace(BLUEPRINT, name="Blueprint", headline=BORATE.headline)
    _, back = placed(short)
    (rule,) = [b for b in back.boxes if getattr(b, "field", "") == "rule"]
    mark = next(b for b in back.boxes if getattr(b, "field", "") == "part")
    assert extent_of(mark).bottom <= extent_of(rule).top
    assert "A" in words_of(back)
