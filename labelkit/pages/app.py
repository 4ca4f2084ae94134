"""The site live: the shelf is read for every answer."""

from flask import Flask, Response, request
from werkzeug.exceptions import HTTPException, NotFound

from labelkit.mixing.bench import Settings
from labelkit.mixing.ports import CardBook, Shelf
from labelkit.pages.answering import answer
from labelkit.pages.asked import Answer, Asked
from labelkit.pages.renderer import policy
from labelkit.pages.site import Site

__all__ = ["create_app"]

_READING = ("GET", "HEAD")
_TROUBLE = {
    400: ("No such address", "What was sent cannot be read."),
    405: ("Only to be read", "These pages are read; nothing can be sent to them."),
    500: ("Our fault", "Something in labelkit went wrong; it is no fault of yours."),
}
_RETRY_AFTER_S = "30"


def create_app(shelf: Shelf, cards: CardBook, settings: Settings) -> Flask:
    """The record pages as a WSGI application that only reads.

    Addresses are not matched by rules: case and what follows a number are ignored,
    which rules cannot say. So a page is whatever no rule answers.

    Args:
        shelf: read for every answer.
        cards: of the bench's recipes, worked out for every answer.
        settings: of the bench.
    """
    app = Flask("labelkit.pages", static_folder=None, template_folder=None)
    site = Site(shelf, cards, settings)

    def show(_: NotFound) -> Response:
        if request.method not in _READING:
            return _response(_trouble(site, 405))
        return _response(answer(site, Asked(request.path.removeprefix("/"))))

    def tell(error: HTTPException) -> Response:
        return _response(_trouble(site, error.code or 500))

    app.register_error_handler(NotFound, show)
    app.register_error_handler(HTTPException, tell)
    return app


def _trouble(site: Site, status: int) -> Answer:
    """The page for a wrong method, a wrong request, a fault of ours."""
    title, problem = _TROUBLE.get(status, _TROUBLE[400])
    return Answer(status, site.trouble(None, title, problem))


def _response(found: Answer) -> Response:
    """An answer with what a browser must know to keep it to itself."""
    response = Response(found.body, found.status, mimetype="text/html")
    response.headers["Content-Security-Policy"] = f"{policy()}; frame-ancestors 'none'"
    response.headers["X-Content-Type-Options"] = "nosniff"
    response.headers["Referrer-Policy"] = "no-referrer"
    response.headers["Cross-Origin-Resource-Policy"] = "same-origin"
    response.headers["Cache-Control"] = "no-cache"
    if found.status == 405:
        response.headers["Allow"] = ", ".join(_READING)
    if found.status == 503:
        response.headers["Retry-After"] = _RETRY_AFTER_S
    return response
