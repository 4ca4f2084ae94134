"""What stands behind a classification: Annex VI entries, and what others found."""

from datetime import date

from msgspec import Struct

from labelkit.chemistry.substances import Confidence

__all__ = ["AnnexEntry", "AuthorityResult"]


class AnnexEntry(Struct, frozen=True):
    """One entry of Annex VI, Part 3, Table 3 of Regulation (EC) No 1272/2008.

    Attributes:
        atp: the adaptation to technical progress that set it as it stands.
        regulation: CELEX number of that act.
        in_application: from when it has been binding.
    """

    index: str
    name: str
    atp: str
    regulation: str
    in_application: date


class AuthorityResult(Struct, frozen=True):
    """What another authority found: shown beside a chemical, never used for a label.

    Attributes:
        classes: in that authority's words.
        h: its statement codes, where it gives them.
        years: of its assessments.
        list_flag: the mark its list gives the source.
        listed_under_cas: the number it lists the chemical under, where another.
    """

    authority: str
    classes: tuple[str, ...]
    h: tuple[str, ...] = ()
    years: tuple[int, ...] = ()
    list_flag: str = ""
    listed_under_cas: str = ""
    source: str = ""
    confidence: Confidence = Confidence.FOUND
