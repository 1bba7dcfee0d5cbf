"""Queries over the content as it is now: the one thing of this room that the routes know.

Nothing is copied and no process runs until the first question, or until it is told to prepare for one. From then on
each new revision is copied in the background; until that is done the one before is answered from, and every answer
tells its revision.
"""

from __future__ import annotations

import asyncio
import logging
import time
import weakref
from concurrent.futures import Future, ThreadPoolExecutor
from threading import Lock

from firstoff.collection.opening import Opened
from firstoff.errors import FirstoffError, QueriesBusy, QueriesOff
from firstoff.settings import Settings
from firstoff.sparql.asking import Answer, Limits, Question, Served
from firstoff.sparql.folders import Folder
from firstoff.sparql.pool import Pool
from firstoff.sparql.snapshots import Snapshots

_log = logging.getLogger("firstoff.sparql")

#: Seconds that a question waits for the first copy, and after which a copy that failed is tried again.
_FIRST_SECONDS = 20.0
_AGAIN_SECONDS = 10.0


class Endpoint:
    """Asked from any event loop; told of new revisions from any thread."""

    def __init__(self, opened: Opened, settings: Settings) -> None:
        self._opened = opened
        self._settings = settings
        self._lock = Lock()
        self._running: _Running | None = None
        self._copying: Future[None] | None = None
        self._failed_at: float | None = None

    async def ask(self, question: Question) -> Answer:
        """The whole answer. Where whoever asks is cancelled, so is the query.

        :raises QueriesOff: queries are turned off, or the content is too large for them.
        :raises QueriesBusy: too many are waiting, or the first copy of the content is not made yet.
        :raises FirstoffError: what ``evaluation.answered`` raises, and QueryStopped.
        """
        running = await self._ready()
        job = running.pool.submit(question)
        try:
            return await asyncio.wrap_future(job.future)
        except asyncio.CancelledError:
            job.cancel()
            raise

    async def served(self) -> Served:
        """What is queried now; the same errors as ``ask``."""
        running = await self._ready()
        present = running.pool.present
        if present is None:
            raise QueriesBusy("The service is ending.")
        return present.served

    def renewed(self, opened: Opened) -> None:
        """The content has another revision now."""
        with self._lock:
            self._opened = opened
            if self._running is not None:
                self._copy()

    def close(self) -> None:
        """Kill what runs and remove what was copied. The next question would start anew."""
        with self._lock:
            running, self._running, self._copying = self._running, None, None
        if running is not None:
            running.close(wait=True)

    def prepare(self) -> None:
        """Begin the first copy, so that who asks first does not wait for it. Nothing where queries are turned off."""
        if self._settings.sparql_workers:
            self._begun()

    def _begun(self) -> tuple[_Running, Future[None] | None]:
        with self._lock:
            if self._settings.sparql_workers == 0:
                raise QueriesOff("This service takes no queries.")
            if self._running is None:
                self._running = _Running(self._settings)
                weakref.finalize(self, self._running.close, wait=False)
            if self._copying is None or (self._copying.done() and self._is_due()):
                self._copy()
            return self._running, self._copying

    async def _ready(self) -> _Running:
        running, copying = self._begun()
        if running.pool.present is None and copying is not None:
            try:
                await asyncio.wait_for(asyncio.shield(asyncio.wrap_future(copying)), _FIRST_SECONDS)
            except TimeoutError as error:
                raise QueriesBusy("The content is still being copied for queries.") from error
        return running

    def _is_due(self) -> bool:
        """Whether a copy failed some time ago, and that of this revision is still missing."""
        return self._failed_at is not None and time.monotonic() - self._failed_at > _AGAIN_SECONDS

    def _copy(self) -> None:
        if self._running is not None:
            self._copying = self._running.copier.submit(self._copied, self._running)

    def _copied(self, running: _Running) -> None:
        """Copy the present revision, unless it is the one that is answered from."""
        opened = self._opened
        present = running.pool.present
        if present is not None and present.served.revision == opened.collection.revision:
            return
        try:
            running.pool.switch(running.snapshots.made(opened))
            self._failed_at = None
        except FirstoffError as error:
            self._failed_at = time.monotonic()
            _log.error("the content cannot be copied for queries: %s", error.detail)
            raise


class _Running:
    """What there is from the first question on: a folder, what makes copies in it, and who answers from them."""

    def __init__(self, settings: Settings) -> None:
        limits = Limits(
            settings.sparql_seconds, settings.sparql_memory_bytes, settings.sparql_rows, settings.sparql_bytes
        )
        self._folder = Folder()
        self.snapshots = Snapshots(self._folder.path, settings.sparql_triples)
        self.pool = Pool(settings.sparql_workers, limits)
        self.copier = ThreadPoolExecutor(1, thread_name_prefix="sparql-copy")

    def close(self, *, wait: bool) -> None:
        """End it all. Twice does no harm."""
        self.snapshots.stop()
        self.pool.close(wait=wait)
        self.copier.shutdown(wait=wait, cancel_futures=True)
        self._folder.remove()
