"""A recipe worked out: its acidity, its quantity, and what it is to another recipe."""

from decimal import Decimal

import pytest

from labelkit.errors import BadInput
from labelkit.mixing.working import as_stock
from tests.mixing.conftest import Room
from tests.mixing.writing import METABORATE, text

BORAX = text("1 L", [("borax-decahydrate", "3.8137 g")])


def test_a_ph_is_estimated_from_what_is_in_it(room: Room) -> None:
    """0.01 mol/kg of borax: 9.180 at 25 degC (primary standard, NIST SRM 187)."""
    ph = room.plan(BORAX).ph
    assert ph is not None
    assert ph.source == "estimate"
    assert ph.value == pytest.approx(9.18, abs=0.05)
    assert ph.low < ph.value < ph.high


def test_a_measured_ph_wins_over_the_estimate(room: Room) -> None:
    steps = [("borax-decahydrate", "3.8137 g")]
    plan = room.plan(text("1 L", steps, "[measured]\nph = 9.1"))
    assert plan.ph is not None
    assert (plan.ph.value, plan.ph.source) == (9.1, "measured")
    assert plan.ph_bounds == (9.1, 9.1)
    assert "ph" not in plan.reasons


def test_a_ph_is_of_what_the_reaction_left(room: Room) -> None:
    """Half the lye for metaborate: borax and metaborate, far below the lye alone."""
    steps = [("borax-decahydrate", "19.07 g"), ("sodium-hydroxide", "2 g")]
    reacted = room.plan(text("1 L", steps, METABORATE)).ph
    lye = room.plan(text("1 L", [("sodium-hydroxide", "2 g")])).ph
    assert reacted is not None
    assert lye is not None
    assert reacted.value < 10.5 < 12 < lye.value


def test_without_a_figure_the_bounds_still_hold(room: Room) -> None:
    plan = room.plan(text("250 mL", [("sodium-carbonate-anhydrous", "50 g")]))
    assert plan.ph is None
    assert plan.reasons["ph"].startswith("too concentrated")
    assert plan.ph_bounds is not None
    assert plan.ph_bounds[0] > 11


def test_a_recipe_is_worked_out_for_its_own_quantity(room: Room) -> None:
    assert room.plan(BORAX).job.make == room.recipe(BORAX).makes
    half = room.plan(BORAX, "500 mL")
    assert half.job.volume_mL == 500
    assert half.job.doses[0].mass_g == Decimal("1.90685")


def test_liquids_up_to_the_mark_go_in(room: Room) -> None:
    full = text("100 mL", [("water", "60 mL"), ("water", "40 mL")])
    assert room.plan(full).job.volume_mL == 100
    over = text("100 mL", [("water", "60 mL"), ("water", "40.1 mL")])
    with pytest.raises(BadInput, match=r"make_up_to: 100\.1 mL of liquids go in"):
        room.plan(over)


def test_a_liquid_that_is_weighed_takes_up_room_by_its_density(room: Room) -> None:
    """Isopropanol, 0.785 g/mL: 80 g are more than 100 mL."""
    with pytest.raises(BadInput, match="mL of liquids go in, more than the 100 mL"):
        room.plan(text("100 mL", [("isopropyl-alcohol", "80 g")]))
    more = room.plan(text("110 mL", [("isopropyl-alcohol", "80 g")]))
    assert more.solution.ledger.present_g("isopropyl-alcohol") == 80


def test_a_recipe_is_to_another_what_it_holds(room: Room) -> None:
    stock = as_stock(room.plan(BORAX))
    assert (stock.name, stock.batch) == ("stock", "")
    assert stock.volume_mL == 1000
    assert stock.ledger.present_g("borax-decahydrate") == Decimal("3.8137")


def test_what_is_made_by_mass_is_no_stock(room: Room) -> None:
    bag = """
        title = "Bag"
        makes = "100 g"
        [[step]]
        add = "sodium-carbonate-anhydrous"
        amount = "100 g"
    """
    with pytest.raises(BadInput) as caught:
        as_stock(room.plan(bag))
    assert str(caught.value) == (
        "stock is made by mass, so no mL of it can be poured. "
        "Name a recipe that makes a volume."
    )
