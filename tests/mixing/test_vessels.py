"""The steps walked through, vessel by vessel: what is in each, and how warm it is."""

from decimal import Decimal

import pytest

from labelkit.mixing.vessels import Moment
from labelkit.mixing.warming import warming_of
from tests.mixing.conftest import Room

TWO_JUGS = """
title = "Two jugs"
makes = "500 mL"
[[step]]
add = "water"
amount = "300 mL"
at = "40 degC"
[[step]]
in = "second jug"
add = "water"
amount = "50 mL"
at = "15 degC"
[[step]]
in = "second jug"
add = "sodium-hydroxide"
amount = "3.7 g"
[[step]]
cool_to = "30 degC"
[[step]]
pour = "second jug"
[[step]]
text = "Stir."
[[step]]
make_up_to = "500 mL"
"""
PLAIN = """
title = "Plain"
makes = "1 L"
[[step]]
add = "water"
amount = "500 mL"
{at}
[[step]]
add = "{chemical}"
amount = "{amount}"
[[step]]
make_up_to = "1 L"
"""


def moments(room: Room, text: str) -> dict[int, Moment]:
    return {moment.step: moment for moment in room.plan(text).moments}


def plain(room: Room, chemical: str, amount: str, at: str = "") -> dict[int, Moment]:
    return moments(room, PLAIN.format(chemical=chemical, amount=amount, at=at))


def test_each_vessel_holds_its_own(room: Room) -> None:
    found = moments(room, TWO_JUGS)
    lye = found[3]
    assert lye.vessel == "second jug"
    assert lye.before.water_g == 50 * Decimal("0.9982")
    assert lye.after.present_g("sodium-hydroxide") == Decimal("3.7")
    assert found[5].before.present_g("sodium-hydroxide") == 0
    assert found[5].after.present_g("sodium-hydroxide") == Decimal("3.7")


def test_a_step_that_only_says_something_is_no_moment(room: Room) -> None:
    assert set(moments(room, TWO_JUGS)) == {1, 2, 3, 4, 5, 7}


def test_a_vessel_begins_as_warm_as_its_water(room: Room) -> None:
    found = moments(room, TWO_JUGS)
    assert (found[1].after_C, found[2].after_C) == (40, 15)


def test_cooling_never_warms(room: Room) -> None:
    assert moments(room, TWO_JUGS)[4].after_C == 30
    warmer = TWO_JUGS.replace('cool_to = "30 degC"', 'cool_to = "50 degC"')
    assert moments(room, warmer)[4].after_C == 40


def test_dissolving_lye_warms_by_its_heat_over_the_mass(room: Room) -> None:
    """-44.51 kJ/mol (NBS tables), 3.7 g of 39.997 g/mol into 53.6 g, 4.18 J/gK."""
    lye = moments(room, TWO_JUGS)[3]
    by_hand_K = 44_510 * 3.7 / 39.997 / ((49.91 + 3.7) * 4.18)
    assert lye.rise_K == pytest.approx(by_hand_K, rel=0.01)
    assert lye.before_C == 15


def test_two_vessels_meet_at_their_mean_by_mass(room: Room) -> None:
    found = moments(room, TWO_JUGS)
    jug_C = found[3].after_C
    wanted = (299.46 * 30 + 53.61 * jug_C) / (299.46 + 53.61)
    assert found[5].after_C == pytest.approx(wanted, rel=1e-3)


def test_filling_up_is_with_cold_water(room: Room) -> None:
    fill = plain(room, "sodium-chloride", "10 g", at='at = "60 degC"')[3]
    assert 20 < fill.after_C < fill.before.mass_g  # between the room and the solution
    assert fill.after.mass_g == pytest.approx(1000)


def test_water_of_which_nothing_is_said_is_as_warm_as_the_room(room: Room) -> None:
    assert plain(room, "sodium-chloride", "10 g")[1].after_C == 20


def test_what_warms_most_and_what_chills_are_told(room: Room) -> None:
    found = room.plan(TWO_JUGS)
    assert found.warming is not None
    assert found.warming.text == (
        "sodium hydroxide warms the second jug by 18 K to 33 °C. Reaction heat and "
        "losses are not counted"
    )
    assert found.warming.peak_C == 40  # the water itself was warmer
    assert found.warming.rise_K == pytest.approx(18.4, abs=0.3)


def test_thiosulfate_chills_its_water(room: Room) -> None:
    found = plain(room, "sodium-thiosulfate-pentahydrate", "250 g")
    warming = warming_of(tuple(found.values()), room.books.catalogue)
    assert warming is not None
    assert warming.rise_K < -10
    assert "cools it by" in warming.text


def test_a_pinch_warms_nothing_that_a_hand_would_feel(room: Room) -> None:
    found = plain(room, "sodium-hydroxide", "1 g")
    warming = warming_of(tuple(found.values()), room.books.catalogue)
    assert warming is not None
    assert warming.text == "less than 2 K at every step"


def test_nothing_of_known_heat_is_no_warming(room: Room) -> None:
    found = plain(room, "gelatin", "10 g")
    assert warming_of(tuple(found.values()), room.books.catalogue) is None


POWDERS_FIRST = """
title = "Powders first"
makes = "500 mL"
[[step]]
add = "sodium-hydroxide"
amount = "10 g"
[[step]]
add = "sodium-carbonate-anhydrous"
amount = "10 g"
[[step]]
add = "water"
amount = "400 mL"
"""


def test_powder_on_powder_dissolves_when_water_comes(room: Room) -> None:
    lye, carbonate, water = moments(room, POWDERS_FIRST).values()
    assert (lye.rise_K, carbonate.rise_K) == (0, 0)
    assert water.dissolves == ("sodium-hydroxide", "sodium-carbonate-anhydrous")
    lye_alone_K = 44_510 * 10 / 39.997 / (419.3 * 4.18)
    assert water.rise_K > lye_alone_K


def test_what_is_dissolved_already_warms_nothing_again(room: Room) -> None:
    stock = room.stock(
        PLAIN.format(chemical="sodium-hydroxide", amount="40 g", at=""), "s"
    )
    text = """
        title = "Poured"
        makes = "1 L"
        [[step]]
        add = "recipe:s"
        amount = "500 mL"
        [[step]]
        add = "water"
        amount = "400 mL"
    """
    plan = room.plan(text, stocks={"s": stock})
    assert [moment.rise_K for moment in plan.moments] == [0, 0]
    assert plan.warming is None
