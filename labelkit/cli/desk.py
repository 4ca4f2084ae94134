"""Where mixing from pages is done: recipes, shelf and drafts behind `mixing.desk`.

Every question is answered from files read anew, so that a recipe edited meanwhile is
seen. Answers may be asked for from several threads: what is kept is changed by one at
a time.
"""

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from threading import Lock
from typing import Any

from msgspec.structs import asdict, replace

from labelkit.chemistry.amounts import Amount, Dimension
from labelkit.chemistry.display import plain, show_amount
from labelkit.cli.changes import Changed, changed_recipe
from labelkit.cli.desk_choices import Held, choices_for
from labelkit.cli.desk_drafts import (
    Draft,
    amount_kept,
    begun,
    edited,
    every_draft,
    forget,
    load,
    store,
    typed_as_json,
)
from labelkit.cli.desk_finish import finishing_of, outcome_of
from labelkit.cli.keeping import keep_batch
from labelkit.cli.lots import lots_from
from labelkit.cli.order import drawn_number
from labelkit.cli.printable import refuse_without_a_label, without_a_label
from labelkit.cli.workplace import Workplace
from labelkit.errors import BadInput, LabelkitError, ShelfError, Unknown
from labelkit.mixing.card_text import card_text
from labelkit.mixing.check import Check, Level
from labelkit.mixing.desk import (
    AlreadySaved,
    Finish,
    Finishing,
    HalfDone,
    PlanSheet,
    RecipeLine,
    Typed,
    Weighing,
    Wish,
)
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.head_text import facts_of, head_of
from labelkit.mixing.plan import Plan
from labelkit.mixing.readings import read_amount, with_unit
from labelkit.mixing.recipe import Recipe
from labelkit.mixing.shown import shown_quantity, shown_volume
from labelkit.mixing.weighing import SinkSide, doubtful, merged

__all__ = ["Desk"]


class Desk:
    """Mixing from pages, on a workplace; implements `mixing.desk.Desk`."""

    def __init__(self, place: Workplace) -> None:
        self._place = place
        self._one_at_a_time = Lock()
        self._held: dict[str, Held] = {}

    def recipes(self) -> Sequence[RecipeLine]:
        """Every recipe there is."""
        place = self._place.afresh()
        return tuple(_line(place, name) for name in place.book.names())

    def plan(self, wish: Wish) -> PlanSheet:
        """The wish worked out; see `mixing.desk.Desk.plan`."""
        place = self._place.afresh()
        recipe = _recipe(place, wish.recipe)
        plan, changed, handbook = _worked_out(place, recipe, wish)
        card = card_text([plan], handbook, place.settings)
        return PlanSheet(
            wish=replace(wish, recipe=recipe.name),
            usual=plain(recipe.makes.number),
            unit=_unit(recipe),
            made=shown_quantity(plan.job, place.settings),
            card=card,
            head=head_of(plan, handbook, place.settings),
            checks=(*plan.checks, *_no_label(place, plan, handbook, wish.by)),
            changes=changed.said,
            choices=choices_for(place, recipe, self._held),
            facts=facts_of(plan, handbook.catalogue, place.settings),
        )

    def begin(self, wish: Wish) -> str:
        """Begin a mix; the number its batch will have."""
        place = self._place.afresh()
        recipe = _recipe(place, wish.recipe)
        plan, changed, handbook = _worked_out(place, recipe, wish)
        refuse_without_a_label(place, plan, handbook, wish.by)
        number = drawn_number()
        data = begun(place, plan, handbook, file=recipe.document, said=changed.said)
        finish = asdict(Finish(by=wish.by))
        store(place, number, data | {"finish": finish})
        load(place, number)  # what cannot be read back is found now, not at the sink
        return number

    def half_done(self) -> Sequence[HalfDone]:
        """Mixes that were begun and not saved, the newest first."""
        place = self._place.afresh()
        drafts = every_draft(place).items()
        return tuple(_half_done(place, number, data) for number, data in drafts)

    def weighing(self, number: str) -> Weighing:
        """A mix under way."""
        place = self._place.afresh()
        return _weighing(place, load(place, number))

    def keep(self, number: str, before: Typed, now: Typed) -> Weighing:
        """Keep what was typed; see `mixing.desk.Desk.keep`."""
        place = self._place.afresh()
        with self._one_at_a_time:
            draft = load(place, number)
            typed = merged(draft.typed, before, now)
            if typed != draft.typed:
                store(place, number, draft.data | {"typed": typed_as_json(typed)})
        return _weighing(place, replace(draft, typed=typed))

    def enlarge(self, number: str, step: int) -> None:
        """Make the mix larger after too much at a step; nothing where it is not so."""
        place = self._place.afresh()
        with self._one_at_a_time:
            draft = load(place, number)
            side = _side(place, draft)
            rescue = side.rescue(step)
            if rescue is None:
                return
            times = str(draft.times * rescue.times)
            typed = typed_as_json(side.larger(rescue))
            steps = [*draft.larger_for, step]
            larger = {"times": times, "larger_for": steps, "typed": typed}
            store(place, number, draft.data | larger)

    def take_back(self, number: str) -> None:
        """Plan it as at first again; see `mixing.desk.Desk.take_back`."""
        place = self._place.afresh()
        with self._one_at_a_time:
            draft = load(place, number)
            side = _side(place, draft)
            if not side.enlarged or side.filled_up:
                return
            typed = typed_as_json(side.as_begun())
            at_first = {"times": "1", "larger_for": [], "typed": typed}
            store(place, number, draft.data | at_first)

    def finishing(self, number: str) -> Finishing:
        """A mix before it is saved, with what was said of it so far."""
        place = self._place.afresh()
        draft = load(place, number)
        return _finishing(place, draft, draft.finish)

    def keep_finish(self, number: str, finish: Finish) -> Finishing:
        """Keep what is said at the end."""
        place = self._place.afresh()
        with self._one_at_a_time:
            draft = load(place, number)
            store(place, number, draft.data | {"finish": asdict(finish)})
        return _finishing(place, draft, finish)

    def save(self, number: str, finish: Finish) -> Mapping[str, str]:
        """Put the mix on the shelf for good; faults by field where it cannot be."""
        place = self._place.afresh()
        with self._one_at_a_time:
            draft = load(place, number)
            outcome = outcome_of(place, draft, finish)
            if doubtful(_side(place, draft).rows()):
                outcome.faults[""] = "A reading is still to be looked at."
            if outcome.faults or outcome.batch is None:
                store(place, number, draft.data | {"finish": asdict(finish)})
                return outcome.faults
            try:
                keep_batch(place, outcome.batch, draft.handbook, draft=draft.name)
            except ShelfError:
                if number in place.shelf:
                    raise AlreadySaved(number) from None
                raise
        return {}

    def give_up(self, number: str) -> None:
        """Forget a mix that was begun."""
        place = self._place.afresh()
        with self._one_at_a_time:
            load(place, number)
            forget(place, number)


def _recipe(place: Workplace, name: str) -> Recipe:
    """The recipe of that name.

    Raises:
        Unknown: there is none, or it is no name.
        LabelkitError: its file has faults.
    """
    try:
        return place.book.read(name)
    except Unknown:
        raise
    except BadInput as error:
        known = (there.casefold() for there in place.book.names())
        if name.strip().casefold() in known:
            raise
        fault = error.faults[0]
        raise Unknown(fault.problem, remedy=fault.remedy) from None


def _worked_out(
    place: Workplace, recipe: Recipe, wish: Wish
) -> tuple[Plan, Changed, Handbook]:
    make = _make(wish.make, recipe)
    swaps = tuple(f"{out}={into}" for out, into in wish.swap.items())
    stocks = tuple(f"{name}={batch}" for name, batch in wish.stock.items())
    changed = changed_recipe(place, recipe, make, swaps, stocks)
    words = tuple(f"{c}={with_unit(lot, '%')}" for c, lot in wish.lot.items())
    lots = lots_from(words, place.catalogue)
    plan = place.plan(changed.recipe, make, lots, stocks=changed.stocks)
    handbook = place.handbook(changed.recipe, lots)
    return changed.added_to(plan), changed, handbook


def _no_label(
    place: Workplace, plan: Plan, handbook: Handbook, by: str
) -> Iterator[Check]:
    """That a mix of this cannot be begun, where its label could not be printed."""
    for fault in without_a_label(place, plan, handbook, by, said="Who mixes"):
        text = f"It cannot be begun: its label could not be printed. {fault}"
        yield Check("label", Level.WARN, None, text)


def _make(word: str, recipe: Recipe) -> Amount | None:
    """The quantity; a bare number is in mL, or in g where it is made by mass."""
    if not word:
        return None
    try:
        return read_amount(word, f"1 {_unit(recipe)}")
    except BadInput as error:
        raise error.at("--make") from None


def _unit(recipe: Recipe) -> str:
    return "mL" if recipe.makes.dimension is Dimension.VOLUME else "g"


def _line(place: Workplace, name: str) -> RecipeLine:
    try:
        recipe = place.book.read(name)
    except ShelfError:
        raise
    except LabelkitError:
        return RecipeLine(name, "")
    return RecipeLine(name, recipe.title, recipe.part, recipe.makes.written)


def _half_done(place: Workplace, number: str, data: Mapping[str, Any]) -> HalfDone:
    typed = data.get("typed", {})
    said = {int(step) for step in typed.get("read", {})} | set(typed.get("ticked", ()))
    return HalfDone(
        number,
        data["title"],
        data["part"],
        _shown(amount_kept(data), place),
        datetime.fromisoformat(data["begun"]),
        data["finish"]["by"],
        max(said, default=0),
        data["steps"],
    )


def _shown(amount: Amount, place: Workplace) -> str:
    if amount.dimension is Dimension.VOLUME:
        return shown_volume(amount.number, place.settings)
    return show_amount(amount)


def _weighing(place: Workplace, draft: Draft) -> Weighing:
    plan = draft.planned
    side = _side(place, draft)
    rows = side.rows()
    at_first = _shown(amount_kept(draft.data | {"times": "1"}), place)
    return Weighing(
        number=draft.number,
        recipe=plan.recipe.name,
        title=plan.recipe.title,
        part=plan.part,
        made=shown_quantity(plan.job, place.settings),
        begun=draft.begun,
        by=draft.finish.by,
        head=head_of(plan, draft.handbook, place.settings),
        checks=plan.checks,
        changes=tuple(draft.data["said"]),
        rows=rows,
        typed=draft.typed,
        ready=not doubtful(rows),
        larger=side.enlarged,
        edited=edited(place, draft),
        larger_for=draft.larger_for,
        at_first=at_first if side.enlarged and not side.filled_up else "",
    )


def _side(place: Workplace, draft: Draft) -> SinkSide:
    catalogue = draft.handbook.catalogue
    return SinkSide(
        draft.planned, draft.typed, catalogue, place.settings, draft.times != 1
    )


def _finishing(place: Workplace, draft: Draft, finish: Finish) -> Finishing:
    outcome = outcome_of(place, draft, finish)
    return finishing_of(place, draft, finish, outcome)
