"""The PIN of a room: tried by hand, never by machine.

A PIN of six figures holds because trying is slow: after a few wrong tries from one
address each further one has to wait, longer every time; the same, with more patience,
for all addresses together, as one machine in a network can have many.
"""

from collections import OrderedDict
from collections.abc import Callable
from hmac import compare_digest
from math import ceil
from threading import Lock
from time import monotonic

from msgspec import Struct

__all__ = ["FROM_ALL", "FROM_ONE", "Pace", "Pin", "Tried"]

_MOST_ADDRESSES = 1000
_MOST_DOUBLINGS = 30
_BETWEEN = str.maketrans("", "", " \t\u00a0-")


class Pace(Struct, frozen=True):
    """How fast wrong tries may follow one another.

    Attributes:
        free: wrong tries before the first wait.
        first_s: the first wait [s]; each further one is twice as long.
        longest_s: no wait is longer [s].
        forgotten_after_s: without a wrong try for so long, counting starts again [s].
    """

    free: int
    first_s: float
    longest_s: float
    forgotten_after_s: float


# At one try a minute half of a million PINs take 347 days.
FROM_ONE = Pace(5, 30, 900, 24 * 3600)
FROM_ALL = Pace(20, 2, 60, 3600)


class Tried(Struct, frozen=True):
    """What came of a try; ``wait_s`` until the next one counts [s], else 0."""

    right: bool
    wait_s: int = 0


class _Count(Struct):
    wrong: int = 0
    last: float = 0.0

    def wait_s(self, pace: Pace, now: float) -> float:
        if self.wrong < pace.free:
            return 0.0
        doublings = min(self.wrong - pace.free, _MOST_DOUBLINGS)
        wait = min(pace.first_s * 2.0**doublings, pace.longest_s)
        return max(self.last + wait - now, 0.0)

    def one_more(self, pace: Pace, now: float) -> None:
        if now - self.last > pace.forgotten_after_s:
            self.wrong = 0
        self.wrong += 1
        self.last = now


class Pin:
    """A PIN and the wrong tries at it.

    Args:
        figures: the PIN.
        clock: seconds that only grow.
    """

    def __init__(self, figures: str, clock: Callable[[], float] = monotonic) -> None:
        self._figures = figures.encode()
        self._clock = clock
        self._all = _Count()
        self._by_address: OrderedDict[str, _Count] = OrderedDict()
        self._one_at_a_time = Lock()

    def tried(self, figures: str, address: str) -> Tried:
        """Whether it is the PIN; while there is a wait, no try is looked at.

        Args:
            figures: as typed; spaces and dashes are ignored.
            address: from where it was tried.
        """
        sent = figures.translate(_BETWEEN).encode("utf-8", "replace")
        with self._one_at_a_time:
            now, count = self._clock(), self._count(address)
            wait = self._wait_s(count, now)
            if wait:
                return Tried(right=False, wait_s=wait)
            if compare_digest(sent, self._figures):
                self._by_address.pop(address, None)
                return Tried(right=True)
            count.one_more(FROM_ONE, now)
            self._all.one_more(FROM_ALL, now)
            return Tried(right=False, wait_s=self._wait_s(count, now))

    def _wait_s(self, count: _Count, now: float) -> int:
        return ceil(max(count.wait_s(FROM_ONE, now), self._all.wait_s(FROM_ALL, now)))

    def _count(self, address: str) -> _Count:
        """Of an address; the one heard of longest ago makes room for a new one."""
        count = self._by_address.setdefault(address, _Count())
        self._by_address.move_to_end(address)
        if len(self._by_address) > _MOST_ADDRESSES:
            self._by_address.popitem(last=False)
        return count
