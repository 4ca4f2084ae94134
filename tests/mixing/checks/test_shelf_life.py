"""Promised to keep for longer than practice has seen, and bottles past their date."""

from datetime import date, datetime

import pytest
from msgspec.structs import replace

from labelkit.mixing.check import Level
from labelkit.mixing.dates import Day
from labelkit.mixing.doses import Stock
from tests.mixing.checks.remarks import Step, levels, only, recipe, remarks, water
from tests.mixing.conftest import Room

NOTE, WARN = Level.NOTE, Level.WARN
SULFITE, HYPO = "sodium-sulfite-anhydrous", "sodium-thiosulfate-pentahydrate"
DEVELOPER = ((SULFITE, "100 g"), ("hydroquinone", "5 g"), ("borax-decahydrate", "5 g"))
ASCORBATE = (("sodium-ascorbate", "10 g"), ("sodium-carbonate-monohydrate", "40 g"))

# Ranges and who says so: the project's facts of practice, section 1.
KINDS = {
    "developer stock": (DEVELOPER, "6 months", "7 months"),  # common practice
    "working fixer": (((HYPO, "250 g"), (SULFITE, "10 g")), "2 months", "3 months"),
    "hypo alone": (((HYPO, "250 g"),), "24 hours", "25 hours"),  # old and new books
    "ascorbate": (ASCORBATE, "150 minutes", "151 minutes"),  # a timed test
    "ascorbate with sequestrant": (
        (("edta-tetrasodium", "2 g"), *ASCORBATE), "6 months", "7 months",
    ),
    "amidol": ((("amidol", "5 g"),), "7 days", "8 days"),
    "amidol stock": (((SULFITE, "30 g"), ("amidol", "5 g")), "4 weeks", "5 weeks"),
    "ferric citrate": (
        (("ferric-ammonium-citrate-green", "250 g"),), "15 months", "16 months",
    ),
    "blueprint, mixed": (
        (("ferric-ammonium-citrate-green", "90 g"), ("potassium-ferricyanide", "9 g")),
        "24 hours", "2 days",
    ),
    "gum and dichromate": (
        (("gum-arabic", "200 g"), ("potassium-dichromate", "50 g")), "7 days", "8 days",
    ),
    "peroxide bleach": (
        (("copper-sulfate-pentahydrate", "9 g"), ("hydrogen-peroxide-3pct", "90 mL")),
        "24 hours", "2 days",
    ),
}  # fmt: skip


def kept(steps: tuple[Step, ...], keeps: str) -> str:
    return recipe(water(500, 40), *steps, head=f'keeps = "{keeps}"')


@pytest.mark.parametrize("kind", KINDS)
def test_only_what_keeps_longer_than_practice_has_seen_is_noted(
    kind: str, room: Room
) -> None:
    steps, seen, longer = KINDS[kind]
    assert remarks(room, kept(steps, seen), "shelf-life") == []
    assert levels(room, kept(steps, longer), "shelf-life") == [(NOTE, None)]


@pytest.mark.parametrize(
    "steps",
    [
        (("potassium-bromide", "100 g"),),
        (("potassium-dichromate", "50 g"),),
        (("sodium-carbonate-anhydrous", "100 g"),),
        (("citric-acid-monohydrate", "15 g"),),
        (("hydrogen-peroxide-3pct", "100 mL"),),
    ],
)
def test_what_keeps_well_or_of_which_nothing_is_known_is_left(
    steps: tuple[Step, ...], room: Room
) -> None:
    assert remarks(room, kept(steps, "3 years"), "shelf-life") == []


def test_where_books_differ_both_are_told(room: Room) -> None:
    hypo = only(room, kept(((HYPO, "250 g"),), "1 year"), "shelf-life").text
    assert "indefinitely (handbooks before 1935)" in hypo
    assert "mix it fresh (common practice, no source)" in hypo
    citrate = (("ferric-ammonium-citrate-green", "250 g"),)
    iron = only(room, kept(citrate, "3 years"), "shelf-life").text
    assert "'for ever' in old books" in iron
    assert "blue fog at 15 months in a test" in iron


def test_a_half_full_bottle_has_a_time_of_its_own(room: Room) -> None:
    head = 'keeps = "6 months"\nkeeps_part_full = "{}"'
    full = recipe(water(500), *DEVELOPER, head=head.format("3 months"))
    assert "3 months part-full" in only(room, full, "shelf-life").text
    good = recipe(water(500), *DEVELOPER, head=head.format("2 months"))
    assert remarks(room, good, "shelf-life") == []


def test_a_developer_diluted_for_use_is_used_within_a_day(room: Room) -> None:
    head = 'keeps = "6 months"\nkeeps_working = "{}"'
    long = recipe(water(500), *DEVELOPER, head=head.format("2 days"))
    assert "after 24 hours" in only(room, long, "shelf-life").text
    good = recipe(water(500), *DEVELOPER, head=head.format("24 hours"))
    assert remarks(room, good, "shelf-life") == []


@pytest.mark.parametrize(
    ("keeps", "found"), [("24 hours", []), ("25 hours", [(NOTE, None)])]
)
def test_a_bath_poured_from_a_developer_is_a_diluted_one(
    keeps: str, found: list[tuple[Level, int | None]], room: Room
) -> None:
    stock = {"dev": room.stock(recipe(water(500), *DEVELOPER), "dev")}
    text = recipe(water(500), ("recipe:dev", "100 mL"), head=f'keeps = "{keeps}"')
    plan = room.plan(text, stocks=stock)
    assert [(c.level, c.step) for c in plan.checks if c.code == "shelf-life"] == found


@pytest.mark.parametrize(("keeps", "told"), [("1 hour", False), ("61 minutes", True)])
def test_a_pyro_bath_lives_an_hour(keeps: str, told: bool, room: Room) -> None:
    # minutes to an hour: common practice, no source
    pyro = room.stock(recipe(water(500), ("pyrogallol", "50 g")), "pyro")
    text = recipe(
        water(500), ("recipe:pyro", "10 mL"), ("potassium-carbonate", "2 g"),
        head=f'keeps = "{keeps}"',
    )  # fmt: skip
    plan = room.plan(text, stocks={"pyro": pyro})
    assert any(c.code == "shelf-life" for c in plan.checks) == told


def test_a_stock_that_is_diluted_for_use_is_no_working_fixer(room: Room) -> None:
    use = '\n[use]\nratio = "1+3"'
    text = kept(((HYPO, "250 g"), (SULFITE, "10 g")), "6 months") + use
    assert remarks(room, text, "shelf-life") == []


def test_a_recipe_that_promises_nothing_is_not_contradicted(room: Room) -> None:
    assert remarks(room, recipe(water(500), *DEVELOPER), "shelf-life") == []


def dated(room: Room, discard_after: Day | None) -> dict[str, Stock]:
    stock = room.stock(recipe(water(500), *DEVELOPER), "dev")
    return {"dev": replace(stock, discard_after=discard_after, batch="7K3M-Q9TX-8")}


# The room's noon is 2031-03-14 12:00; a bottle is good through its last day.
@pytest.mark.parametrize(
    ("discard_after", "told"),
    [
        (date(2031, 3, 13), True), (date(2031, 3, 14), False), (None, False),
        (datetime.fromisoformat("2031-03-14T11:59"), True),
        (datetime.fromisoformat("2031-03-14T12:00"), False),
    ],
)  # fmt: skip
def test_a_bottle_past_its_date_is_told_and_not_refused(
    discard_after: Day | None, told: bool, room: Room
) -> None:
    text = recipe(water(500), ("recipe:dev", "100 mL"))
    plan = room.plan(text, stocks=dated(room, discard_after))
    found = [c for c in plan.checks if c.code == "expired-stock"]
    assert [(c.level, c.step) for c in found] == ([(WARN, 2)] if told else [])
    if told:
        assert "(7K3M-Q9TX-8) was to be discarded after 2031-03-1" in found[0].text


def test_a_solution_carries_its_date_to_whoever_pours_it(room: Room) -> None:
    stock = room.stock(recipe(water(500), *DEVELOPER, head='keeps = "6 months"'), "dev")
    assert stock.discard_after == date(2031, 9, 14)
