"""What each step takes: the recipe's amounts, scaled to a quantity and to the jars."""

from collections.abc import Iterable, Mapping
from decimal import Decimal

from msgspec import Struct
from msgspec.structs import replace

from labelkit.chemistry.amounts import Amount, Dimension
from labelkit.chemistry.density import WATER_G_PER_ML
from labelkit.chemistry.substances import State, Substance
from labelkit.errors import BadInput
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.dates import Day
from labelkit.mixing.ledger import EMPTY, Ledger
from labelkit.mixing.recipe import Recipe, Step

__all__ = [
    "WATER",
    "Dose",
    "Stock",
    "doses_for",
    "mass_of",
    "poured",
    "scaling",
    "volume_of",
]

WATER = "water"
PURE = Decimal(100)


class Stock(Struct, frozen=True):
    """A solution that other recipes take by the mL.

    Attributes:
        name: the recipe's name.
        ledger: what ``volume_mL`` of it holds.
        batch: number of the bottle it is poured from; "" where it is only planned.
        part: its letter in a set, or "".
        discard_after: the last day or moment it is good for; None where none is known.
        bottle: which bottle of the batch, where that was said.
    """

    name: str
    title: str
    ledger: Ledger
    volume_mL: Decimal
    batch: str = ""
    part: str = ""
    discard_after: Day | None = None
    bottle: int | None = None


class Dose(Struct, frozen=True):
    """What one step takes.

    Attributes:
        chemical: an id, ``water``, or ``recipe:NAME``.
        mass_g: on the balance, out of the jar as it is; None where it is poured.
        volume_mL: in the cylinder; None where it is weighed.
        assay_percent: [%] of the jar.
        batch: number of the bottle a solution is poured from.
        read: whether a person read it off; otherwise it is the planned figure.
    """

    step: int
    chemical: str
    mass_g: Decimal | None = None
    volume_mL: Decimal | None = None
    assay_percent: Decimal = PURE
    at_C: Decimal | None = None
    kind: str = ""
    vessel: str = ""
    batch: str = ""
    read: bool = False

    @property
    def weighed(self) -> bool:
        """Whether the balance measures it."""
        return self.mass_g is not None

    @property
    def poured_mL(self) -> Decimal:
        """What the cylinder measures [mL], of a dose that is not weighed."""
        assert self.volume_mL is not None
        return self.volume_mL

    def read_as(self, amount: Amount) -> "Dose":
        """The same dose as it was read off the balance or the cylinder."""
        if amount.dimension is Dimension.MASS:
            return replace(self, mass_g=amount.number, volume_mL=None, read=True)
        return replace(self, mass_g=None, volume_mL=amount.number, read=True)


def scaling(recipe: Recipe, make: Amount) -> Decimal:
    """The one factor from what the recipe makes to ``make``.

    Raises:
        BadInput: one is a mass, the other a volume, and no measured density tells how
            they hang together.
    """
    made = recipe.makes
    if made.dimension is make.dimension:
        return make.number / made.number
    density = recipe.measured.density_g_per_mL
    if density is None:
        raise BadInput(
            f"{recipe.name} makes {made.written}; {make.written} is not a "
            f"{made.dimension.value}",
            place="--make",
            remedy="Ask for it as the recipe has it, or write a measured density.",
        )
    by_volume = make.dimension is Dimension.VOLUME
    as_made = make.number * density if by_volume else make.number / density
    return as_made / made.number


def volume_of(made: Amount, density_g_per_mL: Decimal | None) -> Decimal | None:
    """The volume [mL] of a quantity; None where no measured density tells it."""
    if made.dimension is Dimension.VOLUME:
        return made.number
    return made.number / density_g_per_mL if density_g_per_mL is not None else None


def doses_for(
    recipe: Recipe,
    factor: Decimal,
    catalogue: Catalogue,
    assays: Mapping[str, Decimal],
    batches: Mapping[str, str],
) -> tuple[Dose, ...]:
    """What every step that adds something takes.

    Args:
        recipe: as read.
        factor: from `scaling`.
        catalogue: the chemicals.
        assays: [%] of the jars, by chemical id; the step's own where none is known.
        batches: number of the bottle each recipe's solution is poured from.
    """
    found = []
    for step in recipe.steps:
        if step.add is None or step.amount is None:
            continue
        assay = assays.get(step.add, step.assay_percent or PURE)
        written_for = step.assay_percent or PURE
        corrected = step.amount.number * factor * written_for / assay
        found.append(_dose(step, corrected, assay, batches.get(step.recipe or "", "")))
    return tuple(found)


def _dose(step: Step, number: Decimal, assay: Decimal, batch: str) -> Dose:
    assert step.add is not None and step.amount is not None
    weighed = step.amount.dimension is Dimension.MASS
    return Dose(
        step.number,
        step.add,
        mass_g=number if weighed else None,
        volume_mL=None if weighed else number,
        assay_percent=assay,
        at_C=step.at_C,
        kind=step.kind,
        vessel=step.vessel,
        batch=batch,
    )


def poured(
    doses: Iterable[Dose], catalogue: Catalogue, stocks: Mapping[str, Stock]
) -> Ledger:
    """The ledger of everything poured together, before anything reacts.

    Args:
        doses: as planned or as read.
        catalogue: the chemicals.
        stocks: the solutions that doses may take, by recipe name.
    """
    ledger = EMPTY
    for dose in doses:
        ledger = _with_dose(ledger, dose, catalogue, stocks)
    return ledger


def _with_dose(
    ledger: Ledger, dose: Dose, catalogue: Catalogue, stocks: Mapping[str, Stock]
) -> Ledger:
    if dose.chemical == WATER:
        return ledger.with_water(_water_g(dose))
    if dose.chemical.startswith("recipe:"):
        stock = stocks[dose.chemical.removeprefix("recipe:")]
        return ledger.plus(stock.ledger.scaled(dose.poured_mL / stock.volume_mL))
    substance = catalogue.substance(dose.chemical)
    return ledger.with_chemical(substance, mass_of(dose, substance), dose.assay_percent)


def _water_g(dose: Dose) -> Decimal:
    if dose.mass_g is not None:
        return dose.mass_g
    return dose.poured_mL * WATER_G_PER_ML


def mass_of(dose: Dose, substance: Substance) -> Decimal:
    """Grams out of the jar, through the density where it is poured [g].

    Raises:
        BadInput: a liquid without a known density is given by volume.
    """
    if dose.mass_g is not None:
        return dose.mass_g
    if substance.density is None or substance.state is State.SOLID:
        raise BadInput(
            f"{substance.id} has no density, so mL cannot be turned into grams",
            place=f"step {dose.step}, amount",
            remedy="Write the amount in g, or give the chemical a density.",
        )
    return dose.poured_mL * substance.density.value
