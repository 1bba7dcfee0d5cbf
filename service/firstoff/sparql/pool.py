"""A few worker processes and those who wait for one. A query is never run here, only waited for and killed."""

from __future__ import annotations

from concurrent.futures import Future, ThreadPoolExecutor
from threading import Lock

from firstoff.errors import EngineFailed, FirstoffError, QueriesBusy
from firstoff.sparql.asking import Answer, Limits, Question
from firstoff.sparql.process import Process
from firstoff.sparql.snapshots import Snapshot

#: How many may wait for each worker; the last of them waits at most this many budgets of seconds.
_WAITING_EACH = 3


class Job:
    """A question on its way; ``future`` has its answer."""

    def __init__(self, question: Question) -> None:
        self.question = question
        self.future: Future[Answer] = Future()
        self.future.set_running_or_notify_cancel()  # only ``cancel`` ends it
        self._process: Process | None = None
        self._cancelled = False
        self._lock = Lock()

    def cancel(self) -> None:
        """Nobody wants the answer: do not begin, or kill what runs."""
        with self._lock:
            self._cancelled = True
            if self._process is not None:
                self._process.kill()

    def begins_in(self, process: Process) -> bool:
        """Whether it may begin; from now on ``cancel`` kills ``process``."""
        with self._lock:
            self._process = None if self._cancelled else process
            return not self._cancelled

    def ends(self) -> None:
        """``cancel`` kills nothing any more."""
        with self._lock:
            self._process = None


class Pool:
    """``workers`` processes over the present snapshot. Safe to use from several threads."""

    def __init__(self, workers: int, limits: Limits) -> None:
        self._workers = workers
        self._limits = limits
        self._threads = ThreadPoolExecutor(workers, thread_name_prefix="sparql")
        self._lock = Lock()
        self._idle: list[Process] = []
        self._busy: set[Process] = set()
        self._asked = 0
        self._closed = False
        self.present: Snapshot | None = None

    def switch(self, snapshot: Snapshot) -> None:
        """Answer from ``snapshot`` from now on; what runs ends on the one before, which is then removed.

        :raises EngineFailed: no worker can be started; nothing is changed.
        """
        ready: list[Process] = []
        try:
            for _ in range(self._workers):
                ready.append(Process(snapshot, self._limits))
            for process in ready:  # all load their libraries at the same time
                process.begin()
        except FirstoffError:
            _stop(ready)
            snapshot.retire()
            raise
        before: Snapshot | None = snapshot
        with self._lock:
            if not self._closed:
                before, self.present = self.present, snapshot
                ready, self._idle = self._idle, ready
        if before is not None:
            before.retire()
        _stop(ready)

    def submit(self, question: Question) -> Job:
        """Have a question answered as soon as a worker is free.

        :raises QueriesBusy: too many wait already, or the service is ending.
        """
        job = Job(question)
        with self._lock:
            if self._closed:
                raise QueriesBusy("The service is ending.")
            if self._asked >= self._workers * (1 + _WAITING_EACH):
                raise QueriesBusy("Too many queries are waiting already.")
            self._asked += 1
            self._threads.submit(self._work, job)
        return job

    def close(self, *, wait: bool = True) -> None:
        """Kill every worker, and with it what it does."""
        with self._lock:
            self._closed = True
            idle, self._idle = self._idle, []
            for process in self._busy:
                process.kill()
        _stop(idle)
        self._threads.shutdown(wait=wait)
        if self.present is not None:
            self.present.retire()

    def _work(self, job: Job) -> None:
        process = None
        try:
            process = self._taken()
            if not job.begins_in(process):
                raise QueriesBusy("The query was given up.")
            job.future.set_result(process.ask(job.question))
        except Exception as error:
            job.future.set_exception(error)
        finally:
            job.ends()
            with self._lock:
                self._asked -= 1
            if process is not None:
                self._give_back(process)

    def _taken(self) -> Process:
        """A process to use alone. There is one idle for each thread, unless a start failed."""
        with self._lock:
            if self._idle and not self._closed:
                process = self._idle.pop()
                self._busy.add(process)
                return process
        return self._started()

    def _started(self) -> Process:
        """A new process, to use alone."""
        with self._lock:
            if self._closed or self.present is None:
                raise QueriesBusy("The service is ending.")
            snapshot = self.present
            snapshot.hold()  # a switch may come while the process starts
        try:
            process = Process(snapshot, self._limits)
        finally:
            snapshot.release()
        try:
            process.begin()
        except FirstoffError:
            process.stop()
            raise
        with self._lock:
            self._busy.add(process)
            if self._closed:
                process.kill()
        return process

    def _give_back(self, process: Process) -> None:
        """Keep it for the next, or start another where it was killed; one of the snapshot before ends here."""
        with self._lock:
            self._busy.discard(process)
            present, closed = self.present, self._closed
            if process.alive and process.snapshot is present and not closed:
                self._idle.append(process)
                return
            wanted = not closed and len(self._idle) + len(self._busy) < self._workers
        process.stop()
        if wanted:
            self._replace()

    def _replace(self) -> None:
        try:
            process = self._started()
        except (EngineFailed, QueriesBusy):  # the next that is asked tries again, and tells
            return
        self._give_back(process)


def _stop(processes: list[Process]) -> None:
    for process in processes:
        process.stop()
