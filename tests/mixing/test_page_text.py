"""The words of a batch's record page."""

from decimal import Decimal

from labelkit.mixing.batch import Batch
from labelkit.mixing.page_text import page_text_for
from labelkit.mixing.words import PageText
from tests.mixing.conftest import NUMBER, Room
from tests.mixing.writing import LYE_LEFT, text


def page(room: Room, batch: Batch) -> PageText:
    return page_text_for(batch, room.handbook(batch.plan.recipe), room.settings)


def borate(room: Room, *weighed: str, **how: str) -> PageText:
    return page(room, room.mix(room.sample("borate-alkali"), *weighed, **how))


def test_a_page_says_what_was_planned_and_what_was_read(tern_street: Room) -> None:
    told = borate(tern_street, "2=17.42g", "4=49 mL")
    rows = [(w.step, w.what, w.planned, w.read) for w in told.weighings]
    assert rows == [
        (1, "Water", "300 mL", ""),
        (2, "Borax decahydrate", "17.3 g", "17.42 g"),
        (4, "Water", "50 mL", "49 mL"),
        (5, "Sodium hydroxide", "3.7 g", ""),
    ]


def test_a_page_tells_contents_in_every_strength(tern_street: Room) -> None:
    told = borate(tern_street)
    metaborate = told.contents[-1]
    assert metaborate.name == "sodium metaborate tetrahydrate"
    assert (metaborate.g_per_L, metaborate.mol_per_L) == ("50 g/L", "0.363 mol/L")
    assert metaborate.percent_ww == "4.93 % w/w"


def test_a_page_tells_how_surely_its_figures_are_known(tern_street: Room) -> None:
    estimates = " ".join(borate(tern_street).estimates)
    assert "Strength known to ±1.4 % (standard uncertainty" in estimates
    assert "pH 11.2, measured." in estimates
    assert "Density 1.01 g/mL, estimate." in estimates
    assert "sodium hydroxide warms the second jug by 18 K" in estimates


def test_a_ph_is_told_with_its_band_or_with_the_reason(room: Room) -> None:
    salt = text("1 L", [("borax-decahydrate", "3.8137 g")])
    buffered = page(room, room.mix(room.plan(salt)))
    # NIST SRM 187, 0.01 mol/kg borax: 9.18 at 25 degC
    assert "pH about 9.2 (9.1 to 9.2), estimated." in buffered.estimates
    green = salt.replace("borax-decahydrate", "ferric-ammonium-citrate-green")
    without = page(room, room.mix(room.plan(green)))
    assert (
        "pH: no figure, because ferric ammonium citrate has no fixed make-up."
        in without.estimates
    )


def test_a_page_gives_the_reasoning_of_its_classes(tern_street: Room) -> None:
    reasons = borate(tern_street).reasons
    (repr_1b,) = (r for r in reasons if r.hazard_class == "Repr. 1B FD")
    assert "borates 3.46 % ≥ 0.3 %" in repr_1b.text
    assert repr_1b.rule == "Note 11"


def test_a_page_names_its_bottles_and_its_equivalence(tern_street: Room) -> None:
    told = borate(tern_street, into="2x200 mL, 100 mL")
    assert told.bottles == ("200 mL", "200 mL", "100 mL")
    assert told.mL_per_g is not None
    assert round(told.mL_per_g, 1) == Decimal("20.0")
    assert told.number == NUMBER
    assert told.recipe == "borate-alkali"
    assert told.keep_in == "HDPE bottle"


def test_a_bag_is_told_in_grams(room: Room) -> None:
    bag = """
        title = "Bag"
        makes = "100 g"
        [[step]]
        add = "sodium-carbonate-anhydrous"
        amount = "100 g"
    """
    told = page(room, room.mix(room.plan(bag), into="2x50 g"))
    assert told.bottles == ("50 g", "50 g")
    assert told.contents[0].g_per_L == ""
    assert told.contents[0].percent_ww == "100 % w/w"


def test_remarks_on_the_batch_stand_on_its_page(room: Room) -> None:
    told = page(room, room.mix(room.plan(LYE_LEFT)))
    assert any("g of sodium hydroxide are left over" in r for r in told.remarks)


def test_the_steps_stand_as_they_were_mixed(tern_street: Room) -> None:
    told = borate(tern_street, "2=17.4g")
    (step,) = (row for row in told.steps if row.number == 2)
    assert step.amounts[0].text == "17.4\u00a0g"
    assert len(told.steps) == 7
