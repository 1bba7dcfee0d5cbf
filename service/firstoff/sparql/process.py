"""One worker process as the service sees it: asked, waited for, killed."""

from __future__ import annotations

import json
import logging
import os
import select
import time
from contextlib import suppress
from dataclasses import asdict
from typing import Any

from firstoff import errors
from firstoff.sparql.asking import Answer, Limits, Question
from firstoff.sparql.children import started
from firstoff.sparql.frames import HEAD_BYTES, frame, lengths
from firstoff.sparql.snapshots import Snapshot

_log = logging.getLogger("firstoff.sparql")

_START_SECONDS = 60.0
_HEAD_BYTES_MOST = 1 << 20
_CHUNK = 1 << 16
#: The errors that a worker may answer with, by name.
_TOLD = {
    each.__name__: each
    for each in (
        errors.QueryMalformed,
        errors.QueryNotAllowed,
        errors.BadRequest,
        errors.NotAcceptable,
        errors.AnswerTooLarge,
        errors.EngineFailed,
    )
}


class Late(Exception):
    """There was no whole message in time."""


class Gone(Exception):
    """The process ended, or says what it should not."""


class Process:
    """A worker over a snapshot, which it holds until it is stopped. One thread asks; any may kill. ``begin`` first.

    :raises EngineFailed: it cannot be started.
    """

    def __init__(self, snapshot: Snapshot, limits: Limits) -> None:
        self.snapshot = snapshot
        self._limits = limits
        self._killed = False
        snapshot.hold()
        try:
            self._child = started("firstoff.sparql.worker")
        except OSError as error:
            snapshot.release()
            raise errors.EngineFailed(f"No process for queries can be started: {error}") from error
        self._poll = select.poll()
        self._poll.register(self._output, select.POLLIN)

    def begin(self) -> None:
        """Let it open its snapshot, and wait until it can be asked.

        :raises EngineFailed: it cannot; it is to be stopped.
        """
        graphs = list(self.snapshot.served.graphs)
        try:
            self._write({"folder": str(self.snapshot.folder), "graphs": graphs, "limits": asdict(self._limits)})
            head, _ = self._read(time.monotonic() + _START_SECONDS)
        except (Late, Gone) as error:
            self.kill()
            raise errors.EngineFailed("A process for queries did not start.") from error
        if head["network"]:
            _log.info("a process for queries keeps its network, and opens no file any more: unshare(2) is forbidden")

    @property
    def pid(self) -> int:
        return self._child.pid

    @property
    def alive(self) -> bool:
        """Whether it can be asked again."""
        return not self._killed and self._child.poll() is None

    def ask(self, question: Question) -> Answer:
        """The whole answer. Where the query is stopped, so is the process.

        :raises QueryStopped: it ran over its seconds or its memory.
        :raises FirstoffError: what the worker says.
        """
        try:
            self._write(
                {
                    "text": question.text,
                    "default": question.dataset.default,
                    "named": question.dataset.named,
                    "result_type": question.result_type,
                    "graph_type": question.graph_type,
                }
            )
            head, body = self._read(time.monotonic() + self._limits.seconds)
        except Late as error:
            self.kill()
            raise errors.QueryStopped(f"The query was stopped after {self._limits.seconds:g} seconds.") from error
        except Gone as error:
            self.kill()
            megabytes = self._limits.memory_bytes // 1_000_000
            raise errors.QueryStopped(
                f"The query was stopped: it needs more than {megabytes:,} MB of memory, or is too deep to be run."
            ) from error
        if "error" in head:
            raise _TOLD[head["error"]](head["detail"], mend=head["mend"])
        return Answer(body, head["media_type"], head["rows"], self.snapshot.served.revision)

    def kill(self) -> None:
        """End it at once, with what it does."""
        self._killed = True
        self._child.kill()

    def stop(self) -> None:
        """End it and let its snapshot go. Once."""
        self._child.kill()
        self._child.wait()
        for pipe in (self._child.stdin, self._child.stdout):
            if pipe is not None:
                with suppress(OSError):  # what was not written yet has nowhere to go
                    pipe.close()
        self.snapshot.release()

    @property
    def _output(self) -> int:
        assert self._child.stdout is not None
        return self._child.stdout.fileno()

    def _write(self, head: dict[str, Any]) -> None:
        assert self._child.stdin is not None
        try:
            self._child.stdin.write(frame(head))
            self._child.stdin.flush()
        except OSError as error:
            raise Gone from error

    def _read(self, end: float) -> tuple[dict[str, Any], bytes]:
        head, body = lengths(self._bytes(HEAD_BYTES, end))
        if head > _HEAD_BYTES_MOST or body > self._limits.bytes:
            raise Gone
        return json.loads(self._bytes(head, end)), self._bytes(body, end)

    def _bytes(self, count: int, end: float) -> bytes:
        """The next ``count`` bytes, and no more than those in memory."""
        found = bytearray()
        while len(found) < count:
            left = end - time.monotonic()
            if left <= 0 or not self._poll.poll(left * 1000):
                raise Late
            read = os.read(self._output, min(_CHUNK, count - len(found)))
            if not read:
                raise Gone
            found += read
        return bytes(found)
