"""Dated notes on the law: what it said when it was read, and where to check it."""

from collections.abc import Collection, Iterable, Mapping
from datetime import date
from decimal import Decimal

from msgspec import Struct, field

from labelkit.chemistry.substances import Confidence

__all__ = ["LegalNote", "legal_notes", "region_of"]

# Member States, and the EEA states that apply CLP and REACH, by ISO 3166-1 code.
_EU_AND_EEA = frozenset(
    {
        "AT", "BE", "BG", "CY", "CZ", "DE", "DK", "EE", "ES", "FI", "FR", "GR", "HR",
        "HU", "IE", "IT", "LT", "LU", "LV", "MT", "NL", "PL", "PT", "RO", "SE", "SI",
        "SK", "IS", "LI", "NO", "EU",
    }
)  # fmt: skip
_GB = frozenset({"GB", "UK"})


class LegalNote(Struct, frozen=True):
    """One note.

    Attributes:
        regions: ``EU`` (with the EEA), ``GB``.
        as_of: the date on which it was read.
        check: where to look before relying on it.
        chemicals: ids it is about; empty: it is about labels as such.
        above_percent: [% w/w] from which it bites, by parent; empty: always.
    """

    id: str
    title: str
    text: str
    as_of: date
    check: str
    regions: tuple[str, ...]
    chemicals: frozenset[str] = frozenset()
    above_percent: Mapping[str, Decimal] = field(default_factory=dict)
    source: str = ""
    confidence: Confidence = Confidence.MEMORY


def region_of(country: str) -> str:
    """``EU``, ``GB`` or "" for a country code, whose law is then not in the notes."""
    code = country.strip().upper()
    if code in _EU_AND_EEA:
        return "EU"
    return "GB" if code in _GB else ""


def legal_notes(
    chemicals: Collection[str], notes: Iterable[LegalNote], country: str = ""
) -> tuple[LegalNote, ...]:
    """The notes about any of ``chemicals``; of every region where no country is set."""
    region = region_of(country)
    return tuple(
        note
        for note in notes
        if note.chemicals & set(chemicals)
        and (not country.strip() or region in note.regions)
    )
