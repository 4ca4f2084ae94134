"""``mix`` at a terminal: step by step, with wet gloves, nothing asked twice."""

from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Any

import click
from msgspec import Struct, field
from msgspec.structs import replace

from labelkit.chemistry.amounts import Amount, Dimension, parse_amount
from labelkit.chemistry.display import show_amount
from labelkit.cli.order import MixOrder, as_it_was_read, batch_of
from labelkit.cli.printable import unprintable
from labelkit.cli.prompting import (
    BACK,
    ask_amount,
    ask_density,
    ask_ph,
    ask_reading,
    typed,
)
from labelkit.cli.workplace import Workplace
from labelkit.errors import BadInput
from labelkit.mixing.batch import Batch, bottles_from, readings_from, unacknowledged
from labelkit.mixing.doses import Dose
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.overshoot import FAR_OFF, off_by, rescue_for, scaled_job
from labelkit.mixing.plan import Plan
from labelkit.mixing.readings import added_up, needs_density, needs_ph
from labelkit.mixing.rescue_text import offer_words
from labelkit.mixing.said import NBSP
from labelkit.mixing.shown import shown_dose
from labelkit.mixing.steps_text import step_rows
from labelkit.mixing.words import CardRow
from labelkit.mixing.working import work_out

__all__ = ["at_the_sink"]

INDENT = "     "


class _Mix(Struct):
    """A mix under way.

    Attributes:
        planned: as it is planned now, larger than at first after an overshoot.
        readings: by step number.
        make: how much was asked for at first.
        at: how many steps are done.
        times: how much larger it has become.
    """

    place: Workplace
    handbook: Handbook
    planned: Plan
    make: str
    readings: dict[int, Amount] = field(default_factory=dict)
    at: int = 0
    times: Decimal = Decimal(1)

    @property
    def rows(self) -> tuple[CardRow, ...]:
        """The steps, with what is planned for them now."""
        settings = self.place.settings
        return step_rows([self.planned], self.handbook.catalogue, settings)

    def dose(self, step: int) -> Dose | None:
        """What a step takes, as planned now."""
        return next((d for d in self.planned.job.doses if d.step == step), None)

    def inside(self) -> Iterator[Dose]:
        """What is in already, as it was read or else planned."""
        for row in self.rows[: self.at]:
            dose = self.dose(row.number)
            if dose is not None:
                read = self.readings.get(row.number)
                yield dose.read_as(read) if read else dose

    def enlarge(self, times: Decimal) -> None:
        """Plan everything again for ``times`` as much."""
        job = scaled_job(self.planned.job, times)
        self.planned = work_out(job, self.handbook, self.place.settings)
        self.times *= times

    def save(self) -> None:
        """Keep how far it has come, so that it goes on there if it is broken off."""
        recipe = self.planned.recipe
        draft = {
            "recipe": recipe.document,
            "make": self.make,
            "times": str(self.times),
            "at": self.at,
            "read": {str(step): read.written for step, read in self.readings.items()},
        }
        self.place.shelf.save_draft(recipe.name, draft)


def at_the_sink(
    place: Workplace, planned: Plan, handbook: Handbook, order: MixOrder
) -> Batch:
    """Go through the steps with the person who mixes, and ask for what is missing.

    Every answer is kept at once, so that a broken-off mix goes on where it stopped.
    """
    readings = readings_from(planned.job, order.weighed, handbook.catalogue)
    mix = _Mix(place, handbook, planned, str(planned.job.make.number), readings)
    _resume(mix)
    click.echo(f"\n{planned.recipe.title}. Enter: as planned. {BACK}: back one step.\n")
    while mix.at < len(mix.rows):
        _step(mix)
    order = _finished(mix.planned, order)
    plan = as_it_was_read(mix.planned, order, mix.readings, handbook, place.settings)
    order = _more_measured(plan, order)
    plan = as_it_was_read(mix.planned, order, mix.readings, handbook, place.settings)
    seen = _acknowledge(plan, order.acknowledge)
    return batch_of(mix.planned, plan, _bottled(plan, order), seen)


def _step(mix: _Mix) -> None:
    row = mix.rows[mix.at]
    dose = mix.dose(row.number)
    _say(row, dose)
    if dose is None:
        answer: Amount | str = typed(f"{INDENT}done").lower()
    else:
        answer = ask_reading(dose, _expected(mix, dose))
    if answer == BACK:
        mix.at = max(mix.at - 1, 0)
        return
    if isinstance(answer, Amount):
        mix.readings[row.number] = answer
    mix.at += 1
    mix.save()
    if dose is not None and isinstance(answer, Amount):
        _after_too_much(mix, dose, answer)


def _say(row: CardRow, dose: Dose | None) -> None:
    if row.caution:
        click.secho(f"  STOP  {row.caution}", bold=True)
    what = "".join(run.text for run in row.what)
    amounts = " ".join(amount.text for amount in row.amounts) if dose is None else ""
    where = f" (in the {row.vessel})" if row.vessel else ""
    told = f"{row.number:>3}  {what} {amounts}".rstrip() + where
    click.echo(f"{told}  {row.detail}".rstrip().replace(NBSP, " "))


def _expected(mix: _Mix, dose: Dose) -> str:
    """What was read already, else what is planned."""
    read = mix.readings.get(dose.step)
    return show_amount(read) if read else shown_dose(dose, mix.place.settings)


def _after_too_much(mix: _Mix, dose: Dose, read: Amount) -> None:
    """Offer what keeps the strength after far too much went in."""
    off = off_by(read, dose)
    if off is None or off <= FAR_OFF:
        return
    job = mix.planned.job
    done = [inside for inside in mix.inside() if inside.step != dose.step]
    rescue = rescue_for(job, dose.read_as(read), done)
    if rescue is None:
        return
    inside = {dose.step for dose in mix.inside()}
    offer = offer_words(rescue, mix.rows, inside, mix.place.settings)
    click.echo(f"{INDENT}{offer}")
    if click.confirm(f"{INDENT}Go on like that?", default=True):
        mix.enlarge(rescue.times)
        mix.save()
        for more in rescue.more:
            _add_more(mix, more)


def _add_more(mix: _Mix, more: Dose) -> None:
    """Take what a step that is done already is given on top."""
    row = next(row for row in mix.rows if row.number == more.step)
    _say(row, more)
    answer = ask_reading(more, shown_dose(more, mix.place.settings), "read, more")
    before = mix.readings.get(more.step)
    if isinstance(answer, Amount) and before and answer.dimension is before.dimension:
        mix.readings[more.step] = added_up(before, answer)
    else:
        mix.readings.pop(more.step, None)  # not read in full: as it is planned now
    mix.save()


def _finished(planned: Plan, order: MixOrder) -> MixOrder:
    """What is asked at the end, where no option said it already."""
    if order.made_up_to is None:
        made = planned.job.make
        if planned.job.volume_mL is not None and not planned.job.by_mass:
            made = Amount(planned.job.volume_mL, Dimension.VOLUME)
        told = ask_amount("Made up to", show_amount(made))
        order = replace(order, made_up_to=told)
    if not order.by:
        order = replace(order, by=_who())
    return order


def _who() -> str:
    """Who mixed it, in letters that a label can say."""
    while True:
        who = typed("Mixed by")
        faults = tuple(unprintable([("Mixed by", who)]))
        if not faults:
            return who
        click.echo(str(faults[0]))


def _more_measured(plan: Plan, order: MixOrder) -> MixOrder:
    """The pH, and the density where an estimate would leave the hazards open."""
    if order.ph is None and needs_ph(plan):
        order = replace(order, ph=ask_ph())
    if needs_density(plan):
        order = replace(order, density=ask_density())
    return order


def _bottled(plan: Plan, order: MixOrder) -> MixOrder:
    while order.into is None:
        into = typed("Into which bottles, such as 2x250 mL (Enter: one)")
        if not into:
            return order
        try:
            bottles_from(into, plan)
        except BadInput as error:
            click.echo(str(error))
            continue
        order = replace(order, into=into)
    return order


def _acknowledge(plan: Plan, already: tuple[str, ...]) -> tuple[str, ...]:
    """Each deadly remark is acknowledged by typing its word."""
    seen = list(already)
    for check in unacknowledged(plan, already):
        click.secho(f"\nSTOP  {check.text}", bold=True)
        while typed(f"Type {check.code} to say that you know") != check.code:
            click.echo("It is in the bottle: it is recorded either way.")
        seen.append(check.code)
    return tuple(seen)


def _resume(mix: _Mix) -> None:
    """Take up what a broken-off mix had read already, if the person wants to."""
    recipe = mix.planned.recipe
    draft = mix.place.shelf.draft(recipe.name)
    if draft is None:
        return
    if (draft.get("recipe"), draft.get("make")) != (recipe.document, mix.make):
        click.echo("A mix of this was broken off, of another recipe or quantity.")
    elif click.confirm("A mix of this was broken off. Go on with it?", default=True):
        _take_up(mix, draft)
        return
    mix.place.shelf.drop_draft(recipe.name)


def _take_up(mix: _Mix, draft: Mapping[str, Any]) -> None:
    times = Decimal(draft["times"])
    if times != 1:
        mix.enlarge(times)
    mix.readings |= {int(s): parse_amount(read) for s, read in draft["read"].items()}
    mix.at = int(draft["at"])
