"""What README says is true: its commands are there, its examples run."""

import re
import shlex
from pathlib import Path

import click
import pytest

from labelkit.cli.group import COMMANDS, commands
from labelkit.files.settings import read_settings
from tests.cli.conftest import Run, bench, labelkit, run

__all__ = ["bench", "run"]

HOUSE = Path(__file__).resolve().parent.parent
README = (HOUSE / "README.md").read_text("utf-8")
DEVELOPERS = (HOUSE / "DEVELOPERS.md").read_text("utf-8")
CALLED = re.compile(r"`labelkit ([a-z-]+)([^`]*)`")
# Everything told in README as a call, by command.
CALLS = [(found[1], found[2]) for found in CALLED.finditer(README)]


def options_of(name: str) -> set[str]:
    command = commands.get_command(click.Context(commands), name)
    assert command is not None
    return {option for param in command.params for option in param.opts}


def blocks(language: str) -> list[str]:
    return re.findall(rf"^```{language}\n(.*?)^```$", README, re.MULTILINE | re.DOTALL)


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_help_and_stands_in_readme(name: str) -> None:
    command = commands.get_command(click.Context(commands), name)
    assert command is not None
    assert command.help
    assert f"`labelkit {name}" in README


@pytest.mark.parametrize("name", sorted({name for name, _ in CALLS}))
def test_readme_names_no_command_that_is_not_there(name: str) -> None:
    assert name in COMMANDS


@pytest.mark.parametrize(("name", "words"), CALLS)
def test_readme_names_no_option_that_is_not_there(name: str, words: str) -> None:
    told = set(re.findall(r"(?<![\w-])--?[a-z][a-z-]*", words))
    assert told <= options_of(name)


@pytest.mark.parametrize("name", sorted(set(COMMANDS) - {"demo", "init"}))
def test_every_command_can_be_told_its_bench(name: str) -> None:
    assert "--bench" in options_of(name)


def test_the_recipe_of_readme_plans_and_mixes_as_told(bench: Path, run: Run) -> None:
    (recipe,) = (text for text in blocks("toml") if "[[step]]" in text)
    (bench / "recipes" / "borate-alkali.toml").write_text(recipe, encoding="utf-8")
    assert run("plan", "borate-alkali", "--make", "250mL").code == 0
    (words,) = (w for name, w in CALLS if name == "mix" and "--weighed" in w)
    answer = run("mix", *shlex.split(words))
    assert answer.code == 0, answer.err
    assert "Batch " in answer.out


def test_a_new_bench_holds_the_files_that_readme_tells_of(tmp_path: Path) -> None:
    folder = tmp_path / "my-bench"
    answer = labelkit("init", folder)
    assert answer.code == 0
    for name in ("labelkit.toml", "recipes", "chemicals.toml", "jars.toml"):
        assert f"`{name}" in README
        assert (folder / name).exists()
    assert read_settings(folder / "labelkit.toml").profile == "own"
    assert labelkit("check", "--bench", folder).code == 0


def test_readme_tells_the_exit_codes() -> None:
    for told in ("0 done", "1 the answer is no", "2 bad input", "70 a fault of ours"):
        assert told in README


def test_readme_says_what_comes_before_its_hazard_text() -> None:
    for told in ("data sheets", "local rules", "licensed professional", "harmless"):
        assert told in README


def test_every_check_has_its_figure_told_to_developers() -> None:
    checks = HOUSE / "labelkit" / "mixing" / "checks"
    codes = set()
    for path in checks.glob("*.py"):
        codes |= set(re.findall(r'Check\(\s*"([a-z-]+)"', path.read_text("utf-8")))
    assert {"leftover", "volume", "weighing"} <= codes
    for code in codes:
        assert f"| `{code}`" in DEVELOPERS, code


def test_every_room_is_told_to_developers() -> None:
    rooms = [path.parent.name for path in (HOUSE / "labelkit").glob("*/__init__.py")]
    assert len(rooms) == 8
    for room in rooms:
        assert f"`{room}`" in DEVELOPERS
