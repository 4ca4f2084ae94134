"""Everything that can go wrong for a person, each with place, problem and remedy.

Anything that is not in this tree is a fault of ours.
"""

from collections.abc import Iterable
from typing import NamedTuple

__all__ = [
    "Ambiguous",
    "BadInput",
    "Fault",
    "LabelkitError",
    "Misfit",
    "NoAnswer",
    "ShelfError",
    "Unknown",
]


class Fault(NamedTuple):
    """One thing that is wrong: where, what, and what to write instead.

    Printed as one line: ``stock.toml, step 3, amount: '5 mls' has an unknown unit.
    Write one of: g, kg, mL, L.``
    """

    place: str
    problem: str
    remedy: str

    def __str__(self) -> str:
        where = f"{self.place}: " if self.place else ""
        remedy = f" {self.remedy}" if self.remedy else ""
        stop = "" if self.problem.endswith((".", "?", "!")) else "."
        return f"{where}{self.problem}{stop}{remedy}"

    def at(self, place: str) -> "Fault":
        """The same fault, with ``place`` put before where it already stands."""
        joined = ", ".join(part for part in (place, self.place) if part)
        return Fault(joined, self.problem, self.remedy)


class LabelkitError(Exception):
    """A fault a person can mend; carries one `Fault` or several found together."""

    exit_code = 2

    def __init__(self, problem: str = "", *, place: str = "", remedy: str = "") -> None:
        self.faults: tuple[Fault, ...] = (Fault(place, problem, remedy),)
        super().__init__(str(self))

    @classmethod
    def of(cls, faults: Iterable[Fault]) -> "LabelkitError":
        """One error that reports every fault of a file at once."""
        error = cls()
        error.faults = tuple(faults)
        return error

    def at(self, place: str) -> "LabelkitError":
        """The same error, with ``place`` put before where each fault stands."""
        return type(self).of(fault.at(place) for fault in self.faults)

    def __str__(self) -> str:
        return "\n".join(str(fault) for fault in self.faults)


class BadInput(LabelkitError, ValueError):
    """What a person wrote cannot be read as meant."""


class Unknown(BadInput):
    """A chemical, recipe, batch or file that is named but not there."""


class Ambiguous(BadInput):
    """A word that fits several chemicals; a terminal can list them and ask.

    Attributes:
        word: as it was written.
        forms: ids of the chemicals it may mean.
    """

    def __init__(
        self,
        problem: str = "",
        *,
        place: str = "",
        remedy: str = "",
        word: str = "",
        forms: Iterable[str] = (),
    ) -> None:
        super().__init__(problem, place=place, remedy=remedy)
        self.word = word
        self.forms = tuple(forms)

    def at(self, place: str) -> "Ambiguous":
        """The same error, with ``place`` put before where the word stands."""
        error = Ambiguous(word=self.word, forms=self.forms)
        error.faults = tuple(fault.at(place) for fault in self.faults)
        return error


class NoAnswer(LabelkitError):
    """The question was understood; the answer is no."""

    exit_code = 1


class Misfit(NoAnswer):
    """The words do not fit the layout; the remedy names the size that would do."""


class ShelfError(LabelkitError):
    """The shelf or a folder cannot be read or written."""
