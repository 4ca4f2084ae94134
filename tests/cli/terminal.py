"""A terminal with a person at it, who types what a test says."""

import json
import os
import re
import sys
from pathlib import Path
from typing import Any

import numpy as np
import pexpect

HOUSE = Path(__file__).resolve().parent.parent.parent
SHADES = {" ": (255, 255), "▀": (0, 255), "▄": (255, 0), "█": (0, 0)}
COLOURS = re.compile(r"\x1b\[[0-9;]*m")


class Terminal:
    """One command at a pseudo-terminal."""

    def __init__(self, bench: Path, *words: str) -> None:
        environment = {**os.environ, "PYTHONPATH": str(HOUSE), "TERM": "dumb"}
        environment.pop("LABELKIT_BENCH", None)
        self.child = pexpect.spawn(
            sys.executable,
            ["-W", "error", "-m", "labelkit", *words],
            cwd=bench,
            env=environment,
            encoding="utf-8",
            timeout=60,
            dimensions=(60, 160),
        )

    def asked(self, question: str, answer: str = "") -> str:
        """Wait for a question, answer it, and return what was said before it."""
        self.child.expect_exact(question)
        said: str = self.child.before or ""
        self.child.sendline(answer)
        return COLOURS.sub("", said).replace("\r\n", "\n")

    def break_off(self) -> None:
        """Press Ctrl-C."""
        self.child.sendintr()
        self.child.expect(pexpect.EOF)
        self.child.close()

    def ended(self) -> tuple[str, int]:
        """What was said at the end, and the exit code."""
        self.child.expect(pexpect.EOF)
        said: str = self.child.before or ""
        self.child.close()
        code = self.child.exitstatus
        assert code is not None, said
        return COLOURS.sub("", said).replace("\r\n", "\n"), code


def drawn(text: str) -> np.ndarray:
    """What a terminal shows of half blocks, at four pixels for each half."""
    lines = COLOURS.sub("", text).split("\n")
    rows = [[SHADES[c][half] for c in line] for line in lines for half in (0, 1)]
    return np.kron(np.array(rows, dtype=np.uint8), np.ones((4, 4), dtype=np.uint8))


def batch_of(said: str) -> str:
    """The number of the batch that was kept."""
    found = re.search(r"Batch (\S+):", said)
    assert found, said
    return found[1]


def readings(kept: dict[str, Any]) -> dict[int, tuple[float, bool]]:
    """Grams or mL of each step, and whether they were read off."""
    return {
        row["step"]: (row["g"] if row["mL"] is None else row["mL"], row["read"])
        for row in kept["weighed"]
    }


def as_json(text: str) -> dict[str, Any]:
    kept: dict[str, Any] = json.loads(text)
    return kept
