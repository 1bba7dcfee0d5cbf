"""Numbers for pointers: each higher than all before it."""

from __future__ import annotations

from threading import Lock
from typing import Protocol

from firstoff.store.terms import Row, Text


class _Selecting(Protocol):
    def select(self, query: str) -> list[Row]: ...


class Numbering:
    """The numbers that one store gives. It reads the highest once: one process writes at a time."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._last: int | None = None

    def following(self, store: _Selecting) -> int:
        """The next number.

        :raises StoreError: those given so far cannot be read.
        """
        with self._lock:
            if self._last is None:
                rows = store.select("numbers")
                self._last = max(
                    (int(row["number"].value) for row in rows if isinstance(row["number"], Text)), default=0
                )
            self._last += 1
            return self._last
