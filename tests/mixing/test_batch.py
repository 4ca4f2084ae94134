"""A batch: everything worked out again from what was really weighed."""

from decimal import Decimal

import pytest
from msgspec.structs import replace

from labelkit.errors import BadInput
from labelkit.mixing.batch import unacknowledged
from labelkit.mixing.check import Check, Level
from tests.mixing.conftest import Room
from tests.mixing.writing import METABORATE, text

BORATE = text(
    "500 mL",
    [
        ("water", "350 mL"),
        ("borax-decahydrate", "17.3 g"),
        ("sodium-hydroxide", "3.626 g"),
    ],
    METABORATE,
)
SULFITE_TWICE = text(
    "1 L",
    [
        ("sodium-sulfite-anhydrous", "6 g"),
        ("metol", "6 g"),
        ("sodium-sulfite-anhydrous", "114 g"),
    ],
)
BAG = """
title = "Bag"
makes = "100 g"
[[step]]
add = "sodium-carbonate-anhydrous"
amount = "100 g"
"""
POURED = text("1 L", [("recipe:borate", "100 mL")])


def refused(room: Room, recipe: str, *weighed: str, into: str | None = None) -> str:
    with pytest.raises(BadInput) as caught:
        room.mix(room.plan(recipe), *weighed, into=into)
    return str(caught.value)


def test_what_was_read_decides_and_not_the_plan(room: Room) -> None:
    planned = room.plan(BORATE)
    batch = room.mix(planned, "2=17.3g", "3=3.2g")
    assert planned.solution.strength is not None
    strength = batch.plan.solution.strength
    assert strength is not None
    # 3.2 g of lye limits: 4 NaBO2·4H2O for 2 NaOH
    wanted = Decimal("3.2") / Decimal("39.997") * 2 * Decimal("137.861") * 2
    assert abs((strength.g_per_L or 0) - wanted) < Decimal("1e-20")
    assert strength.g_per_L != planned.solution.strength.g_per_L


def test_a_step_without_a_reading_stays_as_planned(room: Room) -> None:
    batch = room.mix(room.plan(BORATE), "2=17.4g")
    assert [(d.step, d.read) for d in batch.plan.job.doses] == [
        (1, False),
        (2, True),
        (3, False),
    ]
    assert [dose.mass_g for dose in batch.planned] == [
        None,
        Decimal("17.3"),
        Decimal("3.626"),
    ]


@pytest.mark.parametrize(
    "word", ["2=17.4g", "borax-decahydrate=17.4g", "Borax decahydrate = 17,4 g"]
)
def test_a_reading_names_its_step_or_its_chemical(room: Room, word: str) -> None:
    batch = room.mix(room.plan(BORATE), word)
    dose = batch.plan.job.doses[1]
    assert (dose.mass_g, dose.read) == (Decimal("17.4"), True)


def test_a_chemical_that_goes_in_twice_is_named_by_step(room: Room) -> None:
    assert refused(room, SULFITE_TWICE, "sodium-sulfite-anhydrous=6g") == (
        "--weighed: sodium-sulfite-anhydrous goes in more than once. "
        "Name the step instead: 1, 3."
    )
    batch = room.mix(room.plan(SULFITE_TWICE), "1=7g", "3=110g")
    assert batch.plan.solution.ledger.present_g("sodium-sulfite-anhydrous") == 117


@pytest.mark.parametrize(
    ("word", "told"),
    [
        (
            "17.4g",
            "--weighed: '17.4g' has no '='. "
            "Write STEP=AMOUNT, such as 2=17.4g or borax-decahydrate=17.4g.",
        ),
        (
            "4=17.4g",
            "--weighed: no step adds '4'. Name one of: "
            "1 (water), 2 (borax-decahydrate), 3 (sodium-hydroxide).",
        ),
        (
            "potassium-bromide=1g",
            "--weighed: no step adds 'potassium-bromide'. Name one of: "
            "1 (water), 2 (borax-decahydrate), 3 (sodium-hydroxide).",
        ),
        (
            "2=lots",
            "--weighed 2: 'lots' does not start with a number. "
            "Write a number and its unit.",
        ),
        (
            "2=1,000 g",
            "--weighed 2: '1,000 g' can be read in two ways. Write 1000 g or 1.000 g.",
        ),
        ("2=0 g", "--weighed 2: '0 g' is not more than 0. Write a number above 0."),
    ],
)
def test_a_reading_that_cannot_be_read_is_refused(
    room: Room, word: str, told: str
) -> None:
    assert refused(room, BORATE, word) == told


def test_one_step_has_one_reading(room: Room) -> None:
    assert refused(room, BORATE, "2=17.3g", "borax-decahydrate=17.4g") == (
        "--weighed: step 2 is given twice. Give each step one reading."
    )


def test_a_volume_of_a_powder_is_refused(room: Room) -> None:
    assert refused(room, BORATE, "2=17 mL") == (
        "step 2, amount: borax-decahydrate has no density, so mL cannot be turned into "
        "grams. Write the amount in g, or give the chemical a density."
    )


def test_a_solution_that_is_poured_is_read_in_mL(room: Room) -> None:
    stock = room.stock(BORATE, "borate")
    planned = room.plan(POURED, stocks={"borate": stock})
    with pytest.raises(BadInput) as caught:
        room.mix(planned, "1=90 g")
    assert str(caught.value) == (
        "step 1: '90 g' of a solution that is poured. "
        "Write what the cylinder read, in mL."
    )


def test_water_may_be_weighed(room: Room) -> None:
    batch = room.mix(room.plan(BORATE), "1=349.4 g")
    assert batch.plan.job.doses[0].mass_g == Decimal("349.4")


def test_what_it_was_really_made_up_to_counts(room: Room) -> None:
    planned = room.plan(BORATE)
    batch = room.mix(planned, made_up_to=room.recipe(BORATE).makes)
    assert batch.plan.solution.strength == planned.solution.strength
    more = room.plan(BORATE, "550 mL").job.make
    thinner = room.mix(planned, made_up_to=more).plan.solution.strength
    assert planned.solution.strength is not None
    assert thinner is not None
    as_planned = planned.solution.strength.mL_per_g or 0
    assert thinner.mL_per_g == as_planned * Decimal("1.1")


def test_a_bag_is_made_up_by_mass(room: Room) -> None:
    planned = room.plan(BAG)
    with pytest.raises(BadInput) as caught:
        room.mix(planned, made_up_to=room.recipe(BORATE).makes)
    assert str(caught.value) == (
        "--made-up-to: '500 mL' is not a mass. Write it in g or kg."
    )


def test_a_measured_ph_and_density_win(room: Room) -> None:
    batch = room.mix(room.plan(BORATE), ph=Decimal("11.1"), density=Decimal("1.03"))
    plan = batch.plan
    assert plan.ph is not None
    assert (plan.ph.value, plan.ph.source) == (11.1, "measured")
    assert plan.solution.density is not None
    assert plan.solution.density.g_per_mL == Decimal("1.03")
    assert plan.solution.mass_g == 515


def test_a_density_measured_on_what_was_made_by_mass_tells_its_volume(
    room: Room,
) -> None:
    water = '[[step]]\nadd = "water"\namount = "60 g"\n'
    recipe = BAG.replace('amount = "100 g"', 'amount = "40 g"') + water
    batch = room.mix(room.plan(recipe), density=Decimal("1.25"))
    assert batch.plan.job.volume_mL == 80
    assert list(batch.bottles_mL) == [80]


def test_one_bottle_holds_it_all_unless_told_otherwise(room: Room) -> None:
    assert list(room.mix(room.plan(BORATE)).bottles_mL) == [500]
    assert list(room.mix(room.plan(BAG)).bottles_mL) == [100]


@pytest.mark.parametrize(
    ("into", "sizes"),
    [
        ("2x250 mL", [250, 250]),
        ("2×0.2 L, 10x10mL", [200, 200, *[10] * 10]),
        ("500 mL", [500]),
        ("2x275 mL", [275, 275]),
    ],
    ids=["two alike", "of two sizes", "one", "not quite full"],
)
def test_bottles_are_told_by_their_size(
    room: Room, into: str, sizes: list[int]
) -> None:
    assert list(room.mix(room.plan(BORATE), into=into).bottles_mL) == sizes


def test_bags_are_told_in_grams(room: Room) -> None:
    assert list(room.mix(room.plan(BAG), into="4x25 g").bottles_mL) == [25] * 4
    assert refused(room, BAG, into="4x25 mL") == (
        "--into: '25 mL' is not a mass. Write it in g or kg."
    )


@pytest.mark.parametrize(
    ("into", "told"),
    [
        (
            "3x250 mL",
            "--into: '3x250 mL' is 750 mL of bottles for 500 mL. "
            "Name bottles that hold no more than was made.",
        ),
        (
            "2x276 mL",
            "--into: '2x276 mL' is 552 mL of bottles for 500 mL. "
            "Name bottles that hold no more than was made.",
        ),
        (
            "axb",
            "--into: 'axb' does not say how many bottles. "
            "Write it like 2x250 mL, 12x10 mL.",
        ),
        (
            "0x250 mL",
            "--into: '0x250 mL' does not say how many bottles. "
            "Write it like 2x250 mL, 12x10 mL.",
        ),
        ("2x250 g", "--into: '250 g' is not a volume. Write it in mL or L."),
        (
            "250",
            "--into: '250' has no unit. Write one of: g, kg, mg, mL, L, lb, oz, ozt, "
            "grain, drachm, drop, US fl oz, imp fl oz (and so on from minim to "
            "gallon).",
        ),
    ],
)
def test_bottles_that_cannot_be_are_refused(room: Room, into: str, told: str) -> None:
    assert refused(room, BORATE, into=into) == told


def test_a_deadly_remark_waits_to_be_acknowledged(room: Room) -> None:
    deadly = Check("incompatible", Level.STOP, 2, "Poison gas.")
    grave = Check("leftover", Level.WARN, None, "Lye left over.")
    plan = replace(room.plan(BORATE), checks=(deadly, grave))
    assert unacknowledged(plan, ()) == (deadly,)
    assert unacknowledged(plan, ("incompatible",)) == ()
