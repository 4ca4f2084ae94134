"""A job: everything that decides what comes out, as planned or as it was read."""

from collections.abc import Mapping
from datetime import datetime
from decimal import Decimal

from msgspec import Struct, field

from labelkit.chemistry.amounts import Amount, Dimension
from labelkit.mixing.doses import Dose, Stock
from labelkit.mixing.recipe import Measured, Recipe

__all__ = ["Job"]


class Job(Struct, frozen=True):
    """What goes in, how far it is filled up, and what was measured.

    Attributes:
        make: how much, as asked for.
        volume_mL: of what comes out; None where it is made by mass and no density was
            measured.
        measured: on the finished solution.
        on: when it is mixed.
        stocks: the solutions it takes, by recipe name.
    """

    recipe: Recipe
    make: Amount
    doses: tuple[Dose, ...]
    volume_mL: Decimal | None
    measured: Measured
    on: datetime
    stocks: Mapping[str, Stock] = field(default_factory=dict)

    @property
    def by_mass(self) -> bool:
        """Whether its quantity was told on the balance."""
        return self.make.dimension is Dimension.MASS
