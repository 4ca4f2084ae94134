"""Looking for a chemical by name, synonym, CAS number or formula."""

from collections.abc import Iterable

from labelkit.chemistry.formulas import Composition, composition
from labelkit.chemistry.substances import Substance
from labelkit.errors import BadInput
from labelkit.mixing.lookalikes import near_misses
from labelkit.mixing.naming import fold

__all__ = ["search"]

# How good a hit is, best first.
_EXACT, _STARTS, _WORDS, _PART = range(4)


def search(words: str, substances: Iterable[Substance]) -> tuple[Substance, ...]:
    """Every chemical that ``words`` may mean, best first; else the near misses."""
    known = tuple(substances)
    wanted = fold(words)
    if not wanted:
        return ()
    atoms = _atoms(words)
    ranked = [
        (rank, len(substance.name), substance.id, substance)
        for substance in known
        if (rank := _rank(wanted, words.strip(), atoms, substance)) is not None
    ]
    found = tuple(hit[-1] for hit in sorted(ranked, key=lambda hit: hit[:3]))
    return found or near_misses(words, known)


def _rank(
    wanted: str, written: str, atoms: Composition | None, substance: Substance
) -> int | None:
    names = [fold(name) for name in (substance.id, *substance.names)]
    if wanted in names or written in (substance.cas, substance.formula):
        return _EXACT
    if _same_atoms(atoms, substance):
        return _STARTS
    ranks = [rank for name in names if (rank := _rank_in(wanted, name)) is not None]
    formula = (substance.formula or "").casefold()
    if formula.startswith(written.casefold()) or substance.cas.startswith(written):
        ranks.append(_STARTS)
    return min(ranks, default=None)


def _rank_in(wanted: str, name: str) -> int | None:
    if name.startswith(wanted):
        return _STARTS
    if set(wanted.split()) <= set(name.split()):
        return _WORDS
    if all(word in name for word in wanted.split()):
        return _PART
    return None


def _same_atoms(atoms: Composition | None, substance: Substance) -> bool:
    if atoms is None or substance.formula is None:
        return False
    return _atoms(substance.formula) == atoms


def _atoms(formula: str) -> Composition | None:
    try:
        return composition(formula)
    except BadInput:
        return None
