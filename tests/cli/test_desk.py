"""Planning and saving as pages do it, without a page: the figures of the commands."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from labelkit.cli.desk import Desk
from labelkit.errors import Ambiguous, BadInput, LabelkitError
from labelkit.mixing.desk import Finish, Typed, Wish
from tests.cli.conftest import Run, kept, labelkit, read
from tests.cli.terminal import as_json

BORAX, LYE = "borax-decahydrate", "sodium-hydroxide"
DIFFERS = {"batch", "mixed_on", "events", "bottles_now", "standing", "state"}


def same_figures(one: Mapping[str, Any], other: Mapping[str, Any]) -> None:
    """Everything but number, moment and what a later look adds is the same."""
    assert set(one) == set(other)
    for name in set(one) - DIFFERS:
        assert one[name] == other[name], name


def test_every_recipe_is_listed_with_its_title(desk: Desk, bench: Path) -> None:
    (bench / "recipes" / "torn.toml").write_text("title = ", "utf-8")
    told = {line.name: (line.title, line.part, line.makes) for line in desk.recipes()}
    assert told["pyro-a"] == ("Pyrogallol", "A", "250 mL")
    assert told["torn"] == ("", "", "")


def test_a_wish_is_worked_out_as_the_plan_does(desk: Desk, run: Run) -> None:
    sheet = desk.plan(Wish("borate-alkali", "750", swap={BORAX: "borax-pentahydrate"}))
    answer = as_json(
        run(
            "plan", "borate-alkali", "--make", "750mL",
            "--swap", f"{BORAX}=borax-pentahydrate", "--json",
        ).out
    )  # fmt: skip
    told = [row.amounts[0].text.replace("\xa0", " ") for row in sheet.card.rows[:2]]
    assert told == [answer["measure"][0]["show"], answer["weigh"][0]["show"]]
    assert sheet.made == "750 mL"
    changes = [change.replace("\xa0", " ") for change in sheet.changes]
    assert changes == answer["swaps"][0]["changes"]
    assert [c.code for c in sheet.checks] == [c["code"] for c in answer["checks"]]


def test_what_to_wear_is_told_and_what_a_powder_does(desk: Desk) -> None:
    head = desk.plan(Wish("borate-alkali")).head
    # Regulation (EC) No 1272/2008, Annex IV, P280
    assert "Wear protective gloves" in "".join(run.text for run in head.wear)
    powders = "".join(run.text for run in head.powders)
    assert "Sodium hydroxide: DANGER" in powders
    # Annex III, H314
    assert "Causes severe skin burns and eye damage." in powders


def test_other_forms_are_offered_with_what_they_weigh(desk: Desk) -> None:
    borax, lye = desk.plan(Wish("borate-alkali")).choices
    forms = {form.value: form.note for form in borax.forms}
    # 291.30 / 381.37 g/mol of borax penta- and decahydrate (CIAAW 2021)
    assert forms["borax-pentahydrate"] == "0.7638 g for each gram"
    assert [form.value for form in lye.forms] == ["potassium-hydroxide"]


def test_bottles_on_the_shelf_are_offered_and_those_past_their_date_marked(
    desk: Desk, run: Run
) -> None:
    old = as_json(run("mix", "pyro-a", "--on", "2020-01-01", "--json").out)["batch"]
    new = as_json(run("mix", "pyro-a", "--into", "2x100mL", "--json").out)["batch"]
    part_a, part_b = desk.plan(Wish("pyro-working")).choices
    assert part_b.bottles == ()
    bottles = {b.value: (b.past, "g/L" in b.note) for b in part_a.bottles}
    assert bottles == {
        old: (True, True),
        f"{new}/1": (False, True),
        f"{new}/2": (False, True),
    }


@pytest.mark.parametrize(
    ("use", "mark"),
    [("hold", "HOLD"), ("maker", "ASK R. Amara"), ("all", "SHARED"), ("", "")],
)
def test_a_bottle_is_offered_with_the_mark_it_carries(
    desk: Desk, run: Run, use: str, mark: str
) -> None:
    words = ["--use", use] if use else []
    assert run("mix", "pyro-a", "--by", "R. Amara", *words).code == 0
    part_a, _ = desk.plan(Wish("pyro-working")).choices
    assert [bottle.mark for bottle in part_a.bottles] == [mark]


def test_a_stock_solution_is_offered_for_its_powder(desk: Desk, run: Run) -> None:
    number = as_json(run("mix", "bromide-stock", "--json").out)["batch"]
    choices = {c.name: c for c in desk.plan(Wish("film-developer")).choices}
    assert [b.value for b in choices["potassium-bromide"].bottles] == [number]
    assert choices["metol"].bottles == ()
    wish = Wish("film-developer", stock={"potassium-bromide": number})
    assert number in desk.plan(wish).changes[0]


@pytest.mark.parametrize(
    ("wish", "place_named"),
    [
        (Wish("borate-alkali", "abc"), "--make"),
        (Wish("borate-alkali", "5 g"), "--make"),
        (Wish("borate-alkali", swap={BORAX: "ghost"}), "--swap"),
        (Wish("borate-alkali", swap={"ghost": BORAX}), "--swap"),
        (Wish("borate-alkali", swap={LYE: "metol"}), ""),
        (Wish("borate-alkali", stock={BORAX: "nothing"}), "--stock"),
        (Wish("borate-alkali", lot={LYE: "200"}), "--lot"),
        (Wish("borate-alkali", lot={"ghost": "90"}), "--lot"),
    ],
)
def test_a_wish_that_cannot_be_is_refused_with_its_place(
    desk: Desk, wish: Wish, place_named: str
) -> None:
    with pytest.raises(LabelkitError) as refused:
        desk.plan(wish)
    assert refused.value.faults[0].place.startswith(place_named)
    assert refused.value.faults[0].remedy
    with pytest.raises(LabelkitError):
        desk.begin(wish)
    assert desk.half_done() == ()


@pytest.mark.parametrize("name", ["ghost", "../labelkit", "a\x00b", "x" * 10_000, ""])
def test_a_recipe_that_is_none_is_refused(desk: Desk, name: str) -> None:
    with pytest.raises(BadInput) as refused:
        desk.plan(Wish(name))
    assert len(str(refused.value)) < 1000


def test_an_unclear_word_is_never_asked_about(desk: Desk, bench: Path) -> None:
    path = bench / "recipes" / "borate-alkali.toml"
    path.write_text(path.read_text("utf-8").replace(BORAX, "borax"), "utf-8")
    with pytest.raises(Ambiguous):
        desk.plan(Wish("borate-alkali"))


@pytest.mark.parametrize(
    ("recipe", "options", "wish", "weighed", "typed", "finish"),
    [
        (
            "borate-alkali", ["--make", "750mL"], Wish("borate-alkali", "750"),
            {2: "26.4g", 5: "5.7g"}, read(s2="26,4", s5="5.7 g"),
            Finish("755", into="3x250", by="M. Osei", use="maker"),
        ),
        (
            "borate-alkali",
            ["--swap", f"{BORAX}=borax-pentahydrate", "--lot", f"{LYE}=97%"],
            Wish(
                "borate-alkali",
                swap={BORAX: "borax-pentahydrate"},
                lot={LYE: "97"},
            ),
            {2: "13.3g"}, read(s2="13.3"), Finish(),
        ),
        (
            "pyro-b", [], Wish("pyro-b"), {2: "50.1g"}, read(s2="50.1"),
            Finish(ph="11,6", density="1.09"),
        ),
        (
            "pyro-working", [], Wish("pyro-working"), {2: "5.2mL"}, read(s2="5.2"),
            Finish(),
        ),
    ],
)  # fmt: skip
def test_a_batch_has_the_figures_that_mix_gives(
    bench: Path,
    desk: Desk,
    recipe: str,
    options: list[str],
    wish: Wish,
    weighed: dict[int, str],
    typed: Typed,
    finish: Finish,
) -> None:
    number = desk.begin(wish)
    desk.keep(number, Typed(), typed)
    assert desk.save(number, finish) == {}
    said = [f"--weighed={step}={amount}" for step, amount in weighed.items()]
    for option, word, unit in (
        ("--made-up-to", finish.made_up_to, "mL"),
        ("--ph", finish.ph.replace(",", "."), ""),
        ("--density", finish.density, "g/mL"),
        ("--into", finish.into, "mL"),
        ("--by", finish.by, ""),
        ("--use", finish.use, ""),
    ):
        said += [f"{option}={word}{unit}"] if word else []
    answer = labelkit("mix", recipe, *options, *said, "--json")
    assert answer.code == 0, answer.err
    mixed = as_json(answer.out)
    by_page = kept(number)
    same_figures(by_page, kept(mixed["batch"]))
    assert by_page["weighed"] == mixed["weighed"]
    assert by_page["strength"] == mixed["strength"]


def test_a_bottle_that_is_poured_from_is_written_down_once(
    desk: Desk, run: Run
) -> None:
    stock = as_json(run("mix", "bromide-stock", "--json").out)["batch"]
    number = desk.begin(Wish("film-developer", stock={"potassium-bromide": stock}))
    assert desk.save(number, Finish()) == {}
    poured = kept(stock)["events"]
    assert [event["what"] for event in poured] == ["used"]
