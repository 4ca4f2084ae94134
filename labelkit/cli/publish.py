"""``labelkit publish``: the record pages as static files."""

from pathlib import Path

import click

from labelkit.cli.cards import Cards
from labelkit.cli.params import in_a_workplace
from labelkit.cli.workplace import Workplace

__all__ = ["command"]


@click.command("publish")
@click.argument("folder", type=click.Path(file_okay=False, path_type=Path))
@in_a_workplace
def command(place: Workplace, folder: Path) -> None:
    """Write the record pages to FOLDER, for any web host or a memory stick."""
    from labelkit.pages.publish import publish

    done = publish(folder, place.shelf, Cards(place), place.settings)
    click.echo(
        f"{done.pages} pages in {folder}, {done.written} of them new or changed: "
        f"open {folder / 'index.html'}."
    )
