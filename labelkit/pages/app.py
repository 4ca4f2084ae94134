"""The site live: the shelf is read for every answer."""

from flask import Flask, Response, request
from werkzeug.exceptions import HTTPException, MethodNotAllowed

from labelkit.mixing.bench import Settings
from labelkit.mixing.ports import CardBook, Shelf
from labelkit.pages.answering import answer
from labelkit.pages.renderer import policy
from labelkit.pages.site import Site

__all__ = ["create_app"]

_TROUBLE = {
    400: ("No such address", "What was sent cannot be read."),
    405: (
        "Only to be read",
        "These pages are read; nothing can be sent to them.",
    ),
    500: ("Our fault", "Something in labelkit went wrong; it is no fault of yours."),
}
_RETRY_AFTER_S = "30"


def create_app(shelf: Shelf, cards: CardBook, settings: Settings) -> Flask:
    """The record pages as a WSGI application that only reads.

    Args:
        shelf: read for every answer.
        cards: of the bench's recipes, worked out for every answer.
        settings: of the bench.
    """
    app = Flask("labelkit.pages", static_folder=None, template_folder=None)
    app.url_map.merge_slashes = False
    site = Site(shelf, cards, settings)

    def show(path: str = "") -> Response:
        found = answer(site, path)
        response = Response(found.body, found.status, mimetype="text/html")
        if found.status == 503:
            response.headers["Retry-After"] = _RETRY_AFTER_S
        return response

    def tell(error: HTTPException) -> Response:
        return _told(site, error)

    for rule in ("/", "/<path:path>"):
        app.add_url_rule(
            rule, "show", show, methods=["GET"], provide_automatic_options=False
        )
    app.register_error_handler(HTTPException, tell)
    app.after_request(_guarded)
    return app


def _told(site: Site, error: HTTPException) -> Response:
    """The page for what no page answers: a wrong method, a fault of ours."""
    status = error.code or 500
    root = "../" * (request.path.count("/") - 1)
    if status == 404:
        body = site.unknown(root)
    else:
        body = site.trouble(root, *_TROUBLE.get(status, _TROUBLE[400]))
    response = Response(body, status, mimetype="text/html")
    if isinstance(error, MethodNotAllowed):
        response.headers["Allow"] = "GET, HEAD"
    return response


def _guarded(response: Response) -> Response:
    """What a browser must know to keep the page to itself."""
    response.headers["Content-Security-Policy"] = f"{policy()}; frame-ancestors 'none'"
    response.headers["X-Content-Type-Options"] = "nosniff"
    response.headers["Referrer-Policy"] = "no-referrer"
    response.headers["Cross-Origin-Resource-Policy"] = "same-origin"
    response.headers["Cache-Control"] = "no-cache"
    return response
