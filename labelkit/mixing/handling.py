"""Which cautions are said: how to mix, what to wear, keep apart, and what is true.

Every one stands in a data file with its source; here they are only chosen.
"""

import re
from collections.abc import Callable, Collection, Iterable

from msgspec import Struct

from labelkit.chemistry.substances import Confidence
from labelkit.hazards.mixture import Classification
from labelkit.mixing.catalogue import Catalogue, Entry
from labelkit.mixing.caution import (
    Apart,
    Caution,
    CautionRule,
    Handling,
    Kind,
    Place,
    is_of,
)
from labelkit.mixing.doses import WATER
from labelkit.mixing.plan import Plan
from labelkit.mixing.recipe import Recipe
from labelkit.mixing.rules import Severity

__all__ = [
    "Held",
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


class Held(Struct, frozen=True):
    """What the cautions are chosen by.

    Attributes:
        weighed: chemicals out of jars.
        bottle: chemicals of the finished solution.
        hazard: its verdict; the codes of its label are not said twice.
        told: everything said elsewhere on the same print.
        never_with: what it says must never be poured in; a shelf is another matter.
    """

    weighed: tuple[Entry, ...]
    bottle: tuple[Entry, ...]
    hazard: Classification
    told: str = ""
    never_with: str = ""

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
    plan: Plan,
    catalogue: Catalogue,
    handling: Handling,
    *,
    told: str = "",
    never_with: str = "",
) -> tuple[Caution, ...]:
    """The cautions of a plan, the worst first, nothing twice.

    Args:
        plan: worked out; what was weighed and what came of it are both looked at.
        catalogue: the chemicals.
        handling: every caution there is.
        told: what else the same print says; the recipe's own words count anyway.
        never_with: its line on what must never be poured in.
    """
    doses = dict.fromkeys(dose.chemical for dose in plan.job.doses)
    contents = (content.chemical for content in plan.solution.contents)
    held = Held(
        tuple(catalogue[c] for c in doses if c in catalogue and c != WATER),
        tuple(catalogue[c] for c in contents if c in catalogue),
        plan.hazard,
        f"{own_words(plan.recipe)} {told}",
        never_with,
    )
    return cautions_for(held, handling)


def cautions_for(held: Held, handling: Handling) -> tuple[Caution, ...]:
    """The cautions for what is held, the worst first, nothing twice."""
    told = _plain(f"{held.told} {held.never_with}")
    found = [
        Caution(rule.kind, rule.text, rule.source, rule.confidence, rule.severity)
        for rule in handling.cautions
        if _bites(rule, held) and not _is_said(rule, held, told)
    ]
    beside = apart_caution(held.bottle_tags, handling.apart, held.told)
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


def few_of(
    cautions: Iterable[Caution], room: float, takes: Callable[[str], float]
) -> tuple[Caution, ...]:
    """The cautions a card takes over: the worst of each term, while there is room.

    Args:
        cautions: the worst first.
        room: what the card still holds [lines].
        takes: what a text takes of that [lines].
    """
    chosen: dict[str, Caution] = {}
    for caution in cautions:
        term, needs = caution.kind.card_term, takes(caution.text)
        full = len(chosen) == MOST_ON_CARD or needs > room
        if full or term in chosen or caution.severity is Severity.QUALITY:
            continue
        chosen[term] = caution
        room -= needs
    return tuple(chosen.values())


def own_words(recipe: Recipe) -> str:
    """Everything the author of a recipe says in it."""
    notes = recipe.bench_notes
    steps = (words for step in recipe.steps for words in (step.text, step.caution))
    beside = (recipe.keep_in, recipe.note, recipe.test)
    kept = (notes.mixing, notes.spill, notes.storage, notes.disposal)
    return " ".join(words for words in (*steps, *beside, *kept) if words)


def _bites(rule: CautionRule, held: Held) -> bool:
    if rule.hazard and not is_of(held.hazard.classes, rule.hazard):
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


def _says(told: str, phrase: str) -> bool:
    """Whether ``phrase`` stands in ``told`` in whole words; * is any ending."""
    pattern = re.escape(phrase.lower()).replace(r"\*", r"\w*")
    return re.search(rf"\b{pattern}\b", told) is not None


def _plain(text: str) -> str:
    return " ".join(text.lower().split())


def _listed(words: list[str]) -> str:
    *rest, last = words
    return f"{', '.join(rest)} or {last}" if rest else last


def _weakest(confidences: Iterable[Confidence]) -> Confidence:
    ranks = list(Confidence)
    return max(confidences, key=ranks.index)
