"""What vessels hold from step to step, as the remarks ask about it."""

from collections.abc import Collection, Iterable
from decimal import Decimal

from msgspec import Struct

from labelkit.chemistry.crystal_water import crystal_water_share
from labelkit.chemistry.substances import State
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.doses import WATER
from labelkit.mixing.ledger import Ledger, react
from labelkit.mixing.plan import Plan
from labelkit.mixing.recipe import ReactionSpec
from labelkit.mixing.vessels import Moment

__all__ = [
    "Scene",
    "capital",
    "is_watery",
    "joined",
    "percent",
    "present",
    "scenes",
    "tagged",
    "tags_of",
    "water_for",
]

# Other liquids may be this share of the water before it counts as another solvent;
# ours, as for the density.
MOST_OTHER_LIQUID = Decimal("0.10")


class Scene(Struct, frozen=True):
    """One step, with the declared reactions run as far as its vessel allows.

    Attributes:
        before: what the vessel held.
        after: what it holds then.
        entering: ids of what the step brought in, water left out.
        water_in_g: water that the step brought in [g].
    """

    moment: Moment
    before: Ledger
    after: Ledger
    entering: tuple[str, ...]

    @property
    def water_in_g(self) -> Decimal:
        """Water that the step brought in [g]."""
        return self.moment.after.water_g - self.moment.before.water_g


def scenes(plan: Plan, catalogue: Catalogue) -> tuple[Scene, ...]:
    """Every step of a plan as a scene."""
    reactions = plan.recipe.reactions
    return tuple(
        Scene(
            moment,
            _reacted(moment.before, reactions, catalogue),
            _reacted(moment.after, reactions, catalogue),
            _entering(moment),
        )
        for moment in plan.moments
    )


def present(ledger: Ledger) -> tuple[str, ...]:
    """Ids of everything dissolved or lying in it, water left out."""
    lines = ledger.lines.items()
    return tuple(c for c, line in lines if line.present_g > 0 and c != WATER)


def percent(ledger: Ledger, chemical: str) -> Decimal:
    """Its share of what the vessel holds [% w/w]; 0 where the vessel is empty."""
    mass_g = ledger.mass_g
    return 100 * ledger.present_g(chemical) / mass_g if mass_g > 0 else Decimal(0)


def tags_of(chemical: str, catalogue: Catalogue) -> frozenset[str]:
    """Its tags; an entry without any takes those that all forms of its parent share."""
    substance = catalogue.substance(chemical)
    if substance.tags:
        return substance.tags
    kin = [s.tags for s in catalogue.substances if s.parent == substance.parent]
    shared = [tags for tags in kin if tags]
    return frozenset.intersection(*shared) if shared else frozenset()


def tagged(
    chemicals: Iterable[str], tags: Collection[str], catalogue: Catalogue
) -> tuple[str, ...]:
    """Those of the chemicals that carry any of the tags."""
    wanted = set(tags)
    return tuple(c for c in chemicals if tags_of(c, catalogue) & wanted)


def water_for(ledger: Ledger, chemical: str, catalogue: Catalogue) -> Decimal:
    """Water in which it dissolves [g]: with the crystal water of all the others."""
    bound = (
        ledger.present_g(c) * crystal_water_share(catalogue.substance(c))
        for c in present(ledger)
        if c != chemical
    )
    return ledger.water_g + sum(bound, Decimal(0))


def is_watery(ledger: Ledger, catalogue: Catalogue) -> bool:
    """Whether water is the solvent, and no other liquid to speak of."""
    liquids = (
        ledger.present_g(c)
        for c in present(ledger)
        if catalogue.substance(c).state is State.LIQUID
    )
    return sum(liquids, Decimal(0)) <= MOST_OTHER_LIQUID * ledger.water_g


def capital(words: str) -> str:
    """The words with a capital letter first: ``p-Aminophenol``, ``Metol``."""
    head, dash, rest = words.partition("-")
    if dash and len(head) == 1:
        return f"{head}-{capital(rest)}"
    return words[:1].upper() + words[1:]


def joined(words: Iterable[str]) -> str:
    """``a, b and c``."""
    *first, last = words
    return f"{', '.join(first)} and {last}" if first else last


def _entering(moment: Moment) -> tuple[str, ...]:
    lines = moment.after.lines
    return tuple(
        c
        for c in lines
        if c != WATER and lines[c].present_g > moment.before.present_g(c)
    )


def _reacted(
    ledger: Ledger, reactions: Iterable[ReactionSpec], catalogue: Catalogue
) -> Ledger:
    if ledger.water_g <= 0:
        return ledger  # powders side by side; what is baked is baked without water
    for spec in reactions:
        if all(ledger.present_g(c) > 0 for c in spec.reactants):
            ledger, _ = react(ledger, [spec], catalogue)
    return ledger
