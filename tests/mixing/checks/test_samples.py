"""The samples are good practice, so hardly anything is said of them."""

import pytest

from labelkit.mixing.check import Level
from tests.conftest import SAMPLES
from tests.mixing.conftest import Room

NAMES = sorted(path.stem for path in (SAMPLES / "recipes").glob("*.toml"))
# What is worth knowing of each: carbonate at 200 g/L stands at what 20 degC can hold
# (CRC table: 21.8 g in 100 g of water), metabisulfite at the 1 % of Table 3.3.3.
NOTES = {
    "blueprint-a": ["hygroscopic"],
    "pyro-a": ["near-limit"],
    "pyro-b": ["hygroscopic", "solubility"],
}


@pytest.mark.parametrize("name", NAMES)
def test_no_sample_is_warned_of(name: str, tern_street: Room) -> None:
    plan = tern_street.sample(name)
    grave = [c.text for c in plan.checks if c.level is not Level.NOTE]
    assert grave == []


@pytest.mark.parametrize("name", NAMES)
def test_a_sample_has_the_notes_it_deserves_and_no_others(
    name: str, tern_street: Room
) -> None:
    codes = sorted(check.code for check in tern_street.sample(name).checks)
    assert codes == NOTES.get(name, [])


@pytest.mark.parametrize("name", NAMES)
def test_a_sample_made_twice_as_large_is_no_worse(name: str, tern_street: Room) -> None:
    plan = tern_street.sample(name)
    make = plan.job.make
    twice = tern_street.sample(name, f"{make.number * 2} mL")
    assert [c for c in twice.checks if c.level is not Level.NOTE] == []


def test_every_sample_is_looked_at() -> None:
    assert len(NAMES) >= 11
    assert set(NOTES) <= set(NAMES)
