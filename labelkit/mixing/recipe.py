"""A recipe: how to make one solution or dry mixture, as a person wrote it."""

from decimal import Decimal

from msgspec import Struct

from labelkit.chemistry.amounts import Amount, DROP_mL, Duration
from labelkit.mixing.catalogue import Entry

__all__ = [
    "BenchNotes",
    "Capacity",
    "Measured",
    "ReactionSpec",
    "Recipe",
    "Step",
    "Use",
]


class Step(Struct, frozen=True):
    """One step. Exactly one of add, make_up_to, pour, cool_to_C, or only text.

    Attributes:
        number: place in the recipe, from 1.
        add: a chemical's id, ``water``, or ``recipe:NAME``.
        assay_percent: [%] what the amount was written for.
        kind: of water: tap, boiled, distilled.
        vessel: "" for the main vessel, else its name.
        at_C: [degC] of what is added.
    """

    number: int
    add: str | None = None
    amount: Amount | None = None
    make_up_to: Amount | None = None
    pour: str | None = None
    cool_to_C: Decimal | None = None
    at_C: Decimal | None = None
    assay_percent: Decimal | None = None
    kind: str = ""
    vessel: str = ""
    text: str = ""
    caution: str = ""
    wait: Duration | None = None

    @property
    def recipe(self) -> str | None:
        """The name of the recipe whose solution is added, if that is what is added."""
        if self.add is None or not self.add.startswith("recipe:"):
            return None
        return self.add.removeprefix("recipe:")


class ReactionSpec(Struct, frozen=True):
    """A reaction as declared: what turns into what, by chemical id; balanced later."""

    reactants: tuple[str, ...]
    products: tuple[str, ...]


class Capacity(Struct, frozen=True):
    """How much film or paper a volume treats: ``amount`` ``unit`` per ``per``."""

    amount: Decimal
    unit: str
    per: Amount


class Use(Struct, frozen=True):
    """How the solution is used: the ratio, what it goes with, what it lasts for."""

    ratio: tuple[Decimal, ...] = ()
    goes_with: tuple[str, ...] = ()
    makes: Amount | None = None
    capacity: Capacity | None = None


class BenchNotes(Struct, frozen=True):
    """The recipe author's own words for the card's back."""

    mixing: str = ""
    spill: str = ""
    storage: str = ""
    disposal: str = ""


class Measured(Struct, frozen=True):
    """What was measured on a finished solution; wins over estimates."""

    ph: Decimal | None = None
    density_g_per_mL: Decimal | None = None


class Recipe(Struct, frozen=True):
    """A recipe as read, with every chemical named by its exact id.

    Attributes:
        name: the file name without ``.toml``.
        makes: what the amounts below are for, by volume or by mass.
        drop_mL: what a drop is taken for [mL].
        own_chemicals: entries the recipe brings with it.
        document: the file as read, kept so that a batch can be frozen with it.
    """

    name: str
    title: str
    makes: Amount
    steps: tuple[Step, ...]
    strength_of: str | None = None
    reactions: tuple[ReactionSpec, ...] = ()
    keeps: Duration | None = None
    keeps_opened: Duration | None = None
    keeps_part_full: Duration | None = None
    keeps_working: Duration | None = None
    keep_in: str = ""
    note: str = ""
    source: str = ""
    revision: str = ""
    off_when: str = ""
    test: str = ""
    part: str = ""
    set: str = ""
    headline: str = ""
    use: Use | None = None
    bench_notes: BenchNotes = BenchNotes()
    measured: Measured = Measured()
    drop_mL: Decimal = DROP_mL
    own_chemicals: tuple[Entry, ...] = ()
    document: str = ""

    @property
    def lasts(self) -> Duration | None:
        """How long it may be used from mixing, where anybody knows."""
        return self.keeps or self.keeps_working

    @property
    def fills_up(self) -> bool:
        """Whether it is filled up to what it makes, so that the rest is water."""
        return any(step.make_up_to for step in self.steps)
