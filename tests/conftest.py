"""What every room's tests may use: a catalogue, a handbook, a bench and a clock."""

import os
import shutil
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest
from hypothesis import settings as hypothesis_settings
from playwright.sync_api import Browser, sync_playwright

from labelkit.cli.workplace import Workplace
from labelkit.files.acidity import read_acidity
from labelkit.files.chemicals import read_catalogue
from labelkit.files.rules import read_rules
from labelkit.files.statements import read_statements
from labelkit.mixing.bench import Settings
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.handbook import Handbook

SAMPLES = Path(__file__).resolve().parent.parent / "samples"

# The same examples on every machine, however slow it is.
hypothesis_settings.register_profile("ci", derandomize=True, deadline=None)
hypothesis_settings.load_profile("ci")


@pytest.fixture(scope="session")
def catalogue() -> Catalogue:
    """The built-in chemicals."""
    return read_catalogue()


@pytest.fixture(scope="session")
def handbook(catalogue: Catalogue) -> Handbook:
    """Everything that is looked up, of a bench with an empty cupboard."""
    return Handbook(catalogue, read_rules(), read_statements("en"), read_acidity())


@pytest.fixture(scope="session")
def settings() -> Settings:
    """The settings of an empty file."""
    return Settings()


@pytest.fixture(scope="session")
def noon() -> datetime:
    """The moment at which everything is mixed."""
    return datetime.fromisoformat("2031-03-14T12:00:00")


@pytest.fixture
def in_may(monkeypatch: pytest.MonkeyPatch) -> datetime:
    """This moment, for every command: after what the samples' stories tell of."""
    moment = datetime.fromisoformat("2031-05-01T12:00:00")
    monkeypatch.setattr(Workplace, "now", moment)
    return moment


CHROMIUM = "/usr/bin/chromium"
QUIETLY = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
]  # fmt: skip


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Debian's Chromium; a machine without it passes over the tests that need it."""
    if not Path(CHROMIUM).exists() and "CI" not in os.environ:
        pytest.skip("Chromium is not installed")
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=CHROMIUM, args=QUIETLY)
        yield opened
        opened.close()


@pytest.fixture
def bench(tmp_path: Path) -> Path:
    """The bench of the Tern Street Print Room, in a folder of its own."""
    folder = tmp_path / "bench"
    shutil.copytree(SAMPLES, folder)
    return folder
