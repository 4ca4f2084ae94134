"""``labelkit show``: one batch whole."""

import click

from labelkit.cli.batch_text import batch_as_text
from labelkit.cli.params import answer, in_a_workplace, json_option
from labelkit.cli.workplace import Workplace
from labelkit.mixing.ports import Event

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
        answer(
            record.data["answer"] | {"events": [_as_json(event) for event in events]}
        )
    else:
        click.echo(batch_as_text(record, events))


def _as_json(event: Event) -> dict[str, object]:
    return {
        "bottle": event.bottle,
        "what": event.what,
        "at": f"{event.at:%Y-%m-%d %H:%M}",
        "by": event.by,
        "mL": event.amount_mL or None,
        "note": event.note,
    }
