"""The server under the site: how much it takes in, and how long it waits for it.

It takes in some more than a form may hold, so that a form that is too long is told so
on a page. What is longer still is stopped before it is read.
"""

import socket
from typing import Any

from waitress import create_server
from waitress.channel import HTTPChannel
from waitress.task import ErrorTask

from labelkit.pages.sent import LONGEST_BODY, refused

__all__ = ["server_for"]

_MOST_BODY = 4 * LONGEST_BODY  # so little that it is kept in memory
_MOST_HEADER = 16 * 1024
_IDLE_S = 30
_LOOKED_FOR_EVERY_S = 10
_MOST_AT_ONCE = 200
_PAGE = (
    "<!DOCTYPE html><html lang=en><meta charset=utf-8>"
    '<meta name=viewport content="width=device-width"><title>{0}</title>'
    "<h1>{0}</h1><p>{1}</p><p>DO NOT DRINK what a bottle holds, whatever this page "
    "cannot show: its label says what to do.</p></html>"
)


class _OwnWords(ErrorTask):  # type: ignore[misc]
    """What never reached the site is told in our own words too."""

    def execute(self) -> None:
        """Answer with a page that needs nothing but itself."""
        why = refused(self.request.error.code)
        body = _PAGE.format(why.title, why.faults[0].problem).encode()
        self.status = f"{self.request.error.code} {self.request.error.reason}"
        self.response_headers.extend(
            [
                ("Content-Type", "text/html; charset=utf-8"),
                ("Content-Security-Policy", "default-src 'none'"),
                ("X-Content-Type-Options", "nosniff"),
                ("Cache-Control", "no-store"),
            ]
        )
        self.set_close_on_finish()
        self.content_length = len(body)
        self.write(body)


class _Channel(HTTPChannel):  # type: ignore[misc]
    error_task_class = _OwnWords


def server_for(app: Any, bound: socket.socket, idle_s: int = _IDLE_S) -> Any:
    """A server for an application.

    Args:
        app: a WSGI application.
        bound: a socket that is bound already.
        idle_s: a line that is silent for so long is cut [s].
    """
    server = create_server(
        app,
        sockets=[bound],
        ident=None,
        max_request_body_size=_MOST_BODY,
        inbuf_overflow=2 * _MOST_BODY,
        max_request_header_size=_MOST_HEADER,
        channel_timeout=idle_s,
        cleanup_interval=min(_LOOKED_FOR_EVERY_S, idle_s),
        connection_limit=_MOST_AT_ONCE,
    )
    server.channel_class = _Channel
    return server
