"""What commands answer with: every key of the contract, of the right kind, alone.

The keys are those of the project's reckoning, section JSON. Keys may be added.
"""

import json
from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import Answer, Run

NUMBER = (int, float)
TEXT = str
NONE = type(None)
Kind = type | tuple[Any, ...]
Keys = dict[str, Kind]

PLAN: Keys = {
    "recipe": TEXT, "title": TEXT, "make": dict, "weigh": list, "measure": list,
    "contents": list, "strength": (dict, NONE), "headline": dict, "reaction": list,
    "ph": (dict, NONE), "warming": (dict, NONE), "density": (dict, NONE),
    "checks": list, "hazard": dict, "discard_after": (TEXT, NONE), "reasons": dict,
}  # fmt: skip
WEIGH: Keys = {
    "step": int, "chemical": TEXT, "g": NUMBER, "show": TEXT, "relative_u": NUMBER,
    "fine_enough": bool,
}  # fmt: skip
MEASURE: Keys = {
    "step": int, "chemical": TEXT, "mL": NUMBER, "show": TEXT,
    "at_C": (*NUMBER, NONE), "kind": (TEXT, NONE), "batch": (TEXT, NONE),
}  # fmt: skip
CONTENT: Keys = {
    "chemical": TEXT, "g_per_L": (*NUMBER, NONE), "mol_per_L": (*NUMBER, NONE),
    "percent_ww": (*NUMBER, NONE),
}  # fmt: skip
STRENGTH: Keys = {
    "of": TEXT, "g_per_L": (*NUMBER, NONE), "mol_per_L": (*NUMBER, NONE),
    "mL_per_g": (*NUMBER, NONE), "relative_u": NUMBER,
}  # fmt: skip
REACTION: Keys = {
    "equation": TEXT, "coefficients": dict, "limiting": TEXT, "leftover": list,
    "gas": list,
}  # fmt: skip
LEFTOVER: Keys = {"chemical": TEXT, "g": NUMBER, "percent": NUMBER}
GAS: Keys = {"formula": TEXT, "g": NUMBER, "L": NUMBER}
PH: Keys = {"value": NUMBER, "low": NUMBER, "high": NUMBER, "from": TEXT}
CHECK: Keys = {"code": TEXT, "level": TEXT, "step": (int, NONE), "text": TEXT}
HAZARD: Keys = {
    "regime": TEXT, "signal": TEXT, "pictograms": list, "classes": list, "h": list,
    "euh": list, "p": list, "ate_mix": dict, "names": list, "euh208_names": list,
    "unknown": dict, "not_determined": list, "no_data": list, "because": list,
}  # fmt: skip
REASON: Keys = {"class": TEXT, "rule": TEXT, "text": TEXT}
BATCH: Keys = {
    "batch": TEXT, "mixed_on": TEXT, "made_by": TEXT, "bottles": list, "planned": list,
    "weighed": list, "acknowledged": list, "events": list,
}  # fmt: skip
WEIGHED: Keys = {
    "step": int, "chemical": TEXT, "g": (*NUMBER, NONE), "mL": (*NUMBER, NONE),
    "read": bool,
}  # fmt: skip
LEVELS = {"stop", "warn", "note"}
CODES = {
    "solubility", "warming", "weighing", "order", "incompatible", "leftover", "volume",
    "assay", "hygroscopic", "shelf-life", "container", "expired-stock", "near-limit",
    "look-alike", "restricted",
}  # fmt: skip
SAMPLES = [
    "blueprint-a", "blueprint-b", "borate-alkali", "bromide-stock", "citric-stop",
    "film-developer", "plain-fixer", "pyro-a", "pyro-b", "pyro-working",
    "silver-nitrate",
]  # fmt: skip


def has(keys: Keys, found: dict[str, Any]) -> None:
    for key, kind in keys.items():
        assert key in found, key
        value = found[key]
        wrong = isinstance(value, bool) and bool not in (kind, *_each(kind))
        assert isinstance(value, kind), (key, value)
        assert not wrong, (key, value)


def _each(kind: Kind) -> tuple[Any, ...]:
    return kind if isinstance(kind, tuple) else (kind,)


def alone(answer: Answer) -> dict[str, Any]:
    """The JSON on standard output, where nothing else may stand."""
    found: dict[str, Any] = json.loads(answer.out)
    return found


def check_plan(plan: dict[str, Any]) -> None:
    has(PLAN, plan)
    assert set(plan["make"]) in ({"mL"}, {"g"})
    for key, keys in (
        ("weigh", WEIGH),
        ("measure", MEASURE),
        ("contents", CONTENT),
        ("reaction", REACTION),
        ("checks", CHECK),
    ):
        for row in plan[key]:
            has(keys, row)
    for key, keys in (("strength", STRENGTH), ("ph", PH)):
        if plan[key] is not None:
            has(keys, plan[key])
    for key in ("ph", "strength", "density", "discard_after"):
        assert (plan[key] is None) == (key in plan["reasons"]), key
    assert plan["headline"]["kind"] in {"equivalence", "dilution", "ready", "dry"}
    assert plan["headline"]["text"]
    check_hazard(plan["hazard"])
    for check in plan["checks"]:
        assert check["code"] in CODES
        assert check["level"] in LEVELS
        assert check["text"]


def check_hazard(hazard: dict[str, Any]) -> None:
    has(HAZARD, hazard)
    assert "as_added" in hazard
    for reason in hazard["because"]:
        has(REASON, reason)


@pytest.mark.parametrize("name", SAMPLES)
def test_a_plan_holds_every_key(name: str, run: Run) -> None:
    answer = run("plan", name, "--json")
    assert answer.code == 0
    check_plan(alone(answer))


def test_every_sample_is_looked_at(bench: Path) -> None:
    assert {path.stem for path in (bench / "recipes").iterdir()} == set(SAMPLES)


def test_a_reaction_tells_what_is_left_and_what_comes_off(
    bench: Path, run: Run
) -> None:
    recipe = """
        title = "Ascorbate"
        makes = "100 mL"
        [[reaction]]
        from = ["ascorbic-acid", "sodium-bicarbonate"]
        to = ["sodium-ascorbate"]
        [[step]]
        add = "ascorbic-acid"
        amount = "10 g"
        [[step]]
        add = "sodium-bicarbonate"
        amount = "10 g"
        [[step]]
        make_up_to = "100 mL"
    """
    (bench / "recipes" / "ascorbate.toml").write_text(recipe, encoding="utf-8")
    plan = alone(run("plan", "ascorbate", "--json"))
    check_plan(plan)
    (reaction,) = plan["reaction"]
    (left,) = reaction["leftover"]
    (gas,) = reaction["gas"]
    has(LEFTOVER, left)
    has(GAS, gas)
    assert reaction["coefficients"] == {
        "ascorbic-acid": 1,
        "sodium-bicarbonate": 1,
        "sodium-ascorbate": 1,
    }
    # 10/176.124 mol of acid takes 4.770 g of bicarbonate; 52.3 % is left
    assert left["chemical"] == "sodium-bicarbonate"
    assert left["percent"] == pytest.approx(52.30, abs=0.01)


def test_figures_carry_twelve_digits(run: Run) -> None:
    plan = alone(run("plan", "bromide-stock", "--json"))
    assert plan["contents"][0]["mol_per_L"] == 0.840322011395  # 100 / 119.002
    assert plan["make"]["mL"] == 100
    assert isinstance(plan["make"]["mL"], int)


# How a bottle stands: in shelf, and under "standing" in mix and show.
STANDING: Keys = {
    "bottle": int, "state": TEXT, "filled": dict, "used": dict, "topped_up": dict,
    "left": (dict, NONE), "capacity": (dict, NONE), "discard_after": (TEXT, NONE),
    "why": TEXT, "past": bool, "use": TEXT, "found": bool, "claim_by": (TEXT, NONE),
    "place": TEXT, "discarded_on": (TEXT, NONE), "marks": list, "told": TEXT,
}  # fmt: skip


def test_a_batch_holds_every_key_of_its_plan_and_its_own(run: Run) -> None:
    answer = run("mix", "borate-alkali", "--weighed", "2=17.4g", "--json")
    batch = alone(answer)
    check_batch(batch)
    assert batch["events"] == []
    assert "Labels:" in answer.err
    assert run("log", batch["batch"], "opened", "--by", "M. Osei").code == 0
    shown = alone(run("show", batch["batch"], "--json"))
    check_batch(shown)
    (event,) = shown["events"]
    assert (event["what"], event["by"]) == ("opened", "M. Osei")
    assert [bottle["state"] for bottle in batch["standing"]] == ["full"]
    (bottle,) = shown["standing"]
    has(STANDING, bottle)
    assert (bottle["state"], bottle["left"]) == ("opened", {"mL": 500})
    assert {**shown, "events": [], "standing": batch["standing"]} == batch


def check_batch(batch: dict[str, Any]) -> None:
    check_plan(batch)
    has(BATCH, batch)
    for row in batch["weighed"]:
        has(WEIGHED, row)
        assert (row["g"] is None) != (row["mL"] is None)
    assert len(batch["planned"]) == len(batch["weighed"])


def test_hazards_answer_with_the_hazard_object(run: Run) -> None:
    hazard = alone(run("hazards", "silver-nitrate", "--json"))
    check_hazard(hazard)
    assert hazard == alone(run("plan", "silver-nitrate", "--json"))["hazard"]
    batch = alone(run("mix", "silver-nitrate", "--json"))
    assert alone(run("hazards", batch["batch"], "--json")) == batch["hazard"]


def test_the_shelf_lists_its_bottles(run: Run) -> None:
    assert alone(run("shelf", "--json")) == {"items": []}
    number = alone(run("mix", "pyro-a", "--into", "2x125 mL", "--json"))["batch"]
    items = alone(run("shelf", "--json"))["items"]
    assert [(item["batch"], item["bottle"]) for item in items] == [
        (number, 1),
        (number, 2),
    ]
    has(
        {
            "batch": TEXT, "bottle": int, "bottles": int, "recipe": TEXT, "title": TEXT,
            "mixed_on": TEXT, "made_by": TEXT, "discard_after": (TEXT, NONE),
            "past": bool,
        },
        items[0],
    )  # fmt: skip
    has(STANDING, items[0])


def test_what_is_due_is_answered_and_says_no(run: Run) -> None:
    assert run("shelf", "--due", "--json").code == 0
    run("mix", "plain-fixer", "--on", "2020-01-01", "--json")
    answer = run("shelf", "--due", "--json")
    assert answer.code == 1
    (item,) = alone(answer)["items"]
    assert item["past"] is True
    assert answer.err.strip() == "1 past their date. Discard or test them."


def test_chemicals_are_listed_whole(run: Run) -> None:
    items = alone(run("chemicals", "borax", "--json"))["items"]
    by_id = {item["id"]: item for item in items}
    assert "borax-decahydrate" in by_id
    has(
        {"id": TEXT, "names": list, "formula": TEXT, "state": TEXT, "classes": list},
        by_id["borax-decahydrate"],
    )


def test_a_chemical_that_is_not_there_is_an_empty_answer(run: Run) -> None:
    answer = run("chemicals", "unobtainium", "--json")
    assert answer.code == 1
    assert alone(answer) == {"items": []}
    assert answer.err.strip() == "no chemical fits 'unobtainium'. Try a shorter word."


def test_faults_are_listed_with_place_problem_and_remedy(bench: Path, run: Run) -> None:
    assert alone(run("check", "--json")) == {"items": []}
    (bench / "recipes" / "bad.toml").write_text('makes = "5 x"', encoding="utf-8")
    answer = run("check", "--json")
    assert answer.code == 1
    items = alone(answer)["items"]
    assert len(items) == len(answer.err.strip().splitlines()) == 3
    for item in items:
        has({"place": TEXT, "problem": TEXT, "remedy": TEXT}, item)


def test_layouts_are_listed_with_kind_and_size(run: Run) -> None:
    items = alone(run("layouts", "--json"))["items"]
    kinds = {item["kind"] for item in items}
    assert kinds == {"label", "card", "sheet"}
    sizes = {(item["kind"], item["name"]): item["size_mm"] for item in items}
    assert sizes["label", "small"] == [74, 52]
    assert sizes["card", "a5"] == [148, 210]
    assert sizes["sheet", "a4-74x52"] == [74, 52]
