"""The steps as rows: what to add, how much, and what to beware of."""

from labelkit.mixing.steps_text import step_rows, what_is_added
from labelkit.mixing.words import CardRow
from tests.mixing.conftest import Room


def rows(room: Room, name: str, *makes: str) -> dict[int, CardRow]:
    plans = [room.sample(name, make) for make in makes] or [room.sample(name)]
    catalogue = room.books.catalogue
    return {row.number: row for row in step_rows(plans, catalogue, room.settings)}


def what(row: CardRow) -> str:
    return "".join(run.text for run in row.what).replace("\u00a0", " ")


def amounts(row: CardRow) -> list[str]:
    return [amount.text.replace("\u00a0", " ") for amount in row.amounts]


def test_every_step_has_its_row_in_order(tern_street: Room) -> None:
    found = rows(tern_street, "borate-alkali")
    assert [row.kind for row in found.values()] == [
        "step", "step", "text", "step", "step", "pour", "fill",
    ]  # fmt: skip
    assert list(found) == [1, 2, 3, 4, 5, 6, 7]


def test_water_is_told_with_its_warmth_and_its_kind(tern_street: Room) -> None:
    assert what(rows(tern_street, "borate-alkali")[1]) == "Water, 40 °C"
    assert what(rows(tern_street, "film-developer")[1]) == "Boiled water, 45 °C"
    assert what(rows(tern_street, "silver-nitrate")[1]) == "Distilled water"


def test_each_quantity_has_its_amount(tern_street: Room) -> None:
    found = rows(tern_street, "borate-alkali", "250 mL", "500 mL", "1 L")
    assert amounts(found[2]) == ["8.7 g", "17.3 g", "34.6 g"]
    assert amounts(found[5]) == ["1.9 g", "3.7 g", "7.4 g"]
    assert amounts(found[7]) == ["250 mL", "500 mL", "1 L"]


def test_the_jar_is_told_where_it_is_not_pure(tern_street: Room) -> None:
    found = rows(tern_street, "borate-alkali")
    assert found[5].detail == "98\u00a0%"
    assert found[2].detail == "Stir until clear."


def test_a_caution_and_a_vessel_stand_with_their_step(tern_street: Room) -> None:
    lye = rows(tern_street, "borate-alkali")[5]
    assert lye.caution.startswith("Goggles on.")
    assert lye.vessel == "second jug"


def test_cooling_and_pouring_say_what_to_do(tern_street: Room) -> None:
    found = rows(tern_street, "borate-alkali")
    assert what(found[3]) == "Cool to 25 °C"
    assert found[3].detail == "Not below: it crystallises."
    assert what(found[6]) == "Pour in the second jug"


def test_a_wait_is_told_behind_the_words(room: Room) -> None:
    plan = room.plan(
        """
        title = "Rest"
        makes = "1 L"
        [[step]]
        add = "water"
        amount = "1 L"
        text = "Stir."
        wait = "10 minutes"
        [[step]]
        text = "Ready."
        """
    )
    first, second = step_rows([plan], room.books.catalogue, room.settings)
    assert first.detail == "Stir. Wait 10\u00a0minutes."
    assert (what(second), second.kind, second.amounts) == ("Ready.", "text", ())


def test_another_recipe_is_called_by_title_and_letter(tern_street: Room) -> None:
    plan = tern_street.sample("pyro-working")
    catalogue = tern_street.books.catalogue
    called = [what_is_added(dose, plan, catalogue) for dose in plan.job.doses]
    assert called == ["Water", "Pyrogallol A", "Carbonate B"]


def test_filling_up_by_mass_is_told_in_grams(room: Room) -> None:
    plan = room.plan(
        """
        title = "By mass"
        makes = "200 g"
        [[step]]
        add = "sodium-chloride"
        amount = "10 g"
        [[step]]
        make_up_to = "200 g"
        """
    )
    fill = step_rows([plan], room.books.catalogue, room.settings)[-1]
    assert amounts(fill) == ["200.0 g"]
