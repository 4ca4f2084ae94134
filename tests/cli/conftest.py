"""A bench copied from the samples, and the commands as a person types them."""

import shutil
from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from msgspec import Struct

from labelkit.cli.desk import Desk
from labelkit.cli.group import commands
from labelkit.cli.workplace import Workplace
from labelkit.mixing.desk import Typed
from tests.cli.terminal import as_json
from tests.conftest import SAMPLES

Run = Callable[..., "Answer"]


class Answer(Struct, frozen=True):
    """What a command said, and how it ended."""

    out: str
    err: str
    code: int


def labelkit(*words: str | Path) -> Answer:
    result = CliRunner().invoke(commands, [str(word) for word in words])
    if result.exception and not isinstance(result.exception, SystemExit):
        raise result.exception
    return Answer(result.stdout, result.stderr, result.exit_code)


def kept(number: str) -> dict[str, Any]:
    """A batch as the shelf of this bench has it."""
    answer = labelkit("show", number, "--json")
    assert answer.code == 0, answer.err
    return as_json(answer.out)


def read(**words: str) -> Typed:
    """Readings as typed into the fields of a page, such as ``s2="17.4"`` in step 2."""
    return Typed(read={int(step[1:]): word for step, word in words.items()})


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, in_may: datetime) -> Path:
    """The bench of the Tern Street Print Room, to work in, in May 2031."""
    folder = tmp_path / "bench"
    shutil.copytree(SAMPLES, folder)
    monkeypatch.chdir(folder)
    monkeypatch.delenv("LABELKIT_BENCH", raising=False)
    return folder


@pytest.fixture
def run(bench: Path) -> Run:
    """Run a command in the bench."""
    return labelkit


@pytest.fixture
def place(bench: Path) -> Iterator[Workplace]:
    """The bench as commands and pages see it."""
    place = Workplace(bench)
    yield place
    place.shelf.close()


@pytest.fixture
def desk(place: Workplace) -> Desk:
    """Planning and mixing on the bench as pages do it."""
    return Desk(place)
