"""Which part of the site answers a request, and what is looked at before it may."""

from collections.abc import Iterable

from flask import Request
from msgspec.structs import replace

from labelkit.errors import LabelkitError, ShelfError, Unknown
from labelkit.pages.answering import answer
from labelkit.pages.asked import Answer, Asked, Part, ReadPart
from labelkit.pages.guard import (
    Guard,
    Visit,
    comes_from_elsewhere,
    is_surely_ours,
)
from labelkit.pages.guard_pages import (
    PIN,
    Carried,
    GuardPages,
    from_pin_page,
    on_its_way,
)
from labelkit.pages.sent import Refused, read_form, refused
from labelkit.pages.site import Site

__all__ = ["Dispatch"]

_READ = ("GET", "HEAD")
_WRITE = (*_READ, "POST")
_LONGEST_PATH = 1000
_SINGLE = ("token", "pin", "to")
_TOO_OLD = (
    "The page was opened before labelkit serve was last started, or its cookie is "
    "gone. Nothing is written yet. Look whether this is what you want to send."
)
_SHELF_GONE = (
    "At the moment the shelf cannot be read or written: it {}. Nothing was written "
    "down. Whoever looks after it may have to put it back."
)


class Dispatch:
    """Answers requests.

    Args:
        site: of the pages that are only read.
        parts: of the site that are more than its pages.
        guard: stands before everything that writes.
    """

    def __init__(self, site: Site, parts: Iterable[ReadPart], guard: Guard) -> None:
        self._site = site
        self._guard = guard
        self._parts: dict[str, ReadPart] = {
            head: part for part in parts for head in part.heads
        }
        self._pages = GuardPages(site, self._parts)

    def answer(self, request: Request) -> tuple[Answer, Visit | None]:
        """The answer, and who asked where forms are taken."""
        asked = _asked(request)
        part = self._parts.get(asked.path.partition("/")[0].upper())
        try:
            if not self._guard.knows(_host(request)):
                raise refused(421)
            if part is None and not self._is_pin(asked.path):
                return self._page(request, asked), None
            if len(asked.path) > _LONGEST_PATH or not asked.path.isprintable():
                raise refused(400)
            if part is not None and not isinstance(part, Part):
                return self._read_only(request, asked, part), None
            return self._with_forms(request, asked, part)
        except Refused as why:
            return self._pages.refused(asked, why), None

    def refused(self, request: Request, why: Refused) -> Answer:
        """The page for what could not be answered."""
        return self._pages.refused(_asked(request), why)

    def _is_pin(self, path: str) -> bool:
        return self._guard.asks_pin and path.removesuffix("/").lower() == PIN

    def _page(self, request: Request, asked: Asked) -> Answer:
        if request.method in _READ:
            return answer(self._site, asked)
        return self._other_method(asked, _READ)

    def _read_only(self, request: Request, asked: Asked, part: ReadPart) -> Answer:
        if request.method in _READ:
            return self._from_part(part, asked)
        return self._other_method(asked, _READ)

    def _with_forms(
        self, request: Request, asked: Asked, part: Part | None
    ) -> tuple[Answer, Visit | None]:
        """The answer of a part that takes forms, or of the page of the PIN."""
        if request.method not in _WRITE:
            return self._other_method(asked, _WRITE), None
        guard = self._guard
        visit = guard.visit(request.cookies.get(guard.cookie, ""))
        known = replace(
            asked, token=guard.token(visit), may_write=guard.may_write(visit)
        )
        if request.method == "POST":
            form = read_form(request, _SINGLE)
            return self._sent(request, replace(known, form=form), visit, part)
        if part is None:
            page = self._pages.let_in if known.may_write else self._pages.pin
            return page(known, from_pin_page(known)), visit
        return self._from_part(part, known), visit

    def _sent(
        self, request: Request, asked: Asked, visit: Visit, part: Part | None
    ) -> tuple[Answer, Visit]:
        """What comes of a form, once it is sure that it comes from a page of ours."""
        told = (request.headers.get("Origin"), request.headers.get("Sec-Fetch-Site"))
        own = f"{request.scheme}://{_host(request)}"
        if comes_from_elsewhere(*told, own):
            raise refused(403)
        fits = self._guard.fits(visit, asked.sent("token"))
        if not fits and not is_surely_ours(*told, own):
            raise refused(403)
        if part is None:
            return self._pin(asked, visit, request.remote_addr or "", fits=fits)
        along = on_its_way(asked)
        if not asked.may_write:
            return self._pages.pin(asked, along, 403), visit
        if not fits:
            title = "Send it once more"
            return self._pages.again(asked, along, 403, title, _TOO_OLD), visit
        return self._to_part(part, asked, along), visit

    def _pin(
        self, asked: Asked, visit: Visit, address: str, *, fits: bool
    ) -> tuple[Answer, Visit]:
        along, figures = from_pin_page(asked), asked.sent("pin")
        if not fits:
            return self._pages.pin(asked, along, 403), visit
        if not figures:
            return self._pages.wrong(asked, along, None), visit
        tried, inside = self._guard.tried(figures, address)
        if inside is None:
            return self._pages.wrong(asked, along, tried), visit
        known = replace(asked, token=self._guard.token(inside), may_write=True)
        return self._pages.let_in(known, along), inside

    def _to_part(self, part: Part, asked: Asked, along: Carried) -> Answer:
        try:
            return part.post(asked)
        except ShelfError as error:
            problem = _SHELF_GONE.format(error.faults[0].problem)
            title = "Not written down"
            return self._pages.again(asked, along, 503, title, problem)
        except LabelkitError as error:
            return self._fault(asked, error)

    def _from_part(self, part: ReadPart, asked: Asked) -> Answer:
        try:
            return part.get(asked)
        except LabelkitError as error:
            return self._fault(asked, error)

    def _fault(self, asked: Asked, error: LabelkitError) -> Answer:
        """The page for a fault that a part leaves to others."""
        if isinstance(error, Refused):
            raise error
        fault = error.faults[0]
        if isinstance(error, ShelfError):
            problem = _SHELF_GONE.format(fault.problem)
            why = Refused(503, "The shelf cannot be read", problem)
            return self._pages.refused(asked, why)
        told = f"{fault.problem[:1].upper()}{fault.problem[1:]}. {fault.remedy}".strip()
        if isinstance(error, Unknown):
            return Answer(404, self._site.unknown(asked.root, told))
        return self._pages.refused(asked, Refused(422, "This cannot be done", told))

    def _other_method(self, asked: Asked, methods: tuple[str, ...]) -> Answer:
        return replace(self._pages.refused(asked, refused(405)), allow=methods)


def _asked(request: Request) -> Asked:
    path = request.path.removeprefix("/")
    return Asked(path, request.args.to_dict())


def _host(request: Request) -> str:
    """As it was sent, so that nothing odd in it is mended on the way."""
    return request.headers.get("Host", "")
