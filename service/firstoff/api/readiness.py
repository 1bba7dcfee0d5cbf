"""Whether requests should be sent here: one check a thing that has to hold, the worst of them is the answer."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable
from typing import Literal

from firstoff.access.key_file import KeyRing
from firstoff.collection.opening import Opened
from firstoff.collection.replica import Replica
from firstoff.collection.shelf import Shelf
from firstoff.errors import EngineFailed
from firstoff.settings import Settings
from firstoff_contract.operation import Readiness, ReadinessCheck, Refused

Status = Literal["ready", "degraded", "unavailable"]
Check = Callable[[], ReadinessCheck]
_ORDER: tuple[Status, ...] = ("ready", "degraded", "unavailable")


def readiness(opened: Opened, checks: Iterable[Check]) -> Readiness:
    """What the checks find now, and what is served."""
    found = [check() for check in checks]
    return Readiness(
        status=max((each.status for each in found), key=_ORDER.index, default="ready"),
        checks=found,
        revision=opened.collection.revision,
        platforms=opened.collection.platform_count,
        models=len(opened.collection.models),
        refused=[Refused(file=each.file, line=each.line, reason=each.reason) for each in opened.refused],
    )


def running(stopping: Callable[[], bool]) -> Check:
    """Whether the service was told to stop."""

    def check() -> ReadinessCheck:
        if stopping():
            return ReadinessCheck(name="running", status="unavailable", said="The service was told to stop.")
        return ReadinessCheck(name="running", status="ready", said="The service runs.")

    return check


def content(opened: Callable[[], Opened]) -> Check:
    """Whether content is served, and all of it."""

    def check() -> ReadinessCheck:
        now = opened()
        if not now.collection.models:
            return ReadinessCheck(name="content", status="unavailable", said="Nothing is served.")
        if now.refused:
            said = f"{len(now.refused)} of the files of content are not served; see `refused`."
            return ReadinessCheck(name="content", status="degraded", said=said)
        return ReadinessCheck(name="content", status="ready", said="All content is served.")

    return check


def engine(shelf: Shelf | Replica, *, looks_itself: bool) -> Check:
    """Whether the engine answers, as the last look at it says; looked at now unless ``looks_itself``."""

    def check() -> ReadinessCheck:
        failure = shelf.looks.failure
        store = shelf.opened.store
        if failure is None and store.shared and not looks_itself:
            try:
                store.check()
            except EngineFailed as error:
                failure = error.detail
        if failure is not None:
            return ReadinessCheck(name="engine", status="unavailable", said=failure)
        return ReadinessCheck(name="engine", status="ready", said="The engine answers.")

    return check


def keys(ring: KeyRing) -> Check:
    """Whether the keys are as their file is now."""

    def check() -> ReadinessCheck:
        ring.keys()
        if ring.failure:
            said = "The file of keys that is there cannot be used; the keys before it still serve."
            return ReadinessCheck(name="keys", status="degraded", said=said)
        return ReadinessCheck(name="keys", status="ready", said="The keys are as they were set up.")

    return check


def state(settings: Settings) -> Check:
    """Whether what is told can be kept."""

    def check() -> ReadinessCheck:
        if settings.state is None:
            return ReadinessCheck(name="state", status="ready", said="Nothing is to be kept.")
        if not os.access(settings.state, os.R_OK | os.W_OK | os.X_OK):
            said = "The folder that outcomes are kept in cannot be written to."
            return ReadinessCheck(name="state", status="degraded", said=said)
        room = os.statvfs(settings.state)
        if room.f_bavail == 0 and room.f_blocks:
            return ReadinessCheck(name="state", status="degraded", said="The disk that outcomes are kept on is full.")
        return ReadinessCheck(name="state", status="ready", said="Outcomes can be kept.")

    return check
