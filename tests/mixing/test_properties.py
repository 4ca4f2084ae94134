"""What holds for every recipe, whatever is in it."""

import json
from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from itertools import permutations
from typing import Any, TypeVar

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labelkit.chemistry.amounts import Amount, Dimension
from labelkit.chemistry.formulas import atoms, molar_mass
from labelkit.chemistry.reactions import Run
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.ledger import EMPTY, Ledger, react
from labelkit.mixing.plain import from_plain, to_plain
from labelkit.mixing.plan import Plan
from labelkit.mixing.recipe import ReactionSpec
from labelkit.mixing.words import BottleText, CardText, PageText
from tests.mixing.conftest import Room
from tests.mixing.writing import METABORATE

T = TypeVar("T")

# A few of each kind: salts, hydrates, developing agents, borates, an acid, a base.
SOLIDS = [
    "borax-decahydrate",
    "boric-acid",
    "citric-acid-monohydrate",
    "hydroquinone",
    "metol",
    "potassium-bromide",
    "potassium-carbonate",
    "pyrogallol",
    "sodium-carbonate-monohydrate",
    "sodium-hydroxide",
    "sodium-sulfite-anhydrous",
    "sodium-thiosulfate-pentahydrate",
]
PREPARATIONS = [
    ReactionSpec(
        ("borax-decahydrate", "sodium-hydroxide"), ("sodium-metaborate-tetrahydrate",)
    ),
    ReactionSpec(
        ("sodium-metabisulfite", "sodium-hydroxide"), ("sodium-sulfite-anhydrous",)
    ),
    ReactionSpec(("ascorbic-acid", "sodium-bicarbonate"), ("sodium-ascorbate",)),
    ReactionSpec(
        ("citric-acid-monohydrate", "sodium-carbonate-anhydrous"),
        ("trisodium-citrate-dihydrate",),
    ),
]
NEXT_TO_NOTHING = Decimal("1e-18")

grams = st.decimals(min_value="0.1", max_value="90", places=1)
assays = st.decimals(min_value="60", max_value="100", places=1)
Added = list[tuple[str, Decimal]]
added_solids = st.lists(
    st.tuples(st.sampled_from(SOLIDS), grams),
    min_size=1,
    max_size=4,
    unique_by=lambda each: each[0],
)


def recipe(added: Added, *, times: Decimal = Decimal(1), tables: str = "") -> str:
    """These solids in a litre, weighed out one after the other and filled up."""
    litres = f"{times} L"
    steps = [("water", f"{700 * times} mL")]
    steps += [(chemical, f"{mass * times} g") for chemical, mass in added]
    written = [f'[[step]]\nadd = "{a}"\namount = "{amount}"' for a, amount in steps]
    fill = f'[[step]]\nmake_up_to = "{litres}"'
    head = f'title = "Made up"\nmakes = "{litres}"\n{tables}'
    return "\n".join([head, *written, fill])


def told(plan: Plan) -> dict[str, Any]:
    """What comes out of a plan, in an order that does not hang on its steps."""
    solution, hazard = plan.solution, plan.hazard
    strength = solution.strength
    return {
        "contents": {
            c.chemical: (_told(c.g_per_L), _told(c.mol_per_L), _told(c.percent_ww))
            for c in solution.contents
        },
        "strength": strength and (_told(strength.g_per_L), _told(strength.mL_per_g)),
        "classes": set(hazard.classes),
        "statements": set(hazard.h),
        "pictograms": hazard.pictograms,
        "signal": hazard.signal,
        "p": set(hazard.p),
        "ph": plan.ph and round(plan.ph.value, 6),
    }


def _told(value: Decimal | None) -> str:
    return "" if value is None else f"{value:.15g}"


@given(added=added_solids, water_g=grams, data=st.data())
def test_what_goes_in_is_what_stands_in_the_ledger(
    room: Room, added: Added, water_g: Decimal, data: Any
) -> None:
    ledger = EMPTY.with_water(water_g)
    for chemical, mass_g in added:
        substance = room.books.catalogue.substance(chemical)
        ledger = ledger.with_chemical(substance, mass_g, data.draw(assays))
    put_in = water_g + sum(mass_g for _, mass_g in added)
    assert abs(ledger.mass_g - put_in) < put_in * NEXT_TO_NOTHING


@settings(max_examples=40)
@given(masses=st.tuples(grams, grams))
@pytest.mark.parametrize("spec", PREPARATIONS, ids=lambda spec: spec.products[0])
def test_a_reaction_gives_off_what_the_ledger_loses(
    room: Room, spec: ReactionSpec, masses: tuple[Decimal, Decimal]
) -> None:
    before = poured(spec, masses, room.books.catalogue)
    after, (run,) = react(before, [spec], room.books.catalogue)
    gas_g = run.gas.mass_g if run.gas else Decimal(0)
    # molar masses are kept to 0.001 g/mol
    assert abs(after.mass_g + gas_g - before.mass_g) < before.mass_g * Decimal("5e-5")


@settings(max_examples=40)
@given(masses=st.tuples(grams, grams))
@pytest.mark.parametrize("spec", PREPARATIONS, ids=lambda spec: spec.products[0])
def test_no_element_is_made_or_lost_in_a_reaction(
    room: Room, spec: ReactionSpec, masses: tuple[Decimal, Decimal]
) -> None:
    catalogue = room.books.catalogue
    before = poured(spec, masses, catalogue)
    after, (run,) = react(before, [spec], catalogue)
    was, now = moles(before, catalogue), moles(after, catalogue, run)
    assert was.keys() == now.keys()
    assert all(abs(was[e] - now[e]) < was[e] * NEXT_TO_NOTHING for e in was)


def poured(
    spec: ReactionSpec, masses: Sequence[Decimal], catalogue: Catalogue
) -> Ledger:
    ledger = EMPTY.with_water(Decimal(300))
    for chemical, mass_g in zip(spec.reactants, masses, strict=True):
        substance = catalogue.substance(chemical)
        ledger = ledger.with_chemical(substance, mass_g, Decimal(100))
    return ledger


def moles(
    ledger: Ledger, catalogue: Catalogue, run: Run | None = None
) -> dict[str, Decimal]:
    """Moles of each element in a ledger, and in the gas that came off."""
    found: dict[str, Decimal] = {}
    for formula, mass_g in weighed(ledger, catalogue, run):
        for element, count in atoms(formula).items():
            n = mass_g / molar_mass(formula) * count
            found[element] = found.get(element, Decimal(0)) + n
    return found


def weighed(
    ledger: Ledger, catalogue: Catalogue, run: Run | None
) -> Iterator[tuple[str, Decimal]]:
    for chemical, line in ledger.lines.items():
        yield catalogue.substance(chemical).formula or "", line.present_g
    yield "H2O", ledger.water_g
    if run and run.gas:
        yield run.gas.formula, run.gas.mass_g


@settings(max_examples=25)
@given(added=added_solids, times=st.sampled_from(["0.25", "0.5", "2", "3", "10"]))
def test_scaling_a_recipe_and_scaling_its_plan_agree(
    room: Room, added: Added, times: str
) -> None:
    factor = Decimal(times)
    larger = Amount(1000 * factor, Dimension.VOLUME)
    scaled_plan = room.plan(recipe(added), larger)
    scaled_recipe = room.plan(recipe(added, times=factor))
    assert told(scaled_plan) == told(scaled_recipe)
    assert doses(scaled_plan) == doses(scaled_recipe)


def doses(plan: Plan) -> list[tuple[str, Decimal | None, Decimal | None]]:
    return [(d.chemical, d.mass_g, d.volume_mL) for d in plan.job.doses]


@settings(max_examples=25)
@given(added=added_solids, data=st.data())
def test_the_order_of_the_steps_changes_nothing_that_comes_out(
    room: Room, added: Added, data: Any
) -> None:
    other = data.draw(st.permutations(added))
    assert told(room.plan(recipe(other))) == told(room.plan(recipe(added)))


def test_the_order_of_the_reagents_changes_nothing_that_comes_out(room: Room) -> None:
    added = [
        ("borax-decahydrate", Decimal("34.6")),
        ("sodium-hydroxide", Decimal("7.2")),
        ("potassium-bromide", Decimal(2)),
    ]
    orders = permutations(added)
    results = [
        told(room.plan(recipe(list(order), tables=METABORATE))) for order in orders
    ]
    assert len(results) == 6
    assert all(result == results[0] for result in results)


@settings(max_examples=25)
@given(added=added_solids)
def test_strengths_turn_into_one_another_and_back(room: Room, added: Added) -> None:
    of = added[0][0]
    tables = f'[strength]\nof = "{of}"'
    plan = room.plan(recipe(added, tables=tables))
    strength, substance = plan.solution.strength, room.books.catalogue.substance(of)
    assert strength is not None
    assert strength.g_per_L is not None
    assert strength.mL_per_g is not None
    assert strength.mol_per_L is not None
    assert substance.molar_mass is not None
    per_litre = strength.g_per_L
    assert float(strength.mL_per_g * per_litre) == pytest.approx(1000, rel=1e-20)
    assert float(strength.mol_per_L * substance.molar_mass) == pytest.approx(
        float(per_litre), rel=1e-15
    )
    assert strength.mass_g == per_litre  # of a litre


@settings(max_examples=25)
@given(added=added_solids, water_g=grams)
def test_shares_by_mass_add_up_to_the_whole(
    room: Room, added: Added, water_g: Decimal
) -> None:
    whole = water_g + sum(mass_g for _, mass_g in added)
    steps = [("water", water_g), *added]
    lines = [f'[[step]]\nadd = "{a}"\namount = "{mass_g} g"' for a, mass_g in steps]
    head = f'title = "By mass"\nmakes = "{whole} g"'
    plan = room.plan("\n".join([head, *lines]))
    shares = [c.percent_ww or Decimal(0) for c in plan.solution.contents]
    water = plan.solution.ledger.water_g / whole * 100
    assert float(sum(shares) + water) == pytest.approx(100, rel=1e-15)


# what is no number equals nothing, not even itself
st.register_type_strategy(Decimal, st.decimals(allow_nan=False, allow_infinity=False))


@settings(max_examples=15)
@given(data=st.data())
@pytest.mark.parametrize("kind", [BottleText, CardText, PageText, Ledger])
def test_what_is_frozen_is_read_again_as_it_was(kind: type[T], data: Any) -> None:
    value = data.draw(st.from_type(kind))
    again = from_plain(kind, json.loads(json.dumps(to_plain(value))))
    assert again == value


def test_a_field_that_a_later_version_added_keeps_its_default() -> None:
    data: Mapping[str, Any] = {"lines": {}, "water_g": "3", "once_known": 1}
    assert from_plain(Ledger, data) == Ledger({}, water_g=Decimal(3))
