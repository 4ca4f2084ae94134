"""What else a recipe could be mixed from: other forms, and bottles on the shelf."""

from collections.abc import Iterable, Iterator

from msgspec import Struct

from labelkit.chemistry.display import figures
from labelkit.chemistry.substances import Substance
from labelkit.cli.pouring import bottle_from
from labelkit.cli.workplace import Workplace
from labelkit.errors import LabelkitError
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.desk import Choice, Option
from labelkit.mixing.doses import WATER
from labelkit.mixing.dosing import dosed
from labelkit.mixing.ports import Record
from labelkit.mixing.recipe import Recipe
from labelkit.mixing.said import NBSP
from labelkit.mixing.swapping import swapped

__all__ = ["Held", "choices_for"]


class Held(Struct, frozen=True):
    """What a batch is made to be dosed as; it never changes.

    Attributes:
        of: the chemical its strength is told of; "" for none.
        told: the strength as its label says it.
        mark: who may use it, as its label says it; "" for nothing said.
    """

    of: str
    told: str
    mark: str = ""


class _OnTheShelf(Struct, frozen=True):
    """A bottle that stands there.

    Attributes:
        named: ``NUMBER``, or ``NUMBER/2`` where the batch had several.
        held: what is in it.
    """

    named: str
    recipe: str
    title: str
    date: str
    past: bool
    held: Held

    def option(self) -> Option:
        """The bottle as something to take."""
        date = self.date.replace("T", " ")
        until = f"discard after {date}" if date else "no discard date known"
        told = ", ".join(part for part in (self.held.told, until) if part)
        text = f"{self.title} {self.named}"
        return Option(self.named, text, told, self.past, self.held.mark)


def choices_for(
    place: Workplace, recipe: Recipe, known: dict[str, Held]
) -> tuple[Choice, ...]:
    """For everything a recipe takes but water: what else it could be taken from.

    Args:
        place: for the chemicals and the shelf.
        recipe: as read.
        known: what batches hold, by number; those looked up are added.
    """
    catalogue = place.catalogue.with_own(recipe.own_chemicals)
    standing = list(_standing(place, known))
    added = dict.fromkeys(s.add for s in recipe.steps if s.add and s.add != WATER)
    return tuple(
        _poured(place, name.removeprefix("recipe:"), standing)
        if name.startswith("recipe:")
        else _weighed(place, recipe, catalogue.substance(name), catalogue, standing)
        for name in added
    )


def _poured(place: Workplace, name: str, standing: Iterable[_OnTheShelf]) -> Choice:
    bottles = tuple(one.option() for one in standing if one.recipe == name)
    title = _title(place, name)
    return Choice(name, title, poured=True, bottles=bottles)


def _weighed(
    place: Workplace,
    recipe: Recipe,
    wanted: Substance,
    catalogue: Catalogue,
    standing: Iterable[_OnTheShelf],
) -> Choice:
    forms = _forms(place, recipe, wanted, catalogue)
    bottles = _bottles(place, recipe, wanted, catalogue, standing)
    name = f"{wanted.name[:1].upper()}{wanted.name[1:]}"
    return Choice(wanted.id, name, False, tuple(forms), tuple(bottles))


def _forms(
    place: Workplace, recipe: Recipe, wanted: Substance, catalogue: Catalogue
) -> Iterator[Option]:
    """The forms that may stand in for it, with what each gram of it takes."""
    exchange = place.exchange
    for form in catalogue.substances:
        kin = form.parent == wanted.parent or exchange.family_of(
            form.parent, wanted.parent
        )
        if form.id == wanted.id or not kin:
            continue
        try:
            _, swap = swapped(recipe, wanted, form, catalogue, exchange)
        except LabelkitError:
            continue
        yield Option(form.id, form.name, f"{figures(swap.factor, 4)} g for each gram")


def _bottles(
    place: Workplace,
    recipe: Recipe,
    wanted: Substance,
    catalogue: Catalogue,
    standing: Iterable[_OnTheShelf],
) -> Iterator[Option]:
    """The bottles made to dose it from, strong enough for the recipe."""
    for one in standing:
        if one.recipe == recipe.name:
            continue
        of = catalogue.entries.get(one.held.of)
        if of is None or of.substance.parent != wanted.parent:
            continue
        try:
            bottle = bottle_from(one.named, place)
            with_its = catalogue.with_own(
                e for e in bottle.chemicals if e.substance.id not in catalogue
            )
            dosed(recipe, wanted, bottle.stock, with_its)
        except LabelkitError:
            continue
        yield one.option()


def _standing(place: Workplace, known: dict[str, Held]) -> Iterator[_OnTheShelf]:
    """Every bottle that stands on the shelf, newest batch first."""
    past = {(b.number, b.bottle) for b in place.shelf.due(place.now)}
    for b in place.shelf.standing():
        named = b.number if b.bottles == 1 else f"{b.number}/{b.bottle}"
        gone_off = (b.number, b.bottle) in past
        if b.number not in known:
            known[b.number] = _held(place.shelf.get(b.number))
        yield _OnTheShelf(
            named,
            b.recipe,
            b.title,
            b.discard_after or "",
            gone_off,
            known[b.number],
        )


def _held(record: Record) -> Held:
    """What a batch holds; the headline's words where it has no strength in figures."""
    strength = (record.data.get("answer") or {}).get("strength") or {}
    page = (record.data.get("words") or {}).get("page") or {}
    told = page.get("strength") or [(page.get("headline") or {}).get("text", "")]
    return Held(
        str(strength.get("of", "")),
        str(told[0]).replace(NBSP, " "),
        str(page.get("use_mark") or ""),
    )


def _title(place: Workplace, name: str) -> str:
    try:
        recipe = place.book.read(name)
    except LabelkitError:
        return name
    return f"{recipe.title} {recipe.part}".strip()
