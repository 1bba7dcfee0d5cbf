"""A service that only reads: what a shared engine points to, followed by looking at the pointers."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from threading import RLock
from typing import Any, NoReturn

from firstoff.collection.looks import Looks
from firstoff.collection.opening import Opened, opened_from
from firstoff.collection.pointers import pointers
from firstoff.errors import PublishedElsewhere
from firstoff.store.interface import Store


def opened_replica(store: Store) -> Opened:
    """What the engine points to; nothing at all where the service that publishes has not filled it yet.

    :raises StoreError: the engine failed.
    """
    return opened_from(store, ())


class Replica:
    """As a ``Shelf`` to those that read; authors are sent to the service that publishes, at ``publisher``."""

    def __init__(self, opened: Opened, changed: Callable[[Opened], None] = lambda _: None, publisher: str = "") -> None:
        self._opened = opened
        self._changed = changed
        self._publisher = publisher
        self._lock = RLock()
        self.looks = Looks()

    @property
    def opened(self) -> Opened:
        """The present revision."""
        return self._opened

    def refresh(self) -> bool:
        """Take over what the engine points to now; True where that is something else.

        :raises StoreError: the engine failed; what was served is served on from memory as far as it goes.
        """
        with self._lock, self.looks.looking():
            if pointers(self._opened.store) == self._opened.collection.pointers:
                return False
            self._opened = opened_from(self._opened.store, (), self._opened.segments)
            self._changed(self._opened)
            return True

    @property
    def folder(self) -> Path:
        """:raises PublishedElsewhere: always; the folder of content is where the service that publishes is."""
        raise self._elsewhere()

    @property
    def platforms(self) -> frozenset[str]:
        """The platforms that are served."""
        return frozenset(entry.platform.id for entry in self._opened.collection.models)

    def check(self, *_: Any, **__: Any) -> NoReturn:
        """:raises PublishedElsewhere: always."""
        raise self._elsewhere()

    publish = restore = withdraw = check

    def _elsewhere(self) -> PublishedElsewhere:
        return PublishedElsewhere(
            "This service only reads, from an engine that another service publishes into.",
            mend=f"Send the same request to {self._publisher}."
            if self._publisher
            else "Send the same request to the service that has the folder of content and FIRSTOFF_ENGINE_UPDATE.",
        )
