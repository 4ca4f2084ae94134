"""What holds of every label that is placed at all, whatever is in the bottle."""

from decimal import Decimal

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from labelkit.errors import BadInput, Misfit
from labelkit.mixing.bench import Settings
from labelkit.mixing.words import (
    BottleText,
    HazardText,
    Headline,
    PartMark,
    Pictogram,
    Run,
    Scale,
    Tally,
    Words,
)
from labelkit.printing.boxes import Code, Page, Symbol, Text
from labelkit.printing.codes import QUIET_ZONE
from labelkit.printing.extents import extent_of
from labelkit.printing.fit import Placement
from labelkit.printing.fonts import min_size_pt
from labelkit.printing.label import place_label
from labelkit.printing.layouts import Layout, built_in, layout_named
from labelkit.printing.leaves import apart
from labelkit.printing.said import missing
from labelkit.printing.search import forget
from labelkit.printing.typeset import plain
from tests.printing.label_texts import (
    AID,
    BATH,
    BORATE,
    BROMIDE,
    CARBONATE,
    DEVELOPER,
    EYES,
    EYES_AND_CALL,
    HOST,
    NONE_REACHED,
    P102,
    P202,
    P273,
    P280,
    P308_P313,
    P405,
    P501,
    PYROGALLOL,
    SILVER,
    SKIN,
    bottle,
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
HAZARD_FIELDS = {
    "alert", "contains", "statements", "precautions", "first-words", "aid",
    "never-with", "none-reached",
}  # fmt: skip
# Least size of the largest piece [pt]: design, print-spec sections 3 and 4.
LEAST_BY_FIELD: dict[str, float] = {
    "signal": 12, "do-not-drink": 12, "headline": 28, "substance": 11.3,
    "discard": 6.6, "number": 8,
}  # fmt: skip
# The same on what is smaller than a label: design, print-spec sections 4 and 8.
LEAST_ON: dict[str, dict[str, float]] = {
    "tag": {"do-not-drink": 9},
    "dropper": {"do-not-drink": 9, "discard": 6.6},
    "cap": {"number": 6.6},
}


def require_sound(text: BottleText, layout: Layout, page: Page) -> None:
    assert overlaps(page, 0.02) == []
    assert white_lines_off_black(page) == []
    require_inside(page, layout)
    require_sizes(text, page, layout)
    assert missing(text, page, layout.kind) == []
    if layout.halves:
        require_both_halves(text, page)
    if layout.is_a_label_of(text):
        require_a_whole_label(text, page, layout)


def require_both_halves(text: BottleText, page: Page) -> None:
    """Either half warns by itself: design, print-spec section 8."""
    for half in apart(page):
        told = words_of(half)
        for words in (text.name, text.number, text.hazard.signal, "DO NOT DRINK",
                      text.part.letter if text.part else ""):  # fmt: skip
            assert plain_spaces(words).strip() in told
        shown = [box for box in half.boxes if isinstance(box, Symbol)]
        assert [box.code for box in shown] == [p.code for p in text.hazard.pictograms]


def require_a_whole_label(text: BottleText, page: Page, layout: Layout) -> None:
    if layout.halves:
        page = apart(page)[1]
    require_one_panel(page, layout)
    told = words_of(page)
    assert "DO NOT DRINK" in told
    for statement in text.hazard.statements:
        assert plain_spaces(statement) in told
    for words in text.hazard.precautions:
        assert plain_spaces(plain(words)) in told
    shown = [box.code for box in page.boxes if isinstance(box, Symbol)]
    assert shown == [item.code for item in text.hazard.pictograms]


def require_inside(page: Page, layout: Layout) -> None:
    for name, ink in inks(page):
        margin = 0.0 if name.startswith(("code", "hole")) else layout.margin
        assert ink.left >= margin - 0.02, name
        assert ink.top >= margin - 0.02, name
        assert ink.right <= layout.width - margin + 0.02, name
        assert ink.bottom <= layout.height - margin + 0.02, name
    for box in page.boxes:
        at = extent_of(box)
        assert at.right <= layout.width - layout.margin + 0.02, box
        assert at.bottom <= layout.height - layout.margin + 0.02, box


def require_sizes(text: BottleText, page: Page, layout: Layout) -> None:
    least = min_size_pt(float(text.volume_mL))
    least_by_field = LEAST_BY_FIELD | LEAST_ON.get(layout.name, {})
    for field, line in lines_of(page):
        sizes = [size for said, _, size in line.pieces if said.strip()]
        assert min(sizes) >= FLOOR_PT, field
        if field in HAZARD_FIELDS:
            assert min(sizes) >= least, field
        assert max(sizes) >= least_by_field.get(field, FLOOR_PT), field
    for box in page.boxes:
        if isinstance(box, Symbol):
            assert box.side >= 10


TWO_PANELS = {"wrap-low", "wrap", "large-wide"}  # identity left, hazards right


def require_one_panel(page: Page, layout: Layout) -> None:
    """Pictograms, signal word, H and P stand together: CLP Article 32."""
    together = {"statements", "precautions", "contains", "never-with"}
    blocks = [
        box
        for box in page.boxes
        if isinstance(box, Symbol) or (isinstance(box, Text) and box.field in together)
    ]
    if layout.name in TWO_PANELS and blocks:
        assert min(box.x for box in blocks) > 60


def placed(
    text: BottleText, layout: Layout | None, settings: Settings
) -> Placement | None:
    """The label, or None where it is refused in one line."""
    try:
        return place_label(text, layout=layout, settings=settings)
    except (Misfit, BadInput) as refused:
        told = str(refused)
    assert told.count("\n") == 0
    place = f"layout {layout.name}: " if layout else "no layout carries"
    assert told.startswith((place, "code: "))
    return None


WORD = st.text("abcdefghilmnoprstuyABMNPST0123456789(),.-½", min_size=1, max_size=12)
SAID = st.lists(WORD, min_size=1, max_size=5).map(" ".join)
RUNS: st.SearchStrategy[Words] = st.lists(
    st.builds(Run, SAID, st.booleans()), max_size=2
).map(tuple)
NUMBER = st.from_regex(
    r"[0-9A-HJKMNP-TV-Z]{4}-[0-9A-HJKMNP-TV-Z]{4}-[0-9A-Z]", fullmatch=True
)
FIGURE = st.sampled_from(["1", "5", "10", "12.5", "20", "105", "1000"])
EQUIVALENCES = st.builds(
    lambda mL, substance, hydrate, scale, beside: Headline(
        "equivalence", f"{mL} mL = 1 g", substance, hydrate, beside,
        Scale(Decimal(mL)) if scale else None,
    ),
    FIGURE, SAID, st.sampled_from(["", "anhydrous", "pentahydrate"]), st.booleans(),
    st.sampled_from(["", "1 + 9"]),
)  # fmt: skip
RATIOS = st.builds(
    lambda a, b, beside: Headline(
        "dilution", f"1 + {a} + {b}", "A + B + water", beside=beside
    ),
    FIGURE, FIGURE, st.sampled_from(["", "5 + 5 + 500 mL"]),
)  # fmt: skip
OTHERS = st.sampled_from(
    [Headline("ready", "USE AS IS"), Headline("dry", "Bag makes 1 L", "developer")]
)
PICTOGRAMS = st.lists(
    st.sampled_from(
        [
            Pictogram("GHS05", "Corrosive"), Pictogram("GHS06", "Toxic"),
            Pictogram("GHS07", "Irritant"), Pictogram("GHS08", "Health hazard"),
            Pictogram("GHS09", "Environment"), Pictogram("GHS03", "Oxidising"),
        ]
    ),
    max_size=3, unique=True,
).map(tuple)  # fmt: skip
STATEMENTS = st.lists(
    st.sampled_from(
        [
            "Causes serious eye irritation",
            "Causes severe skin burns and eye damage",
            "May cause an allergic skin reaction",
            "Very toxic to aquatic life with long lasting effects",
            "May damage fertility. May damage the unborn child",
            "Contact with acids liberates toxic gas",
        ]
    ),
    max_size=5,
    unique=True,
).map(tuple)
PRECAUTIONS = st.lists(
    st.sampled_from([P102, P202, P273, P280, P308_P313, P405, P501, EYES,
                     EYES_AND_CALL, SKIN]),
    max_size=6, unique=True,
).map(tuple)  # fmt: skip
CLASSES = st.builds(
    HazardText,
    st.sampled_from(["DANGER", "WARNING", ""]),
    PICTOGRAMS,
    st.sampled_from(["", "pH not measured: labelled as corrosive to be safe"]),
    st.sampled_from(["", "Contains hydroquinone, metol."]),
    STATEMENTS,
    PRECAUTIONS,
    open_points=st.lists(SAID.map("Not determined: {}.".format), max_size=2).map(tuple),
)
NO_CLASS = st.builds(
    lambda points: HazardText(none_reached=NONE_REACHED, open_points=points),
    st.lists(SAID.map("No official entry: {}.".format), max_size=2).map(tuple),
)
BOTTLES = st.builds(
    bottle,
    SAID,
    NUMBER,
    st.one_of(EQUIVALENCES, RATIOS, OTHERS),
    strength=st.sampled_from([(), ("50 g/L",), ("100 g/L", "10 % w/v")]),
    contents=RUNS,
    discard_label=st.sampled_from(["Discard after"]),
    discard=st.sampled_from(["2032-03-14", "2031-03-14 15:40"]),
    hazard=st.one_of(CLASSES, NO_CLASS),
    never_with=st.one_of(st.just(""), SAID.map("NEVER WITH {}: gas.".format)),
    volume_mL=st.sampled_from([10, 125, 250, 500, 501, 3000, 5000]).map(Decimal),
    bottle=st.sampled_from(["", "bottle 1 of 2", "bottle 12 of 14"]),
    part=st.one_of(
        st.none(),
        st.builds(
            PartMark, st.sampled_from("ABCD"), st.sampled_from(["", "A", "B and C"]),
            st.sampled_from(["", "1 + 1 + 100"]),
        ),
    ),
    off_when=st.one_of(st.just(""), SAID.map("or when {}.".format)),
    use_mark=st.sampled_from(["", "SHARED", "ASK M. OSEI", "HOLD"]),
    emergency=st.sampled_from(["", "01632 960 118", "112"]),
    supplier=st.one_of(st.just(""), SAID),
    cautions=st.lists(SAID, max_size=2).map(tuple),
    write_in=st.booleans(),
    tally=st.one_of(st.none(), st.builds(Tally, st.integers(1, 24), SAID)),
)  # fmt: skip


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(BOTTLES, st.sampled_from(built_in()), st.sampled_from(["own", "room", "supply"]))
def test_a_label_is_set_right_or_refused(
    text: BottleText, layout: Layout, profile: str
) -> None:
    placement = placed(text, layout, Settings(profile=profile))
    if placement:
        require_sound(text, layout, placement.page)
        assert placement.spare >= 0


MODEST = st.builds(
    lambda text, name: replace(text, name=name),
    st.sampled_from([BORATE, BROMIDE, BATH, PYROGALLOL, CARBONATE, DEVELOPER, SILVER]),
    SAID,
)


@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    MODEST,
    NUMBER,
    st.sampled_from(["", "bottle 3 of 12"]),
    st.sampled_from([25, 250, 500, 1000]),
    st.booleans(),
)
def test_a_bottle_of_the_room_is_set_right_on_the_layout_chosen_for_it(
    text: BottleText, number: str, which: str, mL: int, tallied: bool
) -> None:
    text = replace(text, number=number, bottle=which, volume_mL=Decimal(mL))
    if tallied:
        text = replace(text, tally=Tally(12, "one box, one film"))
    placement = placed(text, None, Settings(profile="room"))
    if placement:
        require_sound(text, layout_named(placement.layout), placement.page)


@pytest.mark.parametrize("layout", built_in(), ids=lambda layout: layout.name)
@pytest.mark.parametrize(
    "changes",
    [
        {"name": "Other stock"},
        {"number": "0000-0000-0"},
        {"headline": Headline("ready", "USE AS IS")},
        {"strength": ("1 g/L",)},
        {"contents": (Run("With silver 3 g/L."),)},
        {"made": "Mixed 2031-04-01 by A. Lind."},
        {"discard": "2040-01-01"},
        {"discard_label": "", "discard": "No discard date known: test before use."},
        {"first_words": (Run("Call."),)},
        {"never_with": "NEVER WITH acid."},
        {"aid": "An aid."},
        {"code": HOST + "0000-0000-0"},
        {"code_means": "Opens a page"},
        {"volume_mL": Decimal(3000)},
        {"bottle": "bottle 9 of 9"},
        {"part": PartMark("C", "A and B", "1 + 2")},
        {"off_when": "or when brown."},
        {"use_mark": "HOLD"},
        {"emergency": ""},
        {"supplier": "Tern Street 1."},
        {"cautions": ("Keep dark.",)},
        {"write_in": True},
        {"tally": Tally(5, "one box, one sheet")},
        {"hazard": replace(BORATE.hazard, alert="pH not measured.")},
        {"hazard": replace(BORATE.hazard, signal="WARNING")},
        {"hazard": BROMIDE.hazard},
    ],
    ids=lambda changes: "-".join(changes),
)
def test_a_change_of_words_is_seen_whatever_was_printed_before(
    changes: dict[str, object], layout: Layout
) -> None:
    for text in (BORATE, BROMIDE, DEVELOPER):
        changed = replace(text, **changes)
        placed(text, layout, Settings())
        after = placed(changed, layout, Settings())
        forget()
        assert after == placed(changed, layout, Settings())


@pytest.mark.parametrize("layout", built_in(), ids=lambda layout: layout.name)
@pytest.mark.parametrize(
    "changes",
    [
        {"name": "Weak alkaline bath " * 21},
        {"name": "W" * 400},
        {"contents": (Run(", ".join(f"substance {k} 1.5" for k in range(40))),)},
        {"strength": ("1234567890 g/L " * 5,)},
        {"discard": "x" * 200},
        {"discard_label": "", "discard": "No discard date known: test before use."},
        {"made": "by " * 150},
        {"number": "A" * 80},
        {"never_with": "NEVER WITH " + "acid " * 80},
        {"supplier": "Street " * 90},
        {"off_when": "or when " + "dark " * 60},
        {"emergency": "0" * 60},
        {"bottle": "bottle 1 of " + "9" * 90},
        {"use_mark": "ASK " + "SOMEBODY " * 20},
        {"code": "A" * 4000},
        {"code": ""},
        {"tally": Tally(500, "one box, one sheet")},
        {"tally": Tally(0, "")},
        {"part": PartMark("Z" * 30, "B" * 30, "1 + " * 30)},
        {"part": PartMark("", "", "")},
        {"headline": Headline("equivalence", "1" * 40 + " mL = 1 g")},
        {"headline": Headline("equivalence", "")},
        {"headline": Headline("dilution", "1 + 9", "water " * 60)},
        {"first_words": (), "aid": ""},
        {"volume_mL": Decimal("0.01")},
        {"volume_mL": Decimal("1000000")},
        {"hazard": HazardText()},
        {"hazard": HazardText("DANGER" * 20)},
        {"hazard": HazardText("DANGER", (Pictogram("GHS05", "Corrosive " * 20),))},
        {"hazard": replace(BORATE.hazard, statements=("Toxic",) * 60)},
    ],
    ids=lambda changes: "-".join(changes),
)  # fmt: skip
def test_the_strangest_bottle_is_set_right_or_refused(
    changes: dict[str, object], layout: Layout
) -> None:
    text = replace(BORATE, **changes)
    placement = placed(text, layout, Settings())
    if placement:
        assert overlaps(placement.page, 0.02) == []
        assert white_lines_off_black(placement.page) == []
        require_inside(placement.page, layout)


def test_the_quiet_zone_is_free_and_on_the_label() -> None:
    page = place_label(BORATE, layout=None, settings=Settings()).page
    (code,) = [box for box in page.boxes if isinstance(box, Code)]
    zone = QUIET_ZONE * code.module  # ISO/IEC 18004:2015, 6.3.8: four modules
    assert page.width - code.x - code.module * code.modules >= zone
    names = [name for pair in overlaps(page, 0.0) for name in pair]
    assert "code and its quiet zone" not in names


def test_an_aid_is_always_said() -> None:
    for text in (BORATE, BROMIDE, PYROGALLOL, DEVELOPER):
        page = place_label(text, layout=None, settings=Settings()).page
        assert AID in words_of(page)
