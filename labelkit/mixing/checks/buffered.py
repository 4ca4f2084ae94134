"""Weak acid beside sulfite: how an acid fixer is built, and when it chokes."""

from collections.abc import Iterable
from decimal import Decimal

from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.checks.holding import Scene, present, tags_of
from labelkit.mixing.ledger import Ledger

__all__ = ["ACID", "NOTICED_BUFFER", "SILENT_BUFFER", "buffer_ratio", "sulfite_later"]

ACID = frozenset({"acid", "mild-acid"})
# Moles of plain sulfite for a mole of acid. Acid fixers of the trade stand near a half
# and only smell (common practice, no source); where the lines run is ours.
NOTICED_BUFFER = Decimal("0.25")
SILENT_BUFFER = Decimal(2)


def buffer_ratio(ledger: Ledger, catalogue: Catalogue) -> Decimal | None:
    """Moles of plain sulfite for a mole of acid in it; None without any acid."""
    acid = _moles(ledger, _acids(ledger, catalogue), catalogue)
    if acid <= 0:
        return None
    return _moles(ledger, _plain_sulfites(ledger, catalogue), catalogue) / acid


def sulfite_later(scene: Scene, seen: Iterable[Scene], catalogue: Catalogue) -> int:
    """The later step that brings plain sulfite; 0 where none does, or it is there."""
    if _plain_sulfites(scene.moment.after, catalogue):
        return 0
    later = (s for s in seen if s.moment.step > scene.moment.step)
    steps = (
        s.moment.step
        for s in later
        if any(_is_plain_sulfite(c, catalogue) for c in s.entering)
    )
    return next(steps, 0)


def _acids(ledger: Ledger, catalogue: Catalogue) -> Iterable[str]:
    return [c for c in present(ledger) if tags_of(c, catalogue) & ACID]


def _plain_sulfites(ledger: Ledger, catalogue: Catalogue) -> list[str]:
    return [c for c in present(ledger) if _is_plain_sulfite(c, catalogue)]


def _is_plain_sulfite(chemical: str, catalogue: Catalogue) -> bool:
    tags = tags_of(chemical, catalogue)
    return "sulfite-source" in tags and not tags & ACID


def _moles(ledger: Ledger, chemicals: Iterable[str], catalogue: Catalogue) -> Decimal:
    """Moles of those that have a formula."""
    found = ((c, catalogue.substance(c).molar_mass) for c in chemicals)
    return sum((ledger.present_g(c) / m for c, m in found if m), Decimal(0))
