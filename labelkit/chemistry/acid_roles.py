"""What each chemical brings to the acidity of a solution, and how surely."""

from collections.abc import Iterable, Mapping, Sequence, Set

from msgspec import Struct, field
from msgspec.structs import replace

from labelkit.chemistry.equilibria import Acid, Totals
from labelkit.chemistry.substances import Substance

__all__ = [
    "ACID_SIDE",
    "ALKALINE_SIDE",
    "AcidityTable",
    "Ion",
    "Role",
    "Solute",
    "reacting_pair",
    "totals_of",
]

ACID_SIDE, ALKALINE_SIDE = -1, 1

OXIDISERS = frozenset({"strong-oxidiser", "peroxide", "permanganate"})
REDUCERS = frozenset({"reducer"})


class Ion(Struct, frozen=True):
    """An ion that neither takes nor gives H+.

    Attributes:
        needs_ph: below this pH it does not last, because ``why``.
    """

    id: str
    charge: int
    needs_ph: float | None = None
    why: str = ""


class Role(Struct, frozen=True):
    """What one formula unit of a chemical brings.

    Attributes:
        brings: acids and ions by id; the H+ is left to the charge balance.
        cannot: why no number is given once it is more than a trace; "" where it can.
        binds: id of an acid that this makes stronger in a way not reckoned.
        own_range: pH of its own solutions, where it has no formula to reckon with.
        metal: it holds a metal ion that is not among what it ``brings``.
        no_bound: ``low`` or ``high``: the side on which nothing is proven with it.
    """

    brings: Mapping[str, float]
    cannot: str = ""
    binds: str = ""
    own_range: tuple[float, float] | None = None
    metal: bool = False
    no_bound: str = ""


class Solute(Struct, frozen=True):
    """One chemical as it stands in the solution after the declared reactions.

    Attributes:
        chemical: id of the form.
        molality: formula units [mol/kg water, or mol/L below about 0.5 mol/L]; None
            for a chemical without a formula.
        parent, parent_units: as in `Substance`; own forms are known by them.
        tags: of the substance; they tell what reacts with what.
        name: what a reason calls it; "" for the id.
    """

    chemical: str
    molality: float | None
    parent: str = ""
    parent_units: int = 1
    tags: frozenset[str] = frozenset()
    name: str = ""

    @classmethod
    def of(cls, substance: Substance, molality: float | None) -> "Solute":
        """``molality`` [mol/kg water] of ``substance``."""
        return cls(
            substance.id,
            molality,
            substance.parent,
            substance.parent_units,
            substance.tags,
            substance.name,
        )

    @property
    def called(self) -> str:
        """The name a reason uses."""
        return self.name or self.chemical


class AcidityTable(Struct, frozen=True):
    """Every constant and every role, as the data file has them.

    Attributes:
        water: the ion product of water, as an acid of one step.
        roles: by chemical id.
        parent_roles: by parent id, for forms that are not among ``roles``.
        sources: where the constants of each acid are from, by its id.
    """

    water: Acid
    acids: Mapping[str, Acid]
    ions: Mapping[str, Ion]
    roles: Mapping[str, Role]
    parent_roles: Mapping[str, Role] = field(default_factory=dict)
    sources: Mapping[str, str] = field(default_factory=dict)

    def knows(self, solute: Solute) -> bool:
        """Whether the table says anything of ``solute``."""
        return solute.chemical in self.roles or solute.parent in self.parent_roles

    def role(self, solute: Solute) -> Role:
        """What ``solute`` brings by the formula unit; it must be known."""
        own = self.roles.get(solute.chemical)
        if own is not None:
            return own
        shared = self.parent_roles[solute.parent]
        brings = {k: n * solute.parent_units for k, n in shared.brings.items()}
        return replace(shared, brings=brings)

    def acids_of(self, solute: Solute) -> tuple[Acid, ...]:
        """The acids that ``solute`` brings; it must be known."""
        brings = self.role(solute).brings
        return tuple(self.acids[name] for name in brings if name in self.acids)


def reacting_pair(solutes: Sequence[Solute]) -> tuple[Solute, Solute] | None:
    """A strong oxidiser and a reducer that would not stand beside each other."""
    oxidisers = [s for s in solutes if s.tags & OXIDISERS]
    reducers = [s for s in solutes if s.tags & REDUCERS]
    return (oxidisers[0], reducers[0]) if oxidisers and reducers else None


def totals_of(
    solutes: Iterable[Solute],
    table: AcidityTable,
    side: int = 0,
    doubted: Set[str] = frozenset(),
) -> Totals:
    """The totals of a solution, or their extreme to one side.

    On the acid side the constants of every chemical in ``doubted`` are taken stronger
    by their doubt, a binder takes as much of what it binds as there is of either, which
    then has its bound pK, and a metal ion leaves every other acid without its H+. On
    the alkaline side the constants are taken weaker and nothing is bound.

    Args:
        solutes: all known to ``table``; those without molality are left out.
        table: the constants.
        side: `ACID_SIDE`, `ALKALINE_SIDE`, or 0 for the constants as they are.
        doubted: chemicals whose constants are moved to that side.
    """
    acids: dict[Acid, float] = {}
    strong: dict[int, float] = {}
    binders: dict[str, float] = {}
    for solute in solutes:
        if solute.molality is None:
            continue
        role = table.role(solute)
        way = side if solute.chemical in doubted else 0
        for name, count in role.brings.items():
            amount = count * solute.molality
            if name in table.ions:
                charge = table.ions[name].charge
                strong[charge] = strong.get(charge, 0.0) + amount
            else:
                acid = _moved(table.acids[name], way)
                acids[acid] = acids.get(acid, 0.0) + amount
        if role.binds and way == ACID_SIDE:
            binders[role.binds] = binders.get(role.binds, 0.0) + solute.molality
    totals = Totals(tuple(acids.items()), tuple(strong.items()))
    return _bound(totals, binders) if side == ACID_SIDE else totals


def _moved(acid: Acid, way: int) -> Acid:
    if not way or not acid.doubt:
        return acid
    return replace(acid, pk=tuple(pk + way * acid.doubt for pk in acid.pk))


def _bound(totals: Totals, binders: Mapping[str, float]) -> Totals:
    """What binders and metal ions make of a solution at worst."""
    acids: list[tuple[Acid, float]] = []
    for acid, total in totals.acids:
        taken = min(binders.get(acid.id, 0.0), total)
        acids.append((acid, total - taken))
        if taken and acid.bound_pk is not None:
            stronger = replace(acid, pk=(acid.bound_pk,), equation=None, polymers=())
            acids.append((stronger, taken))
    if not any(acid.metal for acid, _ in acids):
        return Totals(tuple(acids), totals.strong)
    metals = tuple((acid, total) for acid, total in acids if acid.metal)
    stripped = tuple(
        (acid.charge - len(acid.pk), total) for acid, total in acids if not acid.metal
    )
    return Totals(metals, totals.strong + stripped)
