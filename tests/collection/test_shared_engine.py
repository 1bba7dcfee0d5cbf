"""One engine, a service that publishes and services that read: seen within two seconds, whole, and after a failure."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable, Iterator
from functools import partial
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from firstoff.api.application import create_app
from firstoff.collection.engines import following, open_service
from firstoff.collection.kept import Kept
from firstoff.collection.opening import Opened
from firstoff.collection.pointers import leftovers, pointers
from firstoff.collection.replica import Replica
from firstoff.collection.shelf import Shelf
from firstoff.collection.superseded import SHARED_SECONDS, Superseded
from firstoff.errors import EngineFailed, PublishedElsewhere
from firstoff.settings import Settings
from firstoff.store.interface import Store
from firstoff.store.pointing import CATALOGUE
from firstoff.store.terms import Iri
from support import engines
from support.small_platform import TURTLE

BOX, MODEL = "small-box", "box-20"
HEAVIER = TURTLE.replace('rdfs:label "small box"@en', 'rdfs:label "heavier box"@en')
WHO = {"who": "jo", "why": "for a test"}


@pytest.fixture
def server(request: pytest.FixtureRequest) -> engines.Server:
    """Oxigraph, unless a test names another."""
    found: engines.Server = request.getfixturevalue(f"{getattr(request, 'param', 'oxigraph')}_server")
    return found


on_both = pytest.mark.parametrize("server", ["oxigraph", "virtuoso"], indirect=True)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    place = tmp_path / "content"
    place.mkdir()
    (place / f"{BOX}.ttl").write_text(TURTLE, encoding="utf-8")
    return place


@pytest.fixture
def shelf(server: engines.Server, folder: Path) -> Iterator[Shelf]:
    """The service that publishes."""
    before = server.store()
    engines.emptied(before, words_stay=True)
    before.close()
    found = shelf_of(server, folder)
    yield found
    closed(found.opened)


def shelf_of(server: engines.Server, folder: Path, seconds: float = 20) -> Shelf:
    settings = Settings(data=folder, engine=server.query, engine_update=server.update, engine_seconds=seconds)
    found = following(open_service(settings, environment=server.environment), settings, lambda _: None)
    assert isinstance(found, Shelf)
    return found


def reading(server: engines.Server) -> Settings:
    return Settings(
        data=Path("/nowhere"), engine=server.query, refresh_seconds=0.2, publisher="https://publish.example"
    )


def closed(opened: Opened) -> None:
    opened.store.close()  # type: ignore[attr-defined]


def label(client: TestClient) -> str:
    found: str = client.get(f"/v1/models/{MODEL}").json()["platform"]["label"]
    return found


def both_say(clients: Iterable[TestClient], said: str) -> bool:
    return {label(each) for each in clients} == {said}


def within(seconds: float, happened: Callable[[], bool]) -> bool:
    end = time.monotonic() + seconds
    while not happened():
        if time.monotonic() > end:
            return False
        time.sleep(0.02)
    return True


@on_both
def test_two_replicas_see_each_publication_and_answer_alike(shelf: Shelf, server: engines.Server) -> None:
    opened = [open_service(reading(server), environment={}) for _ in range(2)]
    with (
        TestClient(create_app(opened[0], reading(server))) as one,
        TestClient(create_app(opened[1], reading(server))) as two,
    ):
        assert label(one) == label(two) == "small box"
        for text, said in ((HEAVIER, "heavier box"), (TURTLE, "small box")):
            shelf.publish(BOX, text, over=["*"], **WHO)
            # Bounded for a busy machine; by design it is the time between two looks and one reading.
            assert within(20, partial(both_say, (one, two), said))
            answers = [each.get(f"/v1/models/{MODEL}") for each in (one, two)]
            assert answers[0].json() == answers[1].json()
            assert answers[0].headers["etag"] == answers[1].headers["etag"]
        assert one.get("/readyz").json()["status"] == "ready"
        shelf.withdraw(BOX, over=["*"], **WHO)
        assert within(20, lambda: one.get(f"/v1/models/{MODEL}").status_code == 404)
    for each in opened:
        closed(each)


def test_one_that_reads_looks_at_least_every_second() -> None:
    assert Settings().refresh_seconds <= 1


def test_one_that_reads_sends_authors_elsewhere(shelf: Shelf, server: engines.Server) -> None:
    opened = open_service(reading(server), environment={})
    with TestClient(create_app(opened, reading(server))) as client:
        for address in ("/v1/graphs", f"/v1/graphs/{BOX}", f"/v1/graphs/{BOX}/versions"):
            problem = client.get(address)
            assert problem.status_code == 403
            assert "https://publish.example" in problem.json()["mend"]
    replica = Replica(opened)
    for act in (replica.check, replica.publish, replica.restore, replica.withdraw):
        with pytest.raises(PublishedElsewhere, match="another service publishes"):
            act(BOX, TURTLE)
    with pytest.raises(PublishedElsewhere) as caught:
        _ = replica.folder
    assert "FIRSTOFF_ENGINE_UPDATE" in caught.value.mend
    closed(opened)


@on_both
def test_what_is_held_already_is_not_loaded_again(
    shelf: Shelf, server: engines.Server, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = pointers(shelf.opened.store)
    monkeypatch.setattr("firstoff.store.remote.RemoteStore.point", lambda *_: pytest.fail("a pointer moved"))
    again = shelf_of(server, folder)
    assert pointers(again.opened.store) == before
    assert again.opened.collection.revision == shelf.opened.collection.revision
    closed(again.opened)


def test_what_a_killed_writer_left_is_let_go_in_time(shelf: Shelf) -> None:
    store = shelf.opened.store
    left = Iri(f"https://firstoff.example/graph/{BOX}/left")
    store.put_graph(left, TURTLE, file="left.ttl")
    now = [0.0]
    superseded = Superseded(store, lambda: now[0])
    assert leftovers(store) == (left,)
    now[0] = SHARED_SECONDS
    superseded.tidy()
    assert leftovers(store) == (left,)  # somebody may be reading it still
    now[0] = SHARED_SECONDS + 1
    superseded.tidy()
    assert leftovers(store) == ()
    assert store.select("statements", {"graph": left}) == []
    assert shelf.opened.collection.models[0].graph in {each.graph for each in pointers(store).values()}


def test_a_graph_that_is_read_is_never_changed(shelf: Shelf) -> None:
    store, graph = shelf.opened.store, shelf.opened.collection.models[0].graph
    with pytest.raises(EngineFailed, match="is being read"):
        store.put_graph(graph, HEAVIER, file="box.ttl")
    assert store.put_graph(graph, TURTLE, file="box.ttl") == len(store.select("statements", {"graph": graph}))


def test_half_a_graph_is_no_answer(shelf: Shelf) -> None:
    graph = shelf.opened.collection.models[0].graph
    shelf.opened.store._transport.change(  # type: ignore[attr-defined]
        f"DELETE WHERE {{ GRAPH <{graph.value}> {{ ?box a <https://firstoff.example/ontology#Component> }} }}"
    )
    with pytest.raises(EngineFailed, match=r"of the \d+ statements"):
        shelf.opened.collection.appliances(MODEL)


def test_an_engine_that_lost_everything_is_filled_again(shelf: Shelf) -> None:
    store = shelf.opened.store
    store.withdraw(Iri(f"https://firstoff.example/platform/{BOX}"))
    for graph in leftovers(store):
        store.drop(graph)
    store.drop(CATALOGUE)
    assert pointers(store) == {}
    assert shelf.refresh()
    assert [each.id for each in shelf.opened.collection.models if each.id == MODEL] == [MODEL]
    assert shelf.opened.collection.appliances(MODEL)
    assert not shelf.refresh()


@on_both
def test_an_engine_stopped_and_back(
    shelf: Shelf, server: engines.Server, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened = open_service(reading(server), environment={})
    try:
        with TestClient(create_app(opened, reading(server))) as client:
            assert client.get(f"/v1/models/{MODEL}").status_code == 200  # compiled now
            server.stop()
            assert within(20, lambda: client.get("/readyz").status_code == 503)
            checks = {each["name"]: each["status"] for each in client.get("/readyz").json()["checks"]}
            assert checks["engine"] == "unavailable"
            assert client.get(f"/v1/models/{MODEL}").status_code == 200  # from memory
            for compiled in ("_platforms", "_appliances"):  # as if nothing had been asked yet
                monkeypatch.setattr(opened.collection, compiled, Kept(1))
            refused = client.get(f"/v1/models/{MODEL}/components")
            assert refused.status_code == 503
            assert int(refused.headers["retry-after"]) >= 1
            with pytest.raises(EngineFailed):
                shelf.publish(BOX, HEAVIER, over=["*"], **WHO)
            assert (folder / f"{BOX}.ttl").read_text(encoding="utf-8") == TURTLE  # nothing was half published
            server.start()
            assert within(30, lambda: client.get("/readyz").status_code == 200)
            assert client.get(f"/v1/models/{MODEL}/components").status_code == 200
        shelf.publish(BOX, HEAVIER, over=["*"], **WHO)
        assert shelf.opened.collection.models[0].platform.label == "heavier box"
    finally:
        server.start_again()
        closed(opened)


def test_what_was_recorded_while_the_engine_failed_is_served_when_it_is_back(
    shelf: Shelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    store = shelf.opened.store

    def fail(*_: object, **__: object) -> None:
        raise EngineFailed("The engine cannot be reached.")

    monkeypatch.setattr(type(store), "point", fail)
    with pytest.raises(EngineFailed, match="is kept in the folder") as caught:
        shelf.publish(BOX, HEAVIER, over=["*"], **WHO)
    assert "Do not send it again" in caught.value.mend
    assert shelf.opened.collection.models[0].platform.label == "small box"
    with pytest.raises(EngineFailed):
        shelf.refresh()
    assert shelf.looks.failure
    monkeypatch.undo()
    assert shelf.refresh()
    assert shelf.opened.collection.models[0].platform.label == "heavier box"
    assert shelf.looks.failure is None


def test_a_replica_started_first_waits_for_content(shelf: Shelf, server: engines.Server) -> None:
    store: Store = server.reader()
    shelf.withdraw(BOX, over=["*"], **WHO)
    replica = Replica(open_service(reading(server), environment={}))
    assert replica.opened.collection.models == ()
    shelf.restore(BOX, 1, over=None, **WHO)
    assert replica.refresh()
    assert replica.opened.collection.appliances(MODEL)
    closed(replica.opened)
    store.close()  # type: ignore[attr-defined]
