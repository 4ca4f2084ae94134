"""Serving the site: on this machine alone, or in the network it is in."""

import socket
import sys
from collections.abc import Callable
from ipaddress import AddressValueError, IPv4Address

from labelkit.errors import ShelfError
from labelkit.mixing.bench import Settings
from labelkit.mixing.ports import CardBook
from labelkit.pages.app import Parts, create_app, no_parts
from labelkit.pages.guard import LOCAL_NAMES, Guard, host_name
from labelkit.pages.pins import Pin
from labelkit.pages.unread import PageShelf
from labelkit.pages.waiting import server_for

__all__ = ["HOST", "TURN_S", "serve"]

HOST = "127.0.0.1"
_EVERY = "0.0.0.0"  # noqa: S104 - asked for with --lan, and a PIN is drawn then
_NOWHERE = ("192.0.2.1", 9)  # RFC 5737: an address nobody has; nothing is sent to it

# Threads take turns this often [s]: what reads from the network waits less for what
# works out a page. At the usual 5 ms half as many pages are served a second.
TURN_S = 0.0005


def serve(
    shelf: PageShelf,
    cards: CardBook,
    settings: Settings,
    *,
    port: int,
    say: Callable[[str], None],
    parts: Parts = no_parts,
    pin: str = "",
) -> None:
    """Show the pages until it is interrupted.

    Args:
        shelf: read for every answer.
        cards: of the bench's recipes.
        settings: of the bench.
        port: to listen at.
        say: is told the address, such as ``http://127.0.0.1:8731/``, once it answers.
        parts: makes the parts of the site that are more than its pages.
        pin: where there is one, the whole network is served, and whoever writes is
            asked for it; else this machine alone.

    Raises:
        ShelfError: the port is taken, or may not be used.
    """
    guard = Guard(
        Pin(pin) if pin else None,
        knows=_knows(settings) if pin else LOCAL_NAMES.__contains__,
        cookie=f"labelkit-{port}",
    )
    app = create_app(shelf, cards, settings, parts=parts, guard=guard)
    server = server_for(app, _bound(_EVERY if pin else HOST, port))
    try:
        say(f"http://{_own_address() if pin else HOST}:{port}/")
        sys.setswitchinterval(TURN_S)
        server.run()
    finally:
        server.close()


def _knows(settings: Settings) -> Callable[[str], bool]:
    """Whether a name is one of this machine's, or the one that the labels carry."""
    machine = host_name(socket.gethostname())
    short = machine.partition(".")[0]
    host = settings.base_url.partition("//")[2].partition("/")[0]
    printed = {host_name(host)} if host else set()
    names = {*LOCAL_NAMES, machine, short, f"{short}.local", *printed} - {""}

    def knows(name: str) -> bool:
        return name in names or _is_our_address(name)

    return knows


def _is_our_address(name: str) -> bool:
    """Whether it is an address of this machine: only such a one can be listened at.

    Addresses are looked at each time, as a network may hand out others.
    """
    try:
        address = IPv4Address(name)
    except AddressValueError:
        return False
    if address.is_unspecified or address.is_multicast:
        return False
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as tried:
        try:
            tried.bind((name, 0))
        except OSError:
            return False
    return True


def _own_address() -> str:
    """The address by which others in the network reach this machine."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asked:
        try:
            asked.connect(_NOWHERE)
        except OSError:
            return HOST
        return str(asked.getsockname()[0])


def _bound(host: str, port: int) -> socket.socket:
    bound = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    bound.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        bound.bind((host, port))
    except OSError as error:
        bound.close()
        why = (error.strerror or "it cannot be used").lower()
        raise ShelfError(
            f"port {port} cannot be listened at: {why}",
            place="--port",
            remedy="Name another, such as --port 8732.",
        ) from error
    return bound
