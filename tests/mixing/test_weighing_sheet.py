"""The words of a weighing-out sheet."""

from decimal import Decimal

from msgspec.structs import replace

from labelkit.files.handling import read_handling
from labelkit.mixing.bench import Jar
from labelkit.mixing.weighing_sheet import WeighingText, weighing_text
from labelkit.mixing.words import Words
from tests.mixing.conftest import Room

JARS = (
    Jar("sodium-hydroxide", "TS-0412", Decimal(98)),
    Jar("borax-decahydrate", "TS-0377"),
    Jar("borax-decahydrate", "TS-0390"),
    Jar("potassium-bromide"),
)

COARSE = """
    title = "Restrainer"
    makes = "100 mL"
    [[step]]
    add = "water"
    amount = "80 mL"
    [[step]]
    add = "potassium-bromide"
    amount = "{amount}"
    [[step]]
    make_up_to = "100 mL"
"""


def sheet(
    room: Room, name: str, make: str | None = None, whom: str = ""
) -> WeighingText:
    plan = room.sample(name, make) if make else room.sample(name)
    handbook = replace(room.handbook(plan.recipe), handling=read_handling())
    return weighing_text(plan, handbook, room.settings, JARS, whom=whom)


def of_text(room: Room, text: str) -> WeighingText:
    plan = room.plan(text)
    return weighing_text(plan, room.handbook(plan.recipe), room.settings)


def spoken(words: Words) -> str:
    return "".join(run.text for run in words).replace("\u00a0", " ")


def test_a_sheet_plans_each_step_for_its_one_batch(tern_street: Room) -> None:
    told = sheet(tern_street, "borate-alkali", "250 mL")
    assert told.quantity == "250\u00a0mL"
    planned = [row.step.amounts[0].text for row in told.rows if row.read]
    assert [one.replace("\u00a0", " ") for one in planned] == [
        "150 mL", "8.7 g", "25 mL", "1.9 g", "250 mL",
    ]  # fmt: skip


def test_only_what_comes_out_of_a_jar_has_a_lot_and_a_tare(tern_street: Room) -> None:
    told = sheet(tern_street, "borate-alkali")
    assert [row.step.number for row in told.rows if row.weighed] == [2, 5]
    assert [row.step.number for row in told.rows if not row.read] == [3, 6]


def test_the_jars_of_the_cupboard_are_told_by_their_lots(tern_street: Room) -> None:
    rows = sheet(tern_street, "borate-alkali").rows
    lots = {row.step.number: row.lots.replace("\u00a0", " ") for row in rows}
    assert lots[2] == "jar TS-0377, jar TS-0390"
    assert lots[5] == "jar TS-0412"
    assert not lots[1]


def test_a_weighing_that_is_not_fine_enough_says_how_well_it_is_known(
    tern_street: Room,
) -> None:
    """0.1 g readability over sqrt(12), twice (tare and gross): JCGM 100:2008, 4.3.7.

    sqrt(2) * 0.1 / sqrt(12) = 0.0408 g; of 0.4 g that is 10 %, of 0.9 g 4.5 %.
    """
    coarse = of_text(tern_street, COARSE.format(amount="0.4 g"))
    assert coarse.rows[1].known.replace("\u00a0", " ") == "±10 %"
    assert "0.1\u00a0g" in coarse.known_note
    assert any("too little for a balance" in spoken(n.text) for n in coarse.remarks)
    fine = of_text(tern_street, COARSE.format(amount="0.9 g"))
    assert not fine.rows[1].known
    assert not fine.known_note
    assert not fine.remarks


def test_what_to_wear_and_the_powders_come_before_the_first_step(
    tern_street: Room,
) -> None:
    before = {
        n.term: spoken(n.text) for n in sheet(tern_street, "borate-alkali").before
    }
    assert before["The powders"].startswith("Sodium hydroxide: DANGER.")
    assert "Gloves and goggles before the jar is opened" in before["The powders"]
    assert "pinch at a time" in before["While mixing"]
    assert "Wear" in before


def test_the_sheet_says_what_to_type_afterwards_with_a_blank_for_each_reading(
    tern_street: Room,
) -> None:
    typed = sheet(tern_street, "borate-alkali", "250 mL").typed.replace("\u00a0", " ")
    assert typed == (
        "labelkit mix borate-alkali --make 250mL --weighed 2=____g --weighed 5=____g "
        '--by "________"'
    )


def test_the_hazards_of_the_solution_stand_on_its_sheet(tern_street: Room) -> None:
    told = sheet(tern_street, "borate-alkali", whom="R. Barros")
    assert told.hazard.signal == "DANGER"
    assert told.never_with.startswith("NEVER WITH")
    assert "an aid" in told.aid_full
    assert spoken(told.first_words).endswith("Call and read out this sheet.")
    assert (told.whom, told.room) == ("R. Barros", "Tern Street Print Room")
