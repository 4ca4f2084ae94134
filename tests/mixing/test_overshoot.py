"""Too much went in: what else must go in to keep the strength."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from labelkit.chemistry.amounts import parse_amount
from labelkit.mixing.doses import Dose
from labelkit.mixing.job import Job
from labelkit.mixing.overshoot import Rescue, off_by, rescue_for, scaled_job
from labelkit.mixing.plan import Plan
from labelkit.mixing.working import work_out
from tests.mixing.conftest import Room
from tests.mixing.writing import METABORATE, text

BORATE = text(
    "500 mL",
    [
        ("water", "350 mL"),
        ("borax-decahydrate", "20 g"),
        ("sodium-hydroxide", "4 g"),
        ("potassium-bromide", "1 g"),
    ],
    METABORATE,
)
UNFILLED = """
title = "Bath"
makes = "550 mL"
[[step]]
add = "water"
amount = "500 mL"
[[step]]
add = "citric-acid-monohydrate"
amount = "20 g"
"""


def rescue(job: Job, step: int, read: str, **already: str) -> Rescue | None:
    """After a reading at ``step``, with everything before it in as planned or read."""
    over = next(d for d in job.doses if d.step == step).read_as(parse_amount(read))
    done = [dose for dose in job.doses if dose.step < step]
    readings = {int(name.removeprefix("step_")): word for name, word in already.items()}
    done = [
        d.read_as(parse_amount(readings[d.step])) if d.step in readings else d
        for d in done
    ]
    return rescue_for(job, over, done)


def found(room: Room, recipe: str, step: int, read: str, **already: str) -> Rescue:
    offered = rescue(room.plan(recipe).job, step, read, **already)
    assert offered is not None
    return offered


def test_everything_grows_with_what_was_overshot(room: Room) -> None:
    offered = found(room, BORATE, 3, "5 g")
    assert offered.times == Decimal("1.25")
    assert offered.job.volume_mL == 625
    assert [d.mass_g for d in offered.job.doses[1:]] == [25, 5, Decimal("1.25")]


def test_what_is_in_already_wants_the_difference(room: Room) -> None:
    (more,) = found(room, BORATE, 3, "5 g").more
    assert more.step == 2
    assert more.mass_g == 5


def test_what_was_really_read_counts_towards_the_difference(room: Room) -> None:
    (more,) = found(room, BORATE, 3, "5 g", step_2="22 g").more
    assert more.mass_g == 3
    assert found(room, BORATE, 3, "5 g", step_2="25 g").more == ()


def test_water_comes_with_the_filling_up(room: Room) -> None:
    assert [dose.step for dose in found(room, BORATE, 4, "2 g").more] == [2, 3]


def test_without_filling_up_water_wants_more_too(room: Room) -> None:
    (more,) = found(room, UNFILLED, 2, "30 g").more
    assert more.chemical == "water"
    assert more.volume_mL == 250


def test_too_much_water_only_shortens_the_filling_up(room: Room) -> None:
    assert rescue(room.plan(BORATE).job, 1, "400 mL") is None
    assert found(room, UNFILLED, 1, "1 L").times == 2


@pytest.mark.parametrize("read", ["4 g", "3.9 g", "10 mL"])
def test_what_was_not_too_much_needs_no_rescue(room: Room, read: str) -> None:
    assert rescue(room.plan(BORATE).job, 3, read) is None


@pytest.mark.parametrize(
    ("read", "off"), [("5 g", "0.25"), ("4 g", "0"), ("3 g", "-0.25"), ("5 mL", None)]
)
def test_a_reading_is_so_far_off(read: str, off: str | None) -> None:
    dose = Dose(1, "sodium-hydroxide", mass_g=Decimal(4))
    wanted = None if off is None else Decimal(off)
    assert off_by(parse_amount(read), dose) == wanted


@settings(max_examples=25)
@given(over=st.decimals("4.1", "40", places=1))
def test_the_strength_is_kept(room: Room, over: Decimal) -> None:
    plan = room.plan(BORATE)
    offered = rescue(plan.job, 3, f"{over} g")
    assert offered is not None
    kept = worked_out(room, offered.job)
    assert plan.solution.strength is not None
    assert kept.solution.strength is not None
    before, after = plan.solution.strength.g_per_L, kept.solution.strength.g_per_L
    assert before is not None
    assert after is not None
    assert abs(after - before) < Decimal("1e-20")
    in_all = [d.mass_g for d in offered.job.doses if d.step == 3]
    assert in_all == [pytest.approx(over)]


def test_a_mix_by_mass_grows_by_mass(room: Room) -> None:
    recipe = BORATE.replace("500 mL", "500 g")
    offered = found(room, recipe, 3, "8 g")
    assert offered.job.make.number == 1000
    assert offered.job.volume_mL is None


def test_a_job_is_scaled_whole(room: Room) -> None:
    job = room.plan(BORATE).job
    twice = scaled_job(job, Decimal(2))
    assert twice == replace(room.plan(BORATE, "1 L").job, make=twice.make)


def worked_out(room: Room, job: Job) -> Plan:
    return work_out(job, room.books, room.settings)
