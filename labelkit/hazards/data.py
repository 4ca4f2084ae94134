"""What is known of the hazards of one chemical, as evidence for the rules."""

from collections.abc import Mapping
from decimal import Decimal
from enum import StrEnum

from msgspec import Struct, field

__all__ = ["Basis", "HazardData", "Limit"]


class Basis(StrEnum):
    """Where a classification comes from; the first that exists is used."""

    OWN = "own"  # a person's own file
    HARMONISED = "harmonised"  # Annex VI names the substance
    GROUP = "group"  # Annex VI names a group it belongs to
    SELF = "self"  # notifiers' own classification
    COPIED = "copied"  # as the anhydrous form


class Limit(Struct, frozen=True):
    """A specific concentration limit [% w/w]: ``minimum`` inclusive, ``below`` not."""

    hazard_class: str
    minimum: Decimal
    below: Decimal | None = None


class HazardData(Struct, frozen=True):
    """The classification evidence of one chemical in one form.

    Attributes:
        id: the chemical's id.
        name: the name printed after "contains".
        classes: class strings such as ``Acute Tox. 4 (oral)``, ``STOT SE 3 (H335)``,
            ``Repr. 1B FD``; () where it is known to carry none, None where there is
            no data.
        basis: where ``classes`` comes from; None where there is no data.
        confidence: ``found``, ``computed`` or ``memory``.
        limits: specific concentration limits [% w/w].
        ate: acute toxicity estimates, oral and dermal [mg/kg], ``vapour`` and
            ``dust/mist`` [mg/L].
        m_acute: multiplying factor for Aquatic Acute 1.
        m_chronic: multiplying factor for Aquatic Chronic 1.
        euh: EUH codes the chemical carries.
        notes: notes of Annex VI, such as ``11`` for boron compounds.
        non_additive: Tables 3.2.4 and 3.3.4 apply to it.
        acid_or_base: its pH effect is covered by limits of its own.
        unknown_acute: routes for which there is no data.
        tags: what the mixing rules ask for, such as ``acid`` or ``borate``.
        solute_share: grams of solute in one gram of what ``classes`` and ``limits``
            describe: 1 where that is the dissolved substance itself, less where a
            data sheet classifies the solution as it is sold.
        organs: text that H370 to H373 add, by H code.
    """

    id: str
    name: str
    classes: tuple[str, ...] | None = None
    basis: Basis | None = None
    confidence: str = ""
    limits: tuple[Limit, ...] = ()
    ate: Mapping[str, Decimal] = field(default_factory=dict)
    m_acute: Decimal | None = None
    m_chronic: Decimal | None = None
    euh: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    non_additive: bool = False
    acid_or_base: bool = False
    unknown_acute: tuple[str, ...] = ()
    tags: frozenset[str] = frozenset()
    organs: Mapping[str, str] = field(default_factory=dict)
    solute_share: Decimal = Decimal(1)
    source: str = ""
    remark: str = ""

    @property
    def official(self) -> bool:
        """Whether an Annex VI entry, of its own or of its group, stands behind it."""
        return self.basis in (Basis.HARMONISED, Basis.GROUP)
