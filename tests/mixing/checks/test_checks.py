"""All remarks together: their order, their words, and what does not depend on order."""

from collections.abc import Sequence
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.mixing.check import Level
from labelkit.mixing.checks import CHECKS
from tests.mixing.checks.remarks import recipe, remarks, water
from tests.mixing.conftest import Room

CODES = {
    "solubility", "warming", "weighing", "order", "incompatible", "leftover", "volume",
    "assay", "hygroscopic", "shelf-life", "container", "expired-stock", "near-limit",
    "look-alike", "restricted",
}  # fmt: skip
DEVELOPERS = Path(__file__).resolve().parents[3] / "DEVELOPERS.md"

# What goes in beside one another in any order, in a vessel that stays lukewarm.
# Sulfite, weak acids and developing agents are not among them: there the order matters.
POOL = (
    ("potassium-bromide", "20 g"),
    ("potassium-dichromate", "30 g"),
    ("sodium-carbonate-anhydrous", "15 g"),
    ("sodium-bisulfate-anhydrous", "12 g"),
    ("potassium-ferricyanide", "25 g"),
    ("potassium-iodide", "15 g"),
    ("boric-acid", "30 g"),
    ("glycerol", "40 mL"),
    ("thiourea", "20 g"),
    ("ammonium-chloride", "30 g"),
    ("sodium-sulfide-nonahydrate", "0.5 g"),
)


@given(steps=st.permutations(POOL), taken=st.integers(2, len(POOL)))
def test_whatever_goes_in_first_the_same_is_said(
    room: Room, steps: Sequence[tuple[str, str]], taken: int
) -> None:
    chosen = steps[:taken]
    assert said(room, chosen) == said(room, sorted(chosen))


def said(room: Room, steps: Sequence[tuple[str, str]]) -> set[tuple[str, Level, str]]:
    """Every remark but those on the order, whatever step it stands at."""
    found = remarks(room, recipe(water(950, 20), *steps, makes="2 L"))
    return {(c.code, c.level, c.text) for c in found if c.code != "order"}


def test_the_pool_has_something_to_say(room: Room) -> None:
    assert {code for code, _, _ in said(room, POOL)} >= {"incompatible", "weighing"}


BUSY = recipe(
    water(300, 60), ("potassium-ferricyanide", "5 g"), ("sodium-hydroxide", "50 g"),
    ("hydrochloric-acid-37pct", "20 mL"), ("phenidone", "0.2 g"),
    head='keep_in = "juice bottle"',
)  # fmt: skip


def test_the_gravest_comes_first_then_the_order_of_the_steps(room: Room) -> None:
    found = remarks(room, BUSY)
    ranks = [(list(Level).index(c.level), c.step or 0) for c in found]
    assert ranks == sorted(ranks)
    assert found[0].level is Level.STOP
    assert found[-1].level is Level.NOTE


def test_every_remark_has_a_code_of_the_contract_and_a_sentence(room: Room) -> None:
    for check in remarks(room, BUSY):
        assert check.code in CODES
        assert check.text[0].isupper() or check.text[0].isdigit() or "'" in check.text
        assert check.text.endswith(".")
        assert "  " not in check.text


@pytest.mark.parametrize("code", sorted(CODES))
def test_every_code_stands_in_the_table_of_deciding_figures(code: str) -> None:
    assert f"| `{code}` |" in DEVELOPERS.read_text("utf-8")


def test_every_check_is_listed_once() -> None:
    assert len(set(CHECKS)) == len(CHECKS)
    folder = Path(__file__).resolve().parents[3] / "labelkit" / "mixing" / "checks"
    written = "".join(file.read_text("utf-8") for file in folder.glob("*.py"))
    assert written.count("\ndef check_") == len(CHECKS)
    assert {code for code in CODES if f'Check("{code}"' in written.replace("\n", "")
            .replace(" ", "").replace('Check(\n"', 'Check("')} == CODES  # fmt: skip
