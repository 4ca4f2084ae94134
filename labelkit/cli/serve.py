"""``labelkit serve``: the pages live, with the forms to plan, mix and write down."""

import secrets
from collections.abc import Iterable
from typing import TYPE_CHECKING

import click

from labelkit.cli.params import in_a_workplace
from labelkit.cli.workplace import Workplace

if TYPE_CHECKING:
    from labelkit.pages.asked import ReadPart
    from labelkit.pages.site import Site

__all__ = ["command"]

_FIGURES = 6


@click.command("serve")
@click.option("--port", type=click.IntRange(1, 65535), default=8731, show_default=True)
@click.option("--lan", is_flag=True, help="For phones in this network; a PIN is drawn.")
@in_a_workplace
def command(place: Workplace, port: int, lan: bool) -> None:
    """Show the pages on this machine, with forms to mix and write down, until Ctrl-C.

    With --lan whoever is in the same network can read them. Who writes something down
    gives the PIN first. Nothing is encrypted: use it in a network you trust.
    """
    from labelkit.cli.cards import Cards
    from labelkit.pages.serving import serve

    place.the_bench()
    pin = f"{secrets.randbelow(10**_FIGURES):0{_FIGURES}}" if lan else ""

    def say(address: str) -> None:
        click.echo(_in_the_network(address, pin) if lan else _on_this_machine(address))

    serve(
        place.shelf,
        Cards(place),
        place.settings,
        port=port,
        say=say,
        parts=lambda site: _parts(site, place),
        pin=pin,
    )


def _parts(site: "Site", place: Workplace) -> Iterable["ReadPart"]:
    """The parts of the site that are more than its pages."""
    from labelkit.cli.desk import Desk
    from labelkit.cli.label_maker import BenchLabels
    from labelkit.cli.log_book import LogBook
    from labelkit.pages.label_part import LabelPart
    from labelkit.pages.log_part import LogPart
    from labelkit.pages.mix_part import MixPart

    yield MixPart(site, Desk(place))
    yield LogPart(site, LogBook(place))
    yield LabelPart(site, BenchLabels(place))


def _on_this_machine(address: str) -> str:
    return f"Record pages at {address} until Ctrl-C."


def _in_the_network(address: str, pin: str) -> str:
    from labelkit.cli.terminal_code import terminal_code

    half = _FIGURES // 2
    return "\n".join(
        (
            terminal_code(address.upper()),
            f"Record pages at {address} until Ctrl-C.",
            f"PIN, for whoever writes something down: {pin[:half]} {pin[half:]}",
            "Whoever is in this network can read them. Nothing is encrypted: use it in "
            "a network you trust.",
        )
    )
