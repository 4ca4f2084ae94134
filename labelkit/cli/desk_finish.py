"""The end of a mix from a page: what is said there, read, and the batch it makes."""

from collections.abc import Callable
from decimal import Decimal
from typing import TypeVar

from msgspec import Struct, field

from labelkit.chemistry.amounts import Amount, parse_density
from labelkit.cli.desk_drafts import Draft
from labelkit.cli.params import parse_ph
from labelkit.cli.printable import unprintable
from labelkit.cli.workplace import Workplace
from labelkit.errors import BadInput, LabelkitError
from labelkit.mixing.batch import USE_MARKS, Batch, as_read, bottles_from
from labelkit.mixing.check import Check, Level
from labelkit.mixing.desk import Finish, Finishing
from labelkit.mixing.page_text import page_text_for
from labelkit.mixing.plan import Plan
from labelkit.mixing.readings import needs_density, needs_ph, read_amount, with_unit
from labelkit.mixing.shown import shown_quantity
from labelkit.mixing.weighing import SinkSide
from labelkit.mixing.working import work_out

__all__ = ["Outcome", "finishing_of", "outcome_of"]

T = TypeVar("T")
LONGEST_NAME = 80


class Outcome(Struct):
    """What comes of a mix as it stands.

    Attributes:
        plan: worked out from what was read; None where a fault forbids it.
        batch: as it would be saved; None with any fault.
        faults: by field, as in `Finishing`.
    """

    plan: Plan | None = None
    batch: Batch | None = None
    faults: dict[str, str] = field(default_factory=dict)

    def read(self, name: str, word: str, reader: Callable[[str], T]) -> T | None:
        """What a field says; None where it is empty or cannot be read."""
        if not word:
            return None
        try:
            return reader(word)
        except LabelkitError as error:
            self.fault(name, error)
            return None

    def fault(self, name: str, error: LabelkitError) -> None:
        """Tell what is wrong with a field."""
        told = (f"{f.problem}. {f.remedy}".strip() for f in error.faults)
        self.faults[name] = " ".join(told)


def outcome_of(place: Workplace, draft: Draft, finish: Finish) -> Outcome:
    """The batch as it would be saved now, or what keeps it from that.

    A deadly remark that is not acknowledged is a fault of its own field.
    """
    found = Outcome()
    made = shown_quantity(draft.planned.job, place.settings)
    made_up_to = found.read(
        "made_up_to", finish.made_up_to, lambda word: read_amount(word, made)
    )
    ph = found.read("ph", finish.ph, parse_ph)
    density = found.read("density", finish.density, _density)
    found.plan = _plan(place, draft, found, made_up_to, ph, density)
    if finish.use and finish.use not in USE_MARKS:
        found.faults["use"] = f"Choose one of: {', '.join(USE_MARKS)}."
    if len(finish.by) > LONGEST_NAME:
        found.faults["by"] = f"A name has at most {LONGEST_NAME} characters."
    for fault in unprintable([("by", finish.by)]):
        found.faults["by"] = f"{fault.problem}. {fault.remedy}"
    if found.plan is None:
        return found
    bottles = _bottles(found, found.plan, finish.into)
    seen = tuple(dict.fromkeys(c.code for c in stops_of(found.plan)))
    for code in seen:
        if finish.seen.get(code, "").strip().lower() != code:
            found.faults[f"seen-{code}"] = f"Type the word {code} to say that you know."
    found.batch = Batch(
        draft.number,
        draft.planned.job.doses,
        found.plan,
        finish.by,
        bottles,
        seen,
        finish.use if finish.use in USE_MARKS else "",
    )
    return found


def finishing_of(
    place: Workplace, draft: Draft, finish: Finish, outcome: Outcome
) -> Finishing:
    """The last page before it is saved; the acknowledged faults are told, too."""
    plan, planned = outcome.plan or draft.planned, draft.planned
    made, page = shown_quantity(planned.job, place.settings), None
    if outcome.batch is not None:
        page = page_text_for(outcome.batch, draft.handbook, place.settings)
    return Finishing(
        number=draft.number,
        recipe=planned.recipe.name,
        title=planned.recipe.title,
        part=planned.part,
        made=made,
        unit=made.split()[-1],
        outcome=page,
        asks_ph=bool(finish.ph) or needs_ph(plan),
        ph_matters=plan.hazard.assumed_corrosive,
        asks_density=bool(finish.density) or needs_density(plan),
        stops=stops_of(plan),
        checks=tuple(c for c in plan.checks if c.level is not Level.STOP),
        typed=finish,
        faults=outcome.faults,
    )


def stops_of(plan: Plan) -> tuple[Check, ...]:
    """The deadly remarks."""
    return tuple(check for check in plan.checks if check.level is Level.STOP)


def _plan(
    place: Workplace,
    draft: Draft,
    found: Outcome,
    made: Amount | None,
    ph: Decimal | None,
    density: Decimal | None,
) -> Plan | None:
    side = SinkSide(
        draft.planned, draft.typed, draft.handbook.catalogue, place.settings
    )
    readings = side.readings()
    try:
        job = as_read(draft.planned.job, readings, ph=ph, density=density)
    except BadInput as error:
        found.fault("", error)
        return None
    try:
        if made is not None:
            job = as_read(
                draft.planned.job, readings, made_up_to=made, ph=ph, density=density
            )
        plan = work_out(job, draft.handbook, place.settings)
    except BadInput as error:
        at = "made_up_to" if error.faults[0].place == "--made-up-to" else ""
        found.fault(at, error)
        return None
    return draft.changed.added_to(plan)


def _bottles(found: Outcome, plan: Plan, into: str) -> tuple[Decimal, ...]:
    """The bottles as said; one for all of it where that cannot be read."""
    unit = "mL" if plan.job.volume_mL is not None else "g"
    words = ",".join(_with_unit(piece, unit) for piece in into.split(","))
    bottles = found.read("into", into and words, lambda w: bottles_from(w, plan))
    return bottles or bottles_from(None, plan)


def _with_unit(piece: str, unit: str) -> str:
    """``2x250`` as ``2x250 mL``."""
    count, times, size = piece.lower().replace("×", "x").rpartition("x")
    whole = with_unit(size, unit)
    return f"{count}{times}{whole}" if whole != size else piece


def _density(word: str) -> Decimal:
    return parse_density(with_unit(word, "g/mL"))
