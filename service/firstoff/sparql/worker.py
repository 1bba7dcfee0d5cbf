"""The process that runs queries: ``python -m firstoff.sparql.worker``, started and killed by ``pool``.

It reads messages from its input and answers each on its output. It has no network, a cap on memory, and nothing of the
service's environment. When the service goes, however it goes, its input ends, and so does the process, in the middle
of a query too.
"""

from __future__ import annotations

import os
import sys
import threading
from collections.abc import Callable
from queue import SimpleQueue
from typing import Any, BinaryIO

from firstoff.sparql import walls
from firstoff.sparql.frames import frame, read_frame


def main() -> None:
    """Set up as the first message says, then answer one question after the other."""
    network = walls.without_network()  # before the reading thread and whatever an import starts
    messages: SimpleQueue[dict[str, Any]] = SimpleQueue()
    threading.Thread(target=_read, args=(sys.stdin.buffer, messages.put), daemon=True).start()
    answers = _Answers(messages.get())
    if not network:
        walls.without_new_files()
    walls.behind_others()
    _send({"ready": True, "network": not network})
    while True:
        _send(*answers.to(messages.get()))


class _Answers:
    """Answers over one snapshot; the libraries are loaded here, behind the wall."""

    def __init__(self, setup: dict[str, Any]) -> None:
        import pyoxigraph as ox

        from firstoff.sparql.asking import Limits

        self._limits = Limits(**setup["limits"])
        walls.within(self._limits.memory_bytes)
        self._store = ox.Store.read_only(setup["folder"])
        self._graphs = frozenset(setup["graphs"])
        self.to({"text": "ASK {}", "default": [], "named": [], "result_type": "text/csv", "graph_type": None})

    def to(self, asked: dict[str, Any]) -> tuple[dict[str, Any], bytes]:
        from firstoff.errors import FirstoffError
        from firstoff.sparql.asking import Dataset, Question
        from firstoff.sparql.evaluation import answered

        dataset = Dataset(tuple(asked["default"]), tuple(asked["named"]))
        question = Question(asked["text"], dataset, asked["result_type"], asked["graph_type"])
        try:
            answer = answered(self._store, self._graphs, question, self._limits)
        except FirstoffError as error:
            return {"error": type(error).__name__, "detail": error.detail, "mend": error.mend}, b""
        return {"media_type": answer.media_type, "rows": answer.rows}, answer.body


def _read(source: BinaryIO, put: Callable[[dict[str, Any]], None]) -> None:
    """Pass on what comes; end the process, whatever it does, where nothing can come any more."""
    while (found := read_frame(source)) is not None:
        put(found[0])
    os._exit(0)


def _send(head: dict[str, Any], body: bytes = b"") -> None:
    sys.stdout.buffer.write(frame(head, body))
    sys.stdout.buffer.flush()


if __name__ == "__main__":
    main()
