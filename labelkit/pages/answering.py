"""The pages that are read: what an address asks for, and the answer to it."""

from labelkit.chemistry.numbers import quoted
from labelkit.errors import BadInput, ShelfError, Unknown
from labelkit.mixing.numbers import read_number
from labelkit.pages.addresses import DISCARDED, FRONT, UNKNOWN
from labelkit.pages.asked import Answer, Asked
from labelkit.pages.site import Site

__all__ = ["answer"]

_LONGEST_PATH = 1000
_LONGEST_NUMBER = 40
_SPACE, _DELETE = " ", "\x7f"
_DISCARDED = DISCARDED.partition("/")[0]
_UNREADABLE = (
    "This address cannot be read: it is too long, or holds what no code prints."
)
_SHELF_GONE = (
    "At the moment the shelf cannot be read: it {}. Whoever looks after it may have to "
    "put it back and start labelkit serve again."
)


def answer(site: Site, asked: Asked) -> Answer:
    """The page that is asked for, or the one that says what is wrong."""
    path, root = asked.path, asked.root
    if len(path) > _LONGEST_PATH or any(c < _SPACE or c == _DELETE for c in path):
        return Answer(400, site.trouble(None, "No such address", _UNREADABLE))
    try:
        return _page(site, asked)
    except ShelfError as error:
        problem = _SHELF_GONE.format(error.faults[0].problem)
        return Answer(503, site.trouble(root, "The shelf cannot be read", problem))


def _page(site: Site, asked: Asked) -> Answer:
    path, root = asked.path, asked.root
    if path in ("", FRONT):
        return Answer(200, site.front(root, asked.query))
    if path == UNKNOWN:
        return Answer(404, site.unknown(site.home()))
    kind, _, rest = path.partition("/")
    named, _, tail = rest.partition("/")
    if kind.upper() == "R" and rest in ("", FRONT):
        return Answer(200, site.recipes(root))
    if kind.casefold() == _DISCARDED and rest in ("", FRONT):
        return Answer(200, site.front(root, {"show": _DISCARDED}))
    if kind.upper() == "B" and named:
        return _batch(site, named, asked)
    if kind.upper() == "R" and tail in ("", FRONT):
        return _recipe(site, named, asked)
    return Answer(404, site.unknown(root))


def _recipe(site: Site, named: str, asked: Asked) -> Answer:
    body = site.recipe(named, asked.root, asked.query)
    if body is None:
        problem = f"There is no recipe {quoted(named)} here."
        return Answer(404, site.unknown(asked.root, problem))
    return Answer(200, body)


def _batch(site: Site, named: str, asked: Asked) -> Answer:
    """The page of the batch whose number is ``named``; what follows it is ignored."""
    root = asked.root
    try:
        number = read_number(named)
    except BadInput as error:
        told = f"{error.faults[0].problem}. {error.faults[0].remedy}"
        if len(named) > _LONGEST_NUMBER:
            told = f"{quoted(named)} is no batch number."
        return Answer(404, site.unknown(root, told))
    try:
        return Answer(200, site.batch(number, root, asked.query))
    except Unknown:
        told = f"There is no batch {number} on this shelf."
        return Answer(404, site.unknown(root, told))
