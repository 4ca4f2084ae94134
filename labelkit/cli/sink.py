"""``mix`` at a terminal: step by step, with wet gloves, nothing asked twice."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import click

from labelkit.chemistry.amounts import Amount, Dimension, parse_amount
from labelkit.chemistry.display import plain, show_amount
from labelkit.cli.order import MixOrder, as_it_was_read, batch_of
from labelkit.cli.params import parse_ph
from labelkit.cli.workplace import Workplace
from labelkit.errors import BadInput
from labelkit.mixing.batch import Batch, bottles_from, readings_from, unacknowledged
from labelkit.mixing.doses import Dose
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.plan import Plan
from labelkit.mixing.said import NBSP
from labelkit.mixing.shown import shown_dose
from labelkit.mixing.steps_text import step_rows
from labelkit.mixing.words import CardRow

__all__ = ["at_the_sink"]

BACK = "b"
# A reading further off than this is asked again [share of the planned figure].
FAR_OFF = Decimal("0.1")

Readings = dict[int, Amount]


def at_the_sink(
    place: Workplace, planned: Plan, handbook: Handbook, order: MixOrder
) -> Batch:
    """Go through the steps with the person who mixes, and ask for what is missing.

    Every answer is kept at once, so that a broken-off mix goes on where it stopped.
    """
    catalogue = handbook.catalogue
    readings: Readings = readings_from(planned.job, order.weighed, catalogue)
    resumed, at = _resumed(place, planned)
    readings |= resumed
    click.echo(f"\n{planned.recipe.title}. Enter: as planned. {BACK}: back one step.\n")
    _go_through(place, planned, handbook, readings, at)
    order = _finished(planned, order)
    plan = as_it_was_read(planned, order, readings, handbook, place.settings)
    seen = _acknowledge(plan, order.acknowledge)
    return batch_of(planned, plan, _bottled(plan, order), seen)


def _go_through(
    place: Workplace, planned: Plan, handbook: Handbook, readings: Readings, at: int
) -> None:
    rows = step_rows([planned], handbook.catalogue, place.settings)
    doses = {dose.step: dose for dose in planned.job.doses}
    while at < len(rows):
        row = rows[at]
        dose = doses.get(row.number)
        answer = _ask_step(place, row, dose)
        if answer == BACK:
            at = max(at - 1, 0)
            continue
        if isinstance(answer, Amount):
            readings[row.number] = answer
        elif dose is not None:
            readings.pop(row.number, None)
        _save(place, planned, readings, at + 1)
        at += 1


def _ask_step(place: Workplace, row: CardRow, dose: Dose | None) -> Amount | str:
    """The reading of one step; "" for as planned or done, or `BACK`."""
    if row.caution:
        click.secho(f"  STOP  {row.caution}", bold=True)
    what = "".join(run.text for run in row.what).replace(NBSP, " ")
    where = f" (in the {row.vessel})" if row.vessel else ""
    detail = f"  {row.detail}" if row.detail else ""
    click.echo(f"{row.number:>3}  {what}{where}{detail}".replace(NBSP, " "))
    if dose is None:
        return _typed("     done", "").lower()
    return _ask_reading(place, dose)


def _ask_reading(place: Workplace, dose: Dose) -> Amount | str:
    shown = shown_dose(dose, place.settings)
    refused = ""
    while True:
        typed = _typed("     read", shown)
        if typed in ("", BACK, shown):
            return "" if typed == shown else typed
        amount = _amount(typed, dose)
        if amount is None:
            continue
        off = _off(amount, dose)
        if off is None or abs(off) <= FAR_OFF or typed == refused:
            return amount
        refused = typed
        click.echo(
            f"     {typed} is {round(abs(off) * 100)} % "
            f"{'more' if off > 0 else 'less'} than planned. "
            "Type it once more to keep it."
        )


def _amount(typed: str, dose: Dose) -> Amount | None:
    """What was typed; a bare number is in the unit that was asked for."""
    unit = "g" if dose.weighed else "mL"
    bare = typed.replace(",", ".").replace(".", "", 1).isdigit()
    try:
        return parse_amount(f"{typed} {unit}" if bare else typed)
    except BadInput as error:
        click.echo(f"     {error}")
        return None


def _off(amount: Amount, dose: Dose) -> Decimal | None:
    planned = dose.mass_g if amount.dimension is Dimension.MASS else dose.volume_mL
    return None if planned is None else amount.number / planned - 1


def _finished(planned: Plan, order: MixOrder) -> MixOrder:
    """What is asked at the end, where no option said it already."""
    if planned.job.volume_mL is not None and order.made_up_to is None:
        made = Amount(planned.job.volume_mL, Dimension.VOLUME)
        order = replace(order, made_up_to=_ask_amount("Made up to", made))
    if order.ph is None and planned.job.measured.ph is None:
        order = replace(order, ph=_ask_ph())
    if not order.by:
        order = replace(order, by=_typed("Mixed by", ""))
    return order


def _ask_amount(what: str, expected: Amount) -> Amount | None:
    shown = show_amount(expected)
    while True:
        typed = _typed(what, shown)
        if typed in ("", shown):
            return None
        try:
            return parse_amount(typed)
        except BadInput as error:
            click.echo(str(error))


def _ask_ph() -> Decimal | None:
    while True:
        typed = _typed("pH measured (Enter: not measured)", "")
        if not typed:
            return None
        try:
            return parse_ph(typed)
        except BadInput as error:
            click.echo(str(error))


def _bottled(plan: Plan, order: MixOrder) -> MixOrder:
    while order.into is None:
        typed = _typed("Into which bottles, such as 2x250 mL (Enter: one)", "")
        if not typed:
            return order
        try:
            bottles_from(typed, plan)
        except BadInput as error:
            click.echo(str(error))
            continue
        order = replace(order, into=typed)
    return order


def _acknowledge(plan: Plan, already: tuple[str, ...]) -> tuple[str, ...]:
    """Each deadly remark is acknowledged by typing its word."""
    seen = list(already)
    for check in unacknowledged(plan, already):
        click.secho(f"\nSTOP  {check.text}", bold=True)
        while _typed(f"Type {check.code} to say that you know", "") != check.code:
            click.echo("It is in the bottle: it is recorded either way. ", nl=False)
        seen.append(check.code)
    return tuple(seen)


def _typed(question: str, default: str) -> str:
    answer: str = click.prompt(
        question, default=default, show_default=bool(default), prompt_suffix=": "
    )
    return answer.strip()


def _resumed(place: Workplace, planned: Plan) -> tuple[Readings, int]:
    """What a broken-off mix had read already, and how many steps were done."""
    draft = place.shelf.draft(planned.recipe.name)
    if draft is None or draft.get("make") != str(planned.job.make.number):
        return {}, 0
    if not click.confirm("A mix of this was broken off. Go on with it?", default=True):
        place.shelf.drop_draft(planned.recipe.name)
        return {}, 0
    read = {int(step): parse_amount(text) for step, text in draft["read"].items()}
    return read, int(draft["at"])


def _save(place: Workplace, planned: Plan, readings: Readings, at: int) -> None:
    data: dict[str, Any] = {
        "make": str(planned.job.make.number),
        "at": at,
        "read": {str(step): amount.written for step, amount in readings.items()},
    }
    place.shelf.save_draft(planned.recipe.name, data)
