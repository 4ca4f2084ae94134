"""``labelkit serve``: the record pages, live on this machine."""

import click

from labelkit.cli.cards import Cards
from labelkit.cli.params import in_a_workplace
from labelkit.cli.workplace import Workplace

__all__ = ["command"]


@click.command("serve")
@click.option("--port", type=click.IntRange(1, 65535), default=8731, show_default=True)
@in_a_workplace
def command(place: Workplace, port: int) -> None:
    """Show the record pages on this machine, at 127.0.0.1, until Ctrl-C."""
    from labelkit.pages.serving import serve

    place.the_bench()
    serve(place.shelf, Cards(place), place.settings, port=port, say=click.echo)
