"""Vetted routes: how a chemical is made in solution from others that can be bought."""

from collections.abc import Collection, Iterable, Sequence
from enum import StrEnum

from msgspec import Struct

from labelkit.chemistry.formulas import composition
from labelkit.chemistry.reactions import Equation, Species, balance
from labelkit.chemistry.substances import Confidence, Substance
from labelkit.errors import NoAnswer
from labelkit.mixing.catalogue import Catalogue

__all__ = ["Chosen", "Route", "Way", "choose", "routes_to"]

WATER = "H2O"


class Way(StrEnum):
    """How the chemicals come together."""

    LYE = "lye"
    """The first in water, the lye in cold water in a second jug, then together."""
    GAS = "gas"
    """The first in water in a tall vessel, the second in portions: it foams."""
    DISSOLVE = "dissolve"
    """In water, and that is all."""
    BAKE = "bake"
    """Baked dry until its weight tells that it is done, then dissolved."""


class Route(Struct, frozen=True):
    """One way from chemicals that can be bought to one that is asked for.

    Attributes:
        products: ids of the forms it makes; the first is what is mostly asked for.
        reagents: for each chemical it takes, the ids of the forms that will do, the
            usual one first; in the order in which they go in.
        beside: ids of what is formed beside the product.
        solids: what a product crystallises as, where that is another chemical.
        first_C: of the water for the first [degC]; hotter where it needs to be.
        hottest_C: that water may be [degC].
        first, second, finish: what is said at the step that adds the first, at the one
            that adds the second, and when all is in.
        caution: printed before the second goes in.
        note: what else a person should know of the product.
    """

    id: str
    way: Way
    products: tuple[str, ...]
    reagents: tuple[tuple[str, ...], ...]
    source: str
    confidence: Confidence
    beside: tuple[str, ...] = ()
    solids: tuple[tuple[str, str], ...] = ()
    first_C: int = 25
    hottest_C: int = 60
    first: str = ""
    second: str = ""
    finish: str = ""
    caution: str = ""
    note: str = ""
    keep_in: str = ""
    off_when: str = ""


class Chosen(Struct, frozen=True):
    """A route with the exact form of everything that takes part in it."""

    route: Route
    product: Substance
    reagents: tuple[Substance, ...]

    def equation(self, catalogue: Catalogue) -> Equation:
        """The balanced equation."""
        beside = [catalogue.substance(c) for c in self.route.beside]
        return balance(
            [_species(s) for s in self.reagents],
            [_species(s) for s in (self.product, *beside)],
        )


def routes_to(
    product: Substance, routes: Iterable[Route], catalogue: Catalogue
) -> tuple[Route, ...]:
    """The routes that make ``product`` or the same with other crystal water."""
    return tuple(
        route for route in routes if _will_do(product, route.products, catalogue)
    )


def choose(
    product: Substance,
    given: Sequence[Substance],
    jars: Collection[str],
    routes: Iterable[Route],
    catalogue: Catalogue,
) -> Chosen:
    """The route to take.

    Args:
        product: the form asked for.
        given: what it is to be made from; () leaves the choice to the cupboard.
        jars: ids of what stands in the cupboard.
        routes: all there are; the first whose chemicals stand in the cupboard is
            taken, else the first.
        catalogue: the chemicals.

    Raises:
        NoAnswer: no route makes it, or none from what is given.
    """
    known = routes_to(product, routes, catalogue)
    if not known:
        raise NoAnswer(
            f"no vetted route makes {product.name}",
            remedy="Write a recipe with [[reaction]] of your own, from a source you "
            "trust; labelkit works it out but vouches for no such route.",
        )
    if given:
        return _from_given(product, given, known, catalogue)
    cupboard = [catalogue.substance(jar) for jar in jars if jar in catalogue]
    for route in known:
        forms = [_first_of(slot, cupboard, catalogue) for slot in route.reagents]
        if all(forms):
            return Chosen(route, product, tuple(form for form in forms if form))
    usual = [
        _first_of(slot, cupboard, catalogue) or catalogue.substance(slot[0])
        for slot in known[0].reagents
    ]
    return Chosen(known[0], product, tuple(usual))


def _from_given(
    product: Substance,
    given: Sequence[Substance],
    known: Sequence[Route],
    catalogue: Catalogue,
) -> Chosen:
    for route in known:
        forms = [_first_of(slot, given, catalogue) for slot in route.reagents]
        taken = {form.id for form in forms if form}
        if all(forms) and taken == {form.id for form in given}:
            return Chosen(route, product, tuple(form for form in forms if form))
    named = " and ".join(form.id for form in given)
    offered = "; ".join(",".join(slot[0] for slot in route.reagents) for route in known)
    raise NoAnswer(
        f"no vetted route makes {product.name} from {named}",
        place="--from",
        remedy=f"Write one of: {offered}.",
    )


def _first_of(
    slot: Sequence[str], among: Iterable[Substance], catalogue: Catalogue
) -> Substance | None:
    """The first of ``among`` that will do."""
    return next((form for form in among if _will_do(form, slot, catalogue)), None)


def _will_do(form: Substance, listed: Sequence[str], catalogue: Catalogue) -> bool:
    """Whether a form is listed, or a person's own and but for its water the same."""
    if form.id in listed:
        return True
    if form.id not in catalogue.own:
        return False
    return any(_same(form, catalogue.substance(chemical)) for chemical in listed)


def _same(one: Substance, other: Substance) -> bool:
    """Whether two forms are one chemical but for their water."""
    if one.parent != other.parent or not one.formula or not other.formula:
        return False
    return _dry(one) == _dry(other)


def _dry(form: Substance) -> dict[str, float]:
    """Atoms of one mole of the parent, without those of water."""
    assert form.formula is not None
    held = composition(form.formula).atoms
    rest = {a: n / form.parent_units for a, n in held.items() if a not in ("H", "O")}
    return rest | {"dry H": _hydrogen(form.formula) / form.parent_units}


def _hydrogen(formula: str) -> int:
    """Hydrogen of the salt alone."""
    return composition(formula.partition(".")[0]).atoms.get("H", 0)


def _species(form: Substance) -> Species:
    return Species(form.id, form.formula or "")
