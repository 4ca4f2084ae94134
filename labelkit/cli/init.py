"""``labelkit init``: a new bench."""

from pathlib import Path

import click

from labelkit.files.new_bench import new_bench

__all__ = ["command"]


@click.command("init")
@click.argument("folder", type=click.Path(path_type=Path))
def command(folder: Path) -> None:
    """Set up a new bench in FOLDER; nothing that is there is overwritten."""
    for path in new_bench(folder):
        click.echo(str(path))
