"""What holds of every card that is placed at all, whatever the recipe."""

from decimal import Decimal

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from labelkit.errors import Misfit
from labelkit.mixing.bench import Settings
from labelkit.mixing.words import (
    CardAmount,
    CardColumn,
    CardRow,
    CardText,
    HazardText,
    Headline,
    PartMark,
    Pictogram,
    Run,
    Scale,
)
from labelkit.printing.boxes import Page, Symbol, Text
from labelkit.printing.card import place_card
from labelkit.printing.card_layout import CardLayout, card_layout
from labelkit.printing.extents import extent_of
from labelkit.printing.fonts import min_size_pt
from labelkit.printing.typeset import plain
from tests.printing.card_texts import (
    BLUEPRINT,
    BORATE,
    DEVELOPER,
    HARMFUL_TO_WATER,
    ONE_BATCH,
    STOP_BATH,
    UP_TO,
)
from tests.printing.placed import (
    inks,
    lines_of,
    overlaps,
    plain_spaces,
    white_lines_off_black,
    words_of,
)

FLOOR_PT = 6.6
LEAST_BY_FIELD = {
    "signal": 12, "do-not-drink": 12, "headline": 28 * 0.42, "what": 11.3,
}  # fmt: skip


def require_sound(text: CardText, layout: CardLayout, pages: tuple[Page, Page]) -> None:
    for page in pages:
        assert overlaps(page) == []
        assert white_lines_off_black(page) == []
        require_inside(page, layout)
        require_sizes(text, page)
        assert "DO NOT DRINK" in words_of(page)
        assert text.name in words_of(page)
    require_words(text, pages)
    for page in pages:
        shown = [box.code for box in page.boxes if isinstance(box, Symbol)]
        assert shown == [item.code for item in text.hazard.pictograms]


def require_inside(page: Page, layout: CardLayout) -> None:
    """Within the safe margin, and clear of the hole: print-spec, Cards."""
    for name, ink in inks(page):
        if name.startswith("code"):
            continue
        assert ink.left >= layout.margin - 0.1, name
        assert ink.right <= layout.width - layout.margin + 0.1, name
        assert ink.bottom <= layout.height - layout.margin + 0.1, name
        assert ink.top >= layout.clear - 0.01, name
    for box in page.boxes:
        at = extent_of(box)
        assert at.left >= layout.margin - 0.9, box
        assert at.right <= layout.width - layout.margin + 0.1, box


def require_sizes(text: CardText, page: Page) -> None:
    legal = min_size_pt(float(text.volume_mL))
    least = LEAST_BY_FIELD | {"statements": legal, "precautions": legal}
    for field, line in lines_of(page):
        smallest = min(size for told, _, size in line.pieces if told.strip())
        assert smallest >= least.get(field, FLOOR_PT), (field, line)
    for box in page.boxes:
        assert not isinstance(box, Symbol) or box.side >= 10


def require_words(text: CardText, pages: tuple[Page, Page]) -> None:
    front, back = map(words_of, pages)
    hazard = text.hazard
    on_front = [text.headline.text, text.summary, hazard.signal]
    on_front += [cell.text for row in text.rows for cell in row.amounts]
    on_front += [part for row in text.rows for part in (plain(row.what), row.caution)]
    on_front += [row.detail for row in text.rows]
    on_back = [hazard.signal, hazard.alert, hazard.contains, *hazard.statements]
    on_back += [*map(plain, hazard.precautions), *hazard.open_points]
    on_back += [plain(hazard.none_reached), plain(text.first_words), text.never_with]
    on_back += [text.aid_full, text.room]
    on_back += [part for n in text.notes for part in (n.term, plain(n.text))]
    for told in on_front:
        assert plain_spaces(told) in front
    loose = back.replace(" ", "")
    for told in on_back:
        for sentence in told.split(". "):
            assert plain_spaces(sentence).replace(" ", "") in loose


@pytest.mark.parametrize("settings_", [Settings(), Settings(mono=True)])
@pytest.mark.parametrize(
    ("text", "key"),
    [
        (BORATE, "a5"),
        (BORATE, "a4"),
        (BLUEPRINT, "a6"),
        (BLUEPRINT, "a5"),
        (BLUEPRINT, "a4"),
        (DEVELOPER, "a5"),
        (DEVELOPER, "a4"),
        (ONE_BATCH, "a5"),
        (ONE_BATCH, "a4"),
        (STOP_BATH, "a6"),
        (STOP_BATH, "a5"),
        (HARMFUL_TO_WATER, "a5"),
        (HARMFUL_TO_WATER, "a6"),
    ],
)
def test_a_card_is_whole_and_nothing_stands_on_anything_else(
    text: CardText, key: str, settings_: Settings
) -> None:
    layout = card_layout(key)
    pages = place_card(text, layout=layout, settings=settings_)
    require_sound(text, layout, pages)


@pytest.mark.parametrize("text", [BORATE, BLUEPRINT, STOP_BATH])
def test_a_pocket_card_has_no_steps_and_no_notes(text: CardText) -> None:
    layout = card_layout("pocket-wide")
    pages = place_card(text, layout=layout, settings=Settings())
    require_sound(replace(text, rows=(), notes=(), room=""), layout, pages)
    fields = {b.field for page in pages for b in page.boxes if isinstance(b, Text)}
    assert not fields & {"what", "amount", "note"}


def test_the_check_sees_a_planted_overlap() -> None:
    front, _ = place_card(BORATE, layout=card_layout("a5"), settings=Settings())
    name = next(box for box in front.boxes if isinstance(box, Text))
    assert overlaps(replace(front, boxes=(*front.boxes, name)))


WORDS = (
    "Silver", "gelatine", "emulsion", "toner", "bleach", "stock", "hardener", "warm",
    "sodium", "thiosulfate", "hexacyanoferrate", "carbonate", "anhydrous", "stir",
    "slowly", "until", "clear", "and", "cool", "below", "30", "°C", "in", "dim",
    "light",
)  # fmt: skip
SIGNS = (
    ("GHS03", "Oxidising"), ("GHS05", "Corrosive"), ("GHS06", "Toxic"),
    ("GHS07", "Irritant"), ("GHS08", "Health hazard"), ("GHS09", "Environment"),
)  # fmt: skip
# Annex III of Regulation (EC) No 1272/2008.
STATEMENTS = (
    "Toxic if swallowed.", "Causes severe skin burns and eye damage.",
    "May cause an allergic skin reaction.", "May cause respiratory irritation.",
    "Very toxic to aquatic life with long lasting effects.",
)  # fmt: skip


def phrases(least: int, most: int) -> st.SearchStrategy[str]:
    return st.lists(st.sampled_from(WORDS), min_size=least, max_size=most).map(" ".join)


@st.composite
def rows(draw: st.DrawFn, columns: int) -> tuple[CardRow, ...]:
    count = draw(st.integers(1, 8))
    made: list[CardRow] = []
    for number in range(1, count + 1):
        kind = draw(st.sampled_from(("step", "step", "step", "text", "fill")))
        figures = draw(
            st.lists(st.integers(1, 9999), min_size=columns, max_size=columns)
        )
        cells = tuple(CardAmount(f"{n / 10:g} g") for n in figures)
        what = UP_TO if kind == "fill" else (Run(draw(phrases(1, 5)), strong=True),)
        made.append(
            CardRow(
                kind, number, what,
                draw(st.one_of(st.just(""), phrases(1, 9))),
                () if kind == "text" else cells,
                draw(st.one_of(st.just(""), st.just(""), phrases(3, 16))),
                draw(st.sampled_from(("", "", "", "second jug"))),
            )
        )  # fmt: skip
    return tuple(made)


@st.composite
def hazards(draw: st.DrawFn) -> HazardText:
    shown = draw(st.lists(st.sampled_from(SIGNS), max_size=3, unique=True))
    if not shown:
        return BLUEPRINT.hazard
    return HazardText(
        signal=draw(st.sampled_from(("DANGER", "WARNING"))),
        pictograms=tuple(Pictogram(*sign) for sign in shown),
        contains="Contains metol.",
        statements=tuple(
            draw(st.lists(st.sampled_from(STATEMENTS), min_size=1, unique=True))
        ),
        precautions=DEVELOPER.hazard.precautions[: draw(st.integers(1, 6))],
    )


@st.composite
def headlines(draw: st.DrawFn) -> Headline:
    kind = draw(st.sampled_from(("equivalence", "dilution", "ready")))
    if kind == "ready":
        return Headline("ready", "USE AS IS")
    if kind == "dilution":
        return Headline(
            "dilution", "1 + 1 + 100", "A + B + water", beside="5 + 5 + 500 mL"
        )
    factor = draw(st.decimals("0.8", "150", places=1))
    name, scale = draw(phrases(1, 3)), Scale(Decimal(factor))
    return Headline("equivalence", f"{factor} mL = 1 g", name, scale=scale)


@st.composite
def cards(draw: st.DrawFn) -> CardText:
    count = draw(st.integers(1, 3))
    return replace(
        BORATE,
        name=draw(phrases(1, 4)),
        headline=draw(headlines()),
        summary=draw(phrases(2, 8)),
        columns=(CardColumn("250 mL", "500 mL"),) * count,
        rows=draw(rows(count)),
        hazard=draw(hazards()),
        part=draw(
            st.sampled_from((None, PartMark("A", "B"), PartMark("C", "A and B")))
        ),
        notes=BORATE.notes[: draw(st.integers(0, 6))],
        volume_mL=Decimal(draw(st.sampled_from((250, 1000, 4000)))),
    )


@settings(
    max_examples=60,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
@given(cards(), st.sampled_from(("a6", "a5", "a4")))
def test_a_card_is_placed_whole_or_refused_with_what_would_do(
    text: CardText, key: str
) -> None:
    layout = card_layout(key)
    try:
        pages = place_card(text, layout=layout, settings=Settings())
    except Misfit as misfit:
        told = str(misfit)
        assert told.startswith(f"card {key}, ")
        assert "--layout a" in told or "--make" in told or "two cards" in told
        return
    require_sound(text, layout, pages)
