"""Recipes are read whole: every key, in the words of the trade."""

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from labelkit.chemistry.amounts import Amount, Dimension, Duration
from labelkit.errors import Ambiguous
from labelkit.files.chemicals import read_catalogue
from labelkit.files.recipes import read_recipe, recipe_from_text
from labelkit.mixing.recipe import (
    BenchNotes,
    Capacity,
    Measured,
    ReactionSpec,
    Recipe,
    Step,
    Use,
)

BORATE = """\
title   = "Borate alkali stock"
makes   = "500 mL"
keeps   = "12 months"
keep_in = "HDPE bottle"
note    = "Stands in for the solid alkali in any formula."
source  = "Tern Street notebook, page 3"
revision = "1"
keeps_opened = "6 months"
keeps_part_full = "2 months"
keeps_working = "8 hours"
off_when = "Darker than weak tea"
test = "Clip of film in the working bath: black in 2 min"
part = "b"
set = "pyro-carbonate"
headline = "equivalence"
drop = "0.04 mL"

[strength]
of = "sodium-metaborate-tetrahydrate"

[[reaction]]
from = ["borax-decahydrate", "sodium hydroxide"]
to   = ["sodium-metaborate-tetrahydrate"]

[[step]]
add = "water"
amount = "300 mL"
at = "104 degF"
kind = "boiled"

[[step]]
add = "Borax-Decahydrate"
amount = "17,3 g"
text = "Stir until clear."

[[step]]
cool_to = "25 degC"
wait = "10 minutes"

[[step]]
in = "second jug"
add = "water"
amount = "50 mL"
at = "15 degC"

[[step]]
in = "second jug"
add = "sodium-hydroxide"
amount = "3.7 g"
assay = "98 %"
caution = "Caustic. Goggles."

[[step]]
pour = "second jug"

[[step]]
add = "isopropyl-alcohol"
amount = "5 drops"

[[step]]
make_up_to = "0.5 L"

[[step]]
text = "Label the bottle."

[use]
ratio    = "1+1+100"
with     = ["pyro-a"]
makes    = "1 L"
capacity = { amount = 10, of = "roll", per = "1 L" }

[bench_notes]
mixing = "Two people."
spill = "Rinse."
storage = "Low shelf."
disposal = "As the room says."

[measured]
ph = 11.2
density = "1.02 g/mL"
"""


def recipe(text: str, **choices: str) -> Recipe:
    return recipe_from_text(text, "stock", read_catalogue(), choices=choices)


def mL(number: str) -> Amount:
    return Amount(Decimal(number), Dimension.VOLUME)


def g(number: str) -> Amount:
    return Amount(Decimal(number), Dimension.MASS)


def test_every_key_of_a_recipe_is_read() -> None:
    read = recipe(BORATE)
    assert read == Recipe(
        name="stock",
        title="Borate alkali stock",
        makes=mL("500"),
        steps=read.steps,
        strength_of="sodium-metaborate-tetrahydrate",
        reactions=(
            ReactionSpec(
                ("borax-decahydrate", "sodium-hydroxide"),
                ("sodium-metaborate-tetrahydrate",),
            ),
        ),
        keeps=Duration(12, "months"),
        keeps_opened=Duration(6, "months"),
        keeps_part_full=Duration(2, "months"),
        keeps_working=Duration(8, "hours"),
        keep_in="HDPE bottle",
        note="Stands in for the solid alkali in any formula.",
        source="Tern Street notebook, page 3",
        revision="1",
        off_when="Darker than weak tea",
        test="Clip of film in the working bath: black in 2 min",
        part="B",
        set="pyro-carbonate",
        headline="equivalence",
        use=Use(
            ratio=(Decimal(1), Decimal(1), Decimal(100)),
            goes_with=("pyro-a",),
            makes=mL("1000"),
            capacity=Capacity(Decimal(10), "roll", mL("1000")),
        ),
        bench_notes=BenchNotes(
            mixing="Two people.",
            spill="Rinse.",
            storage="Low shelf.",
            disposal="As the room says.",
        ),
        measured=Measured(Decimal("11.2"), Decimal("1.02")),
        drop_mL=Decimal("0.04"),
        document=BORATE,
    )


def test_every_key_of_a_step_is_read() -> None:
    jug = "second jug"
    assert recipe(BORATE).steps == (
        Step(1, add="water", amount=mL("300"), at_C=Decimal(40), kind="boiled"),
        Step(2, add="borax-decahydrate", amount=g("17.3"), text="Stir until clear."),
        Step(3, cool_to_C=Decimal(25), wait=Duration(10, "minutes")),
        Step(4, add="water", amount=mL("50"), at_C=Decimal(15), kind="tap", vessel=jug),
        Step(
            5,
            add="sodium-hydroxide",
            amount=g("3.7"),
            assay_percent=Decimal(98),
            vessel=jug,
            caution="Caustic. Goggles.",
        ),
        Step(6, pour=jug),
        Step(7, add="isopropyl-alcohol", amount=mL("0.2")),
        Step(8, make_up_to=mL("500")),
        Step(9, text="Label the bottle."),
    )


SHORT = """
title = "Stock"
makes = "100 mL"
[[step]]
add = "{add}"
amount = "{amount}"
"""


def short(add: str = "sodium-chloride", amount: str = "5 g") -> str:
    return SHORT.format(add=add, amount=amount)


def test_most_keys_may_be_left_out() -> None:
    read = recipe(short())
    assert read.keeps is None
    assert read.use is None
    assert read.strength_of is None
    assert read.measured == Measured()
    assert read.drop_mL == Decimal("0.05")  # common practice, no source


def test_a_dry_mixture_is_made_by_mass() -> None:
    text = short().replace('"100 mL"', '"100 g"') + '[use]\nmakes = "1 L"\n'
    read = recipe(text)
    assert read.makes == g("100")
    assert read.use == Use(makes=mL("1000"))


def test_another_recipes_solution_is_added_by_volume() -> None:
    (step,) = recipe(short("recipe:pyro-a", "5 mL")).steps
    assert (step.add, step.recipe) == ("recipe:pyro-a", "pyro-a")


@pytest.mark.parametrize("amount", ["5 g", "5 mL"])
def test_a_liquid_may_be_weighed_or_poured(amount: str) -> None:
    (step,) = recipe(short("acetic-acid-glacial", amount)).steps
    assert step.amount is not None
    assert step.amount.number == 5


@pytest.mark.parametrize("amount", ["50 g", "50 mL"])
def test_water_may_be_weighed_or_poured(amount: str) -> None:
    (step,) = recipe(short("Water", amount)).steps
    assert (step.add, step.kind) == ("water", "tap")


@pytest.mark.parametrize("ph", ["-1", "0", "7.25", "14", "15"])
def test_a_measured_ph_may_lie_a_little_outside_the_scale(ph: str) -> None:
    read = recipe(f"{short()}[measured]\nph = {ph}\n")
    assert read.measured.ph == Decimal(ph)


@pytest.mark.parametrize("at", ["-20 degC", "100 degC", "212 degF"])
def test_a_temperature_up_to_boiling_is_read(at: str) -> None:
    (step,) = recipe(f'{short()}at = "{at}"\n').steps
    assert step.at_C in {Decimal(-20), Decimal(100)}


OWN = (
    short("house-soda-solution", "5 mL")
    + """
[[chemical]]
id = "house-soda-solution"
names = ["house soda"]
state = "liquid"
density = "1.05 g/mL"
source = "weighed at the bench, 2031-01"
"""
)


def test_a_recipe_brings_its_own_chemicals() -> None:
    read = recipe(OWN)
    assert read.steps[0].add == "house-soda-solution"
    assert [entry.substance.id for entry in read.own_chemicals] == [
        "house-soda-solution"
    ]
    by_name = recipe(OWN.replace('add = "house-soda-solution"', 'add = "house soda"'))
    assert by_name.steps == read.steps


def test_a_word_that_fits_several_chemicals_is_asked_and_then_known() -> None:
    text = short("borax") + '[strength]\nof = "sulfite"\n'
    with pytest.raises(Ambiguous) as first:
        recipe(text)
    assert first.value.word == "borax"
    assert len(first.value.faults) == 2
    with pytest.raises(Ambiguous) as second:
        recipe(text, borax="borax-decahydrate")
    assert second.value.word == "sulfite"
    read = recipe(text, borax="borax-decahydrate", sulfite="sodium-sulfite-anhydrous")
    assert read.steps[0].add == "borax-decahydrate"
    assert read.strength_of == "sodium-sulfite-anhydrous"


def test_a_recipe_is_called_after_its_file(tmp_path: Path) -> None:
    path = tmp_path / "borate-alkali.toml"
    path.write_text(BORATE, encoding="utf-8")
    read = read_recipe(path, read_catalogue())
    assert read.name == "borate-alkali"
    assert read.keeps is not None
    assert read.keeps.after(date(2031, 3, 14)) == date(2032, 3, 14)


def test_a_frozen_text_is_read_again_by_the_same_code(tmp_path: Path) -> None:
    windows = b"\xef\xbb\xbf" + OWN.replace("\n", "\r\n").encode()
    path = tmp_path / "stock.toml"
    path.write_bytes(windows)
    read = read_recipe(path, read_catalogue())
    assert read.document.encode() == windows[3:]
    again = recipe_from_text(read.document, read.name, read_catalogue())
    assert again == read


def test_a_text_is_told_on_one_line() -> None:
    read = recipe('note = """\nTwo\n  lines."""\n' + short())
    assert read.note == "Two lines."
