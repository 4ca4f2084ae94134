"""Which cautions are said, by what is in the bottle and what was weighed."""

from itertools import pairwise

import pytest
from msgspec.structs import replace

from labelkit.chemistry.substances import Confidence
from labelkit.files.handling import read_handling
from labelkit.mixing.card_text import card_text
from labelkit.mixing.caution import (
    Caution,
    CautionRule,
    Handling,
    Kind,
    Place,
    Subject,
)
from labelkit.mixing.check import Check, Level
from labelkit.mixing.handling import (
    Held,
    apart,
    apart_caution,
    cautions_for,
    few_of,
    handling_for,
)
from labelkit.mixing.page_text import page_text_for
from labelkit.mixing.plain import from_plain, to_plain
from labelkit.mixing.rules import Severity
from labelkit.mixing.words import CardText, PageText
from labelkit.printing.card import place_card
from labelkit.printing.card_layout import card_layout
from tests.conftest import SAMPLES
from tests.mixing.caution_cases import CASES, CATALOGUE, held
from tests.mixing.conftest import Room
from tests.mixing.writing import text

HANDLING = read_handling()
TEXTS = {rule.id: rule.text for rule in HANDLING.cautions}
RECIPES = sorted(path.stem for path in (SAMPLES / "recipes").glob("*.toml"))


def said(what: Held, handling: Handling = HANDLING) -> list[str]:
    return [caution.text for caution in cautions_for(what, handling)]


def test_every_caution_is_tried() -> None:
    assert set(CASES) == set(TEXTS)


@pytest.mark.parametrize("name", TEXTS)
def test_a_caution_speaks_where_it_should_and_is_silent_elsewhere(name: str) -> None:
    assert TEXTS[name] in said(CASES[name].says)
    assert TEXTS[name] not in said(CASES[name].silent)


@pytest.mark.parametrize("chemical", sorted(CATALOGUE.entries))
def test_the_worst_comes_first_and_nothing_twice(chemical: str) -> None:
    found = cautions_for(held(chemical, chemical), HANDLING)
    assert all(a.severity.rank <= b.severity.rank for a, b in pairwise(found))
    assert len({caution.text for caution in found}) == len(found)


RULE = CautionRule(
    "lids", Kind.FIRST_HELP, Severity.CAUTION, "Hold the lids open.", "ours, no source",
    Confidence.MEMORY, said_by=("lids", "lock* up"),
)  # fmt: skip


@pytest.mark.parametrize(
    ("told", "silent"),
    [
        ("Hold the LIDS open", True),
        ("The solids settle", False),
        ("Locked up.", True),
        ("Clocked up", False),
        ("Lock it up", False),
    ],
)
def test_only_whole_words_silence_a_caution(told: str, silent: bool) -> None:
    one = Handling((RULE,))
    assert (said(held("", "tap-dirt", told=told), one) == []) is silent


def test_a_chemical_without_hazard_data_is_taken_for_the_worst() -> None:
    # amidol has no data in the catalogue
    assert CATALOGUE["amidol"].hazard.classes is None
    assert TEXTS["wear-corrosive"] in said(held("amidol"))
    assert TEXTS["wear-corrosive"] not in said(held("glycin"))


def test_a_chemical_does_not_meet_itself() -> None:
    # oxalic acid is an acid; metabisulfite a mild acid and a source of sulfite
    both = replace(
        RULE,
        subject=Subject(frozenset({"sulfite-source"})),
        together=frozenset({"mild-acid"}),
        where=Place.WEIGHED,
    )
    one = Handling((both,))
    assert said(held("sodium-metabisulfite"), one) == []
    assert said(held("sodium-metabisulfite sodium-bisulfite"), one)


@pytest.mark.parametrize(
    ("one", "other", "worst"),
    [
        ("acid", "sulfide", "acid-sulfide"),
        ("mild-acid", "sulfide", "acid-sulfide"),
        ("acid", "hypochlorite", "acid-hypochlorite"),
        ("ammonium", "hypochlorite", "ammonium-hypochlorite"),
        ("acid", "cyanide-complex", "acid-cyanide-complex"),
        ("strong-oxidiser", "organic", "oxidiser-organic"),
        ("strong-oxidiser", "alcohol", "oxidiser-organic"),
    ],
)
def test_known_enemies_do_not_stand_together_whichever_comes_first(
    one: str, other: str, worst: str
) -> None:
    assert [pair.id for pair in apart({one}, {other}, HANDLING.apart)] == [worst]
    assert [pair.id for pair in apart({other}, {one}, HANDLING.apart)] == [worst]


def test_bottles_that_may_stand_together_do() -> None:
    developer, fixer = {"developer", "organic", "reducer"}, {"thiosulfate", "reducer"}
    assert apart(developer, fixer, HANDLING.apart) == ()
    assert apart({"acid", "organic"}, {"acid", "organic"}, HANDLING.apart) == ()
    # what is in one bottle already is no matter for the shelf
    assert apart({"acid", "sulfide"}, {"water"}, HANDLING.apart) == ()


def test_the_worst_reason_to_part_two_bottles_comes_first() -> None:
    found = apart(
        {"acid", "organic"}, {"hypochlorite", "strong-oxidiser"}, HANDLING.apart
    )
    assert [pair.id for pair in found] == ["acid-hypochlorite", "oxidiser-organic"]


def beside(tags: set[str], told: str = "") -> str:
    caution = apart_caution(tags, HANDLING.apart, told)
    return caution.text if caution else ""


def test_a_bottle_is_told_what_it_must_not_stand_beside() -> None:
    assert beside({"acid"}) == (
        "Not on one shelf or in one tray with sulfide toner, household bleach or "
        "ferricyanide."
    )
    assert beside({"acid"}, "Apart from sulfide toner and ferricyanide.") == (
        "Not on one shelf or in one tray with household bleach."
    )
    assert beside({"bromide"}) == ""


def test_what_must_not_be_poured_in_must_not_stand_beside_it_either() -> None:
    line = "NEVER WITH household bleach: deadly gas."
    found = said(held("", "ammonium-chloride", never_with=line))
    assert "Not on one shelf or in one tray with household bleach." in found


def test_it_names_three_at_most_the_deadliest_first() -> None:
    every = {"acid", "strong-acid", "ammonium", "silver", "organic"}
    told = beside(every)
    assert told == (
        "Not on one shelf or in one tray with sulfide toner, household bleach or "
        "ferricyanide."
    )


def test_pairs_of_the_same_name_are_one() -> None:
    first = HANDLING.apart[0]
    again = replace(first, id="again", severity=Severity.CAUTION)
    caution = apart_caution({"sulfide"}, (again, first))
    assert caution is not None
    assert caution.text.count("acids") == 1
    assert caution.severity is Severity.DEADLY


def one(kind: Kind, told: str, severity: Severity = Severity.SERIOUS) -> Caution:
    return Caution(kind, told, "ours, no source", Confidence.MEMORY, severity)


def test_a_card_takes_the_worst_of_each_term_while_there_is_room() -> None:
    cautions = (
        one(Kind.MIXING, "cold", Severity.DEADLY),
        one(Kind.WEAR, "gloves"),
        one(Kind.TRUE, "true, at length"),
        one(Kind.WASTE, "waste"),
        one(Kind.FIRST_HELP, "rinse"),
        one(Kind.AIR, "air", Severity.QUALITY),
    )

    def few(room: float) -> list[str]:
        return [c.text for c in few_of(cautions, room, len)]

    assert few(99) == ["cold", "true, at length", "waste"]
    assert few(24) == ["cold", "true, at length", "waste"]
    assert few(23) == ["cold", "true, at length"]
    # what does not fit gives way to what does
    assert few(18) == ["cold", "waste", "rinse"]
    assert few(3) == []


def test_what_only_concerns_the_quality_stays_off_cards() -> None:
    air = one(Kind.AIR, "air", Severity.QUALITY)
    assert few_of((air,), 99, len) == ()


@pytest.fixture(scope="module")
def print_room(tern_street: Room) -> Room:
    """The print room of the samples, with the cautions in its handbook."""
    return replace(tern_street, books=replace(tern_street.books, handling=HANDLING))


def cards(room: Room, name: str) -> tuple[CardText, CardText]:
    """A sample's card with the cautions, and without."""
    made = room.sample(name).recipe.makes.number
    plans = [room.sample(name, f"{made * n:f} mL") for n in (1, 2)]
    books = room.handbook(plans[0].recipe)
    bare = replace(books, handling=Handling())
    return card_text(plans, books, room.settings), card_text(plans, bare, room.settings)


@pytest.mark.parametrize("name", RECIPES)
def test_a_samples_card_says_a_few_more_and_still_fits(
    print_room: Room, name: str
) -> None:
    card, bare = cards(print_room, name)
    added = card.notes[len(bare.notes) :]
    assert card.notes[: len(bare.notes)] == bare.notes
    assert 1 <= len(added) <= 3
    assert len({note.term for note in added}) == len(added)
    # to place it is to check that nothing is left off
    _, back = place_card(card, layout=card_layout("a5"), settings=print_room.settings)
    assert back.boxes


def test_a_full_back_takes_over_nothing_more(print_room: Room) -> None:
    long = "Wipe it up with plenty of water and wash the cloth by itself. " * 24
    steps = [("silver-nitrate", "5 g"), ("citric-acid-anhydrous", "1 g")]
    full = text("1 L", steps, f'[bench_notes]\nspill = "{long}"')
    plan = print_room.plan(full)
    books = print_room.handbook(plan.recipe)
    terms = {note.term for note in card_text([plan], books, print_room.settings).notes}
    assert "If it spills" in terms
    assert not terms & {"Handling", "What is true", "Waste", "First help"}


def page(room: Room, name: str) -> PageText:
    batch = room.mix(room.sample(name))
    return page_text_for(batch, room.handbook(batch.plan.recipe), room.settings)


@pytest.mark.parametrize("name", RECIPES)
def test_a_record_page_says_all_of_them_with_their_sources(
    print_room: Room, name: str
) -> None:
    told = page(print_room, name)
    assert len(told.handling) > 3
    assert all(caution.source for caution in told.handling)
    # "call with the label in hand" is for everyone
    assert TEXTS["what-the-call-asks"] in [caution.text for caution in told.handling]
    notes = {"".join(run.text for run in note.text) for note in told.notes}
    assert not notes & {caution.text for caution in told.handling}


def test_a_kept_page_gives_its_cautions_back(print_room: Room) -> None:
    told = page(print_room, "silver-nitrate")
    assert from_plain(PageText, to_plain(told)) == told
    older = to_plain(told)
    del older["handling"]
    assert from_plain(PageText, older).handling == ()


def test_what_the_recipe_says_itself_is_not_said_again(print_room: Room) -> None:
    terms = {caution.text for caution in page(print_room, "borate-alkali").handling}
    # "Lye goes into cold water", "No aluminium", "no glass stopper", "go on rinsing"
    for name in (
        "lye-into-cold-water", "no-aluminium", "no-ground-stopper", "corrosive-in-eye",
    ):  # fmt: skip
        assert TEXTS[name] not in terms
    assert TEXTS["true-lye"] in terms


def test_lye_that_has_turned_into_borate_is_still_lye_when_weighed(
    print_room: Room,
) -> None:
    plan = print_room.sample("borate-alkali")
    assert plan.solution.ledger.present_g("sodium-hydroxide") == 0
    found = handling_for(plan, print_room.books.catalogue, HANDLING)
    assert TEXTS["true-lye"] in {caution.text for caution in found}


def test_a_bath_of_stocks_is_told_by_what_is_in_them(print_room: Room) -> None:
    found = {caution.text for caution in page(print_room, "pyro-working").handling}
    assert TEXTS["true-pyrogallol"] in found
    # nothing was weighed
    assert TEXTS["particle-mask"] not in found


def test_what_a_remark_on_the_page_says_is_not_said_again(print_room: Room) -> None:
    batch = print_room.mix(print_room.sample("film-developer"))
    books = print_room.handbook(batch.plan.recipe)
    remark = Check("wear", Level.NOTE, None, "Nitrile gloves for this one.")
    remarked = replace(batch, plan=replace(batch.plan, checks=(remark,)))
    before = page_text_for(batch, books, print_room.settings).handling
    after = page_text_for(remarked, books, print_room.settings).handling
    assert TEXTS["nitrile"] in [caution.text for caution in before]
    assert TEXTS["nitrile"] not in [caution.text for caution in after]


def test_without_a_handbook_of_cautions_nothing_is_said(room: Room) -> None:
    assert page(room, "silver-nitrate").handling == ()
