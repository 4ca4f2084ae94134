"""The same chemistry in another form: hydrates, solutions, salts mole for mole."""

from collections.abc import Iterable
from decimal import Decimal

from msgspec import Struct

from labelkit.chemistry.crystal_water import WATER_G_PER_MOL, crystal_water_share
from labelkit.chemistry.substances import Confidence, State, Substance
from labelkit.errors import NoAnswer
from labelkit.mixing.naming import fold, grams_per_mole

__all__ = [
    "Conversion",
    "Exchange",
    "Family",
    "FormNote",
    "Member",
    "NoNumber",
    "convert",
    "pours",
]

NOTHING = Decimal(0)


class Member(Struct, frozen=True):
    """A parent that belongs to a family.

    Attributes:
        units: how many of what the family counts are in one mole of the parent.
        water_mol: taken up by one mole of the parent as it dissolves [mol].
        brings: what else changes where it takes another's place.
    """

    parent: str
    units: int = 1
    water_mol: int = 0
    brings: str = ""


class Family(Struct, frozen=True):
    """Parents that a published table lets stand in for one another, by mole.

    Attributes:
        counts: what is counted: ``hydroxide``, ``bromide``.
    """

    id: str
    counts: str
    members: tuple[Member, ...]
    source: str
    confidence: Confidence

    def member(self, parent: str) -> Member | None:
        """The member with that parent, or None."""
        return next((m for m in self.members if m.parent == parent), None)


class FormNote(Struct, frozen=True):
    """What is said where two forms share a parent and are yet not the same thing.

    Attributes:
        forms: one side, by id.
        others: the other side, by id; () for every other form of the parent.
        swaps: whether one may simply take the other's place in a recipe.
        instead: what to do where it may not.
    """

    forms: frozenset[str]
    others: frozenset[str]
    says: str
    source: str
    swaps: bool = True
    instead: str = ""

    def speaks_of(self, one: str, other: str) -> bool:
        """Whether the two ids stand on its two sides."""
        return (one in self.forms and other in self.others) or (
            other in self.forms and one in self.others
        )


class NoNumber(Struct, frozen=True):
    """Things between which there is no honest number, and what to do instead.

    Attributes:
        names: words for things that are in no catalogue, as they are compared.
        parents: chemicals it speaks of, by parent.
        tags: chemicals it speaks of, by tag; only where their parents differ.
        alone: one such thing is enough, whatever the other is.
    """

    id: str
    why: str
    instead: str
    source: str
    names: frozenset[str] = frozenset()
    parents: frozenset[str] = frozenset()
    tags: frozenset[str] = frozenset()
    alone: bool = False

    def speaks_of(self, one: Substance | str, other: Substance | str) -> bool:
        """Whether it forbids a number between two chemicals, or words for things."""
        sides = (self._holds(one), self._holds(other))
        if not (any(sides) if self.alone else all(sides)):
            return False
        if isinstance(one, str) or isinstance(other, str):
            return True
        return one.parent != other.parent if self.tags else one.id != other.id

    def _holds(self, thing: Substance | str) -> bool:
        if isinstance(thing, str):
            return fold(thing) in self.names
        return thing.parent in self.parents or bool(thing.tags & self.tags)

    def refusal(self) -> NoAnswer:
        """The answer no, with its reason and what a person can do instead."""
        return NoAnswer(f"no honest number: {self.why}", remedy=self.instead)


class Exchange(Struct, frozen=True):
    """What may stand in for what, and what may not."""

    families: tuple[Family, ...] = ()
    notes: tuple[FormNote, ...] = ()
    no_numbers: tuple[NoNumber, ...] = ()

    def family_of(self, one: str, other: str) -> Family | None:
        """The family both parents belong to, or None."""
        return next(
            (f for f in self.families if f.member(one) and f.member(other)), None
        )

    def note_on(self, one: str, other: str) -> FormNote | None:
        """What is said between two forms of one parent, or None."""
        return next((n for n in self.notes if n.speaks_of(one, other)), None)

    def refuse_the_dishonest(
        self, one: Substance | str, other: Substance | str
    ) -> None:
        """Refuse where no honest number exists between two things.

        Raises:
            NoAnswer: there is none; the remedy says what to do instead.
        """
        for entry in self.no_numbers:
            if entry.speaks_of(one, other):
                raise entry.refusal()

    def names_no_chemical(self, word: str) -> bool:
        """Whether a word stands for something that has no honest number."""
        return any(fold(word) in entry.names for entry in self.no_numbers)


class Conversion(Struct, frozen=True):
    """One form in place of another.

    Attributes:
        g_from, g_to: of each, as it stands in the jar [g].
        mL_from, mL_to: of what is poured [mL]; None for a solid, or without density.
        factor: grams of the second for one gram of the first.
        water_g: that the second brings, less what the first would have brought [g].
        changes: what else is not the same, each a sentence.
        source: of the pair, where the parents differ; else "".
    """

    source_form: Substance
    target_form: Substance
    g_from: Decimal
    g_to: Decimal
    mL_from: Decimal | None
    mL_to: Decimal | None
    factor: Decimal
    water_g: Decimal
    changes: tuple[str, ...] = ()
    source: str = ""


def convert(
    source: Substance, target: Substance, mass_g: Decimal, exchange: Exchange
) -> Conversion:
    """The mass of ``target`` that does the work of ``mass_g`` [g] of ``source``.

    Forms of one parent are exchanged by its moles, forms of different parents only
    where a published family holds both.

    Raises:
        NoAnswer: there is no honest number between the two.
    """
    exchange.refuse_the_dishonest(source, target)
    family = None
    if source.parent != target.parent:
        family = exchange.family_of(source.parent, target.parent)
        if family is None:
            raise _other_chemical(source, target)
    factor = _factor(source, target, family)
    water_each = _water_in(target, family) * factor - _water_in(source, family)
    g_to = mass_g * factor
    return Conversion(
        source,
        target,
        mass_g,
        g_to,
        pours(source, mass_g),
        pours(target, g_to),
        factor,
        water_each * mass_g,
        tuple(_changes(source, target, family, exchange)),
        family.source if family else "",
    )


def pours(form: Substance, mass_g: Decimal) -> Decimal | None:
    """Millilitres of a liquid of known density [mL]; None for anything else."""
    if form.state is State.SOLID or form.density is None:
        return None
    return mass_g / form.density.value


def _factor(source: Substance, target: Substance, family: Family | None) -> Decimal:
    if source.id == target.id:
        return Decimal(1)
    grams = [_grams_per_unit(form, family) for form in (source, target)]
    from_g, to_g = grams
    if from_g is None or to_g is None:
        vague = source if from_g is None else target
        raise NoAnswer(
            f"{vague.name} has no fixed formula, so nothing can be counted in it",
            remedy="Keep to the form the recipe names, or test the other one.",
        )
    return to_g / from_g


def _grams_per_unit(form: Substance, family: Family | None) -> Decimal | None:
    grams = grams_per_mole(form)
    member = family.member(form.parent) if family else None
    return grams / member.units if grams and member else grams


def _water_in(form: Substance, family: Family | None) -> Decimal:
    """Grams of water in one gram of the form, less what its dissolving takes up."""
    share = form.solute_share
    poured = NOTHING if form.state is State.SOLID else 1 - share
    member = family.member(form.parent) if family else None
    taken = NOTHING
    if member and member.water_mol and form.molar_mass:
        moles = share * form.parent_units / form.molar_mass
        taken = member.water_mol * WATER_G_PER_MOL * moles
    return poured + share * crystal_water_share(form) - taken


def _changes(
    source: Substance, target: Substance, family: Family | None, exchange: Exchange
) -> Iterable[str]:
    if source.id == target.id:
        return
    member = family.member(target.parent) if family else None
    if member and member.brings:
        yield member.brings
    note = exchange.note_on(source.id, target.id)
    if note:
        yield note.says
    if target.assay_advice:
        yield f"The jar: {target.assay_advice}."


def _other_chemical(source: Substance, target: Substance) -> NoAnswer:
    return NoAnswer(
        f"{source.name} and {target.name} are different chemicals, and no published "
        f"pair lets one stand in for the other",
        remedy=f"Look for a formula written for {target.name}; "
        f"'labelkit prepare {target.id}' says whether a route makes it.",
    )
