"""Dated notes on the law of the bench's country. Where to check, never how to evade."""

from collections.abc import Iterator
from decimal import Decimal

from labelkit.mixing.bench import Settings
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.check import Check, Level
from labelkit.mixing.checks.holding import joined
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.legal import LegalNote, legal_notes
from labelkit.mixing.plan import Plan

__all__ = ["check_restricted"]

PURE = Decimal(100)
# Notes about how a label is reckoned, not about what may be held or given.
NO_RESTRICTION = frozenset({"boron-limits"})
# Notes that speak of what is placed on the market: the finished mixture, given or sold.
OF_SUPPLY = frozenset({"cmr-public"})


def check_restricted(
    plan: Plan, handbook: Handbook, settings: Settings
) -> Iterator[Check]:
    """What the law of the country says of the jars; silent where none is set."""
    if not settings.country.strip():
        return
    catalogue = handbook.catalogue
    used = [c for c in plan.solution.ledger.lines if c in catalogue]
    for note in legal_notes(used, handbook.legal, settings.country):
        meant = [
            c for c in used if c in note.chemicals and _bites(note, c, plan, catalogue)
        ]
        supplied = note.id not in OF_SUPPLY or settings.profile == "supply"
        if meant and supplied and note.id not in NO_RESTRICTION:
            names = joined(catalogue.substance(c).name for c in meant)
            text = (
                f"{note.title}: {names}. As the law was read on "
                f"{note.as_of.isoformat()}. {note.check}"
            )
            yield Check("restricted", Level.NOTE, None, text)


def _bites(note: LegalNote, chemical: str, plan: Plan, catalogue: Catalogue) -> bool:
    """Whether the jar, or for supply the mixture, is as strong as the note says."""
    substance = catalogue.substance(chemical)
    limit = note.above_percent.get(substance.parent)
    if limit is None:
        return True
    if note.id not in OF_SUPPLY:
        return (substance.percent_by_mass or PURE) >= limit
    shares = {p.data.id: p.present for p in plan.solution.parts(catalogue)}
    return shares.get(chemical, Decimal(0)) >= limit
