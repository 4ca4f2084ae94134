"""Serving the site on this machine, and to this machine alone."""

import socket
from collections.abc import Callable
from typing import Any

from flask import abort, request
from werkzeug.sansio.utils import host_is_trusted

from labelkit.errors import ShelfError
from labelkit.mixing.bench import Settings
from labelkit.mixing.ports import CardBook, Shelf
from labelkit.pages.app import create_app

__all__ = ["HOST", "serve"]

HOST = "127.0.0.1"
_NAMES = [HOST, "localhost"]


def serve(
    shelf: Shelf,
    cards: CardBook,
    settings: Settings,
    *,
    port: int,
    say: Callable[[str], None],
) -> None:
    """Show the pages at 127.0.0.1 until it is interrupted.

    Args:
        shelf: read for every answer.
        cards: of the bench's recipes.
        settings: of the bench.
        port: to listen at.
        say: is told the address once it answers.

    Raises:
        ShelfError: the port is taken, or may not be used.
    """
    app = create_app(shelf, cards, settings)
    app.before_request(_only_by_its_own_name)
    server = _listening(app, port)
    try:
        say(f"Record pages at http://{HOST}:{port}/ until Ctrl-C.")
        server.run()
    finally:
        server.close()


def _only_by_its_own_name() -> None:
    """A page elsewhere must not reach this one by a name of its own for 127.0.0.1."""
    if not host_is_trusted(request.host, _NAMES):
        abort(400)


def _listening(app: Any, port: int) -> Any:
    from waitress import create_server

    return create_server(app, sockets=[_bound(port)], ident=None)


def _bound(port: int) -> socket.socket:
    bound = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    bound.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        bound.bind((HOST, port))
    except OSError as error:
        bound.close()
        why = (error.strerror or "it cannot be used").lower()
        raise ShelfError(
            f"port {port} cannot be listened at: {why}",
            place="--port",
            remedy="Name another, such as --port 8732.",
        ) from error
    return bound
