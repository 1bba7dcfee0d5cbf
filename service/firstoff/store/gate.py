"""How many may ask an engine at the same time: a slow engine must not fill the service with those that wait."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from threading import Condition
from time import monotonic

from firstoff.errors import EngineFailed


class Gate:
    """Lets ``inside`` in at a time; ``waiting`` more wait, each up to ``seconds``, and others are refused at once."""

    def __init__(self, inside: int, waiting: int, seconds: float) -> None:
        self._free, self._places, self._seconds = inside, waiting, seconds
        self._changed = Condition()

    @contextmanager
    def passed(self) -> Iterator[None]:
        """:raises EngineFailed: too many wait, or it waited for too long."""
        with self._changed:
            if self._free == 0:
                self._wait()
            self._free -= 1
        try:
            yield
        finally:
            with self._changed:
                self._free += 1
                self._changed.notify()

    def _wait(self) -> None:
        if self._places == 0:
            raise EngineFailed("The engine is behind: too many questions wait for it already.")
        end = monotonic() + self._seconds
        self._places -= 1
        try:
            while self._free == 0:
                left = end - monotonic()
                if left <= 0:
                    raise EngineFailed(f"The engine was not free within {self._seconds:g} s.")
                self._changed.wait(left)
        finally:
            self._places += 1
