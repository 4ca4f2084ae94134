"""What a workshop takes in all, and what its cover says."""

from datetime import date
from decimal import Decimal

from labelkit.chemistry.amounts import parse_amount
from labelkit.files.recipes import read_recipe
from labelkit.mixing.bench import Jar
from labelkit.mixing.pack_text import PackText, pack_text
from labelkit.mixing.words import Words
from labelkit.mixing.working import as_stock
from labelkit.mixing.workshop import Task, TaskPlan, Workshop
from tests.conftest import SAMPLES
from tests.mixing.conftest import Room

PEOPLE = ("A. Lindqvist", "R. Barros", "T. Okoro")
JARS = (Jar("sodium-hydroxide", "TS-0412", Decimal(98)),)


def task(
    recipe: str, make: str, audience: tuple[str, ...] = PEOPLE, **more: object
) -> Task:
    return Task(recipe, parse_amount(make), audience, **more)  # type: ignore[arg-type]


def cover(room: Room, *tasks: Task, people: tuple[str, ...] = PEOPLE) -> PackText:
    workshop = Workshop(
        "Raw powders", date(2031, 4, 12), tasks, people=people, teacher="M. Osei"
    )
    plans = []
    for one in tasks:
        plan = room.plan(room.sample(one.recipe).recipe, one.make)
        plans.append(TaskPlan(one, plan, room.handbook(plan.recipe)))
    return pack_text(workshop, plans, room.settings, JARS)


def needed(told: PackText) -> dict[str, str]:
    return {one.what: one.amount.replace("\u00a0", " ") for one in told.needed}


def spoken(words: Words) -> str:
    return "".join(run.text for run in words).replace("\u00a0", " ")


def test_grams_are_summed_over_all_recipes_and_people(tern_street: Room) -> None:
    """By hand: 17.3 g for 500 mL is 8.65 g for 250 mL; three people take 25.95 g.

    Sulfite: (6 + 114) g/L of developer, twice; 10 g/L of fixer, once 2 L.
    """
    told = cover(
        tern_street,
        task("borate-alkali", "250 mL"),
        task("film-developer", "1 L", ("A. Lindqvist", "R. Barros")),
        task("plain-fixer", "2 L", ("",)),
    )
    totals = needed(told)
    assert totals["Borax decahydrate"] == "25.95 g"
    assert totals["Sodium sulfite, anhydrous"] == "260 g"
    assert list(totals)[-1] == "Water, before filling up"
    # 3 x 175 mL + 2 x 700 mL + 1.2 L
    assert totals["Water, before filling up"] == "3125 mL"


def test_a_solution_that_is_poured_is_told_in_mL_after_the_powders(
    tern_street: Room,
) -> None:
    parts = ("pyro-a", "pyro-b")
    stocks = {name: as_stock(tern_street.sample(name)) for name in parts}
    recipe = read_recipe(
        SAMPLES / "recipes" / "pyro-working.toml", tern_street.books.catalogue
    )
    plan = tern_street.plan(recipe, stocks=stocks)
    one = Task("pyro-working", None, PEOPLE)
    workshop = Workshop("Bath", date(2031, 4, 12), (one,), people=PEOPLE)
    item = TaskPlan(one, plan, tern_street.handbook(recipe))
    lines = pack_text(workshop, [item], tern_street.settings).needed
    poured = [line.what for line in lines if line.amount.endswith("mL")]
    assert poured[:2] == ["Pyrogallol A", "Carbonate B"]
    assert lines[-1].what == "Water, before filling up"


def test_the_jar_and_its_assay_stand_beside_what_is_taken_from_it(
    tern_street: Room,
) -> None:
    told = cover(tern_street, task("borate-alkali", "250 mL"))
    jars = {one.what: one.jar.replace("\u00a0", " ") for one in told.needed}
    assert jars["Sodium hydroxide"] == "jar TS-0412, reckoned at 98 %"
    assert not jars["Borax decahydrate"]


def test_the_cover_says_who_mixes_how_much_of_what(tern_street: Room) -> None:
    told = cover(
        tern_street,
        task("borate-alkali", "250 mL"),
        task("plain-fixer", "2 L", ("",)),
        task("citric-stop", "1 L", ("R. Barros",)),
    )
    assert [(one.what, one.batches, one.whom) for one in told.tasks] == [
        ("Borate alkali stock", "3 ×", "each person"),
        ("Plain fixer", "1 ×", "the room together"),
        ("Citric stop bath", "1 ×", "R.\u00a0Barros"),
    ]
    assert told.about == "2031-04-12, Tern Street Print Room, with M. Osei"
    assert told.people.startswith("3 people: ")


def test_the_gravest_signal_word_and_every_pictogram_stand_on_the_cover(
    tern_street: Room,
) -> None:
    told = cover(
        tern_street,
        task("plain-fixer", "1 L"),
        task("film-developer", "1 L"),
        task("borate-alkali", "250 mL"),
    )
    assert told.signal == "DANGER"
    assert [sign.code for sign in told.pictograms] == ["GHS08", "GHS07"]
    hazards = {note.term: spoken(note.text) for note in told.hazards}
    assert hazards["Borate alkali stock"].startswith("DANGER. May damage fertility.")
    assert "This does not mean safe." in hazards["Plain fixer"]
    assert "NEVER WITH" in hazards["Film developer"]


def test_the_powders_are_named_once_and_the_helper_is_told_what_to_do(
    tern_street: Room,
) -> None:
    told = cover(
        tern_street,
        task("film-developer", "1 L"),
        task("film-developer", "2 L", ("",)),
    )
    (powders,) = [note for note in told.before if note.term == "The powders"]
    assert spoken(powders.text).count("Hydroquinone: DANGER.") == 1
    assert spoken(powders.text).count("before the jar is opened") == 1
    help_ = spoken(told.first_help)
    assert help_.startswith("Swallowed: rinse mouth. In eyes: rinse with water")
    assert help_.endswith("Call and read out this page.")
    assert "licensed professional" in told.aid_full


def test_what_the_pack_holds_is_counted(tern_street: Room) -> None:
    told = cover(
        tern_street,
        task("plain-fixer", "1 L", copies=4),
        task("citric-stop", "1 L", card="", weigh_out=False),
    )
    assert told.holds == "In this pack: 4 mixing cards and 3 weighing-out sheets."
    nothing = cover(tern_street, task("citric-stop", "1 L", card="", weigh_out=False))
    assert nothing.holds == ""
