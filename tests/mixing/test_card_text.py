"""The words of a mixing card."""

import pytest

from labelkit.mixing.card_text import card_text
from labelkit.mixing.words import CardText, Words
from tests.mixing.conftest import Room


def card(room: Room, name: str, *makes: str) -> CardText:
    plans = [room.sample(name, make) for make in makes] or [room.sample(name)]
    return card_text(plans, room.handbook(plans[0].recipe), room.settings)


def spoken(words: Words) -> str:
    return "".join(run.text for run in words).replace("\u00a0", " ")


def note(told: CardText, term: str) -> str:
    return next((spoken(n.text) for n in told.notes if n.term == term), "")


def test_a_card_has_a_column_for_each_quantity(tern_street: Room) -> None:
    told = card(tern_street, "borate-alkali", "250 mL", "500 mL", "1 L")
    assert [c.quantity.replace("\u00a0", " ") for c in told.columns] == [
        "250 mL", "500 mL", "1 L",
    ]  # fmt: skip
    assert len(told.rows[1].amounts) == 3
    assert told.headline.text == "20 mL = 1 g"


@pytest.mark.parametrize(
    ("makes", "beaker"),
    [("50 mL", "100 mL"), ("66 mL", "100 mL"), ("67 mL", "250 mL"), ("8 L", "bucket")],
)
def test_a_beaker_leaves_room_to_stir(
    tern_street: Room, makes: str, beaker: str
) -> None:
    """Half as much again: common practice, no source."""
    (column,) = card(tern_street, "citric-stop", makes).columns
    assert column.beaker.replace("\u00a0", " ") == beaker


def test_a_card_sums_up_strength_and_keeping(tern_street: Room) -> None:
    told = card(tern_street, "borate-alkali").summary.replace("\u00a0", " ")
    assert told == "50 g/L, 5 % w/v. Keeps 12 months."
    plain = card(tern_street, "plain-fixer").summary.replace("\u00a0", " ")
    assert plain == "Keeps 2 months."


def test_a_card_says_what_it_opens_and_which_revision_it_is(tern_street: Room) -> None:
    told = card(tern_street, "film-developer")
    assert told.code == "HTTPS://BOTTLES.EXAMPLE.ORG/R/FILM-DEVELOPER"
    assert told.code_means == "Code: the page of the recipe Film developer"
    assert told.revision == "revision 4"
    assert told.room.startswith("Tern Street Print Room. Scan for this recipe")
    offline = card(tern_street.set_up(base_url=""), "film-developer")
    assert offline.code == "FILM DEVELOPER REVISION 4"
    assert offline.room == "Tern Street Print Room."


def test_a_powder_worse_than_its_solution_is_named(tern_street: Room) -> None:
    told = note(card(tern_street, "borate-alkali"), "The powders")
    assert told == (
        "Sodium hydroxide: DANGER. Causes severe skin burns and eye damage. "
        "Gloves and goggles before the jar is opened; no dust."
    )


def test_a_powder_no_worse_than_its_solution_is_not(tern_street: Room) -> None:
    assert note(card(tern_street, "pyro-b"), "The powders") == ""


def test_of_many_powders_the_worst_are_named(room: Room) -> None:
    chemicals = [
        "potassium-carbonate",
        "sodium-metabisulfite",
        "metol",
        "hydroquinone",
        "sodium-hydroxide",
    ]
    steps = "\n".join(
        f'[[step]]\nadd = "{chemical}"\namount = "0.1 g"' for chemical in chemicals
    )
    head = 'title = "Many"\nmakes = "1 L"\n[measured]\nph = 9'
    fill = '[[step]]\nmake_up_to = "1 L"'
    plan = room.plan(f"{head}\n{steps}\n{fill}")
    told = note(card_text([plan], room.books, room.settings), "The powders")
    assert "Sodium hydroxide: DANGER." in told
    assert "Hydroquinone: DANGER." in told
    assert "Potassium carbonate" not in told
    assert told.count("DANGER.") + told.count("WARNING.") == 3


def test_the_authors_own_notes_are_on_the_back(tern_street: Room) -> None:
    told = card(tern_street, "borate-alkali")
    assert note(told, "While mixing").startswith("Lye goes into cold water")
    assert "warm to 25 °C and shake" in note(told, "Storage")
    assert note(told, "Storage").startswith("HDPE bottle. Plastic cap")
    assert note(told, "Disposal").startswith("As hazardous waste. Ask the room.")
    assert note(told, "Why").startswith("Na2B4O7·10H2O + 2 NaOH + 5 H2O")


def test_waste_goes_where_the_room_says_or_counts_as_hazardous(
    tern_street: Room,
) -> None:
    told = card(tern_street, "pyro-b")
    assert note(told, "Disposal") == (
        "To the Tern Street waste shelf. Not down the sink."
    )
    nowhere = card(tern_street.set_up(disposal=""), "pyro-b")
    assert note(nowhere, "Disposal") == "As hazardous waste."


def test_a_card_says_whom_to_call_and_whom_to_heed(tern_street: Room) -> None:
    told = card(tern_street, "pyro-a")
    assert told.emergency == "01632 960 118"
    assert "licensed professional" in told.aid_full
    assert spoken(told.first_words).endswith("Call and read out this card.")
    assert told.part is not None
    assert told.part.letter == "A"


def test_the_classes_of_a_card_are_those_of_its_label(tern_street: Room) -> None:
    told = card(tern_street, "borate-alkali", "250 mL", "500 mL", "1 L")
    assert told.hazard.signal == "DANGER"
    assert told.hazard.contains == "Contains borates."


def test_a_bag_has_its_quantity_in_grams(room: Room) -> None:
    plan = room.plan(
        """
        title = "Bag"
        makes = "100 g"
        [use]
        makes = "1 L"
        [[step]]
        add = "sodium-carbonate-anhydrous"
        amount = "100 g"
        """
    )
    told = card_text([plan], room.books, room.settings)
    assert told.columns[0].quantity.replace("\u00a0", " ") == "100 g"
    assert told.headline.text == "Bag makes 1 L"


def test_a_powder_whose_class_has_no_signal_word_is_told_without_one(
    tern_street: Room,
) -> None:
    """H412 has none: Regulation (EC) No 1272/2008, Annex I, Table 4.1.4."""
    told = note(card(tern_street, "blueprint-b"), "The powders")
    assert told.startswith("Potassium ferricyanide: Harmful to aquatic life")
