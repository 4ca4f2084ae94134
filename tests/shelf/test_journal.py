"""A mix that was broken off is there again, and only as long as it should be."""

import signal
import subprocess
import sys
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from labelkit.errors import ShelfError
from labelkit.shelf import SqliteShelf, open_shelf

Make = Callable[..., Any]
ROOT = Path(__file__).resolve().parents[2]

MIX_AND_HANG = """
import sys, time
from pathlib import Path
from labelkit.shelf import open_shelf
shelf = open_shelf(Path(sys.argv[1]), create=True)
for step in (1, 2, 3):
    shelf.save_draft("borate-alkali", {"step": step, "weighed": ["17.3"] * step})
print("at the sink", flush=True)
time.sleep(60)
"""


def test_a_mix_survives_a_crash_at_the_step_it_had_come_to(path: Path) -> None:
    with subprocess.Popen(
        [sys.executable, "-c", MIX_AND_HANG, str(path)],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        text=True,
    ) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == "at the sink\n"
        process.send_signal(signal.SIGKILL)
        process.wait(60)
    with open_shelf(path, create=False) as shelf:
        assert shelf.drafts() == ["borate-alkali"]
        draft = {"step": 3, "weighed": ["17.3"] * 3}
        assert shelf.draft("borate-alkali") == draft


def test_each_recipe_has_a_draft_of_its_own(shelf: SqliteShelf) -> None:
    shelf.save_draft("pyro-b", {"g": Decimal("2.50")})
    shelf.save_draft("pyro-a", {})
    assert shelf.drafts() == ["pyro-a", "pyro-b"]
    assert shelf.draft("pyro-b") == {"g": "2.50"}
    assert shelf.draft("pyro-a") == {}
    assert shelf.draft("pyro-c") is None
    shelf.drop_draft("pyro-b")
    shelf.drop_draft("pyro-c")
    assert shelf.drafts() == ["pyro-a"]


def test_recording_the_batch_forgets_its_draft(shelf: SqliteShelf, batch: Make) -> None:
    shelf.save_draft("borate-alkali", {"step": 3})
    shelf.save_draft("pyro-a", {"step": 1})
    shelf.add(batch(), finishes="borate-alkali")
    assert shelf.drafts() == ["pyro-a"]
    assert list(shelf.all()) == [batch()]


def test_a_batch_that_is_not_recorded_keeps_its_draft(
    shelf: SqliteShelf, batch: Make
) -> None:
    shelf.add(batch())
    shelf.save_draft("borate-alkali", {"step": 3})
    with pytest.raises(ShelfError):
        shelf.add(batch(title="Something else"), finishes="borate-alkali")
    assert shelf.drafts() == ["borate-alkali"]
