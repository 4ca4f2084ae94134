"""Names that differ by a letter and chemicals that differ by a life."""

from collections.abc import Iterable
from difflib import get_close_matches

from msgspec import Struct

from labelkit.chemistry.substances import Substance
from labelkit.mixing.naming import fold

__all__ = ["LookAlike", "holds_look_alike", "look_alikes", "near_misses"]

# How like a name must be to be offered as what may have been meant (difflib's ratio).
_NEAR = 0.7
_MOST = 3


class LookAlike(Struct, frozen=True):
    """Words that are taken for one another, and what happens then."""

    words: tuple[str, ...]
    why: str = ""


def near_misses(word: str, substances: Iterable[Substance]) -> tuple[Substance, ...]:
    """The chemicals whose names come nearest to ``word``, nearest first."""
    by_name: dict[str, Substance] = {}
    for substance in substances:
        for name in (substance.id, *substance.names):
            by_name.setdefault(fold(name), substance)
    wanted = fold(word)
    holding = [
        name for name in by_name if wanted and set(wanted.split()) <= _words(name)
    ]
    like = get_close_matches(wanted, by_name, n=2 * _MOST, cutoff=_NEAR)
    found = {by_name[name].id: by_name[name] for name in [*holding, *like]}
    return tuple(found.values())[:_MOST]


def look_alikes(
    names: Iterable[str], substances: Iterable[Substance], groups: Iterable[LookAlike]
) -> tuple[Substance, ...]:
    """Other chemicals that something called ``names`` may be taken for.

    One form of each parent is given, and where some share the first word, only those:
    sodium sulfide for sodium sulfite, not copper sulfate.
    """
    folded = [fold(name) for name in names]
    mine = _all_words(folded)
    others: set[str] = set()
    for group in groups:
        if mine & set(group.words):
            others |= set(group.words) - mine
    found: dict[str, Substance] = {}
    for substance in substances:
        if others & _words(fold(substance.name)):
            found.setdefault(substance.parent, substance)
    starts = {name.split()[0] for name in folded if name}
    kin = [s for s in found.values() if fold(s.name).split()[0] in starts]
    return tuple(kin or found.values())


def holds_look_alike(word: str, name: str, groups: Iterable[LookAlike]) -> bool:
    """Whether ``word`` holds a word with look-alikes that ``name`` does not hold.

    Then ``name`` is not a slip of the pen for it but another chemical.
    """
    missing = _words(fold(word)) - _words(fold(name))
    return any(missing & set(group.words) for group in groups)


def _all_words(folded_names: Iterable[str]) -> set[str]:
    return set().union(*(_words(name) for name in folded_names))


def _words(folded_name: str) -> set[str]:
    return set(folded_name.replace("(", " ").replace(")", " ").split())
