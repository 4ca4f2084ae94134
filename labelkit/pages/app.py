"""The site live: the shelf is read for every answer, and forms are taken with care."""

from collections.abc import Callable, Iterable, Iterator
from datetime import datetime
from urllib.parse import quote

from flask import Flask, Response, request
from werkzeug.exceptions import HTTPException, InternalServerError
from werkzeug.urls import iri_to_uri

from labelkit.mixing.bench import Settings
from labelkit.mixing.ports import CardBook
from labelkit.pages.asked import Answer, ReadPart
from labelkit.pages.dispatch import Dispatch
from labelkit.pages.guard import LASTS_S, Guard, Visit
from labelkit.pages.renderer import policy
from labelkit.pages.sent import LONGEST_BODY, refused
from labelkit.pages.site import Site, room_clock
from labelkit.pages.unread import PageShelf

__all__ = ["Parts", "create_app", "no_parts"]

_SHELF_AGAIN_S = 30

Parts = Callable[[Site], Iterable[ReadPart]]


def no_parts(_: Site) -> Iterable[ReadPart]:
    """None but the pages."""
    return ()


def create_app(
    shelf: PageShelf,
    cards: CardBook,
    settings: Settings,
    *,
    parts: Parts = no_parts,
    guard: Guard | None = None,
    clock: Callable[[], datetime] = room_clock,
) -> Flask:
    """The record pages and the parts with forms, as a WSGI application.

    Addresses are not matched by rules: case and what follows a number are ignored,
    which rules cannot say. So every question is answered before one is looked for.

    Args:
        shelf: read for every answer.
        cards: of the bench's recipes, worked out for every answer.
        settings: of the bench.
        parts: makes those parts of the site that are more than its pages.
        guard: stands before everything that writes; left out, one for this machine
            alone.
        clock: this moment in the room's own time.
    """
    app = Flask("labelkit.pages", static_folder=None, template_folder=None)
    app.config["MAX_CONTENT_LENGTH"] = LONGEST_BODY
    guard = guard or Guard()
    site = Site(shelf, cards, settings, live=True, clock=clock)
    dispatch = Dispatch(site, parts(site), guard)

    def show() -> Response:
        found, visit = dispatch.answer(request)
        response = _response(found, keep=visit is None)
        if visit is not None and visit.is_new:
            _hand_out(response, guard.cookie, visit)
        return response

    def tell(error: HTTPException) -> Response:
        why = refused(error.code or InternalServerError.code)
        return _response(dispatch.refused(request, why))

    app.before_request(show)
    app.register_error_handler(HTTPException, tell)
    return app


def _hand_out(response: Response, name: str, visit: Visit) -> None:
    response.set_cookie(
        name, visit.id, max_age=LASTS_S, httponly=True, samesite="Strict"
    )


def _response(found: Answer, *, keep: bool = False) -> Response:
    """An answer with what a browser must know to keep it to itself.

    Args:
        found: the answer.
        keep: whether a browser may keep it, to be asked for again before it is shown.
    """
    response = Response(found.body, found.status, mimetype=found.mimetype)
    headers = response.headers
    headers["Content-Security-Policy"] = _policy(found)
    headers["X-Content-Type-Options"] = "nosniff"
    headers["X-Frame-Options"] = "DENY"
    headers["Referrer-Policy"] = "same-origin"
    headers["Cross-Origin-Resource-Policy"] = "same-origin"
    headers["Cache-Control"] = "no-cache" if keep else "no-store"
    headers.update(_further(found))
    return response


def _policy(found: Answer) -> str:
    """A file is shown by a browser's own viewer, which needs its own style and script.

    Content Security Policy Level 3 (W3C).
    """
    own = f"{policy()}; " if found.mimetype == "text/html" else ""
    return f"{own}frame-ancestors 'none'"


def _further(found: Answer) -> Iterator[tuple[str, str]]:
    if found.location:
        yield "Location", iri_to_uri(found.location)
    if found.file_name:
        yield "Content-Disposition", _inline(found.file_name)
    if found.retry_after_s or found.status == 503:
        yield "Retry-After", str(found.retry_after_s or _SHELF_AGAIN_S)
    if found.allow:
        yield "Allow", ", ".join(found.allow)


def _inline(file_name: str) -> str:
    """Shown, and kept under that name (RFC 6266, with RFC 8187 for other letters)."""
    plain = "".join(c if c.isascii() and c.isprintable() else "-" for c in file_name)
    plain = plain.replace("\\", "-").replace('"', "-")
    full = f"; filename*=UTF-8''{quote(file_name, safe='')}"
    return f'inline; filename="{plain}"{"" if plain == file_name else full}'
