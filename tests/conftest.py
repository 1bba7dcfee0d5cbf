"""Fixtures that several rooms share: the demo content opened once, a desk and a client over it."""

from __future__ import annotations

import os
from collections.abc import Iterator

import pytest
from fastapi.testclient import TestClient
from hypothesis import settings as hypothesis_settings

from firstoff.answers.desk import Desk
from firstoff.api.application import create_app
from firstoff.collection.opening import Opened, open_content
from firstoff.settings import Settings

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
