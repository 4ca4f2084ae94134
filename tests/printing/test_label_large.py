"""The layouts for large bottles, drums and trays: what they carry, and how large."""

from decimal import Decimal

import pypdfium2
import pytest
import zxingcpp
from msgspec.structs import replace

from labelkit.errors import Misfit
from labelkit.mixing.bench import Settings
from labelkit.mixing.words import BottleText, PartMark, Run
from labelkit.printing.boxes import Symbol
from labelkit.printing.fit import Placement, choose, fit
from labelkit.printing.label import place_label
from labelkit.printing.layouts import layout_named
from labelkit.printing.pdf import draw
from labelkit.printing.said import missing
from tests.printing.label_texts import AID_FULL, BROMIDE, DEVELOPER, LOADS
from tests.printing.placed import lines_of, words_of

LARGE = ("large", "large-wide", "drum")


def placed(load: str, layout: str, mL: int, profile: str = "room") -> Placement:
    text = in_bottle(LOADS[load], mL)
    return fit(
        text, layout_named(layout), profile=profile, mono=False, keyline=True
    )  # fmt: skip


def in_bottle(text: BottleText, mL: int) -> BottleText:
    return replace(text, volume_mL=Decimal(mL))


def sides(placement: Placement) -> set[float]:
    boxes = placement.page.boxes
    return {box.side for box in boxes if isinstance(box, Symbol)}


# Every load up to three litres: design, print-spec section 5. Pictograms "if possible
# 16 x 16 mm" up to 3 L: Regulation (EC) No 1272/2008, Annex I, Table 1.3.
@pytest.mark.parametrize("layout", LARGE)
@pytest.mark.parametrize("mL", [1000, 3000])
@pytest.mark.parametrize("load", LOADS)
def test_up_to_three_litres_every_load_fits_with_its_pictograms_in_full(
    load: str, mL: int, layout: str
) -> None:
    placement = placed(load, layout, mL)
    assert all(side >= 16 for side in sides(placement))
    assert missing(in_bottle(LOADS[load], mL), placement.page) == []
    has_scale = any(field == "scale-g" for field, _ in lines_of(placement.page))
    assert has_scale == (LOADS[load].headline.scale is not None)


# Above 3 L at least 23 x 23 mm; Table 1.3 of the same.
@pytest.mark.parametrize("mL", [3001, 5000, 50_000])
@pytest.mark.parametrize("load", [load for load in LOADS if load != "none"])
def test_above_three_litres_a_drum_carries_every_load_at_23_mm(
    load: str, mL: int
) -> None:
    assert min(sides(placed(load, "drum", mL))) >= 23


@pytest.mark.parametrize(
    ("load", "layout"),
    [
        ("none", "large"),
        ("one", "large"),
        ("two", "drum"),
        ("five", "drum"),
        ("corr", "drum"),
    ],
)
def test_above_three_litres_large_is_taken_then_drum(load: str, layout: str) -> None:
    assert choose(in_bottle(LOADS[load], 3001), (), "room").name == layout
    assert choose(in_bottle(LOADS[load], 3000), (), "room").name == "wrap"


def test_what_is_too_much_for_large_is_sent_to_the_drum() -> None:
    with pytest.raises(Misfit, match="Use --layout drum"):
        placed("five", "large", 5000)


@pytest.mark.parametrize("layout", LARGE)
@pytest.mark.parametrize("load", LOADS)
def test_from_large_up_the_aid_is_said_in_full(load: str, layout: str) -> None:
    assert AID_FULL in words_of(placed(load, layout, 1000).page)


def test_the_aid_is_missed_where_neither_wording_is_there() -> None:
    text = in_bottle(DEVELOPER, 1000)
    page = placed("five", "large", 1000).page
    other = replace(text, aid="Another aid.", aid_full="Another aid at length.")
    assert missing(other, page) == ["Another aid."]
    assert missing(replace(text, aid="Another aid."), page) == []


# Read at a metre: at least 18.9 pt; design, print-spec section 3.
@pytest.mark.parametrize("layout", LARGE)
@pytest.mark.parametrize("load", LOADS)
def test_name_and_headline_are_read_from_the_shelf(load: str, layout: str) -> None:
    largest = {"name": 0.0, "headline": 0.0}
    for field, line in lines_of(placed(load, layout, 1000).page):
        if field in largest:
            most = max(size for _, _, size in line.pieces)
            largest[field] = max(largest[field], most)
    assert largest["name"] >= 19
    assert largest["headline"] >= 38


@pytest.mark.parametrize("layout", LARGE)
def test_the_tally_stays_on_a_large_label(layout: str) -> None:
    page = placed("five", layout, 1000).page
    assert any(field == "tally" for field, _ in lines_of(page))


def test_pictograms_grow_into_the_room_of_a_drum() -> None:
    text = in_bottle(replace(LOADS["one"], contents=(), part=None), 1000)
    few = replace(text.hazard, precautions=text.hazard.precautions[:1])
    placement = fit(
        replace(text, hazard=few),
        layout_named("drum"),
        profile="room",
        mono=False,
        keyline=True,
    )
    assert max(sides(placement)) > 16
    assert placement.steps == ()


def test_a_set_keeps_its_part_mark_on_large_labels() -> None:
    text = replace(in_bottle(DEVELOPER, 1000), part=PartMark("C", "A and B", "1 + 9"))
    for layout in LARGE:
        settings = Settings(profile="room")
        page = place_label(text, layout=layout_named(layout), settings=settings).page
        assert {"part", "goes-with", "ratio"} <= {field for field, _ in lines_of(page)}


@pytest.mark.parametrize("layout", [*LARGE, "tall-wide"])
def test_the_code_of_a_large_label_reads_back_at_150_dpi(layout: str) -> None:
    # Acceptance: design, print-spec section 6.
    page = placed("none", layout, 500).page
    pdf = draw([page], title="x", author="x", subject="bottle label")
    image = pypdfium2.PdfDocument(pdf)[0].render(scale=150 / 72).to_pil()
    (found,) = zxingcpp.read_barcodes(image.convert("L"))
    assert found.text == BROMIDE.code


def test_tall_wide_is_for_no_class_and_taken_only_where_it_is_named() -> None:
    assert placed("none", "tall-wide", 500).spare >= 0
    with pytest.raises(Misfit, match="for a bottle that reaches no hazard class"):
        placed("one", "tall-wide", 500)
    for mL in (100, 500, 501, 3000):
        assert choose(in_bottle(BROMIDE, mL), (), "room").name != "tall-wide"


def test_words_that_no_label_holds_are_refused() -> None:
    words = " ".join(f"substance {k} is 12.3," for k in range(600))
    text = replace(in_bottle(DEVELOPER, 5000), contents=(Run(words),))
    with pytest.raises(Misfit, match="no layout carries"):
        choose(text, (), "room")


# ------------------------------------------------- the size that Table 1.3 asks for

# A class without a pictogram: Aquatic Chronic 3 alone (Regulation (EC) No 1272/2008,
# Annex I, Table 4.1.6: no pictogram, no signal word).
CHRONIC_3 = replace(
    LOADS["one"],
    hazard=replace(
        LOADS["one"].hazard,
        signal="",
        pictograms=(),
        statements=("Harmful to aquatic life with long lasting effects.",),
    ),
)


@pytest.mark.parametrize(
    ("mL", "short", "long"),
    # Annex I, Table 1.3: above 3, 50 and 500 L
    [(3001, 74, 105), (50_001, 105, 148), (500_001, 148, 210)],
)
@pytest.mark.parametrize("profile", ["own", "room", "supply"])
def test_a_label_is_as_large_as_its_bottle_asks_even_without_a_pictogram(
    mL: int, short: int, long: int, profile: str
) -> None:
    layout = choose(in_bottle(CHRONIC_3, mL), (), profile)
    low, high = sorted((layout.width, layout.height))
    assert low >= short
    assert high >= long


def test_a_smaller_label_is_refused_where_a_bottle_is_supplied() -> None:
    text = in_bottle(CHRONIC_3, 500_001)
    large = layout_named("large")
    given = {"mono": False, "keyline": False}
    with pytest.raises(Misfit, match="measures 148 x 210 mm or more") as caught:
        fit(text, large, profile="supply", **given)
    assert "--layout drum" in str(caught.value)
    assert fit(text, large, profile="room", **given).layout == "large"
    at_the_limit = in_bottle(CHRONIC_3, 500_000)
    assert fit(at_the_limit, large, profile="supply", **given).layout == "large"
