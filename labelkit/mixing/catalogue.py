"""The chemicals labelkit knows: each joined with what it can do to a person."""

from collections.abc import Iterable, Iterator, Mapping

from msgspec import Struct, field
from msgspec.structs import replace

from labelkit.chemistry.substances import Parent, Substance
from labelkit.errors import Ambiguous, Unknown
from labelkit.hazards.data import HazardData
from labelkit.mixing.lookalikes import (
    LookAlike,
    holds_look_alike,
    look_alikes,
    near_misses,
)
from labelkit.mixing.naming import fold
from labelkit.mixing.searching import search

__all__ = ["Ask", "Catalogue", "Entry"]

_MOST_ALIKE = 4


class Entry(Struct, frozen=True):
    """One chemical: the substance and its hazard data, under the same id."""

    substance: Substance
    hazard: HazardData


class Ask(Struct, frozen=True):
    """A word that fits several forms, and what choosing wrongly would cost."""

    word: str
    forms: tuple[str, ...]
    cost: str


class Catalogue(Struct, frozen=True):
    """Every chemical by id, and the words that must be asked about.

    Iterating gives the entries, a person's own first.

    Attributes:
        asks: by the word as it is compared (`naming.fold`).
        look_alikes: words that are taken for one another.
        parents: what the forms of one chemistry share, by id.
        own: ids of the entries that a person or a recipe brought.
    """

    entries: Mapping[str, Entry]
    asks: Mapping[str, Ask] = field(default_factory=dict)
    look_alikes: tuple[LookAlike, ...] = ()
    parents: Mapping[str, Parent] = field(default_factory=dict)
    own: frozenset[str] = frozenset()

    def __getitem__(self, chemical: str) -> Entry:
        return self.entries[chemical]

    def __contains__(self, chemical: object) -> bool:
        return chemical in self.entries

    def __iter__(self) -> Iterator[Entry]:
        return iter(self.entries.values())

    def __len__(self) -> int:
        return len(self.entries)

    @property
    def substances(self) -> tuple[Substance, ...]:
        """Every substance, a person's own first."""
        return tuple(entry.substance for entry in self)

    def substance(self, chemical: str) -> Substance:
        """The substance with the id ``chemical``."""
        return self.entries[chemical].substance

    def with_own(self, own: Iterable[Entry]) -> "Catalogue":
        """The same catalogue with a person's own entries before the built-in ones."""
        added = {entry.substance.id: entry for entry in own}
        if not added:
            return self
        rest = {c: e for c, e in self.entries.items() if c not in added}
        return replace(self, entries={**added, **rest}, own=self.own | set(added))

    def find(self, word: str, choices: Mapping[str, str] | None = None) -> Substance:
        """The one form that ``word`` names.

        An id and a name of a person's own chemical never ask; then come the words that
        must be asked about, then the full names.

        Args:
            word: as it was written.
            choices: ids already chosen, by the word they answer.

        Raises:
            Unknown: no chemical is called that; near misses and look-alikes are named.
            Ambiguous: the word fits several forms; all are listed, with the cost of
                choosing wrongly.
        """
        if word.strip() in self.entries:
            return self.substance(word.strip())
        wanted = fold(word)
        named = self._named(wanted)
        if named and named.id in self.own:
            return named
        if chosen := self._chosen(wanted, choices or {}):
            return chosen
        if ask := self.asks.get(wanted):
            raise self._ambiguous(word, ask)
        if named is None:
            raise self._unknown(word)
        return named

    def search(self, words: str) -> tuple[Substance, ...]:
        """Every chemical that ``words`` may mean, best first.

        They are looked for in names, synonyms, CAS numbers and formulas.
        """
        return search(words, self.substances)

    def alike(self, *names: str) -> tuple[Substance, ...]:
        """Other chemicals that something called ``names`` may be taken for."""
        return look_alikes(names, self.substances, self.look_alikes)

    def _named(self, wanted: str) -> Substance | None:
        for substance in self.substances:
            if wanted in (fold(name) for name in (substance.id, *substance.names)):
                return substance
        return None

    def _chosen(self, wanted: str, choices: Mapping[str, str]) -> Substance | None:
        for word, chemical in choices.items():
            if fold(word) == wanted and chemical in self.entries:
                return self.substance(chemical)
        return None

    def _ambiguous(self, word: str, ask: Ask) -> Ambiguous:
        cost = f" ({ask.cost})" if ask.cost else ""
        fits = "fits several chemicals" if len(ask.forms) > 1 else "is not exact enough"
        return Ambiguous(
            f"{word!r} {fits}{cost}",
            remedy=f"Write the one in the jar: {', '.join(ask.forms)}.",
            word=word,
            forms=ask.forms,
        )

    def _unknown(self, word: str) -> Unknown:
        like = near_misses(word, self.substances)
        near = [s for s in like if not holds_look_alike(word, s.name, self.look_alikes)]
        parents = {substance.parent for substance in near}
        others = [s for s in like if s not in near]
        others += self.alike(word, *(s.name for s in near[:1]))
        alike = dict.fromkeys(s.id for s in others if s.parent not in parents)
        hints = []
        if near:
            hints.append(f"Near it: {', '.join(s.id for s in near)}.")
        if alike:
            hints.append(
                f"Names like it, other chemicals: {', '.join([*alike][:_MOST_ALIKE])}."
            )
        hints = hints or [
            "Write an id from the list of chemicals, or add it as your own."
        ]
        return Unknown(f"no chemical is called {word!r}", remedy=" ".join(hints))
