"""The hazard block in words."""

import pytest
from msgspec.structs import replace

from labelkit.mixing.hazard_text import (
    NONE_REACHED,
    NOT_MEASURED,
    hazard_text,
    never_with_line,
)
from labelkit.mixing.plan import Plan
from labelkit.mixing.words import HazardText, Words
from tests.mixing.conftest import Room
from tests.mixing.writing import salt, text


def spoken(words: Words) -> str:
    return "".join(run.text for run in words).replace("\u00a0", " ")


def block(room: Room, plan: Plan) -> HazardText:
    handbook = room.handbook(plan.recipe)
    return hazard_text(plan.hazard, handbook, room.settings, dry=plan.solution.dry)


def test_a_classified_solution_says_everything(tern_street: Room) -> None:
    told = block(tern_street, tern_street.sample("borate-alkali"))
    assert told.signal == "DANGER"
    assert [(p.code, p.word) for p in told.pictograms] == [("GHS08", "Health hazard")]
    assert told.statements == ("May damage fertility. May damage the unborn child.",)
    assert told.contains == "Contains borates."
    assert told.alert == ""
    assert told.none_reached == ()


def test_what_is_to_be_disposed_of_goes_where_the_room_says(tern_street: Room) -> None:
    told = block(tern_street, tern_street.sample("borate-alkali"))
    assert spoken(told.precautions[-1]) == (
        "Dispose of contents and container to the Tern Street waste shelf."
    )


def test_no_class_is_never_called_harmless(tern_street: Room) -> None:
    told = block(tern_street, tern_street.sample("blueprint-a"))
    words = spoken(told.none_reached)
    assert words.startswith(
        "No hazard class reached by calculation. This does not mean safe."
    )
    assert "No official entry: ferric ammonium citrate." in words
    assert "Keep off skin, out of eyes, away from children and food." in words
    assert told.none_reached[0].strong
    assert NONE_REACHED in words


def test_a_chemical_without_data_is_named(room: Room) -> None:
    own = salt("mystery-salt", "NaNO3")
    alone = block(room, room.plan(text("1 L", [("mystery-salt", "50 g")], own)))
    assert "No hazard data for: mystery-salt." in spoken(alone.none_reached)
    steps = [("mystery-salt", "50 g"), ("hydroquinone", "20 g")]
    beside = block(room, room.plan(text("1 L", steps, own)))
    assert "No hazard data for: mystery-salt." in beside.open_points


def test_a_ph_that_nobody_measured_is_told_under_the_signal_word(room: Room) -> None:
    plan = room.plan(text("250 mL", [("sodium-carbonate-decahydrate", "50 g")]))
    assert plan.hazard.assumed_corrosive
    told = block(room, plan)
    assert told.alert == NOT_MEASURED
    assert told.signal == "DANGER"
    assert not block(room, room.plan(measured(11.3))).alert


def measured(ph: float) -> str:
    steps = [("sodium-carbonate-anhydrous", "50 g")]
    return text("250 mL", steps, f"[measured]\nph = {ph}")


@pytest.mark.parametrize(
    ("ph", "signal"), [(11.4, "WARNING"), (11.5, "DANGER"), (12.0, "DANGER")]
)
def test_one_voice_decides_how_grave_it_is(room: Room, ph: float, signal: str) -> None:
    """The pH rule: 11.5 and above is corrosive (CLP Annex I, 3.2.3.1.2)."""
    assert block(room, room.plan(measured(ph))).signal == signal


def test_a_dry_mixture_has_dust_and_no_mist(room: Room) -> None:
    bag = """
        title = "Bag"
        makes = "100 g"
        [[step]]
        add = "citric-acid-monohydrate"
        amount = "100 g"
    """
    plan = room.plan(bag)
    assert "Avoid breathing dust." in precautions(room, plan)
    poured = replace(plan, solution=replace(plan.solution, dry=False))
    assert "Avoid breathing mist, vapours or spray." in precautions(room, poured)


def precautions(room: Room, plan: Plan) -> list[str]:
    return [spoken(words) for words in block(room, plan).precautions]


@pytest.mark.parametrize(
    ("name", "line"),
    [
        ("film-developer", "NEVER WITH acid (stop bath, vinegar): choking gas."),
        ("plain-fixer", "NEVER WITH acid (stop bath, vinegar): choking gas."),
    ],
)
def test_the_deadliest_neighbour_is_named(
    tern_street: Room, name: str, line: str
) -> None:
    plan = tern_street.sample(name)
    assert never_with_line(plan, tern_street.books) == line


def test_what_must_meet_nothing_in_particular_names_nothing(room: Room) -> None:
    plan = room.plan(text("1 L", [("gelatin", "5 g")]))
    assert never_with_line(plan, room.books) == ""
