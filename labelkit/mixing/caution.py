"""Cautions that are not law, as values: what each is about and where it comes from."""

from collections.abc import Collection, Iterable
from enum import StrEnum

from msgspec import Struct

from labelkit.chemistry.formulas import composition
from labelkit.chemistry.substances import Confidence, Substance
from labelkit.mixing.catalogue import Entry
from labelkit.mixing.rules import Severity

__all__ = [
    "Apart",
    "Caution",
    "CautionRule",
    "Handling",
    "Kind",
    "Place",
    "Subject",
    "is_of",
]


class Kind(StrEnum):
    """What a caution is about."""

    WEAR = "wear"
    MIXING = "mixing"
    AIR = "air"
    CONTAINER = "container"
    APART = "apart"
    FIRST_HELP = "first-help"
    WASTE = "waste"
    TRUE = "true"

    @property
    def term(self) -> str:
        """What stands before it on a page."""
        return _TERMS[self]

    @property
    def card_term(self) -> str:
        """What stands before it on a card, where there is room for few."""
        kept = (Kind.FIRST_HELP, Kind.WASTE, Kind.TRUE)
        return self.term if self in kept else "Handling"


_TERMS = {
    Kind.WEAR: "Wear",
    Kind.MIXING: "Mixing",
    Kind.AIR: "Air",
    Kind.CONTAINER: "Bottle",
    Kind.APART: "Keep apart",
    Kind.FIRST_HELP: "First help",
    Kind.WASTE: "Waste",
    Kind.TRUE: "What is true",
}


class Place(StrEnum):
    """Where a caution looks for its chemical."""

    WEIGHED = "weighed"
    """Out of a jar, in any step."""
    BOTTLE = "bottle"
    """In the finished solution."""
    EITHER = "either"


class Subject(Struct, frozen=True):
    """Which chemicals a caution is about: any of these; all where none is named.

    Attributes:
        tags: as in the mixing rules.
        parents: ids shared by every form of the same chemistry.
        elements: by symbol, in the formula.
        classes: beginnings of hazard classes; a chemical without data counts as one.
        states: as it stands in the jar; any where empty.
    """

    tags: frozenset[str] = frozenset()
    parents: frozenset[str] = frozenset()
    elements: frozenset[str] = frozenset()
    classes: tuple[str, ...] = ()
    states: frozenset[str] = frozenset()

    def fits(self, entry: Entry) -> bool:
        """Whether the caution is about this chemical."""
        substance = entry.substance
        if self.states and substance.state not in self.states:
            return False
        return self._names_all or self._names(entry)

    @property
    def _names_all(self) -> bool:
        return not (self.tags or self.parents or self.elements or self.classes)

    def _names(self, entry: Entry) -> bool:
        substance = entry.substance
        return bool(
            self.tags & substance.tags
            or substance.parent in self.parents
            or self.elements & _elements(substance)
            or (self.classes and is_of(entry.hazard.classes, self.classes))
        )


class CautionRule(Struct, frozen=True):
    """One caution and when it is said.

    Attributes:
        together: tags of another chemical that must be there too; () for none.
        hazard: beginnings of classes, one of which the finished solution must reach.
        said_by: phrases that say it already; * stands for any ending.
        said_by_codes: beginnings of H, EUH and P codes that say it already.
    """

    id: str
    kind: Kind
    severity: Severity
    text: str
    source: str
    confidence: Confidence
    subject: Subject = Subject()
    where: Place = Place.EITHER
    together: frozenset[str] = frozenset()
    hazard: tuple[str, ...] = ()
    said_by: tuple[str, ...] = ()
    said_by_codes: tuple[str, ...] = ()


class Apart(Struct, frozen=True):
    """Two bottles that must not stand together, on one shelf or in one tray.

    Attributes:
        tags_a: one bottle: anything in it with any of these tags.
        tags_b: the other bottle.
        named_a: what bottles of side a are called; an example may follow in brackets.
        text: what happens when both leak.
    """

    id: str
    tags_a: frozenset[str]
    tags_b: frozenset[str]
    severity: Severity
    named_a: str
    named_b: str
    text: str
    source: str
    confidence: Confidence

    def parts(self, tags: Collection[str], others: Collection[str]) -> bool:
        """Whether two bottles stand on opposite sides, whichever is which."""
        one, two = set(tags), set(others)
        return bool(
            (self.tags_a & one and self.tags_b & two)
            or (self.tags_a & two and self.tags_b & one)
        )

    def keeps_off(self, tags: Collection[str]) -> tuple[str, ...]:
        """What a bottle that holds ``tags`` must not stand beside."""
        held = set(tags)
        sides = ((self.tags_a, self.named_b), (self.tags_b, self.named_a))
        return tuple(named for side, named in sides if side & held)


class Caution(Struct, frozen=True):
    """One caution as it is said, with where it comes from and how far to trust that."""

    kind: Kind
    text: str
    source: str
    confidence: Confidence
    severity: Severity


class Handling(Struct, frozen=True):
    """Every caution there is, in the order of the file, and what must stand apart."""

    cautions: tuple[CautionRule, ...] = ()
    apart: tuple[Apart, ...] = ()


def is_of(classes: Iterable[str] | None, wanted: tuple[str, ...]) -> bool:
    """Whether a class begins with one of ``wanted``; no data might be any of them."""
    return classes is None or any(one.startswith(wanted) for one in classes)


def _elements(substance: Substance) -> frozenset[str]:
    if substance.formula is None:
        return frozenset()
    return frozenset(composition(substance.formula).atoms)
