"""The conformance cases, every request of the contract to read, answered alike on every engine."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from firstoff.api.application import create_app
from firstoff.api.conformance import answered, cases
from firstoff.api.conformance_questions import SUBJECTS
from firstoff.collection.engines import open_service
from firstoff.collection.opening import Opened, open_content
from firstoff.settings import Settings
from firstoff.store.embedded import EmbeddedStore
from firstoff.store.interface import Store
from firstoff.store.probing import probed
from support import engines
from support.engines import emptied


@pytest.fixture(scope="module", params=[kind for kind in engines.KINDS if kind != "memory"])
def other(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """A service on another engine than the one in memory; on a server, one that only reads what was published there."""
    if request.param == "folder":
        store: Store = EmbeddedStore(tmp_path_factory.mktemp("engine"))
        settings = Settings()
        opened = open_content(settings.data, store=store)
    else:
        server = request.getfixturevalue(f"{request.param}_server")
        publishing = server.store()
        probed(publishing)
        open_content(Settings().data, store=emptied(publishing))
        publishing.close()
        settings = Settings(engine=server.query, engine_seconds=30, data=Path("/nowhere"))
        opened = open_service(settings, environment={})
    with TestClient(create_app(opened, settings), raise_server_exceptions=False) as client:
        yield client
    if opened.store.shared:
        opened.store.close()  # type: ignore[attr-defined]


#: Subjects whose answers take long to compute: each engine is asked another third of their cases. What they are
#: computed from is compared as a whole below.
LONG = ("search", "diagnosis", "plans")


@pytest.mark.parametrize("subject", SUBJECTS)
def test_every_case_is_answered_as_from_memory(
    client: TestClient, other: TestClient, subject: str, request: pytest.FixtureRequest
) -> None:
    third = [kind for kind in engines.KINDS if kind != "memory"].index(request.node.callspec.params["other"])
    for asked in cases(subject)[third::3] if subject in LONG else cases(subject):
        if asked["request"]["path"].startswith("/v1/graphs"):
            continue  # of authors, who are sent elsewhere by a service that only reads
        assert answered(other, subject, asked) == answered(client, subject, asked), asked["name"]


def test_the_read_models_are_equal(other: TestClient, opened: Opened) -> None:
    found = other.app.state.desk.opened.collection  # type: ignore[attr-defined]
    assert found.revision == opened.collection.revision
    assert found.models == opened.collection.models
    assert found.vocabulary == opened.collection.vocabulary
    for entry in opened.collection.models:
        assert found.whole_platform(entry.id) == opened.collection.whole_platform(entry.id)


def test_services_that_differ_in_their_engine_alone_tell_the_same_tags(client: TestClient, other: TestClient) -> None:
    tags = {each.get("/v1/models/tgd27-460-s").headers["etag"] for each in (client, other)}
    assert len(tags) == 1
