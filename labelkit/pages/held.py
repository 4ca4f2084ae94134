"""What was made once of something that never changes, held for when it is asked again.

Only what depends on nothing but its key may be held: then it can never be out of date.
"""

from collections import OrderedDict
from collections.abc import Callable, Hashable
from threading import Lock
from typing import Generic, TypeVar

__all__ = ["Held"]

K = TypeVar("K", bound=Hashable)
V = TypeVar("V")


class Held(Generic[K, V]):
    """The values asked for last; may be shared by threads.

    Args:
        most: how many are held.
    """

    def __init__(self, most: int) -> None:
        self._most = most
        self._values: OrderedDict[K, V] = OrderedDict()
        self._lock = Lock()

    def __len__(self) -> int:
        return len(self._values)

    def get(self, key: K, make: Callable[[], V]) -> V:
        """The value of a key, made where it is not held."""
        with self._lock:
            if key in self._values:
                self._values.move_to_end(key)
                return self._values[key]
        value = make()
        with self._lock:
            self._values[key] = value
            if len(self._values) > self._most:
                self._values.popitem(last=False)
        return value
