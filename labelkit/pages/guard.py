"""Who may write, and whether what is sent comes from a page of ours.

Every form carries a token that is bound to a cookie and to a secret of this process: a
page elsewhere can neither read nor guess it. Where a PIN was drawn, the cookie must
also have been given for the PIN. Cookies hold random figures, and nothing of a person.
"""

import hmac
import re
import secrets
from collections import OrderedDict
from collections.abc import Callable
from hashlib import sha256
from threading import Lock
from time import monotonic

from msgspec import Struct

from labelkit.pages.pins import Pin, Tried

__all__ = [
    "LASTS_S",
    "LOCAL_NAMES",
    "Guard",
    "Visit",
    "comes_from_elsewhere",
    "host_name",
    "is_surely_ours",
]

LOCAL_NAMES = frozenset({"127.0.0.1", "localhost"})
LASTS_S = 12 * 3600
_RANDOM_BYTES = 32
_ID = re.compile(r"[A-Za-z0-9_-]{43}")
_PORT = re.compile(r":[0-9]{0,5}\Z")
_MOST_VISITS = 1000
_OWN = ("same-origin", "none")


def host_name(host: str) -> str:
    """The name in a ``Host`` header, in small letters, without its port."""
    return _PORT.sub("", host.strip()).lower().removesuffix(".")


def _is_local(name: str) -> bool:
    return name in LOCAL_NAMES


class Visit(Struct, frozen=True):
    """One browser, as far as its cookie tells; ``is_new`` where it has none yet."""

    id: str
    is_new: bool = False


class Guard:
    """Stands before everything that writes.

    Args:
        pin: asked for before anything is written; None where whoever reaches this
            machine at all may write.
        knows: whether a name in an address is one of ours.
        cookie: its name, which other programs on this machine must not share.
        clock: seconds that only grow.
    """

    def __init__(
        self,
        pin: Pin | None = None,
        *,
        knows: Callable[[str], bool] = _is_local,
        cookie: str = "labelkit",
        clock: Callable[[], float] = monotonic,
    ) -> None:
        self.cookie = cookie
        self._pin = pin
        self._knows = knows
        self._clock = clock
        self._secret = secrets.token_bytes(_RANDOM_BYTES)
        self._until: OrderedDict[bytes, float] = OrderedDict()
        self._lock = Lock()

    @property
    def asks_pin(self) -> bool:
        """Whether a PIN stands before everything that writes."""
        return self._pin is not None

    def knows(self, host: str) -> bool:
        """Whether a ``Host`` header names this machine.

        A page elsewhere must not reach this one by a name of its own that was pointed
        at our address.
        """
        return self._knows(host_name(host))

    def visit(self, cookie: str) -> Visit:
        """The browser that sent a cookie; a new one where it sent none of ours."""
        return Visit(cookie) if _ID.fullmatch(cookie) else self._drawn()

    def token(self, visit: Visit) -> str:
        """What the forms of a browser must bring back."""
        return hmac.new(self._secret, visit.id.encode(), sha256).hexdigest()

    def fits(self, visit: Visit, token: str) -> bool:
        """Whether a token is that of a browser."""
        sent = token.encode("utf-8", "replace")
        return hmac.compare_digest(sent, self.token(visit).encode())

    def may_write(self, visit: Visit) -> bool:
        """Whether it is this machine, or the PIN was given not long ago."""
        if self._pin is None:
            return True
        with self._lock:
            until = self._until.get(_digest(visit.id))
            return until is not None and self._clock() < until

    def tried(self, figures: str, address: str) -> tuple[Tried, Visit | None]:
        """What came of a try at the PIN, and the visit that may write from now on.

        It is a new one, so that no cookie known before gains anything.
        """
        if self._pin is None:
            return Tried(right=False), None
        tried = self._pin.tried(figures, address)
        return tried, self._let_in() if tried.right else None

    def _let_in(self) -> Visit:
        visit = self._drawn()
        with self._lock:
            self._until[_digest(visit.id)] = self._clock() + LASTS_S
            if len(self._until) > _MOST_VISITS:
                self._until.popitem(last=False)
        return visit

    def _drawn(self) -> Visit:
        return Visit(secrets.token_urlsafe(_RANDOM_BYTES), is_new=True)


def comes_from_elsewhere(origin: str | None, site: str | None, own: str) -> bool:
    """Whether a browser says that what it sends comes from another site's page.

    Args:
        origin: of the header ``Origin`` (Fetch Standard, 3.2), or None.
        site: of ``Sec-Fetch-Site`` (Fetch Metadata Request Headers, 2.3), or None.
        own: our own origin, such as ``http://127.0.0.1:8731``.
    """
    foreign = origin is not None and origin.lower() != own.lower()
    return foreign or (site is not None and site not in _OWN)


def is_surely_ours(origin: str | None, site: str | None, own: str) -> bool:
    """Whether the browser says that what it sends comes from a page of ours."""
    told = origin is not None or site is not None
    return told and not comes_from_elsewhere(origin, site, own)


def _digest(visit: str) -> bytes:
    return sha256(visit.encode()).digest()
