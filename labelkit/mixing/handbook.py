"""Everything that is looked up while a recipe is worked out."""

from collections.abc import Mapping
from decimal import Decimal

from msgspec import Struct, field

from labelkit.chemistry.acid_roles import AcidityTable
from labelkit.hazards.statements import Statements
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.caution import Handling
from labelkit.mixing.legal import LegalNote
from labelkit.mixing.rules import MixingRule

__all__ = ["Handbook"]


class Handbook(Struct, frozen=True):
    """What labelkit knows and what a bench adds to it.

    Attributes:
        catalogue: the chemicals, a bench's own among them.
        rules: what must not be mixed with what.
        statements: the wording of H, EUH and P statements.
        acidity: equilibrium constants.
        assays: [%] of the jars in the cupboard, by chemical id.
        parts: what each recipe of a set is called, by recipe name: ``A``.
        legal: dated notes on the law.
        handling: cautions that are not law, each with its source.
    """

    catalogue: Catalogue
    rules: tuple[MixingRule, ...]
    statements: Statements
    acidity: AcidityTable
    assays: Mapping[str, Decimal] = field(default_factory=dict)
    parts: Mapping[str, str] = field(default_factory=dict)
    legal: tuple[LegalNote, ...] = ()
    handling: Handling = field(default_factory=Handling)
