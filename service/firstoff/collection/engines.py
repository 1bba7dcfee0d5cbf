"""Which engine holds the triples, by the settings; and what follows it."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from pathlib import Path

from firstoff.collection.opening import Opened, open_content
from firstoff.collection.replica import Replica, opened_replica
from firstoff.collection.shelf import Shelf
from firstoff.errors import BadRequest, StoreError
from firstoff.settings import Settings
from firstoff.store.embedded import EmbeddedStore
from firstoff.store.interface import Store

Progress = Callable[[str], None]


def engine_of(settings: Settings, environment: Mapping[str, str] = os.environ) -> Store:
    """The engine that ``settings.engine`` names; a server is probed first. User and password are in ``environment``.

    :raises BadRequest: the engine cannot be used as it is set up.
    :raises StoreError: it cannot be opened, or does not answer.
    """
    if settings.engine == "memory":
        return EmbeddedStore()
    if not settings.engine_is_server:
        return EmbeddedStore(Path(settings.engine))
    try:
        from firstoff.store.credentials import Credentials
        from firstoff.store.probing import probed
        from firstoff.store.remote import RemoteStore
    except ModuleNotFoundError as error:
        raise BadRequest(
            "The HTTP client for engines on the network is not installed here.",
            mend="Install it: pip install 'firstoff[remote]'",
        ) from error
    store = RemoteStore(
        settings.engine,
        settings.engine_update or None,
        seconds=settings.engine_seconds,
        credentials=Credentials.from_environment(environment),
    )
    try:
        probed(store)
    except StoreError:
        store.close()
        raise
    return store


def open_service(
    settings: Settings,
    progress: Progress = lambda _: None,
    *,
    may_be_empty: bool = False,
    environment: Mapping[str, str] = os.environ,
) -> Opened:
    """What a service serves: the folder of content in its engine, or what the engine of another service points to.

    :raises ContentMissing: there is no content.
    :raises BadRequest: the engine cannot be used as it is set up.
    :raises StoreError: the engine failed.
    """
    store = engine_of(settings, environment)
    if not store.writes:
        progress("reading from the engine")
        return opened_replica(store)
    return open_content(settings.data, progress, may_be_empty=may_be_empty, store=store)


def open_answers(settings: Settings, progress: Progress = lambda _: None, *, may_be_empty: bool = False) -> Opened:
    """What one command answers from: the engine where that is all there is, else the folder of content in memory.

    An engine in a folder belongs to the service that runs on it, and what is published there comes from the same
    files.
    """
    if settings.reads_only:
        return open_service(settings, progress)
    return open_content(settings.data, progress, may_be_empty=may_be_empty)


def following(opened: Opened, settings: Settings, changed: Callable[[Opened], None]) -> Shelf | Replica:
    """What keeps ``opened`` up to date."""
    if opened.store.writes:
        return Shelf(opened, settings.data, changed)
    return Replica(opened, changed, settings.publisher)
