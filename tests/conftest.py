"""Fixtures that several rooms share: the demo content opened once, a desk and a client over it."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from fastapi.testclient import TestClient
from hypothesis import settings as hypothesis_settings

from firstoff.answers.desk import Desk
from firstoff.api.application import create_app
from firstoff.collection.opening import Opened, open_content
from firstoff.settings import Settings
from firstoff.store.embedded import EmbeddedStore
from firstoff.store.interface import Store
from support import engines

hypothesis_settings.register_profile("firstoff", deadline=None)
hypothesis_settings.load_profile("firstoff")


@pytest.fixture(scope="session")
def settings() -> Settings:
    return Settings()


@pytest.fixture(scope="session")
def opened(settings: Settings) -> Opened:
    """The demo content."""
    return open_content(settings.data)


@pytest.fixture(scope="session")
def desk(opened: Opened, settings: Settings) -> Desk:
    return Desk(opened, settings)


@pytest.fixture(scope="session")
def client(opened: Opened, settings: Settings) -> Iterator[TestClient]:
    with TestClient(create_app(opened, settings), raise_server_exceptions=False) as client:
        yield client


@pytest.fixture(scope="session")
def needed() -> object:
    """``needed(present, what)`` skips where something outside Python is absent, and fails where no skip is allowed."""

    def check(present: object, what: str) -> None:
        if present:
            return
        if os.environ.get("FIRSTOFF_NO_SKIPS"):
            pytest.fail(f"{what} is missing, and no test may skip here")
        pytest.skip(f"needs {what}")

    return check


@pytest.fixture(scope="session")
def oxigraph_server(tmp_path_factory: pytest.TempPathFactory, needed: Callable[..., None]) -> Iterator[engines.Server]:
    """An Oxigraph server."""
    needed(engines.oxigraph_command(), "the Oxigraph server")
    yield from _running(engines.oxigraph(tmp_path_factory.mktemp("oxigraph")))


@pytest.fixture(scope="session")
def virtuoso_server(tmp_path_factory: pytest.TempPathFactory, needed: Callable[..., None]) -> Iterator[engines.Server]:
    """A Virtuoso, which lets write only who shows a password by Digest."""
    needed(engines.virtuoso_command(), "Virtuoso")
    yield from _running(engines.virtuoso(tmp_path_factory.mktemp("virtuoso")))


def _running(server: engines.Server) -> Iterator[engines.Server]:
    server.start()
    try:
        yield server
    finally:
        server.stop()


@pytest.fixture(params=engines.KINDS)
def any_store(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Store]:
    """A store that holds nothing, on each engine in turn."""
    if request.param in ("memory", "folder"):
        yield EmbeddedStore(tmp_path / "engine" if request.param == "folder" else None)
        return
    store = request.getfixturevalue(f"{request.param}_server").store()
    yield engines.emptied(store)
    store.close()
