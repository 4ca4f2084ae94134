"""``labelkit export``: every batch and event, one a line."""

import click

from labelkit.cli.params import in_a_workplace
from labelkit.cli.workplace import Workplace

__all__ = ["command"]


@click.command("export")
@in_a_workplace
def command(place: Workplace) -> None:
    """Write every batch and event to standard output as JSON Lines."""
    for line in place.shelf.export():
        click.echo(line)
