"""``--swap`` and ``--stock``: what is really at hand, on ``plan`` and on ``mix``."""

import json
import re
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from labelkit.cli.group import commands


def run(bench: Path, *words: str) -> Result:
    return CliRunner().invoke(commands, [*words, "--bench", str(bench)])


def answered(bench: Path, *words: str) -> Any:
    result = run(bench, *words, "--json")
    assert result.exit_code == 0, result.output
    return json.loads(result.stdout)


@pytest.fixture
def bromide(bench: Path) -> str:
    """A bottle of 100 mL that holds 10 g of potassium bromide."""
    mixed = answered(bench, "mix", "bromide-stock", "--by", "M. Osei")
    return str(mixed["batch"])


def test_a_plan_with_another_form_keeps_the_strength(bench: Path) -> None:
    plain = answered(bench, "plan", "borate-alkali")
    told = answered(
        bench, "plan", "borate-alkali", "--swap", "borax-decahydrate=borax-pentahydrate"
    )
    assert told["strength"]["g_per_L"] == pytest.approx(plain["strength"]["g_per_L"])
    (swap,) = told["swaps"]
    # practice.md, section 5: 0.764
    assert swap["factor"] == pytest.approx(0.764, abs=0.001)
    assert swap["water_g"] < 0
    assert "swaps" not in plain


def test_a_word_is_settled_by_what_the_recipe_adds(bench: Path) -> None:
    told = answered(bench, "plan", "borate-alkali", "--swap", "borax=borax-anhydrous")
    assert told["swaps"][0]["from"] == "borax-decahydrate"


def test_what_changed_stands_on_the_plan(bench: Path) -> None:
    result = run(
        bench, "plan", "borate-alkali", "--make", "250mL",
        "--swap", "sodium-hydroxide=potassium-hydroxide",
    )  # fmt: skip
    said = " ".join(result.stdout.split())
    assert "Changed Potassium hydroxide for sodium hydroxide: 1.403 g" in said
    assert "measure it again" in said


def test_a_solid_is_poured_from_a_bottle_on_the_shelf(
    bench: Path, bromide: str
) -> None:
    told = answered(
        bench, "plan", "film-developer", "--stock", f"potassium-bromide={bromide}"
    )
    water, poured = told["measure"]
    assert (poured["mL"], poured["batch"]) == (40, bromide)
    assert water["mL"] == 660
    contents = {c["chemical"]: c["g_per_L"] for c in told["contents"]}
    assert contents["potassium-bromide"] == 4
    assert told["stocks"][0]["mL_per_g"] == 10


def test_no_line_breaks_between_a_figure_and_its_unit(
    bench: Path, bromide: str
) -> None:
    words = ("film-developer", "--stock", f"potassium-bromide={bromide}")
    for make in ("500mL", "700mL", "900mL", "1L", "1200mL"):
        told = run(bench, "plan", *words, "--make", make).stdout
        block = told.partition("Changed")[2].partition("\n\n")[0]
        assert "mL" in block
        for line in block.splitlines():
            assert not re.search(r"\d$", line.rstrip()), block
            assert not line.lstrip().startswith(("mL", "g.")), block


def test_figures_follow_the_quantity(bench: Path, bromide: str) -> None:
    told = answered(
        bench, "plan", "film-developer", "--make", "500mL",
        "--stock", f"potassium-bromide={bromide}",
    )  # fmt: skip
    assert told["stocks"][0]["mL"] == 20
    assert told["stocks"][0]["changes"][1] == (
        "Water in step 1: 330 mL instead of 350 mL."
    )


def test_a_batch_mixed_from_a_bottle_plans_its_own_recipe_again(
    bench: Path, bromide: str
) -> None:
    mixed = answered(
        bench, "mix", "film-developer", "--make", "500mL",
        "--stock", f"potassium-bromide={bromide}",
        "--swap", "potassium-carbonate=sodium-carbonate-monohydrate",
    )  # fmt: skip
    again = answered(bench, "plan", mixed["batch"], "--make", "500mL")
    assert [w["chemical"] for w in again["weigh"]][-1] == "sodium-carbonate-monohydrate"
    for ours, theirs in zip(again["measure"], mixed["measure"], strict=True):
        assert ours["mL"] == pytest.approx(theirs["mL"], rel=1e-9)


def test_a_bottle_past_its_date_is_told_and_not_refused(bench: Path) -> None:
    old = answered(bench, "mix", "bromide-stock", "--on", "2020-01-01")["batch"]
    told = answered(
        bench, "plan", "film-developer", "--stock", f"potassium-bromide={old}"
    )
    (late,) = [c for c in told["checks"] if c["code"] == "expired-stock"]
    assert late["level"] == "warn"
    assert late["step"] == 7
    assert old in late["text"]


def test_a_bottle_that_was_discarded_is_asked_about(bench: Path, bromide: str) -> None:
    assert run(bench, "log", f"{bromide}/1", "discarded").exit_code == 0
    told = answered(
        bench, "plan", "film-developer", "--stock", f"potassium-bromide={bromide}"
    )
    texts = [c["text"] for c in told["checks"] if c["code"] == "expired-stock"]
    assert any("was discarded: is this the right bottle?" in text for text in texts)


@pytest.mark.parametrize(
    ("use", "mark"), [("hold", "HOLD"), ("maker", "ASK M. Osei"), ("all", "")]
)
def test_a_bottle_that_is_somebodys_is_said_on_the_plan(
    bench: Path, use: str, mark: str
) -> None:
    mixed = ("mix", "bromide-stock", "--by", "M. Osei", "--into", "2x50 mL")
    number = str(answered(bench, *mixed, "--use", use)["batch"])
    for named in (number, f"{number}/2"):
        words = ("plan", "film-developer", "--stock", f"potassium-bromide={named}")
        told = (
            f"Look out: Potassium bromide {named} is marked {mark}. "
            "Ask before you pour from it."
        )
        for more in ((), ("--json",)):
            result = run(bench, *words, *more)
            assert result.exit_code == 0
            said = " ".join(result.stderr.split())
            assert said == (told if mark else "")


def test_a_plan_from_the_powder_asks_nobody(bench: Path) -> None:
    answered(bench, "mix", "bromide-stock", "--use", "hold")
    assert run(bench, "plan", "film-developer").stderr == ""


def test_a_recipe_that_takes_a_solution_still_takes_its_bottle(
    bench: Path, bromide: str
) -> None:
    pyro = answered(bench, "mix", "pyro-a")["batch"]
    told = answered(bench, "plan", "pyro-working", "--stock", f"pyro-a={pyro}")
    assert told["measure"][1]["batch"] == pyro
    refused = run(bench, "plan", "pyro-working", "--stock", f"pyro-a={bromide}")
    assert refused.exit_code == 2
    assert refused.stderr == (
        f"--stock: batch {bromide} is bromide-stock, not pyro-a. Write "
        f"bromide-stock={bromide}, or name another batch.\n"
    )


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (
            ("--swap", "sodium-chloride=potassium-bromide"),
            2,
            "--swap: no step of film-developer adds sodium-chloride. It adds: "
            "sodium-sulfite-anhydrous, metol, hydroquinone, potassium-carbonate, "
            "potassium-bromide.",
        ),
        (
            ("--swap", "metol"),
            2,
            "--swap: 'metol' has no '='. Write A=B, such as "
            "borax-decahydrate=borax-pentahydrate.",
        ),
        (
            ("--swap", "metol=nothing of the kind"),
            2,
            "--swap: no chemical is called 'nothing of the kind'. Write an id from the "
            "list of chemicals, or add it as your own.",
        ),
        (
            ("--swap", "metol=phenidone"),
            1,
            "no honest number: one developing agent for another is known by trial "
            "only: they differ in speed, in contrast and in the pH they need. Look for "
            "a published formula with the agent in the jar; a ratio such as 10 of "
            "metol for 1 of phenidone is where trials start, not a figure.",
        ),
        (
            ("--stock", "metol"),
            2,
            "--stock: 'metol' has no '='. Write NAME=BATCH, such as "
            "pyro-a=ABCD-EFGH-K.",
        ),
        (
            ("--stock", "metol=BATCH"),
            2,
            "--stock: 'BATCH' has 5 characters, a batch number has 9. Write it as on "
            "the label, such as 7K3M-Q9TX-8.",
        ),
        (
            ("--stock", "metol={bromide}"),
            2,
            "--stock: batch {bromide} holds no metol and no other form of it. It "
            "holds: potassium-bromide. Name another batch.",
        ),
    ],
)
def test_what_cannot_be_is_refused_in_one_line(
    bench: Path, bromide: str, words: tuple[str, str], code: int, said: str
) -> None:
    option, value = words[0], words[1].format(bromide=bromide)
    result = run(bench, "plan", "film-developer", option, value)
    assert (result.exit_code, result.stdout) == (code, "")
    assert result.stderr == f"{said.format(bromide=bromide)}\n"


def test_a_bottle_too_weak_is_refused_with_the_strength_that_fits(
    bench: Path, bromide: str
) -> None:
    strong = bench / "recipes" / "strong.toml"
    strong.write_text(
        'title = "Strong"\nmakes = "120 mL"\n[[step]]\nadd = "water"\n'
        'amount = "100 mL"\n[[step]]\nadd = "potassium-bromide"\namount = "20 g"\n'
    )
    result = run(bench, "plan", "strong", "--stock", f"potassium-bromide={bromide}")
    assert result.exit_code == 1
    assert "use a bottle of at least 200 g/L (20 % w/v)" in result.stderr
