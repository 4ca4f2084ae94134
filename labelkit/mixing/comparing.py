"""Several versions of one recipe, per litre, and a verdict on why they differ."""

from collections.abc import Callable, Iterator, Sequence
from decimal import Decimal
from itertools import combinations

from msgspec import Struct
from msgspec.structs import replace

from labelkit.chemistry.amounts import Dimension
from labelkit.chemistry.substances import Substance
from labelkit.errors import BadInput
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.doses import WATER
from labelkit.mixing.plan import Plan
from labelkit.mixing.recipe import ReactionSpec, Recipe
from labelkit.mixing.solution import strength_mass_g

__all__ = ["AGREE", "Comparison", "Leftover", "Reading", "Version", "compare"]

# Versions this near agree; what is left over below this adds up. Ours.
AGREE = Decimal("0.03")
LITRE_mL = Decimal(1000)

Planner = Callable[[Recipe], Plan]


class Leftover(Struct, frozen=True):
    """A reagent that a reaction leaves, per litre [g/L], and of what was added [%]."""

    chemical: str
    g_per_L: Decimal
    percent: Decimal
    more_of: str
    more_g_per_L: Decimal


class Reading(Struct, frozen=True):
    """A version read with another form: it takes ``into`` where it says ``out``."""

    out: str
    into: str
    g_per_L: Decimal


class Version(Struct, frozen=True):
    """One version, per litre.

    Attributes:
        added: grams put in, by id; water left out [g/L].
        carried: what stands in it after its reactions, by parent, told in the form
            that the comparison uses [g/L].
        leftovers: of each reaction.
        off: from the version the others are measured by, as a share; None for itself.
        reading: another form that makes it agree.
        thinner: every amount is this many times that of the version it is measured by,
            where all are in one ratio; else None.
    """

    plan: Plan
    added: dict[str, Decimal]
    carried: dict[str, Decimal]
    leftovers: tuple[Leftover, ...]
    off: Decimal | None = None
    reading: Reading | None = None
    thinner: Decimal | None = None

    @property
    def recipe(self) -> Recipe:
        """The recipe it is."""
        return self.plan.recipe

    @property
    def adds_up(self) -> bool:
        """Whether no reaction leaves more than 3 % of anything over."""
        return all(left.percent <= AGREE * 100 for left in self.leftovers)

    @property
    def agrees(self) -> bool:
        """Whether it is within 3 % of the version it is measured by."""
        return self.off is None or abs(self.off) <= AGREE


class Comparison(Struct, frozen=True):
    """The versions side by side.

    Attributes:
        told_in: ids of the forms the strengths are told in, one a parent.
        measure: place of the version that the others are measured by.
    """

    versions: tuple[Version, ...]
    told_in: tuple[str, ...]
    measure: int


def compare(
    plans: Sequence[Plan], planner: Planner, catalogue: Catalogue
) -> Comparison:
    """Compare worked-out versions of one recipe.

    The version that most of the others agree with measures the rest; of equals one that
    adds up, then the first.

    Args:
        plans: one a version, each for its own quantity.
        planner: plans a version read in another way.
        catalogue: the chemicals, every recipe's own among them.

    Raises:
        BadInput: a version is a dry mixture, or there is nothing they share.
    """
    for plan in plans:
        if plan.job.volume_mL is None:
            raise BadInput(
                f"{plan.recipe.name} is a dry mixture, so it has no strength per litre",
                remedy="Compare recipes that make a volume.",
            )
    told_in = _told_in(plans, catalogue)
    versions = [_version(plan, told_in, catalogue) for plan in plans]
    measure = _measure(versions)
    by = versions[measure]
    judged = tuple(
        version
        if place == measure
        else _judged(version, by, told_in, planner, catalogue)
        for place, version in enumerate(versions)
    )
    return Comparison(judged, told_in, measure)


def _told_in(plans: Sequence[Plan], catalogue: Catalogue) -> tuple[str, ...]:
    """The forms strengths are told in: what the recipes ask for, else what is in."""
    asked = [p.recipe.strength_of for p in plans if p.recipe.strength_of]
    if asked:
        return (asked[0],)
    found: dict[str, str] = {}
    for plan in plans:
        for content in plan.solution.contents:
            parent = catalogue.substance(content.chemical).parent
            found.setdefault(parent, content.chemical)
    if not found:
        raise BadInput(
            "the recipes hold nothing but water", remedy="Name recipes with chemicals."
        )
    return tuple(found.values())


def _version(plan: Plan, told_in: Sequence[str], catalogue: Catalogue) -> Version:
    litres = (plan.job.volume_mL or LITRE_mL) / LITRE_mL
    ledger = plan.solution.ledger
    added = {
        chemical: line.added_g / catalogue.substance(chemical).solute_share / litres
        for chemical, line in ledger.lines.items()
        if line.added_g > 0 and chemical != WATER
    }
    carried = {
        form: strength_mass_g(ledger, catalogue.substance(form), catalogue) / litres
        for form in told_in
    }
    return Version(plan, added, carried, tuple(_leftovers(plan, litres)))


def _leftovers(plan: Plan, litres: Decimal) -> Iterator[Leftover]:
    lines = plan.solution.ledger.lines
    for run in plan.solution.runs:
        for species, _ in run.equation.reactants:
            line = lines[species.chemical]
            if line.present_g <= 0 or species.chemical == run.limiting:
                continue
            more_g = (
                run.consumed_g[run.limiting]
                * line.present_g
                / run.consumed_g[species.chemical]
            )
            yield Leftover(
                species.chemical,
                line.present_g / litres,
                line.present_g / (line.added_g + line.formed_g) * 100,
                run.limiting,
                more_g / litres,
            )


def _off(version: Version, by: Version) -> Decimal:
    """How far it is from another, as a share: the worst of what both tell."""
    shares = [
        version.carried[form] / amount - 1 if amount > 0 else Decimal(1)
        for form, amount in by.carried.items()
        if amount > 0 or version.carried[form] > 0
    ]
    return max(shares, key=abs, default=Decimal(0))


def _measure(versions: Sequence[Version]) -> int:
    friends = [0] * len(versions)
    for one, other in combinations(range(len(versions)), 2):
        if abs(_off(versions[one], versions[other])) <= AGREE:
            friends[one] += 1
            friends[other] += 1
    places = range(len(versions))
    return max(places, key=lambda n: (friends[n], versions[n].adds_up, -n))


def _judged(
    version: Version,
    by: Version,
    told_in: Sequence[str],
    planner: Planner,
    catalogue: Catalogue,
) -> Version:
    off = _off(version, by)
    judged = replace(version, off=off)
    if abs(off) <= AGREE and version.adds_up:
        return judged
    reading = _reading(version, by, told_in, planner, catalogue)
    return replace(
        judged, reading=reading, thinner=_in_one_ratio(version, by, catalogue)
    )


def _reading(
    version: Version,
    by: Version,
    told_in: Sequence[str],
    planner: Planner,
    catalogue: Catalogue,
) -> Reading | None:
    """The other form of one chemical that makes the version agree and add up."""
    for chemical in version.added:
        for sister in _sisters(catalogue.substance(chemical), catalogue):
            read = _read_as(version.recipe, chemical, sister.id)
            try:
                other = _version(planner(read), told_in, catalogue)
            except BadInput:
                continue
            if abs(_off(other, by)) <= AGREE and other.adds_up:
                form = told_in[0] if len(told_in) == 1 else sister.id
                carried = other.carried.get(form, version.added[chemical])
                return Reading(chemical, sister.id, carried)
    return None


def _sisters(form: Substance, catalogue: Catalogue) -> tuple[Substance, ...]:
    return tuple(
        s
        for s in catalogue.substances
        if s.parent == form.parent and s.id != form.id and s.formula
    )


def _read_as(recipe: Recipe, out: str, into: str) -> Recipe:
    """The same grams, read as another form."""

    def renamed(ids: tuple[str, ...]) -> tuple[str, ...]:
        return tuple(into if chemical == out else chemical for chemical in ids)

    return replace(
        recipe,
        steps=tuple(
            replace(step, add=into)
            if step.add == out
            and step.amount is not None
            and step.amount.dimension is Dimension.MASS
            else step
            for step in recipe.steps
        ),
        reactions=tuple(
            ReactionSpec(renamed(spec.reactants), renamed(spec.products))
            for spec in recipe.reactions
        ),
    )


def _in_one_ratio(
    version: Version, by: Version, catalogue: Catalogue
) -> Decimal | None:
    """The ratio of all amounts to the other version's, where there is one."""
    mine, theirs = _moles(version, catalogue), _moles(by, catalogue)
    if set(mine) != set(theirs) or not mine:
        return None
    ratios = [mine[parent] / theirs[parent] for parent in mine]
    mean = sum(ratios, Decimal(0)) / len(ratios)
    even = all(abs(ratio / mean - 1) <= AGREE for ratio in ratios)
    return mean if even else None


def _moles(version: Version, catalogue: Catalogue) -> dict[str, Decimal]:
    """Moles added of each parent [mol/L]; grams where there is no formula."""
    found: dict[str, Decimal] = {}
    for chemical, grams in version.added.items():
        form = catalogue.substance(chemical)
        molar = form.molar_mass or Decimal(1)
        moles = grams * form.solute_share / molar * form.parent_units
        found[form.parent] = found.get(form.parent, Decimal(0)) + moles
    return found
