"""Worked examples and reference values, with what is said of them when one fails."""

import tomllib
from functools import cache
from pathlib import Path
from typing import Any

from msgspec import Struct

REFERENCES = Path(__file__).resolve().parent.parent / "references"


class Case(Struct, frozen=True):
    """One worked example: what goes in, what should come out, who says so."""

    id: str
    letter: str
    data: dict[str, Any]

    def given(self, name: str) -> float:
        """The input of that name, as a number."""
        found = [i["value"] for i in self.data["inputs"] if i["name"] == name]
        assert len(found) == 1, f"{self.id} has no single input {name!r}"
        return float(found[0])

    def wants(self, name: str, got: float) -> None:
        """Fail unless ``got`` is within the tolerance of the expected ``name``."""
        found = [e for e in self.data["expected"] if e["name"] == name]
        assert len(found) == 1, f"{self.id} expects no {name!r}"
        value, tolerance = float(found[0]["value"]), float(found[0]["tol"])
        if found[0]["tol_kind"] == "rel":
            tolerance *= abs(value)
        # NaN is within nothing
        assert abs(got - value) <= tolerance, self.told(
            f"{name}: got {got:.6g}, expected {value:.6g} ± {tolerance:.3g}"
        )

    def told(self, what: str) -> str:
        """``what``, with title, source and confidence behind it."""
        source, sure = self.data["source"], self.data["confidence"]
        return f"{self.id} ({self.data['title']}): {what}. Source: {source} [{sure}]"


@cache
def cases(letter: str) -> dict[str, Case]:
    """Every case of one group, by id."""
    text = (REFERENCES / "calculation-checks.toml").read_text("utf-8")
    every = (Case(c["id"], c["letter"], c) for c in tomllib.loads(text)["case"])
    return {case.id: case for case in every if case.letter == letter}


def case(id_: str) -> Case:
    """The case of that id."""
    return cases(id_[0])[id_]
