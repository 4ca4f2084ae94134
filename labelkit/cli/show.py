"""``labelkit show``: one batch whole."""

import click

from labelkit.cli.batch_text import batch_as_text
from labelkit.cli.params import answer, in_a_workplace, json_option
from labelkit.cli.state_json import batch_answer
from labelkit.cli.workplace import Workplace

__all__ = ["command"]


@click.command("show")
@click.argument("batch")
@json_option
@in_a_workplace
def command(place: Workplace, batch: str, as_json: bool) -> None:
    """Show one batch whole. BATCH may be a number or a whole scanned address."""
    record = place.record(batch)
    events = place.shelf.events(record.number)
    if as_json:
        answer(batch_answer(record, events, place.now))
    else:
        click.echo(batch_as_text(record, events, place.now))
