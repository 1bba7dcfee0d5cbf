"""What was compiled, up to a measure: what was asked for longest ago goes first."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Hashable
from threading import Lock
from typing import Generic, TypeVar

K = TypeVar("K", bound=Hashable)
V = TypeVar("V")


class Kept(Generic[K, V]):
    """Values by key whose weights together are at most ``most``, but that the one put last always stays.

    Safe to use from several threads.
    """

    def __init__(self, most: int) -> None:
        self._most = most
        self._weight = 0
        self._values: OrderedDict[K, tuple[V, int]] = OrderedDict()
        self._lock = Lock()

    def __len__(self) -> int:
        return len(self._values)

    def get(self, key: K) -> V | None:
        with self._lock:
            found = self._values.get(key)
            if found is None:
                return None
            self._values.move_to_end(key)
            return found[0]

    def put(self, key: K, value: V, weight: int) -> V:
        """The value that is kept for ``key``: one that another thread put there first, or ``value``."""
        with self._lock:
            if key in self._values:
                self._values.move_to_end(key)
                return self._values[key][0]
            self._values[key] = value, weight
            self._weight += weight
            while self._weight > self._most and len(self._values) > 1:
                _, (_, gone) = self._values.popitem(last=False)
                self._weight -= gone
            return value
