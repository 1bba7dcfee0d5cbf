"""Who may do what over HTTP: every address with every key, refusals that say what is missing, keys that change."""

from __future__ import annotations

import asyncio
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from hypothesis import given
from hypothesis import strategies as st

from firstoff.access.key_file import add_key
from firstoff.access.keys import SCOPES, Key, key_digest
from firstoff.access.needs import needed
from firstoff.api.application import create_app
from firstoff.collection.opening import Opened
from firstoff.errors import BadRequest
from firstoff.settings import Settings
from support.keys import key_file
from support.problems import assert_problem

_PLAIN = str.maketrans("", "", "{}")
OPEN = ("/", "/healthz", "/readyz", "/phone/main.js", "/javascript/firstoff.js")
READING = ("/v1/models", "/v1/search?q=drum", "/v1/graphs", "/addresses", "/openapi.json", "/ontology", "/nothing-here")


def bearer(key: str) -> dict[str, str]:
    return {"authorization": f"Bearer {key}"}


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("access")


@pytest.fixture(scope="module")
def app(opened: Opened, folder: Path) -> FastAPI:
    """A service whose readers need a key; each scope has a key of its own, named after it."""
    keys = key_file(folder, {scope: (f"key for {scope}", scope) for scope in SCOPES})
    return create_app(opened, Settings(keys=keys, reading="key", rate_failing=0, state=folder / "state"))


@pytest.fixture(scope="module")
def service(app: FastAPI) -> Iterator[TestClient]:
    with TestClient(app) as client:
        yield client


def routes_of(routes: Iterable[Any]) -> Iterator[Any]:
    """Every route, those of included routers too."""
    for route in routes:
        inner = getattr(route, "original_router", None)
        if inner is None:
            yield route
        else:
            yield from routes_of(inner.routes)


def operations(app: FastAPI) -> list[tuple[str, str]]:
    """Method and path of every route, with something in place of each parameter."""
    found = set()
    for route in routes_of(app.routes):
        path = route.path.replace("{path:path}", "x.js").replace("{", "").replace("}", "")
        found |= {(method, path) for method in route.methods}
    return sorted(found)


# --- every address -----------------------------------------------------------------------------------------


def test_every_address_but_those_that_are_always_open_needs_a_key(app: FastAPI, service: TestClient) -> None:
    every = operations(app)
    assert len(every) > 40
    for method, path in every:
        answer = service.request(method, path)
        if path in ("/", "/healthz", "/readyz", "/favicon.ico") or path.startswith(("/phone/", "/javascript/")):
            assert answer.status_code not in (401, 403), (method, path)
        else:
            assert answer.status_code == 401, (method, path)
            assert answer.headers["www-authenticate"] == 'Bearer realm="firstoff"'


def test_each_key_does_what_its_scope_says_and_nothing_else(app: FastAPI, service: TestClient) -> None:
    for method, path in operations(app):
        wanted = needed(method, path, reading_by_key=True, keys_are_set_up=True)
        if wanted is None or method == "HEAD":
            continue
        for scope in SCOPES:
            answer = service.request(method, path, headers=bearer(f"key for {scope}"))
            if scope == wanted:
                assert answer.status_code not in (401, 403), (method, path, scope)
            else:
                assert assert_problem(answer, 403, "scope-missing")["scope"] == wanted
                assert f'error="insufficient_scope", scope="{wanted}"' in answer.headers["www-authenticate"]


def test_routes_that_write_judge_the_key_themselves_too(app: FastAPI) -> None:
    """Whatever stands before them: each route that the document says has a scope asks for just that scope."""
    written = {}
    for path, methods in app.openapi()["paths"].items():
        for method, operation in methods.items():
            for scheme in operation.get("security", []):
                written[method.upper(), path] = next(iter(scheme))
    assert written
    for (method, path), scope in written.items():
        assert needed(method, path, reading_by_key=False, keys_are_set_up=True) == scope
    guarded = {(method, path) for method, path in operations(app) if method not in ("GET", "HEAD")}
    for method, path in guarded:
        if needed(method, path, reading_by_key=False, keys_are_set_up=True) is not None:
            assert (method, path) in {(each, template.translate(_PLAIN)) for each, template in written}


@given(st.sampled_from(["GET", "HEAD", "POST", "PUT", "DELETE", "PATCH", "X"]), st.text(max_size=30), st.booleans())
def test_what_is_not_known_to_be_open_needs_a_key(method: str, rest: str, below: bool) -> None:
    path = f"/v1/{rest}" if below else f"/x{rest}"
    assert needed(method, path, reading_by_key=True, keys_are_set_up=True) is not None


# --- reading -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("address", READING)
def test_reading_by_key(service: TestClient, address: str) -> None:
    assert_problem(service.get(address), 401, "key-needed")
    assert service.get(address, headers=bearer("key for read")).status_code in (200, 404)
    assert_problem(service.get(address, headers=bearer("key for publish")), 403, "scope-missing")
    answer = service.get(address, headers=bearer("another"))
    assert_problem(answer, 401, "key-needed")
    assert answer.headers["www-authenticate"].endswith('error="invalid_token"')


@pytest.mark.parametrize("address", OPEN)
def test_what_is_always_open(service: TestClient, address: str) -> None:
    assert service.get(address).status_code == 200
    assert service.get(address, headers=bearer("another")).status_code == 200


def test_an_answer_that_is_kept_is_not_given_to_whoever_has_no_key(service: TestClient) -> None:
    address = "/v1/models/tgd27-460-s"
    tag = service.get(address, headers=bearer("key for read")).headers["etag"]
    for sent in ({}, {"if-none-match": tag}):
        assert_problem(service.get(address, headers=sent), 401, "key-needed")


def test_open_reading_needs_no_key_and_minds_none(client: TestClient) -> None:
    for sent in ({}, bearer("another")):
        assert client.get("/v1/models", headers=sent).status_code == 200


@pytest.mark.parametrize(
    "sent",
    [
        [("authorization", "Basic a2V5Og==")],
        [("authorization", "Bearer")],
        [("authorization", "Bearer ")],
        [("authorization", "key for read")],
        [("authorization", "Bearer key for read"), ("authorization", "Bearer key for read")],  # which one?
        [("x-authorization", "Bearer key for read")],
    ],
)
def test_what_is_no_key(service: TestClient, sent: list[tuple[str, str]]) -> None:
    assert_problem(service.get("/v1/models", headers=sent), 401, "key-needed")  # type: ignore[arg-type]


def test_a_key_in_the_address_is_none(service: TestClient) -> None:
    """RFC 6750, 2.3: it would stand in logs."""
    assert_problem(service.get("/v1/models?access_token=key+for+read"), 401, "key-needed")


def test_the_scheme_is_named_in_any_letters(service: TestClient) -> None:
    """RFC 9110, 11.1: the scheme is a token that does not mind case."""
    assert service.get("/v1/models", headers={"authorization": "bEARER key for read"}).status_code == 200


def test_the_digest_of_a_key_is_no_key(service: TestClient) -> None:
    assert_problem(service.get("/v1/models", headers=bearer(key_digest("key for read"))), 401, "key-needed")


# --- bodies ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("key", "status"), [(None, 401), ("another", 401), ("key for outcomes", 403), ("key for publish", None)]
)
def test_the_key_is_judged_before_the_body_is_read(app: FastAPI, key: str | None, status: int | None) -> None:
    """A body of which nothing comes: who may not publish has an answer, who may is waited for."""
    answers: list[int] = []
    asked = asyncio.Event()

    async def receive() -> dict[str, Any]:
        asked.set()
        return {"type": "http.disconnect"}

    async def send(message: Any) -> None:
        if message["type"] == "http.response.start":
            answers.append(message["status"])

    headers = [(b"content-type", b"text/turtle"), (b"content-length", b"1000")]
    headers += [(b"authorization", f"Bearer {key}".encode())] if key else []
    scope = {
        "type": "http",
        "method": "PUT",
        "path": "/v1/graphs/small-box",
        "raw_path": b"/v1/graphs/small-box",
        "query_string": b"why=x",
        "headers": headers,
        "root_path": "",
    }
    asyncio.run(app(scope, receive, send))
    if status is None:
        assert asked.is_set()
    else:
        assert answers == [status]
        assert not asked.is_set()


# --- keys that change --------------------------------------------------------------------------------------


def test_keys_change_without_a_restart(opened: Opened, tmp_path: Path) -> None:
    keys = key_file(tmp_path, {"one": ("old", "read")})
    with TestClient(create_app(opened, Settings(keys=keys, reading="key"))) as service:

        def reads(key: str) -> bool:
            return service.get("/v1/models", headers=bearer(key)).status_code == 200

        assert (reads("old"), reads("new")) == (True, False)
        add_key(keys, Key("one", key_digest("new"), frozenset({"read"})))
        assert (reads("old"), reads("new")) == (True, True)
        key_file(tmp_path, {"one": ("new", "read")})
        assert (reads("old"), reads("new")) == (False, True)
        keys.write_text("no keys")
        assert (reads("old"), reads("new")) == (False, True)
        told = service.get("/readyz").json()
        assert told["status"] == "degraded"
        (found,) = (each for each in told["checks"] if each["name"] == "keys")
        assert found["status"] == "degraded"
        assert "keys before it still serve" in found["said"]
        key_file(tmp_path, {"one": ("new", "read")})
        assert service.get("/readyz").json()["status"] == "ready"


def test_a_file_of_keys_that_cannot_be_used_stops_the_start(opened: Opened, tmp_path: Path) -> None:
    keys = key_file(tmp_path, {"one": ("sesame", "read")})
    keys.chmod(0o644)
    with pytest.raises(BadRequest, match="others on this machine"):
        create_app(opened, Settings(keys=keys))
