"""Answers kept in memory with their ETags, so that what has not changed is not sent again."""

from __future__ import annotations

from collections import OrderedDict
from threading import Lock

from .replies import Got

Key = tuple[str, str]


class Cache:
    """Answers by address and Accept, of at most ``most_bytes`` together; those used last stay. Several threads may
    share one. An answer is never given without asking the service whether it still holds."""

    def __init__(self, most_bytes: int) -> None:
        self._most = most_bytes
        self._size = 0
        self._kept: OrderedDict[Key, Got] = OrderedDict()
        self._lock = Lock()

    def held(self, key: Key) -> Got | None:
        """The answer kept under ``key``, which then counts as used."""
        with self._lock:
            found = self._kept.get(key)
            if found is not None:
                self._kept.move_to_end(key)
            return found

    def keep(self, key: Key, answer: Got) -> None:
        """Keep ``answer`` if it may be kept: it has an ETag, is not ``no-store``, and is not too large."""
        directives = {part.strip().lower() for part in answer.headers.get("cache-control", "").split(",")}
        with self._lock:
            old = self._kept.pop(key, None)
            self._size -= _bytes(old) if old is not None else 0
            if answer.etag is None or "no-store" in directives or _bytes(answer) > self._most:
                return
            self._kept[key] = answer
            self._size += _bytes(answer)
            while self._size > self._most:
                _, dropped = self._kept.popitem(last=False)
                self._size -= _bytes(dropped)

    def __len__(self) -> int:
        return len(self._kept)

    @property
    def size(self) -> int:
        """Bytes kept."""
        return self._size


def _bytes(answer: Got) -> int:
    """What an answer takes: its body, and its headers by a rough count."""
    return len(answer.body) + sum(len(name) + len(value) for name, value in answer.headers.items())
