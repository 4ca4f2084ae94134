"""``convert``, ``prepare``, ``dilute``, ``compare``: what they print and refuse."""

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from labelkit.cli.group import commands

META = "sodium-metaborate-tetrahydrate"


def run(bench: Path, *words: str) -> Result:
    return CliRunner().invoke(commands, [*words, "--bench", str(bench)])


def answered(bench: Path, *words: str) -> Any:
    result = run(bench, *words, "--json")
    assert result.exit_code == 0, result.output
    return json.loads(result.stdout)


def test_convert_answers_with_the_keys_that_were_agreed(bench: Path) -> None:
    told = answered(
        bench,
        "convert",
        "100g",
        "sodium-carbonate-anhydrous",
        "sodium-carbonate-decahydrate",
    )
    assert told["from"] == "sodium-carbonate-anhydrous"
    assert told["to"] == "sodium-carbonate-decahydrate"
    assert told["g_from"] == 100
    # practice.md, section 5: 2.700; 170 g of it are water
    assert told["g_to"] == pytest.approx(270, abs=0.1)
    assert told["factor"] == pytest.approx(2.7, abs=0.001)
    assert told["water_g"] == pytest.approx(170, abs=0.1)
    assert told["mL_from"] is None
    assert told["mL_to"] is None


def test_convert_pours_what_is_liquid(bench: Path) -> None:
    told = answered(
        bench, "convert", "30mL", "acetic-acid-glacial", "acetic-acid-28pct"
    )
    assert told["mL_from"] == 30
    # American 28 %: 3 volumes to 11
    assert told["mL_to"] == pytest.approx(110, rel=0.03)


def test_convert_prints_what_a_hand_needs(bench: Path) -> None:
    result = run(bench, "convert", "10g", "sodium-hydroxide", "potassium-hydroxide")
    first, line, factor = result.stdout.splitlines()[:3]
    assert first == "10.0 g sodium hydroxide  =  14.0 g potassium hydroxide"
    assert line == "=" * 78
    assert factor.endswith("1.403 g for each gram")
    assert "85-90 % KOH" in result.stdout
    assert max(map(len, result.stdout.splitlines())) <= 78


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (
            ("0g", "metol", "metol"),
            2,
            "amount: '0g' is not more than 0. Write a number above 0.",
        ),
        (
            ("NaN", "metol", "metol"),
            2,
            "amount: 'NaN' does not start with a number. Write a number and its unit.",
        ),
        (
            ("1e308g", "metol", "metol"),
            2,
            "amount: '1e308g' is more than is ever mixed. Write at most 1000 kg.",
        ),
        (
            ("10g", "brown lye", "metol"),
            2,
            "FROM: no chemical is called 'brown lye'. Write an id from the "
            "list of chemicals, or add it as your own.",
        ),
        (
            ("10mL", "metol", "metol"),
            2,
            "amount: '10mL' of metol: how much a volume of a solid weighs depends on "
            "how finely it lies. Weigh it, and write the amount in g.",
        ),
        (
            ("10g", "brown ferric ammonium citrate", "ferric-ammonium-citrate-green"),
            1,
            "no honest number: green and brown ammonium iron(III) citrate have no "
            "fixed composition, and the brown holds more iron. Use a recipe written "
            "for the grade in the jar, or coat test strips of both.",
        ),
        (
            ("10g", "sodium-bicarbonate", "Baking powder"),
            1,
            "no honest number: a household blend holds what its maker likes, in shares "
            "nobody states. Read its data sheet: where one chemical stands there with "
            "its share, write that as your own chemical with assay; else buy the pure "
            "one.",
        ),
        (
            ("10g", "borax", "borax-anhydrous"),
            2,
            "FROM: 'borax' fits several chemicals (anhydrous for decahydrate: 1.9 "
            "times too strong). Write the one in the jar: borax-decahydrate, "
            "borax-pentahydrate, borax-anhydrous.",
        ),
    ],
)
def test_convert_refuses_in_one_line(
    bench: Path, words: tuple[str, ...], code: int, said: str
) -> None:
    result = run(bench, "convert", *words)
    assert (result.exit_code, result.stdout) == (code, "")
    assert result.stderr == f"{said}\n"


def test_prepare_finds_the_volume_at_which_twenty_mL_carry_a_gram(bench: Path) -> None:
    told = answered(bench, "prepare", META, "--grams", "25", "--each", "20mL")
    assert told["make"] == {"mL": 500}
    assert told["strength"]["mL_per_g"] == 20
    # 69.16 g and 14.51 g for 100 g (B-mb-02); the jar of the samples is 98 %
    grams = {each["chemical"]: each["g"] for each in told["weigh"]}
    assert grams["borax-decahydrate"] == pytest.approx(17.29, abs=0.005)
    assert grams["sodium-hydroxide"] == pytest.approx(3.627 / 0.98, abs=0.001)
    assert told["reaction"][0]["leftover"] == []
    assert told["route"]["from"] == ["borax-decahydrate", "sodium-hydroxide"]
    checked = {(s["step"], s["at_C"]) for s in told["route"]["solubility"]}
    assert {(None, 20), (None, 5)} <= checked


def test_prepare_says_where_the_route_is_from_and_what_dissolves(bench: Path) -> None:
    result = run(bench, "prepare", META, "--make", "500mL", "--each", "20mL")
    lines = result.stdout.splitlines()
    assert "20 mL = 1 g sodium metaborate tetrahydrate" in lines[2]
    assert any(line.startswith("Route ") for line in lines)
    assert any(line.startswith("Dissolves ") for line in lines)
    assert max(map(len, lines)) <= 78


def test_prepare_saves_a_recipe_that_plans_the_same(bench: Path) -> None:
    file = bench / "recipes" / "own-borate.toml"
    saved = run(
        bench, "prepare", META, "--make", "500mL", "--each", "20mL", "--save", str(file)
    )
    assert saved.exit_code == 0
    told = answered(bench, "plan", "own-borate")
    assert told["recipe"] == "own-borate"
    # figures of a recipe that a hand copies: five
    assert told["strength"]["mL_per_g"] == pytest.approx(20, rel=1e-4)
    again = run(
        bench, "prepare", META, "--make", "500mL", "--each", "20mL", "--save", str(file)
    )
    assert again.exit_code == 2
    assert "is there already. Name another file with --save." in again.stderr


def test_prepare_bakes_and_tells_by_weight_how_far_it_went(bench: Path) -> None:
    told = answered(
        bench, "prepare", "sodium-carbonate-anhydrous", "--from", "sodium-bicarbonate",
        "--make", "1L", "--grams", "63.083g",
    )  # fmt: skip
    # B-cb-01: 100 g become 63.083 g
    loss = told["route"]["weight_loss"]
    assert loss["before_g"] == pytest.approx(100, abs=0.02)
    assert loss["after_g"] == pytest.approx(63.083, abs=0.02)
    assert loss["loss_percent"] == pytest.approx(36.917, abs=0.02)
    # half a mole of gas for each mole: 100 / 84.007 / 2 x 24.055 L
    (gas,) = told["reaction"][0]["gas"]
    assert (gas["formula"], gas["L"]) == ("CO2", pytest.approx(14.3, abs=0.05))


TWO = "--make, --grams, --each (or --strength)"


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (
            (),
            2,
            f"none of {TWO} are given. Give two of them: the third follows.",
        ),
        (
            ("--make", "1L"),
            2,
            f"one of {TWO} is given. Give two of them: the third follows.",
        ),
        (
            ("--make", "1L", "--grams", "5", "--each", "20mL"),
            2,
            f"all three of {TWO} are given. Give two of them: the third follows.",
        ),
        (
            ("--make", "1L", "--each", "20mL", "--strength", "5 % w/v"),
            2,
            "--each and --strength both say how strong it is to be. Give one of the "
            "two.",
        ),
        (
            ("--make", "1L", "--strength", "5"),
            2,
            "--strength: '5' has no unit. Write it as 20 % w/v, 37 % w/w, 70 % v/v, "
            "50 g/L or 0.5 mol/L.",
        ),
        (
            ("--make", "1L", "--strength", "5 % w/w"),
            2,
            "--strength: 5 % w/w cannot be met without the density of what comes out. "
            "Write it as % w/v, g/L or mol/L.",
        ),
        (
            ("--make", "0L", "--grams", "5"),
            2,
            "--make: '0L' is not more than 0. Write a number above 0.",
        ),
        (
            ("--make", "1L", "--grams", "5mL"),
            2,
            "--grams: '5mL' is not a mass. Write it in g, such as 25g.",
        ),
        (
            ("--make", "1e308L", "--grams", "5"),
            2,
            "--make: '1e308L' is more than is ever mixed. Write at most 10 000 L.",
        ),
        (
            ("--each", "9000L", "--grams", "500"),
            2,
            "that makes 4500000 L, more than is ever mixed. Ask for less, or for a "
            "stronger solution.",
        ),
        (
            ("--make", "1L", "--grams", "5", "--from", "metol"),
            1,
            "--from: no vetted route makes sodium metaborate tetrahydrate from metol. "
            "Write one of: borax-decahydrate,sodium-hydroxide; "
            "boric-acid,sodium-hydroxide; borax-decahydrate,potassium-hydroxide.",
        ),
    ],
)
def test_prepare_refuses_in_one_line(
    bench: Path, words: tuple[str, ...], code: int, said: str
) -> None:
    result = run(bench, "prepare", META, *words)
    assert (result.exit_code, result.stdout) == (code, "")
    assert result.stderr == f"{said}\n"


def test_prepare_says_the_largest_strength_that_dissolves(bench: Path) -> None:
    result = run(bench, "prepare", "borax-decahydrate", "--make", "1L", "--grams", "60")
    assert result.exit_code == 1
    # G-09: 4.71 % w/w at 20 degC, 48 g in a litre
    assert "The largest strength that does is 48 g/L (4.8 % w/v" in result.stderr
    assert "make 1250 mL for 60 g" in result.stderr


def test_prepare_has_no_route_to_what_nobody_vetted(bench: Path) -> None:
    result = run(bench, "prepare", "metol", "--make", "1L", "--grams", "4")
    assert result.exit_code == 1
    assert result.stderr.startswith("no vetted route makes metol. Write a recipe with")


def test_dilute_by_a_ratio(bench: Path) -> None:
    told = answered(bench, "dilute", "1+9", "--make", "1L")
    assert told["make"] == {"mL": 1000}
    assert told["measure"] == [
        {"part": "stock", "mL": 100, "show": "100 mL"},
        {"part": "water", "mL": 900, "show": "900 mL"},
    ]
    assert (told["from"], told["to"]) == (None, None)


def test_dilute_names_the_parts_of_a_set(bench: Path) -> None:
    told = answered(bench, "dilute", "1+1+100", "--make", "510mL", "--of", "pyro-a")
    assert [(m["part"], m["mL"]) for m in told["measure"]] == [
        ("A (Pyrogallol)", 5),
        ("B (Carbonate)", 5),
        ("water", 500),
    ]


def test_dilute_tells_what_the_cylinder_cannot(bench: Path) -> None:
    said = run(bench, "dilute", "1+1+100", "--make", "600mL").stdout
    assert "a cylinder of 5 mL a line does not tell 5.88 mL" in " ".join(said.split())
    told = answered(bench, "dilute", "1+1+100", "--make", "600mL")
    assert told["measurable"] is False
    fine = answered(
        bench, "dilute", "1+1+100", "--make", "600mL", "--cylinder", "0.5mL"
    )
    assert fine["measurable"] is True


def test_dilute_tells_the_least_stock_a_roll_needs(bench: Path) -> None:
    # the sample lasts for 20 rolls a litre: 50 mL each
    told = answered(bench, "dilute", "--of", "film-developer", "--make", "300mL")
    assert told["ratio"] == "1+9"
    assert told["least"] == {"mL": 50, "of": "roll", "enough": False, "make_mL": 500}
    enough = answered(bench, "dilute", "1+9", "--make", "600mL", "--least", "60mL")
    assert enough["least"]["enough"] is True


def test_dilute_from_one_strength_to_another(bench: Path) -> None:
    told = answered(
        bench, "dilute", "--from", "20 % w/v", "--to", "4 % w/v", "--make", "500mL"
    )
    assert told["measure"][0]["mL"] == 100
    assert (told["from"], told["to"]) == ("20 % w/v", "4 % w/v")
    assert told["fill_up"] is True


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (
            ("1:10", "--make", "1L"),
            "'1:10' can be read as 1+9 (the last number is the whole) or as 1+10 (the "
            "last number is a part). Write 1+9 or 1+10.",
        ),
        (
            ("9", "--make", "1L"),
            "'9' is a ratio of one part. Write the parts joined by +, such as 1+9.",
        ),
        (
            ("1+0", "--make", "1L"),
            "'1+0' is no ratio: '0' is no number of parts. Write the parts joined by "
            "+, such as 1+9.",
        ),
        (("1+9",), "--make: it is not said how much. Write --make 1L."),
        (
            ("1+9", "--make", "0mL"),
            "--make: '0mL' is not more than 0. Write a number above 0.",
        ),
        (
            ("1+9", "--make", "1kg"),
            "--make: '1kg' is not a volume. Write it in mL or L.",
        ),
        (
            (),
            "neither a ratio nor two strengths are given. Write 1+9, or --from "
            '"20 % w/v" --to "4 % w/v".',
        ),
        (
            ("--from", "20 %", "--to", "4 % w/v", "--make", "1L"),
            "--from: '20 %' does not say of what: w/v is 20 g in 100 mL (200 g/L), w/w "
            "is 20 g in 100 g of solution, v/v is 20 mL in 100 mL. Write 20 % w/v, "
            "20 % w/w or 20 % v/v.",
        ),
        (
            ("--from", "20 % w/v", "--make", "1L"),
            '--to: one strength alone is given. Write both, such as --from "20 % w/v" '
            '--to "4 % w/v".',
        ),
        (
            ("1+9", "--from", "20 % w/v", "--to", "4 % w/v", "--make", "1L"),
            "'1+9' is a ratio, and --from and --to are strengths. Give one or the "
            "other.",
        ),
        (
            ("1+9", "--make", "1L", "--of", "pyro-a"),
            "the ratio has 2 parts, and pyro-a goes with A (Pyrogallol) and B "
            "(Carbonate) and water. Write 3 parts, or leave --of out.",
        ),
    ],
)
def test_dilute_refuses_in_one_line(
    bench: Path, words: tuple[str, ...], said: str
) -> None:
    result = run(bench, "dilute", *words)
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr == f"{said}\n"


def versions(bench: Path) -> list[str]:
    return [str(file) for file in sorted((bench / "compare").glob("*.toml"))]


def test_compare_answers_for_each_version(bench: Path) -> None:
    told = answered(bench, "compare", *versions(bench))
    assert told["measured_by"] == "borate-bench-book"
    items = {item["recipe"]: item for item in told["items"]}
    assert len(items) == 4
    assert items["borate-wall-card"]["meant"]["meant"] == "borax-pentahydrate"
    assert items["borate-newsletter"]["times"] == pytest.approx(0.657, abs=0.005)
    assert items["borate-bench-book"]["adds_up"] is True
    assert all(item["verdict"].startswith(name) for name, item in items.items())


def test_compare_prints_columns_and_a_verdict(bench: Path) -> None:
    result = run(bench, "compare", *versions(bench))
    lines = result.stdout.splitlines()
    assert lines[0].startswith("borate-… g/L")
    assert lines[2].split()[:3] == ["borax", "decahydrate", "69.2"]
    assert "pentahydrate was most" in " ".join(result.stdout.split())
    assert max(map(len, lines)) <= 78


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "no recipe is named. Name two or more."),
        (("citric-stop",), "1 recipe cannot be compared. Name two or more."),
        (
            ("citric-stop", "citric-stop"),
            "two of them are called citric-stop. Give each file a name of its own.",
        ),
    ],
)
def test_compare_needs_two(bench: Path, words: tuple[str, ...], said: str) -> None:
    result = run(bench, "compare", *words)
    assert (result.exit_code, result.stderr) == (2, f"{said}\n")
