"""Whether the last look at the engine went well: what readiness tells."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from time import monotonic

from firstoff.errors import StoreError

#: A look that has not ended for so many seconds is told as one that failed.
SLOW_SECONDS = 3.0


class Looks:
    """``now`` counts seconds and is never set back."""

    def __init__(self, now: Callable[[], float] = monotonic) -> None:
        self._now = now
        self._began: float | None = None
        self._failure: str | None = None
        self.failures = 0
        """How many looks have failed."""

    @contextmanager
    def looking(self) -> Iterator[None]:
        """Around one look; an error goes on, and is kept until a look goes well."""
        self._began = self._now()
        try:
            yield
        except StoreError as error:
            self._failure = error.detail
            self.failures += 1
            raise
        else:
            self._failure = None
        finally:
            self._began = None

    @property
    def failure(self) -> str | None:
        """Why the engine cannot be counted on, None where it can."""
        if self._failure is not None:
            return self._failure
        began = self._began
        if began is not None and self._now() - began > SLOW_SECONDS:
            return "The engine has not answered for some seconds."
        return None
