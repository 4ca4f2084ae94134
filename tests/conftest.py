"""What every room's tests may use: a catalogue, a handbook, a bench and a clock."""

import shutil
from datetime import datetime
from pathlib import Path

import pytest
from hypothesis import settings as hypothesis_settings

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
def bench(tmp_path: Path) -> Path:
    """The bench of the Tern Street Print Room, in a folder of its own."""
    folder = tmp_path / "bench"
    shutil.copytree(SAMPLES, folder)
    return folder
