"""Routes worked out: amounts from outside, and nothing that will not dissolve."""

from collections.abc import Sequence
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labelkit.errors import NoAnswer
from labelkit.files.chemicals import entries_from_tables
from labelkit.files.pairs import read_exchange
from labelkit.files.routes import read_routes
from labelkit.mixing.preparing import Prepared, prepare
from labelkit.mixing.routes import Chosen, Route, Way, choose
from tests.mixing.conftest import Room

ROUTES = read_routes()
EXCHANGE = read_exchange()
META = "sodium-metaborate-tetrahydrate"
METABORATE = (META, "borax-decahydrate", "sodium-hydroxide")


def chosen(room: Room, product: str, *reagents: str) -> Chosen:
    catalogue = room.books.catalogue
    forms = [catalogue.substance(chemical) for chemical in reagents]
    return choose(catalogue.substance(product), forms, (), ROUTES, catalogue)


def made(room: Room, way: Chosen, grams: str, volume: str) -> Prepared:
    return prepare(
        way,
        Decimal(grams),
        Decimal(volume),
        planner=room.plan,
        catalogue=room.books.catalogue,
        exchange=EXCHANGE,
        assays=room.books.assays,
    )


def weighed(found: Prepared) -> dict[str, Decimal]:
    doses = found.plan.job.doses
    return {d.chemical: d.mass_g for d in doses if d.mass_g is not None}


def strongest(room: Room, way: Chosen, asked: str = "2000") -> Decimal:
    """The largest strength that is offered, from the refusal [g/L]."""
    with pytest.raises(NoAnswer, match="cannot be made") as caught:
        made(room, way, asked, "1000")
    words = str(caught.value).partition("The largest strength that does is ")[2]
    return Decimal(words.split(" ", 1)[0])


@pytest.mark.parametrize(
    ("product", "grams", "reagents"),
    [
        # references/calculation-checks.toml; the figure in the comment is the case's id
        # B-mb-02; and 69.16 + 14.50 in public lists from 1999 on
        (META, "100", {"borax-decahydrate": "69.16", "sodium-hydroxide": "14.51"}),
        # B-mb-06
        (META, "100", {"boric-acid": "44.851", "sodium-hydroxide": "29.013"}),
        # B-so-01
        (
            "sodium-sulfite-anhydrous",
            "100",
            {"sodium-metabisulfite": "75.412", "sodium-hydroxide": "31.734"},
        ),
        # B-cb-01: 100 g of bicarbonate leave 63.083 g of carbonate
        ("sodium-carbonate-anhydrous", "63.083", {"sodium-bicarbonate": "100"}),
        # Z-D05
        (
            "sodium-ascorbate",
            "10",
            {"ascorbic-acid": "8.89", "sodium-bicarbonate": "4.24"},
        ),
    ],
)
def test_amounts_are_those_worked_out_elsewhere(
    room: Room, product: str, grams: str, reagents: dict[str, str]
) -> None:
    found = made(room, chosen(room, product, *reagents), grams, "1000")
    got = weighed(found)
    assert set(got) == set(reagents)
    for chemical, wanted in reagents.items():
        assert got[chemical] == pytest.approx(Decimal(wanted), abs=Decimal("0.02"))


def test_a_jar_that_is_not_pure_is_weighed_for_what_it_holds(room: Room) -> None:
    # Z-D07: 300 g of potassium oxalate from potassium hydroxide of 85 %
    jars = room.with_jars({"potassium-hydroxide": "85"})
    way = chosen(
        room,
        "potassium-oxalate-monohydrate",
        "oxalic-acid-dihydrate",
        "potassium-hydroxide",
    )
    got = weighed(made(jars, way, "300", "1000"))
    assert got["oxalic-acid-dihydrate"] == pytest.approx(
        Decimal("205.28"), abs=Decimal("0.05")
    )
    assert got["potassium-hydroxide"] == pytest.approx(
        Decimal("214.97"), abs=Decimal("0.05")
    )


def usual(route: Route, room: Room) -> Chosen:
    return chosen(room, route.products[0], *(slot[0] for slot in route.reagents))


@pytest.mark.parametrize("route", ROUTES, ids=lambda route: route.id)
def test_every_route_gives_a_gram_in_fifty_mL_and_leaves_nothing(
    room: Room, route: Route
) -> None:
    found = made(room, usual(route, room), "20", "1000")
    assert found.chosen.route is route
    strength = found.plan.solution.strength
    assert strength is not None
    assert strength.mL_per_g == pytest.approx(50, rel=Decimal("1e-12"))
    (run,) = found.plan.solution.runs
    ledger = found.plan.solution.ledger
    assert all(ledger.present_g(s.chemical) == 0 for s, _ in run.equation.reactants)


@pytest.mark.parametrize("route", ROUTES, ids=lambda route: route.id)
def test_lye_meets_cold_water_in_a_vessel_of_its_own(room: Room, route: Route) -> None:
    found = made(room, usual(route, room), "20", "1000")
    catalogue, steps = room.books.catalogue, found.plan.recipe.steps
    lyes = [
        step
        for step in steps
        if step.add in catalogue
        and "strong-base" in catalogue.substance(step.add or "").tags
    ]
    assert len(lyes) == (route.way is Way.LYE)
    for lye in lyes:
        water = next(s for s in steps if s.add == "water" and s.vessel == lye.vessel)
        assert lye.vessel
        assert water.number < lye.number
        assert water.at_C is not None
        assert water.at_C <= 15
        assert "Goggles" in lye.caution
    if route.way is Way.GAS:
        assert any("It foams" in step.caution for step in steps)
    assert steps[-1].make_up_to == found.plan.recipe.makes


def test_the_largest_strength_of_borax_is_that_of_its_saturated_solution(
    room: Room,
) -> None:
    # G-09: saturated at 20 degC is 4.71 % w/w decahydrate: 48 g in a litre
    way = chosen(room, "borax-decahydrate", "boric-acid", "sodium-hydroxide")
    assert 45 <= strongest(room, way) <= 49


def test_the_largest_strength_of_carbonate_is_that_of_its_saturated_solution(
    room: Room,
) -> None:
    # CRC Handbook, 98th ed.: 17.9 % w/w at 20 degC, density about 1.19: 213 g/L; the
    # rule of thumb for densities is cautious here
    way = chosen(room, "sodium-carbonate-anhydrous", "sodium-bicarbonate")
    assert 190 <= strongest(room, way) <= 215


@pytest.mark.parametrize(
    "way",
    [
        METABORATE,
        ("sodium-sulfite-anhydrous", "sodium-metabisulfite", "sodium-hydroxide"),
        ("sodium-oxalate", "oxalic-acid-dihydrate", "sodium-bicarbonate"),
        ("borax-decahydrate", "boric-acid", "sodium-carbonate-anhydrous"),
    ],
)
def test_what_is_offered_instead_can_be_made_and_a_tenth_more_cannot(
    room: Room, way: Sequence[str]
) -> None:
    route = chosen(room, *way)
    most = strongest(room, route)
    assert made(room, route, str(most), "1000").chosen is route
    with pytest.raises(NoAnswer):
        made(room, route, str(most * Decimal("1.1")), "1000")


def test_a_strong_solution_is_told_to_crystallise_in_the_cold(room: Room) -> None:
    # CRC Handbook: 10.8 % w/w at 10 degC, 6.44 % at 0 degC
    way = chosen(room, "sodium-carbonate-anhydrous", "sodium-bicarbonate")
    at_20, at_5 = made(room, way, "150", "1000").storage
    assert (at_20.at_C, at_20.fits) == (20, True)
    assert (at_5.at_C, at_5.fits) == (5, False)
    assert at_5.clear_from_C is not None
    assert 10 < at_5.clear_from_C < 20


def test_bisulfite_is_checked_as_what_crystallises_from_it(room: Room) -> None:
    found = made(room, chosen(room, "sodium-bisulfite"), "100", "1000")
    assert {stage.chemical for stage in found.storage} == {"sodium-metabisulfite"}


def test_what_no_table_tells_is_not_guessed(room: Room) -> None:
    way = chosen(room, "potassium-metaborate", "boric-acid", "potassium-hydroxide")
    assert {stage.fits for stage in made(room, way, "50", "1000").storage} == {None}


def test_baking_tells_by_its_weight_how_far_it_went(room: Room) -> None:
    way = chosen(room, "sodium-carbonate-anhydrous", "sodium-bicarbonate")
    loss = made(room, way, "63.083", "1000").weight_loss
    assert loss is not None
    # B-cb-01: 36.917 g of 100 g go
    assert loss.loss_percent == pytest.approx(Decimal("36.917"), abs=Decimal("0.02"))
    assert loss.done_percent(loss.before_g) == 0
    assert loss.done_percent(loss.after_g) == 100
    # half of the loss: half is done
    middle = (loss.before_g + loss.after_g) / 2
    assert loss.done_percent(middle) == pytest.approx(50)
    assert loss.weighs_g(Decimal(50)) == pytest.approx(middle)


def test_the_heat_of_a_neutralisation_is_told_apart(room: Room) -> None:
    # 1 mol of lye in a litre: 55.8 kJ over about 1.05 kg x 4.18 J/gK, 12 to 13 K
    way = chosen(
        room, "sodium-acetate-anhydrous", "acetic-acid-glacial", "sodium-hydroxide"
    )
    found = made(room, way, "82.034", "1000")
    assert 12 <= found.reaction_K <= 13.5
    assert made(room, chosen(room, "sodium-bisulfite"), "50", "1000").reaction_K == 0


def test_the_cupboard_chooses_the_route_and_the_form(room: Room) -> None:
    catalogue = room.books.catalogue
    product = catalogue.substance(META)

    def first(*jars: str) -> list[str]:
        found = choose(product, [], jars, ROUTES, catalogue)
        return [form.id for form in found.reagents]

    assert first() == ["borax-decahydrate", "sodium-hydroxide"]
    assert first("boric-acid", "sodium-hydroxide") == ["boric-acid", "sodium-hydroxide"]
    assert first("borax-pentahydrate", "potassium-hydroxide") == [
        "borax-pentahydrate", "potassium-hydroxide",
    ]  # fmt: skip
    # one jar of two is not enough, but its form is taken
    assert first("borax-pentahydrate") == ["borax-pentahydrate", "sodium-hydroxide"]


def test_a_persons_own_form_takes_the_place_of_a_built_in_one(room: Room) -> None:
    table = {
        "id": "house-lye",
        "parent": "sodium-hydroxide",
        "formula": "NaOH",
        "classes": ["Skin Corr. 1A"],
        "source": "made for the test",
    }
    entries, faults = entries_from_tables([table], place="chemicals.toml")
    assert not faults
    catalogue = room.books.catalogue.with_own(entries)
    found = choose(catalogue.substance(META), [], ["house-lye"], ROUTES, catalogue)
    assert [form.id for form in found.reagents] == ["borax-decahydrate", "house-lye"]


def test_ascorbate_is_not_made_into_its_mirror_kin(room: Room) -> None:
    with pytest.raises(NoAnswer, match="no vetted route makes sodium isoascorbate"):
        chosen(room, "sodium-isoascorbate")


def test_what_a_route_does_not_take_is_refused_with_those_it_does(room: Room) -> None:
    with pytest.raises(NoAnswer) as caught:
        chosen(room, META, "borax-decahydrate", "sodium-carbonate-anhydrous")
    assert "borax-decahydrate,sodium-hydroxide; boric-acid" in str(caught.value)


def test_either_hydroxide_gives_the_same_metaborate(room: Room) -> None:
    # the catalogue counts potassium metaborate with sodium metaborate, mole for mole
    potash = made(
        room,
        chosen(room, META, "borax-decahydrate", "potassium-hydroxide"),
        "50",
        "1000",
    )
    soda = made(room, chosen(room, *METABORATE), "50", "1000")
    both = (potash.plan.solution.strength, soda.plan.solution.strength)
    assert both[0] is not None
    assert both[1] is not None
    assert both[0].mL_per_g == pytest.approx(both[1].mL_per_g)
    borax = "borax-decahydrate"
    assert weighed(potash)[borax] == pytest.approx(weighed(soda)[borax])
    # 5.089 / 3.627 = 56.106 / 39.997
    ratio = weighed(potash)["potassium-hydroxide"] / weighed(soda)["sodium-hydroxide"]
    assert ratio == pytest.approx(Decimal("1.403"), abs=Decimal("0.001"))


def test_any_size_and_any_jar_meet_the_strength_exactly(room: Room) -> None:
    way = chosen(room, *METABORATE)

    @settings(max_examples=40)
    @given(
        st.decimals(Decimal("0.5"), 150, places=2),
        st.decimals(100, 3000, places=0),
        st.decimals(85, 100, places=1),
    )
    def holds(per_litre: Decimal, volume_mL: Decimal, assay: Decimal) -> None:
        jars = room.with_jars({"sodium-hydroxide": str(assay)})
        grams = per_litre * volume_mL / 1000
        found = made(jars, way, str(grams), str(volume_mL))
        strength = found.plan.solution.strength
        assert strength is not None
        assert strength.g_per_L == pytest.approx(per_litre, rel=Decimal("1e-11"))
        # nothing is left over by the last digit of a division
        assert len(found.plan.solution.contents) == 1

    holds()
