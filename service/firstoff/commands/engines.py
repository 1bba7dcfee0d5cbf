"""Build the engine anew from the files of the content."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

from firstoff.collection.engines import engine_of
from firstoff.collection.opening import Opened, open_content
from firstoff.collection.pointers import leftovers, pointers
from firstoff.commands.shared import ERR, Data, opened_for, settings_for
from firstoff.errors import BadRequest, EngineFailed
from firstoff.settings import Settings
from firstoff.store.embedded import EmbeddedStore
from firstoff.tables.shared import counted


def rebuild(data: Data = None) -> None:
    """Build the engine that FIRSTOFF_ENGINE names anew from the folder of content. Stop the service first.

    An engine in a folder is put aside, not thrown away, and a new one is made in its place. On a server the graphs of
    this project are dropped and written again; others are not touched.
    """
    settings = settings_for(data)
    if settings.engine == "memory":
        raise BadRequest(
            "The engine is in memory: it is built anew whenever a service starts.", mend="Start the service again."
        )
    if settings.reads_only:
        raise BadRequest(
            "This service only reads.", mend="Run it where FIRSTOFF_ENGINE_UPDATE and the folder of content are."
        )
    if not settings.engine_is_server:
        _put_aside(Path(settings.engine))

    def anew(settings: Settings, *progress: object, **_: object) -> Opened:
        store = engine_of(settings)
        for platform in pointers(store):
            store.withdraw(platform)
        for graph in leftovers(store):
            store.drop(graph)
        return open_content(settings.data, *progress, store=store)  # type: ignore[arg-type]

    opened = opened_for(settings, opening=anew)
    print(f"The engine holds {counted(opened.collection.platform_count, 'platform')}.")


def _put_aside(folder: Path) -> None:
    """:raises EngineFailed: a service uses it."""
    if not folder.exists():
        return
    try:
        EmbeddedStore(folder)
    except EngineFailed as error:
        if "in use" in error.detail:
            raise
    aside = folder.with_name(f"{folder.name}.aside-{datetime.now(UTC):%Y%m%dT%H%M%SZ}")
    folder.rename(aside)
    ERR.print(f"put aside as {aside}", markup=False, highlight=False)
