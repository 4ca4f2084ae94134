"""``labelkit log``: what happened to a bottle."""

from collections.abc import Iterator
from datetime import datetime

import click

from labelkit.cli.params import WHEN, in_a_workplace
from labelkit.cli.words import filled
from labelkit.cli.workplace import Workplace
from labelkit.errors import BadInput
from labelkit.mixing.dates import moment_words
from labelkit.mixing.happening import HAPPENINGS, event_for
from labelkit.mixing.ports import Event, Record
from labelkit.mixing.remarks import concerned, remarks_on
from labelkit.mixing.said import NBSP
from labelkit.mixing.standing import standings, told
from labelkit.mixing.state_text import happened
from labelkit.mixing.topping_up import Source, source_from

__all__ = ["command"]


@click.command("log")
@click.argument("bottle", metavar="BATCH[/N]")
@click.argument("what", type=click.Choice(HAPPENINGS))
@click.argument("amount", nargs=-1)
@click.option(
    "--from", "source", metavar="BATCH[/N]", help="What it was topped up from."
)
@click.option("--to", default="", metavar="PLACE", help="Where it was moved to.")
@click.option("--by", default="", help="Who did it.")
@click.option("--on", type=WHEN, help="When; now if left out.")
@click.option("--note", default="", help="A remark, such as what a test showed.")
@in_a_workplace
def command(
    place: Workplace,
    bottle: str,
    what: str,
    amount: tuple[str, ...],
    source: str | None,
    to: str,
    by: str,
    on: datetime | None,
    note: str,
) -> None:
    """Write down what happened to a bottle; it is added, never edited.

    AMOUNT goes with used and topped-up: a volume such as 60mL, or film that went
    through the bath: 2 rolls, 4 sheets (4x5), 1 sheet 8x10, 80 in2.
    """
    record, which = place.bottle(bottle)
    poured = _source(place, source)
    event = event_for(
        record,
        what,
        on or place.now,
        now=place.now,
        bottle=which,
        amount=" ".join(amount),
        by=by,
        note=note,
        place=to,
        source=poured,
    )
    before = place.shelf.events(record.number)
    place.shelf.append(event)
    for line in _as_lines(record, [*before, event], event):
        click.echo(filled(line.replace(NBSP, " ")))
    for remark in remarks_on(record, before, event, poured):
        click.echo(filled(f"Look out: {remark}".replace(NBSP, " ")), err=True)


def _source(place: Workplace, named: str | None) -> Source | None:
    if named is None:
        return None
    try:
        record, bottle = place.bottle(named)
    except BadInput as error:
        raise error.at("--from") from None
    return source_from(record, place.shelf.events(record.number), bottle)


def _as_lines(record: Record, events: list[Event], event: Event) -> Iterator[str]:
    """What was written down, and how each bottle it is about stands now."""
    named = event.bottle is not None and record.bottles > 1
    name = f"{record.number}/{event.bottle}" if named else record.number
    yield f"{name}: {happened(event)} on {moment_words(event.at)}"
    for state in concerned(standings(record, events), event):
        before = f"{state.name}: " if record.bottles > 1 and not named else ""
        yield f"{before}{told(state)}"
