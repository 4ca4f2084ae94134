"""A bench copied from the samples, and the commands as a person types them."""

import shutil
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pytest
from click.testing import CliRunner
from msgspec import Struct

from labelkit.cli.group import commands
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
