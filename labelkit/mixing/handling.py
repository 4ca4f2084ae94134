"""Cautions that are not law: what to wear, how to mix, what to keep apart, what is true.

Every one stands in a data file with its source; here they are only chosen.
"""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from enum import StrEnum

from labelkit.chemistry.formulas import composition
from labelkit.chemistry.substances import Confidence, Substance
from labelkit.hazards.mixture import Classification
from labelkit.mixing.catalogue import Catalogue, Entry
from labelkit.mixing.doses import WATER
from labelkit.mixing.plan import Plan
from labelkit.mixing.recipe import Recipe
from labelkit.mixing.rules import Severity

__all__ = [
    "Apart",
    "Caution",
    "CautionRule",
    "Handling",
    "Held",
    "Kind",
    "Place",
    "Subject",
    "apart",
    "apart_caution",
    "cautions_for",
    "few_of",
    "handling_for",
    "own_words",
]

# How many bottles a caution names that must not stand beside this one.
MOST_APART = 3
# How many cautions a card takes over.
MOST_ON_CARD = 3


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


@dataclass(frozen=True, slots=True)
class Subject:
    """Which chemicals a caution is about: any of these; all where none is named.

    Attributes:
        tags: as in the mixing rules.
        parents: ids shared by every form of the same chemistry.
        elements: by symbol, in the formula.
        classes: beginnings of hazard classes; a chemical without data counts as one.
        without: tags that take a chemical out again.
        states: as it stands in the jar; any where empty.
    """

    tags: frozenset[str] = frozenset()
    parents: frozenset[str] = frozenset()
    elements: frozenset[str] = frozenset()
    classes: tuple[str, ...] = ()
    without: frozenset[str] = frozenset()
    states: frozenset[str] = frozenset()

    def fits(self, entry: Entry) -> bool:
        """Whether the caution is about this chemical."""
        substance = entry.substance
        if self.without & substance.tags:
            return False
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
            or (self.classes and _is_of(entry.hazard.classes, self.classes))
        )


@dataclass(frozen=True, slots=True)
class CautionRule:
    """One caution and when it is said.

    Attributes:
        together: tags of another chemical that must be there too; () for none.
        hazard: beginnings of classes, one of which the finished solution must reach.
        said_by: words that say it already where all of one entry are found.
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


@dataclass(frozen=True, slots=True)
class Apart:
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


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution as it is said, with where it comes from and how far to trust that."""

    kind: Kind
    text: str
    source: str
    confidence: Confidence
    severity: Severity


@dataclass(frozen=True, slots=True)
class Handling:
    """Every caution there is, in the order of the file, and what must stand apart."""

    cautions: tuple[CautionRule, ...] = ()
    apart: tuple[Apart, ...] = ()


@dataclass(frozen=True, slots=True)
class Held:
    """What the cautions are chosen by.

    Attributes:
        weighed: chemicals out of jars.
        bottle: chemicals of the finished solution.
        hazard: its verdict; the codes of its label are not said twice.
        told: everything said elsewhere on the same print.
    """

    weighed: tuple[Entry, ...]
    bottle: tuple[Entry, ...]
    hazard: Classification
    told: str = ""

    def at(self, place: Place) -> tuple[Entry, ...]:
        """The chemicals a caution looks at, each once."""
        if place is Place.WEIGHED:
            return self.weighed
        if place is Place.BOTTLE:
            return self.bottle
        every = {e.substance.id: e for e in (*self.weighed, *self.bottle)}
        return tuple(every.values())

    @property
    def bottle_tags(self) -> frozenset[str]:
        """The tags of everything in the finished solution."""
        return frozenset(tag for e in self.bottle for tag in e.substance.tags)

    @property
    def codes(self) -> frozenset[str]:
        """Every code printed on the label, joined ones taken apart."""
        printed = (*self.hazard.p, *self.hazard.label_h, *self.hazard.euh)
        return frozenset(part for code in printed for part in code.split("+"))


def handling_for(
    plan: Plan, catalogue: Catalogue, handling: Handling, told: str = ""
) -> tuple[Caution, ...]:
    """The cautions of a plan, the worst first, nothing twice.

    Args:
        plan: worked out; what was weighed and what came of it are both looked at.
        catalogue: the chemicals.
        handling: every caution there is.
        told: what else the same print says; the recipe's own words count anyway.
    """
    doses = dict.fromkeys(dose.chemical for dose in plan.job.doses)
    contents = (content.chemical for content in plan.solution.contents)
    held = Held(
        tuple(catalogue[c] for c in doses if c in catalogue and c != WATER),
        tuple(catalogue[c] for c in contents if c in catalogue),
        plan.hazard,
        f"{own_words(plan.recipe)} {told}",
    )
    return cautions_for(held, handling)


def cautions_for(held: Held, handling: Handling) -> tuple[Caution, ...]:
    """The cautions for what is held, the worst first, nothing twice."""
    told = _plain(held.told)
    found = [
        Caution(rule.kind, rule.text, rule.source, rule.confidence, rule.severity)
        for rule in handling.cautions
        if _bites(rule, held) and not _is_said(rule, held, told)
    ]
    beside = apart_caution(held.bottle_tags, handling.apart, told)
    if beside is not None:
        found.append(beside)
    once = {caution.text: caution for caution in found}
    return tuple(sorted(once.values(), key=lambda caution: caution.severity.rank))


def apart(
    tags_a: Collection[str], tags_b: Collection[str], rules: Iterable[Apart]
) -> tuple[Apart, ...]:
    """Why two bottles must not stand together, the worst first; () where they may.

    Args:
        tags_a: of everything in one bottle.
        tags_b: of everything in the other.
        rules: in the order of the file, which decides between equals.
    """
    found = [rule for rule in rules if rule.parts(tags_a, tags_b)]
    return tuple(sorted(found, key=lambda rule: rule.severity.rank))


def apart_caution(
    tags: Collection[str], rules: Iterable[Apart], told: str = ""
) -> Caution | None:
    """What a bottle must not stand beside, in one sentence; None where nothing is."""
    told = _plain(told)
    named: dict[str, Apart] = {}
    for rule in sorted(rules, key=lambda rule: rule.severity.rank):
        for what in rule.keeps_off(tags):
            if not _says(told, what.partition(" (")[0]):
                named.setdefault(what, rule)
    chosen = list(named.items())[:MOST_APART]
    if not chosen:
        return None
    behind = [rule for _, rule in chosen]
    return Caution(
        Kind.APART,
        f"Not on one shelf or in one tray with {_listed([w for w, _ in chosen])}.",
        "; ".join(dict.fromkeys(rule.source for rule in behind)),
        _weakest(rule.confidence for rule in behind),
        behind[0].severity,
    )


def few_of(cautions: Iterable[Caution], room: int) -> tuple[Caution, ...]:
    """The cautions a card takes over: the worst of each term, while there is room.

    Args:
        cautions: the worst first.
        room: how many more characters the card holds.
    """
    chosen: dict[str, Caution] = {}
    for caution in cautions:
        term = caution.kind.card_term
        fits = len(term) + len(caution.text) <= room
        if caution.severity is Severity.QUALITY or term in chosen or not fits:
            continue
        chosen[term] = caution
        room -= len(term) + len(caution.text)
    return tuple(chosen.values())[:MOST_ON_CARD]


def own_words(recipe: Recipe) -> str:
    """Everything the author of a recipe says in it."""
    notes = recipe.bench_notes
    steps = (words for step in recipe.steps for words in (step.text, step.caution))
    beside = (recipe.keep_in, recipe.note, recipe.test)
    kept = (notes.mixing, notes.spill, notes.storage, notes.disposal)
    return " ".join(words for words in (*steps, *beside, *kept) if words)


def _bites(rule: CautionRule, held: Held) -> bool:
    if rule.hazard and not _is_of(held.hazard.classes, rule.hazard):
        return False
    there = held.at(rule.where)
    found = [entry for entry in there if rule.subject.fits(entry)]
    if not rule.together:
        return bool(found)
    return any(_meets(one, there, rule.together) for one in found)


def _meets(one: Entry, there: Iterable[Entry], tags: frozenset[str]) -> bool:
    """Whether another chemical than ``one`` has any of ``tags``."""
    return any(
        other.substance.id != one.substance.id and tags & other.substance.tags
        for other in there
    )


def _is_said(rule: CautionRule, held: Held, told: str) -> bool:
    by_label = rule.said_by_codes and any(
        code.startswith(rule.said_by_codes) for code in held.codes
    )
    return bool(by_label) or any(_says(told, words) for words in rule.said_by)


def _says(told: str, words: str) -> bool:
    """Whether every word stands in ``told``, in whatever order."""
    return all(word in told for word in words.lower().split())


def _plain(text: str) -> str:
    return " ".join(text.lower().split())


def _is_of(classes: Iterable[str] | None, wanted: tuple[str, ...]) -> bool:
    """Whether a class begins with one of ``wanted``; no data might be any of them."""
    return classes is None or any(one.startswith(wanted) for one in classes)


def _elements(substance: Substance) -> frozenset[str]:
    if substance.formula is None:
        return frozenset()
    return frozenset(composition(substance.formula).atoms)


def _listed(words: list[str]) -> str:
    *rest, last = words
    return f"{', '.join(rest)} or {last}" if rest else last


def _weakest(confidences: Iterable[Confidence]) -> Confidence:
    ranks = list(Confidence)
    return max(confidences, key=ranks.index)

