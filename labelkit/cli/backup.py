"""``labelkit backup``: the shelf whole, as one file."""

from pathlib import Path

import click

from labelkit.cli.params import in_a_workplace
from labelkit.cli.workplace import Workplace

__all__ = ["command"]


@click.command("backup")
@click.argument("file", type=click.Path(dir_okay=False, path_type=Path))
@in_a_workplace
def command(place: Workplace, file: Path) -> None:
    """Save the shelf whole to FILE, even while others use it."""
    place.shelf.backup(file)
    click.echo(f"The shelf is saved in {file}.")
