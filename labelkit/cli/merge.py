"""``labelkit import``: batches and events of another bench, merged into this shelf."""

from typing import TextIO

import click

from labelkit.cli.params import in_a_workplace
from labelkit.cli.workplace import Workplace
from labelkit.errors import LabelkitError, NoAnswer

__all__ = ["command"]


@click.command("import")
@click.argument("file", type=click.File(encoding="utf-8"))
@in_a_workplace
def command(place: Workplace, file: TextIO) -> None:
    """Merge what 'labelkit export' wrote to FILE; nothing here is overwritten."""
    try:
        merged = place.shelf.import_lines(file)
    except LabelkitError as error:
        raise error.at(file.name) from None
    click.echo(
        f"{merged.batches} batches and {merged.events} events are new; "
        f"{merged.batches_known} and {merged.events_known} were here already."
    )
    if merged.refused:
        raise NoAnswer.of(fault.at(file.name) for fault in merged.refused)
