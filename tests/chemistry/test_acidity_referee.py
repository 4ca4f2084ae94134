"""Our pH against PHREEQC, system by system, and its stored numbers against itself."""

import tomllib
from importlib.util import find_spec
from typing import Any

import pytest

from labelkit.chemistry.acid_roles import Solute, totals_of
from labelkit.chemistry.acidity import Estimate, estimate_ph
from labelkit.chemistry.equilibria import Medium, solve
from labelkit.chemistry.ph_bounds import ph_bounds
from labelkit.files.acidity import read_acidity
from tests.chemistry.published import REFERENCES

TABLE = read_acidity()
STORED = tomllib.loads((REFERENCES / "phreeqc-expected.toml").read_text("utf-8"))
CASES = pytest.mark.parametrize("stored", STORED["case"], ids=lambda c: c["name"])


def solutes_of(stored: dict[str, Any]) -> list[Solute]:
    return [Solute(name, amount) for name, amount in stored["chemicals"].items()]


def told(stored: dict[str, Any]) -> str:
    return f"{stored['name']}: PHREEQC 3.8.6, {stored['database']}, {stored['ph']}"


@CASES
def test_the_estimate_holds_the_referee_in_its_band(stored: dict[str, Any]) -> None:
    estimate = estimate_ph(solutes_of(stored), TABLE)
    assert isinstance(estimate, Estimate), told(stored)
    assert estimate.low <= stored["ph"] <= estimate.high, told(stored)


@CASES
def test_the_bounds_hold_the_referee(stored: dict[str, Any]) -> None:
    bounds = ph_bounds(solutes_of(stored), TABLE)
    assert bounds is not None
    assert bounds.low <= stored["ph"] <= bounds.high, told(stored)


def test_the_solver_is_within_0_06_where_the_ionic_strength_is_at_most_0_3() -> None:
    off = {}
    for stored in STORED["case"]:
        totals = totals_of(solutes_of(stored), TABLE)
        balance = solve(totals, Medium(TABLE.water))
        assert balance is not None
        if balance.ionic_strength <= 0.3:
            off[stored["name"]] = abs(balance.ph - stored["ph"])
    assert len(off) > 20
    assert max(off.values()) <= 0.061, off


if find_spec("phreeqc"):  # it has no wheel for every machine

    @CASES
    def test_the_stored_numbers_are_what_the_referee_says(
        stored: dict[str, Any],
    ) -> None:
        from phreeqc import Phreeqc

        referee = Phreeqc()
        assert referee.LoadBuiltInDatabase(stored["database"]) == 0
        wanted = ("SELECTED_OUTPUT 1", "-reset false", "-pH true", "END")
        lines = [*stored["input"].split("; "), *wanted]
        assert referee.RunString("\n".join(lines)) == 0
        assert referee.GetSelectedOutput()["pH"][-1] == pytest.approx(
            stored["ph"], abs=0.001
        )
