"""A recipe worked out: what to weigh, what comes out, what to beware of."""

from collections.abc import Mapping

from msgspec import Struct

from labelkit.hazards.mixture import Acidity, Classification
from labelkit.mixing.check import Check
from labelkit.mixing.dates import Day
from labelkit.mixing.job import Job
from labelkit.mixing.recipe import Recipe
from labelkit.mixing.solution import Solution
from labelkit.mixing.uncertainty import Weighing
from labelkit.mixing.vessels import Moment
from labelkit.mixing.warming import Warming
from labelkit.mixing.words import Headline, PartMark

__all__ = ["Plan"]


class Plan(Struct, frozen=True):
    """A job worked out.

    Attributes:
        moments: every step with its vessel before and after.
        weighings: how well each dose is known, in the order of the doses.
        relative_u: standard uncertainty of the strength (k = 1), as a share of it.
        reasons: why a figure is missing, by its name: ph, density, strength,
            discard_after.
        ph_bounds: between which pH it is proven to lie; None where nothing is proven.
    """

    job: Job
    moments: tuple[Moment, ...]
    solution: Solution
    weighings: tuple[Weighing, ...]
    relative_u: float | None
    headline: Headline
    part: PartMark | None
    ph: Acidity | None
    warming: Warming | None
    hazard: Classification
    checks: tuple[Check, ...]
    discard_after: Day | None
    reasons: Mapping[str, str]
    ph_bounds: tuple[float, float] | None = None

    @property
    def recipe(self) -> Recipe:
        """The recipe it follows."""
        return self.job.recipe
