"""Workshop files: what is read, and every fault of a file reported together."""

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from labelkit.chemistry.amounts import Dimension
from labelkit.errors import BadInput, Unknown
from labelkit.files.workshop import is_a_workshop, read_workshop, workshop_from_text
from labelkit.mixing.workshop import Task
from tests.conftest import SAMPLES

HEAD = """
title = "Raw powders"
date = 2031-04-12
people = ["A. Lindqvist", "R. Barros"]
stations = ["Bench 1"]
"""
ONE = '[[recipe]]\nname = "borate-alkali"\n'


def test_the_sample_workshop_is_read() -> None:
    workshop = read_workshop(SAMPLES / "workshop.toml")
    assert (workshop.title, workshop.day) == (
        "Film developer from raw powders",
        date(2031, 4, 12),
    )
    first, second, third = workshop.tasks
    assert first.audience == workshop.people
    assert [size.number for size in first.sizes] == [250, 500, 1000]
    assert second.audience == ("Bench 1", "Bench 2")
    assert (third.audience, third.weigh_out, third.copies) == (("",), False, 1)
    assert workshop.both_sides


def test_what_is_left_out_has_a_plain_meaning() -> None:
    (task,) = workshop_from_text(f"{HEAD}{ONE}").tasks
    assert task.make is None
    assert task.audience == ("A. Lindqvist", "R. Barros")
    assert (task.card, task.copies, task.weigh_out) == ("a5", 1, True)
    bare = 'title = "Raw powders"\ndate = "2031-04-12"\n'
    (task,) = workshop_from_text(f"{bare}{ONE}").tasks
    assert task.audience == ("",)


def test_some_of_them_may_be_named() -> None:
    text = f'{HEAD}{ONE}make = "1 L"\ncard = "none"\nonly = ["R. Barros"]\n'
    (task,) = workshop_from_text(text).tasks
    assert task.audience == ("R. Barros",)
    assert task.card == ""
    assert task.make is not None
    assert task.make.number == Decimal(1000)


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("", "title: is missing"),
        ("", "date: is missing"),
        ("", "recipe: no recipe is named"),
        ('date = "soon"', "date: 'soon' is not a date"),
        ('people = ["A", "A"]', "people: 'A' stands there twice"),
        ('people = [" "]', "people: '' is no name"),
        ('people = ["A\\u0007"]', "is no name"),
        (f"people = {[str(n) for n in range(101)]}", "people: names 101"),
        (f"{ONE}make = '5 lots'", "recipe 1, make: "),
        (f"{ONE}for = 'cat'", "recipe 1, for: 'cat' is not known"),
        (f"{ONE}for = 'person'", "recipe 1, for: 'person', but people names nobody"),
        (f"{ONE}for = 'station'", "'station', but stations names nobody"),
        (f"{ONE}only = ['R. Baros']", "only: 'R. Baros' is not among them"),
        (f"{ONE}copies = 0", "recipe 1, copies: '0' is out of reach"),
        (f"{ONE}copies = 201", "recipe 1, copies: '201' is out of reach"),
        (f"{ONE}copies = 1.5", "recipe 1, copies: '1.5' is not whole"),
        (f"{ONE}sizes = ['big']", "recipe 1, sizes: "),
        (f"{ONE}weigh_out = 'yes'", "recipe 1, weigh_out: "),
        (f"{ONE}cards = 2", "recipe 1, cards: is not a known key"),
        ("[[recipe]]\nmake = '1 L'", "recipe 1, name: is missing"),
        ("titel = 'x'", "titel: is not a known key. Did you mean title?"),
        (f"{ONE}teacher = 'M. Osei'", "Write it at the top of the file"),
        ("recipe = 3", "recipe: "),
        ("title = ", "is not TOML"),
    ],
)
def test_a_fault_is_told_with_file_key_and_value(text: str, fault: str) -> None:
    with pytest.raises(BadInput) as refused:
        workshop_from_text(text, place="spring.toml")
    told = str(refused.value)
    assert fault in told
    assert all(line.startswith("spring.toml, ") for line in told.splitlines())


def test_a_near_name_is_hinted_at() -> None:
    with pytest.raises(BadInput, match=r"Did you mean R\. Barros"):
        workshop_from_text(f"{HEAD}{ONE}only = ['R. Baros']\n")


def test_copies_may_be_one_to_two_hundred() -> None:
    for copies in (1, 200):
        (task,) = workshop_from_text(f"{HEAD}{ONE}copies = {copies}\n").tasks
        assert task.copies == copies


def test_all_faults_of_a_file_are_told_at_once() -> None:
    text = f"title = 3\n{ONE}make = '5 lots'\nfor = 'cat'\n"
    with pytest.raises(BadInput) as refused:
        workshop_from_text(text)
    assert len(refused.value.faults) == 4


class Bench:
    """Knows one recipe, that makes no grams, one card and one sheet."""

    def recipe(self, name: str) -> None:
        self._known(name, "borate-alkali")

    def plan(self, task: Task) -> None:
        if task.make and task.make.dimension is Dimension.MASS:
            raise BadInput("is not a volume", place="make")

    def sizes(self, task: Task) -> None:
        if any(size.number > 1000 for size in task.sizes):
            raise BadInput("is too much")

    def card(self, name: str) -> None:
        self._known(name, "a5")

    def sheet(self, name: str) -> None:
        self._known(name, "a4")

    def _known(self, name: str, known: str) -> None:
        if name != known:
            raise Unknown(f"there is no {name}")


@pytest.mark.parametrize(
    ("text", "places"),
    [
        (f"{HEAD}{ONE}", []),
        (f"{HEAD}sheet = 'a4'\n{ONE}card = 'none'", []),
        (f"{HEAD}sheet = 'a0'\n{ONE}card = 'a7'", ["recipe 1, card", "sheet"]),
        (f"{HEAD}[[recipe]]\nname = 'x'\nmake = '1 kg'", ["recipe 1, name"]),
        (f"{HEAD}{ONE}make = '1 kg'\nsizes = ['9 L']", ["recipe 1, make"]),
        (f"{HEAD}{ONE}sizes = ['9 L', '1 L']", ["recipe 1, sizes"]),
        (
            f"sheet = 'a0'\n{ONE}card = 'a7'\ncopies = 0\n[[recipe]]\nname = 'x'",
            [
                "title", "date", "recipe 1, copies", "recipe 1, card",
                "recipe 2, name", "sheet",
            ],
        ),
        (f"{HEAD}[[recipe]]\ncard = 'a7'", ["recipe 1, name", "recipe 1, card"]),
    ],
)  # fmt: skip
def test_names_that_stand_for_nothing_are_told_with_the_other_faults(
    text: str, places: list[str]
) -> None:
    try:
        workshop_from_text(text, names=Bench())
        told = []
    except BadInput as error:
        told = [fault.place for fault in error.faults]
    assert told == [f"workshop.toml, {place}" for place in places]


@pytest.mark.parametrize(
    ("text", "workshop"),
    [
        (f"{HEAD}{ONE}", True),
        (ONE, True),
        ("people = 3", True),
        ('title = "x"', False),
        ('title = "x"\nteacher = "y"\n[[step]]\nadd = "water"', False),
        ("people = ", False),
    ],
)
def test_a_workshop_is_told_from_a_recipe_by_its_keys(
    tmp_path: Path, text: str, workshop: bool
) -> None:
    path = tmp_path / "any.toml"
    assert not is_a_workshop(path)
    path.write_text(text, encoding="utf-8")
    assert is_a_workshop(path) is workshop


def test_no_recipe_of_the_samples_is_taken_for_a_workshop() -> None:
    recipes = list(SAMPLES.glob("recipes/*.toml"))
    assert recipes
    assert not any(map(is_a_workshop, recipes))
    assert is_a_workshop(SAMPLES / "workshop.toml")


def test_a_file_that_is_not_there_is_told() -> None:
    with pytest.raises(Unknown, match="there is no file"):
        read_workshop(SAMPLES / "autumn.toml")
