"""Whether everything on a route dissolves: at each step, and in the bottle later."""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from decimal import Decimal

from msgspec import Struct

from labelkit.chemistry.density import WATER_G_PER_ML, Dissolved
from labelkit.chemistry.refusal import Refusal
from labelkit.chemistry.solubility import dissolve, nearest_saturation
from labelkit.chemistry.substances import Substance
from labelkit.errors import BadInput
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.doses import WATER
from labelkit.mixing.forms import Exchange, convert
from labelkit.mixing.ledger import Ledger, react
from labelkit.mixing.recipe import ReactionSpec
from labelkit.mixing.solution import Solution
from labelkit.mixing.vessels import Moment

__all__ = ["STORED_C", "Stage", "in_the_bottle", "while_mixing"]

# Temperatures a bottle is stored at [degC].
STORED_C = (20.0, 5.0)
# A table that ends this near still tells something [K]; our own bound.
NEAR_K = 6.0
# Less than this share of what is there is not looked at.
TRACE = Decimal("0.0001")


class Stage(Struct, frozen=True):
    """One solid at one temperature.

    Attributes:
        step: None for the finished solution as it stands in the bottle.
        mass_g: of it, in the water there is [g].
        most_g: that dissolves [g]; None where no table tells.
        fits: None where no table tells.
        waits: it is used up by the reaction later, so it need not dissolve yet.
        clear_from_C: lowest temperature of the table at which it dissolves [degC].
        most_g_per_L: of the saturated solution, by the rule of thumb for its volume.
    """

    step: int | None
    chemical: str
    at_C: float
    mass_g: float
    most_g: float | None
    fits: bool | None
    waits: bool = False
    clear_from_C: float | None = None
    source: str = ""
    most_g_per_L: float | None = None

    @property
    def stops(self) -> bool:
        """Whether the route ends here."""
        return self.fits is False and not self.waits


def while_mixing(
    moments: Iterable[Moment],
    reactions: Sequence[ReactionSpec],
    catalogue: Catalogue,
) -> tuple[Stage, ...]:
    """Every solid at every step, in the water of its vessel at that step.

    Reagents that have met in a vessel have reacted there.
    """
    found: list[Stage] = []
    for moment in moments:
        if moment.after.water_g <= 0 or moment.after is moment.before:
            continue
        held, pending = _reacted(moment.after, reactions, catalogue)
        added = {moment.dose.chemical} if moment.dose else set(held.lines)
        for chemical in (c for c in held.lines if c in added):
            mass_g = held.present_g(chemical)
            if mass_g <= TRACE * held.mass_g:
                continue
            stage = _stage(
                moment.step, catalogue.substance(chemical), mass_g, held.water_g,
                moment.after_C, waits=chemical in pending,
            )  # fmt: skip
            if stage is not None:
                found.append(stage)
    return tuple(found)


def in_the_bottle(
    solution: Solution,
    catalogue: Catalogue,
    exchange: Exchange,
    crystallise_as: Mapping[str, str],
) -> tuple[Stage, ...]:
    """Everything in the finished solution, at the temperatures it is stored at.

    Args:
        solution: as it stands when everything is in.
        catalogue: the chemicals.
        exchange: turns a solute into what crystallises from it.
        crystallise_as: by id of the solute, the id of what crystallises.
    """
    water_g = solution.free_water_g(catalogue)
    return tuple(_stored(solution, water_g, catalogue, exchange, crystallise_as))


def _stored(
    solution: Solution,
    water_g: Decimal,
    catalogue: Catalogue,
    exchange: Exchange,
    crystallise_as: Mapping[str, str],
) -> Iterator[Stage]:
    for content in solution.contents:
        substance, mass_g = catalogue.substance(content.chemical), content.mass_g
        if mass_g <= TRACE * (solution.volume_mL or Decimal(1)):
            continue
        solid = crystallise_as.get(substance.id)
        if solid is not None:
            turned = convert(substance, catalogue.substance(solid), mass_g, exchange)
            substance, mass_g = turned.target_form, turned.g_to
        for at_C in STORED_C:
            stage = _stage(None, substance, mass_g, water_g, at_C)
            if stage is not None:
                yield stage


def _reacted(
    ledger: Ledger, reactions: Iterable[ReactionSpec], catalogue: Catalogue
) -> tuple[Ledger, set[str]]:
    """What stands in a vessel once what has met has reacted, and what still waits."""
    pending: set[str] = set()
    for spec in reactions:
        if all(ledger.present_g(c) > 0 for c in spec.reactants):
            try:
                ledger, _ = react(ledger, [spec], catalogue)
            except BadInput:
                continue
        else:
            pending |= set(spec.reactants)
    return ledger, pending


def _stage(
    step: int | None,
    substance: Substance,
    mass_g: Decimal,
    water_g: Decimal,
    at_C: float,
    *,
    waits: bool = False,
) -> Stage | None:
    """The solid at that temperature; None for what mixes with water in any share."""
    if substance.id == WATER:
        return None
    found = dissolve(substance, mass_g, water_g, at_C)
    if found is None:
        return None
    if isinstance(found, Refusal):
        return _by_the_nearest(step, substance, mass_g, water_g, at_C, waits)
    return Stage(
        step,
        substance.id,
        at_C,
        float(mass_g),
        found.most_g,
        found.fits,
        waits,
        found.warm_to_C,
        found.saturation.source,
        _saturated_g_per_L(substance, found.saturation.g_per_100_g_water),
    )


def _saturated_g_per_L(substance: Substance, per_100_g: float) -> float | None:
    """Strength of the saturated solution [g/L]; None where it needs no water."""
    if math.isinf(per_100_g):
        return None
    salt = Dissolved(substance, Decimal(per_100_g))
    volume_mL = 100 / WATER_G_PER_ML + salt.volume_mL
    return per_100_g / float(volume_mL) * 1000


def _by_the_nearest(
    step: int | None,
    substance: Substance,
    mass_g: Decimal,
    water_g: Decimal,
    at_C: float,
    waits: bool,
) -> Stage:
    """Where a table does not reach: what its nearest end tells, and no more.

    What does not dissolve warmer does not dissolve colder.
    """
    held = nearest_saturation(substance, at_C)
    unknown = Stage(step, substance.id, at_C, float(mass_g), None, None, waits)
    if held is None:
        return unknown
    most_g = held.g_per_100_g_water * float(water_g) / 100
    fits = float(mass_g) <= most_g
    warmer = held.at_C >= at_C
    tells = abs(held.at_C - at_C) <= NEAR_K or (fits != warmer)
    if not tells:
        return unknown
    return Stage(
        step,
        substance.id,
        at_C,
        float(mass_g),
        most_g,
        fits,
        waits,
        source=f"at {held.at_C:g} °C: {held.source}",
        most_g_per_L=_saturated_g_per_L(substance, held.g_per_100_g_water),
    )
