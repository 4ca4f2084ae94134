"""Which texts of a file are printed, and where each of them stands."""

from pathlib import Path

import pytest

from labelkit.errors import BadInput
from labelkit.files.printed import label_texts, printed_texts
from tests.conftest import SAMPLES

RECIPE = """
title = "Alkali"
makes = "1 L"
part = "A"
off_when = "Cloudy"
keep_in = "brown glass"
note = "Slow."
test = "Smell it."
source = "A book"
set = "two"
[use]
with = ["b", "c"]
capacity = { amount = 10, of = "roll", per = "1 L" }
[[step]]
add = "water"
amount = "1 L"
text = "Cold."
[[step]]
in = "jug"
add = "flakes"
amount = "1 g"
caution = "Goggles."
[[step]]
pour = "jug"
[bench_notes]
spill = "Wipe."
[[chemical]]
id = "flakes"
names = ["Flakes", "other words"]
"""


def told_of(folder: Path, text: str, name: str = "x.toml") -> dict[str, str]:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return dict(printed_texts(path))


def test_every_text_of_a_recipe_that_is_printed_is_told_with_its_place(
    tmp_path: Path,
) -> None:
    assert told_of(tmp_path, RECIPE) == {
        "x.toml, title": "Alkali",
        "x.toml, part": "A",
        "x.toml, off_when": "Cloudy",
        "x.toml, keep_in": "brown glass",
        "x.toml, note": "Slow.",
        "x.toml, test": "Smell it.",
        "x.toml, use, with": "b, c",
        "x.toml, use, capacity, of": "roll",
        "x.toml, step 1, text": "Cold.",
        "x.toml, step 2, caution": "Goggles.",
        "x.toml, step 2, in": "jug",
        "x.toml, step 3, pour": "jug",
        "x.toml, bench_notes, spill": "Wipe.",
        "x.toml, flakes, names": "Flakes",
    }


def test_a_label_says_the_name_the_part_and_what_it_is_made_of() -> None:
    assert dict(label_texts(RECIPE, "x.toml")) == {
        "x.toml, title": "Alkali",
        "x.toml, part": "A",
        "x.toml, off_when": "Cloudy",
        "x.toml, use, with": "b, c",
        "x.toml, use, capacity, of": "roll",
        "x.toml, flakes, names": "Flakes",
    }


@pytest.mark.parametrize(
    "text",
    [
        "",
        "title = ",
        "title = 3\nstep = 'x'\nuse = 1\nchemical = [3]\njar = 2.5",
        "title = ''\nnote = ['', 3]\n[use]\ncapacity = 10\nwith = 3",
        "[[chemical]]\nid = 3\nnames = 'flakes'\n[[chemical]]\nnames = [3]",
        "[[chemical]]\nid = 'x'\n[[step]]\ntext = 3\n",
    ],
)
def test_what_is_written_wrong_is_left_to_its_reader(tmp_path: Path, text: str) -> None:
    assert told_of(tmp_path, text) == {}


def test_a_recipe_that_is_no_toml_has_no_label() -> None:
    with pytest.raises(BadInput, match="is not TOML"):
        list(label_texts("title = ", "x.toml"))


def test_a_chemical_without_an_id_goes_by_its_number(tmp_path: Path) -> None:
    text = "[[chemical]]\nid = ''\nnames = ['A']\n[[chemical]]\nnames = ['B']"
    assert told_of(tmp_path, text) == {
        "x.toml, chemical 1, names": "A",
        "x.toml, chemical 2, names": "B",
    }


def test_settings_jars_and_a_workshop_have_theirs(tmp_path: Path) -> None:
    settings = "room = 'R'\nphone = '1'\ncountry = 'NZ'\n"
    assert told_of(tmp_path, settings, "labelkit.toml") == {
        "labelkit.toml, room": "R",
        "labelkit.toml, phone": "1",
    }
    jars = "[[jar]]\nchemical = 'water'\nlot = 'TS 1'\nprice = '3'\n"
    assert told_of(tmp_path, jars, "jars.toml") == {"jars.toml, jar 1, lot": "TS 1"}
    told = dict(printed_texts(SAMPLES / "workshop.toml"))
    assert told["workshop.toml, teacher"] == "M. Osei"
    assert told["workshop.toml, stations"] == "Bench 1, Bench 2"
