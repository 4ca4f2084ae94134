"""No batch is kept whose label could never be printed; nothing is weighed for it."""

import shutil
from pathlib import Path

import pytest

from labelkit.cli.desk import Desk
from labelkit.cli.workplace import Workplace
from labelkit.errors import BadInput
from labelkit.mixing.desk import Finish, Wish
from tests.cli.conftest import Run
from tests.cli.terminal import Terminal, as_json, batch_of

HEBREW = "מלח בורקס"
OWN = f"""
[[chemical]]
id = "house-salt"
names = ["{HEBREW}"]
source = "ours"
formula = "KBr"
"""
SALT = """
title = "Salt"
makes = "100 mL"
{top}
[[step]]
add = "{salt}"
amount = "1 g"
[[step]]
make_up_to = "100 mL"
{end}
"""


def written(bench: Path, top: str = "", salt: str = "potassium-bromide",
            end: str = "") -> Path:  # fmt: skip
    path = bench / "recipes" / "salt.toml"
    path.write_text(SALT.format(top=top, salt=salt, end=end), encoding="utf-8")
    return path


def shelf(run: Run) -> list[object]:
    items: list[object] = as_json(run("shelf", "--json").out)["items"]
    return items


@pytest.mark.parametrize(
    ("top", "salt", "end", "place"),
    [
        ('off_when = "⚠"', "potassium-bromide", "", "salt.toml, off_when"),
        ('part = "א"', "potassium-bromide", "", "salt.toml, part"),
        ('part = "A"', "potassium-bromide", '[use]\nwith = ["בורקס"]',
         "salt.toml, use, with"),
        ("", "house-salt", OWN, "salt.toml, house-salt, names"),
    ],
)  # fmt: skip
def test_mix_refuses_before_anything_is_weighed(
    bench: Path, run: Run, top: str, salt: str, end: str, place: str
) -> None:
    written(bench, top, salt, end)
    assert run("plan", "salt").code == 0
    answer = run("mix", "salt")
    assert answer.code == 2
    (line,) = dict.fromkeys(answer.err.splitlines())
    assert line.startswith(f"{place}: ")
    assert line.endswith("Write it in other words.")
    assert not shelf(run)


def test_every_text_that_no_label_can_say_is_told(bench: Path, run: Run) -> None:
    path = written(bench, 'off_when = "⚠⚠"', "house-salt", OWN)
    text = path.read_text("utf-8").replace('"Salt"', f'"{HEBREW}"')
    path.write_text(text, encoding="utf-8")
    answer = run("mix", "salt", "--by", "משה")
    assert [line.split(": ")[0] for line in answer.err.splitlines()] == [
        "salt.toml, title",
        "salt.toml, off_when",
        "salt.toml, house-salt, names",
        "--by",
    ]
    assert not shelf(run)


def test_a_chemical_and_a_room_of_the_bench_are_told_in_their_files(
    bench: Path, run: Run
) -> None:
    written(bench, salt="house-salt")
    for name, more in (("chemicals.toml", OWN), ("labelkit.toml", "")):
        path = bench / name
        text = path.read_text("utf-8").replace("Tern Street Print Room", HEBREW)
        path.write_text(text + more, encoding="utf-8")
    answer = run("mix", "salt")
    assert answer.code == 2
    assert [line.split(": ")[0] for line in answer.err.splitlines()] == [
        "labelkit.toml, room",
        "chemicals.toml, house-salt, names",
    ]


def test_what_stands_on_no_label_keeps_nobody_from_mixing(
    bench: Path, run: Run
) -> None:
    written(bench, f'note = "{HEBREW}"\nsource = "{HEBREW}"')
    answer = run("mix", "salt")
    assert answer.code == 0, answer.err
    assert "Labels: " in answer.out


def test_at_the_sink_a_name_is_asked_again(bench: Path, run: Run) -> None:
    written(bench)
    at = Terminal(bench, "mix", "salt")
    at.asked("read", "")
    at.asked("done", "")
    at.asked("Made up to [", "")
    at.asked("Mixed by:", "משה")
    at.child.expect_exact("Mixed by: the letter")
    at.asked("Write it in other words.\r\nMixed by:", "M. Osei")
    at.asked("pH measured", "")
    at.asked("Into which bottles", "")
    said, code = at.ended()
    assert code == 0, said
    shown = as_json(run("show", batch_of(said), "--json").out)
    assert shown["made_by"] == "M. Osei"


def test_a_page_begins_no_such_mix(bench: Path) -> None:
    written(bench, 'off_when = "⚠"')
    desk = Desk(Workplace(bench))
    with pytest.raises(BadInput, match=r"^salt\.toml, off_when: the character '⚠'"):
        desk.begin(Wish("salt"))
    assert desk.half_done() == ()
    (told,) = [c.text for c in desk.plan(Wish("salt")).checks if c.code == "label"]
    assert told.startswith(
        "It cannot be begun: its label could not be printed. salt.toml, off_when: "
    )


def test_a_page_takes_no_name_that_no_label_can_say(bench: Path, run: Run) -> None:
    written(bench)
    desk = Desk(Workplace(bench))
    assert not [c for c in desk.plan(Wish("salt")).checks if c.code == "label"]
    named = desk.plan(Wish("salt", by="משה")).checks
    assert [c.text for c in named if "printed. Who mixes: the letter 'מ'" in c.text]
    number = desk.begin(Wish("salt"))
    faults = desk.save(number, Finish(by="משה"))
    assert faults == {
        "by": "the letter 'מ' (U+05DE HEBREW LETTER MEM) of a script that runs from "
        "right to left, besides 'ש' and 'ה', in 'משה'. Write it in other words."
    }
    assert not desk.save(number, Finish(by="M. Osei"))
    assert len(shelf(run)) == 1


def test_a_recipe_is_told_by_its_own_name(bench: Path, run: Run) -> None:
    path = written(bench, 'off_when = "⚠"')
    shutil.copy(path, bench / "elsewhere.toml")
    answer = run("mix", "elsewhere.toml")
    assert answer.err.startswith("elsewhere.toml, off_when: ")
