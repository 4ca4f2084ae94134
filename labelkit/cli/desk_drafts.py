"""A mix that was begun from a page, as it is kept until it is saved.

It keeps the recipe as it was changed and the assays of the jars, so that it goes on as
it was begun, whatever becomes of the files meanwhile.
"""

from collections.abc import Mapping, Sequence
from datetime import datetime
from decimal import Decimal
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from labelkit.chemistry.amounts import Amount, Dimension
from labelkit.cli.changes import Changed, changed_recipe
from labelkit.cli.workplace import Workplace
from labelkit.errors import LabelkitError, Unknown
from labelkit.mixing.desk import AlreadySaved, Finish, Typed
from labelkit.mixing.doses import WATER, Stock
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.ledger import Ledger
from labelkit.mixing.overshoot import scaled_job
from labelkit.mixing.plain import from_plain, to_plain
from labelkit.mixing.plan import Plan
from labelkit.mixing.working import plan_recipe, work_out

__all__ = [
    "Draft",
    "amount_kept",
    "begun",
    "edited",
    "every_draft",
    "forget",
    "load",
    "store",
    "typed_as_json",
]

KEPT_AS = "phone:"  # a colon is in no recipe's name


class Draft(Struct, frozen=True):
    """A mix under way, worked out as it stands.

    Attributes:
        data: as it is kept.
        planned: what is planned now, larger than at first after an overshoot.
    """

    number: str
    data: dict[str, Any]
    changed: Changed
    planned: Plan
    handbook: Handbook
    typed: Typed
    finish: Finish

    @property
    def name(self) -> str:
        """Under which it is kept."""
        return KEPT_AS + self.number

    @property
    def times(self) -> Decimal:
        """How much larger it has become."""
        return Decimal(self.data["times"])

    @property
    def larger_for(self) -> tuple[int, ...]:
        """The steps where too much went in, each of which made it larger."""
        return tuple(self.data.get("larger_for", ()))

    @property
    def begun(self) -> datetime:
        """When it was begun."""
        return datetime.fromisoformat(self.data["begun"])


def begun(
    place: Workplace, plan: Plan, handbook: Handbook, *, file: str, said: Sequence[str]
) -> dict[str, Any]:
    """What is kept of a mix that begins.

    Args:
        place: where it begins.
        plan: for the quantity asked for, of the recipe as it was changed.
        handbook: what was looked up.
        file: the text of the recipe's file.
        said: what was changed.
    """
    from labelkit.files.chemicals import entry_as_table

    recipe = plan.recipe
    used = [c for c in plan.solution.ledger.lines if c != WATER]
    assays = {c: a for c, a in handbook.assays.items() if c in used}
    return {
        "begun": place.now.isoformat(),
        "title": recipe.title,
        "part": recipe.part,
        "steps": len(recipe.steps),
        "recipe": {
            "name": recipe.name,
            "document": recipe.document,
            "choices": dict(place.choices),
        },
        "chemicals": to_plain([entry_as_table(handbook.catalogue[c]) for c in used]),
        "assays": to_plain(assays),
        "make": to_plain(plan.job.make),
        "stocks": {n: _bottle(s) for n, s in plan.job.stocks.items() if s.batch},
        "planned_stocks": {
            n: _as_planned(s) for n, s in plan.job.stocks.items() if not s.batch
        },
        "file": file,
        "said": list(said),
        "times": "1",
    }


def amount_kept(data: Mapping[str, Any]) -> Amount:
    """How much is made, with what was made larger."""
    make = data["make"]
    number = Decimal(make["number"]) * Decimal(data["times"])
    return Amount(number, Dimension(make["dimension"]), make["written"])


def load(place: Workplace, number: str) -> Draft:
    """The mix of that number as it stands.

    Raises:
        AlreadySaved: it is on the shelf.
        Unknown: it never was, or was given up.
        LabelkitError: it cannot be worked out any more; the fault says why.
    """
    data = place.shelf.draft(KEPT_AS + number)
    if data is None:
        if number in place.shelf:
            raise AlreadySaved(number)
        raise Unknown(
            f"no mix {number} is under way",
            remedy="It was given up, or never begun here.",
        )
    return _worked_out(place, number, data)


def every_draft(place: Workplace) -> dict[str, dict[str, Any]]:
    """Every mix under way as it is kept, by number, the newest first."""
    shelf = place.shelf
    names = [name for name in shelf.drafts() if name.startswith(KEPT_AS)]
    kept = {name.removeprefix(KEPT_AS): shelf.draft(name) for name in names}
    there = [(number, data) for number, data in kept.items() if data]
    return dict(sorted(there, key=lambda item: str(item[1]["begun"]), reverse=True))


def store(place: Workplace, number: str, data: Mapping[str, Any]) -> None:
    """Keep a mix under way as ``data``, instead of what was kept."""
    place.shelf.save_draft(KEPT_AS + number, data)


def forget(place: Workplace, number: str) -> None:
    """Keep it no longer."""
    place.shelf.drop_draft(KEPT_AS + number)


def _worked_out(place: Workplace, number: str, data: dict[str, Any]) -> Draft:
    place.choices |= data["recipe"]["choices"]
    recipe = place.recipe_as_kept(data, f"mix {number}")
    make = amount_kept(data | {"times": "1"})
    words = tuple(f"{name}={batch}" for name, batch in data["stocks"].items())
    changed = changed_recipe(place, recipe, make, (), words)
    planned_only = {
        name: _planned_stock(stock) for name, stock in data["planned_stocks"].items()
    }
    assays = {c: Decimal(assay) for c, assay in data["assays"].items()}
    handbook = replace(place.handbook(changed.recipe), assays=assays)
    planned = plan_recipe(
        changed.recipe,
        make,
        handbook,
        place.settings,
        on=place.now,
        stocks={**planned_only, **changed.stocks},
    )
    times = Decimal(data["times"])
    if times != 1:
        job = scaled_job(planned.job, times)
        planned = work_out(job, handbook, place.settings)
    return Draft(
        number,
        data,
        changed,
        changed.added_to(planned),
        handbook,
        _typed(data.get("typed", {})),
        from_plain(Finish, data.get("finish", {})),
    )


def _as_planned(stock: Stock) -> dict[str, Any]:
    """A stock that nobody has mixed yet: it has no bottle and no date."""
    return {
        "name": stock.name,
        "title": stock.title,
        "ledger": to_plain(stock.ledger),
        "volume_mL": to_plain(stock.volume_mL),
        "part": stock.part,
    }


def _planned_stock(kept: Mapping[str, Any]) -> Stock:
    """The stock that `_as_planned` kept."""
    ledger, volume_mL = from_plain(Ledger, kept["ledger"]), Decimal(kept["volume_mL"])
    return Stock(kept["name"], kept["title"], ledger, volume_mL, part=kept["part"])


def edited(place: Workplace, draft: Draft) -> bool:
    """Whether the file of its recipe is not as it was when the mix was begun."""
    try:
        now = place.book.read(draft.planned.recipe.name)
    except LabelkitError:
        return True
    return bool(now.document != draft.data["file"])


def _bottle(stock: Stock) -> str:
    return f"{stock.batch}/{stock.bottle}" if stock.bottle else stock.batch


def _typed(data: Mapping[str, Any]) -> Typed:
    """What was typed; JSON has made words of the step numbers."""
    by_step = {
        name: {int(step): str(word) for step, word in data.get(name, {}).items()}
        for name in ("read", "more", "sure", "due", "was")
    }
    return Typed(**by_step, ticked=frozenset(data.get("ticked", ())))


def typed_as_json(typed: Typed) -> dict[str, Any]:
    """What was typed, as it is kept."""
    return {
        "read": dict(typed.read),
        "more": dict(typed.more),
        "sure": dict(typed.sure),
        "due": dict(typed.due),
        "was": dict(typed.was),
        "ticked": sorted(typed.ticked),
    }
