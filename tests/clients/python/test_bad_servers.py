"""Servers that are gone, slow, or answer nonsense: each is an error that says what to do, from both clients."""

from __future__ import annotations

import asyncio
import contextlib
import json
import socket
import threading
from collections.abc import Callable, Iterator
from typing import Any

import httpx2
import pytest

from firstoff_client import (
    AsyncFirstoff,
    BadName,
    Firstoff,
    FirstoffError,
    Nonsense,
    OtherVersion,
    OutcomeReport,
    Retrying,
)
from firstoff_client import __version__ as ours
from firstoff_client.errors import (
    Interrupted,
    NoSuchAddress,
    NotFound,
    RequestRefused,
    ServiceFailed,
    TimedOut,
    Unavailable,
    Unreachable,
)
from firstoff_client.transport import MOST_BYTES, Reading, failed
from support.services import Script

ADDRESS = "http://shop.example"
JSON = {"content-type": "application/json"}
HEALTH = {"status": "ok", "version": ours}


def both(handler: Callable[[httpx2.Request], httpx2.Response], **settings: Any) -> Iterator[Callable[[str], Any]]:
    """For each client, a function that calls one of its methods without arguments or with one model."""
    options: dict[str, Any] = {"retrying": Retrying(attempts=3, first=0.0), **settings}

    def blocking(method: str, *arguments: Any) -> Any:
        with httpx2.Client(transport=httpx2.MockTransport(handler)) as http:
            return getattr(Firstoff(ADDRESS, http=http, **options), method)(*arguments)

    def asynchronous(method: str, *arguments: Any) -> Any:
        async def asked() -> Any:
            async with httpx2.AsyncClient(transport=httpx2.MockTransport(handler)) as http:
                return await getattr(AsyncFirstoff(ADDRESS, http=http, **options), method)(*arguments)

        return asyncio.run(asked())

    yield blocking
    yield asynchronous


def refused(script: Script, error: type[FirstoffError], says: str, method: str = "model", **settings: Any) -> None:
    """Both clients raise exactly ``error`` with ``says`` in its text, and say what to do."""
    for ask in both(script, **settings):
        with pytest.raises(error, match=says) as raised:
            ask(method, "tgd27-460-s")
        assert type(raised.value) is error
        assert raised.value.mend.endswith(".")
        assert str(raised.value) == f"{raised.value.detail} {raised.value.mend}"
        script.requests.clear()


def answering(response: httpx2.Response, version: str = ours) -> Script:
    """``response`` to everything but the question for the version."""

    def reply(request: httpx2.Request) -> httpx2.Response:
        if request.url.path == "/healthz":
            return httpx2.Response(200, json={"status": "ok", "version": version})
        return httpx2.Response(response.status_code, headers=response.headers, content=response.content)

    return Script([reply])


@pytest.mark.parametrize(
    ("response", "says"),
    [
        (httpx2.Response(200, html="<p>Welcome</p>"), "it is text/html, not application/json"),  # another server
        (httpx2.Response(200, content=b'{"id": "tgd', headers=JSON), "EOF while parsing"),  # cut short
        (httpx2.Response(200, content=b"", headers=JSON), "EOF while parsing"),
        (httpx2.Response(200, content=b"\xff\xfe", headers=JSON), "contract"),  # no UTF-8
        (httpx2.Response(200, content=b"[" * 100_000, headers=JSON), "contract"),  # deep nesting
        (httpx2.Response(200, json=[]), "contract"),
        (httpx2.Response(200, json={"id": "tgd27-460-s"}), "Field required"),
        (httpx2.Response(200, content=b"{}"), "of no kind that it tells"),
        (httpx2.Response(204), "answered 204"),
        (httpx2.Response(404, html="<h1>Not here</h1>"), "neither an answer nor a problem document"),
        (httpx2.Response(500, text="oops"), "neither an answer nor a problem document"),
        (httpx2.Response(404, content=b"[]", headers={"content-type": "application/problem+json"}), "neither"),
        (httpx2.Response(404, content=b"{", headers={"content-type": "application/problem+json"}), "neither"),
        (httpx2.Response(301, headers={"location": "https://elsewhere.example/"}), "on to https://elsewhere.example/"),
        (httpx2.Response(307, headers={"location": "/v1/models/tgd27-460-s"}), "Redirects are not followed"),  # a loop
        (httpx2.Response(304), "though nothing was kept"),
    ],
    ids=lambda each: each if isinstance(each, str) else "",
)
def test_nonsense_is_called_so(response: httpx2.Response, says: str) -> None:
    refused(answering(response), Nonsense, says)


def test_a_body_that_cannot_be_unpacked_is_nonsense() -> None:
    refused(Script([lambda _: _unreadable()]), Nonsense, "cannot be read")


def _unreadable() -> httpx2.Response:
    """A response whose body is no gzip; it fails where it is read, not where it is made."""
    headers = {**JSON, "content-encoding": "gzip"}
    return httpx2.Response(200, headers=headers, stream=_Both(b"this is no gzip"))


class _Both(httpx2.SyncByteStream, httpx2.AsyncByteStream):
    def __init__(self, content: bytes) -> None:
        self._content = content

    def __iter__(self) -> Iterator[bytes]:
        yield self._content

    async def __aiter__(self) -> Any:
        yield self._content


def test_a_redirect_is_not_followed() -> None:
    script = Script([httpx2.Response(302, headers={"location": "/v1/models/tgd27-460-s"})])
    for ask in both(script):
        with pytest.raises(Nonsense):
            ask("model", "tgd27-460-s")
    assert len(script.requests) == 2  # one of each client


@pytest.mark.parametrize(
    "response",
    [
        httpx2.Response(200, json={"id": "tgd27-460-s", "colour": "white"}),
        httpx2.Response(200, html="<p>moved</p>"),
        httpx2.Response(
            404,
            headers={"content-type": "application/problem+json"},
            content=json.dumps(
                {
                    "type": "https://firstoff.example/problems/no-such-address",
                    "title": "T",
                    "status": 404,
                    "detail": "D.",
                    "mend": "M.",
                }
            ),
        ),
    ],
    ids=["another field", "no JSON", "no such address"],
)
def test_another_version_is_said_plainly(response: httpx2.Response) -> None:
    refused(answering(response, "7.2.0"), OtherVersion, f"the service is version 7.2.0, this client {ours}")
    for ask in both(answering(response, "7.2.0")):
        with pytest.raises(OtherVersion, match=r"Install firstoff-client 7\.2\.0\.") as raised:
            ask("model", "tgd27-460-s")
        assert (raised.value.theirs, raised.value.ours) == ("7.2.0", ours)


def test_no_such_address_of_the_same_version_is_told_as_it_is() -> None:
    body = {"type": "https://firstoff.example/problems/no-such-address", "title": "T", "detail": "D.", "mend": "M."}
    content = {"content": json.dumps(body), "headers": {"content-type": "application/problem+json"}}
    refused(answering(httpx2.Response(404, **content)), NoSuchAddress, "D")


@pytest.mark.parametrize("health", [httpx2.Response(500), httpx2.Response(200, text="fine"), httpx2.ConnectError("no")])
def test_a_version_that_cannot_be_told_changes_nothing(health: httpx2.Response | Exception) -> None:
    refused(Script([httpx2.Response(200, json={}), health]), Nonsense, "Field required")


def test_fields_of_a_later_version_are_read_on_request() -> None:
    body = {"status": "ok", "version": "7.2.0", "colour": "white"}
    refused_script = Script([httpx2.Response(200, json=body)])
    for ask in both(refused_script):
        with pytest.raises(Nonsense, match="colour"):
            ask("health")
    for ask in both(refused_script, unknown_fields="ignore"):
        assert ask("health").version == "7.2.0"


@pytest.mark.parametrize("status", [429, 502, 503, 504])
def test_what_stands_in_front_of_the_service_is_no_answer(status: int) -> None:
    refused(Script([httpx2.Response(status, html="<p>Busy</p>")]), Unavailable, f"answered {status} in text/html")


@pytest.mark.parametrize(
    ("status", "body", "error"),
    [
        (
            418,
            {"type": "https://firstoff.example/problems/of-a-later-day", "detail": "D.", "mend": "M."},
            RequestRefused,
        ),
        (
            500,
            {"type": "https://firstoff.example/problems/of-a-later-day", "detail": "D.", "mend": "M."},
            ServiceFailed,
        ),
        (404, {"type": "https://elsewhere.example/not-found", "title": "D."}, RequestRefused),  # not ours
        (404, {}, RequestRefused),  # RFC 9457, 3.1: every member may be left out
        (404, {"type": "https://firstoff.example/problems/not-found", "status": 200, "title": "x"}, NotFound),
    ],
)
def test_unknown_problems_fall_to_their_status(status: int, body: dict[str, Any], error: type[FirstoffError]) -> None:
    headers = {"content-type": "application/problem+json; charset=utf-8"}
    script = Script([httpx2.Response(status, content=json.dumps(body), headers=headers)])
    for ask in both(script):
        with pytest.raises(FirstoffError) as raised:
            ask("readiness")
        assert type(raised.value) is error
        assert raised.value.status == status  # type: ignore[attr-defined]
        assert raised.value.detail
        assert raised.value.mend


def test_a_service_that_serves_nothing_says_so_as_an_answer() -> None:
    body = {"status": "unavailable", "checks": [], "revision": "", "platforms": 0, "models": 0, "refused": []}
    script = Script([httpx2.Response(503, json=body)])
    for ask in both(script):
        assert ask("readiness").status == "unavailable"
    assert len(script.requests) == 2


# Pages


def page(offset: int, following: str | None) -> httpx2.Response:
    pages = {"total": 9, "offset": offset, "limit": 1, "next": following}
    return httpx2.Response(200, json={"page": pages, "models": [], "revision": "r"})


def test_a_page_that_never_moves_on_ends() -> None:
    """Each page says that it is the first and that another follows."""
    script = Script([page(0, "/v1/models?offset=1&limit=1")])
    with httpx2.Client(transport=httpx2.MockTransport(script)) as http, pytest.raises(Nonsense, match="not further on"):
        list(Firstoff(ADDRESS, http=http).models())
    assert len(script.requests) == 2


@pytest.mark.parametrize(
    "following",
    [
        "/v1/models?offset=0&limit=1",  # back to the beginning
        "/v1/models?offset=1&limit=1",  # the same again
        "/v1/models?limit=1",
        "/v1/models?offset=-1",
        "/v1/models?offset=²",
        "http://elsewhere.example/v1/models?offset=2&limit=1",  # where a key would follow
        "//elsewhere.example/v1/models?offset=2&limit=1",
    ],
)
def test_pages_that_lead_nowhere_end(following: str) -> None:
    script = Script([page(0, "/v1/models?offset=1&limit=1"), page(1, following)])
    with httpx2.Client(transport=httpx2.MockTransport(script)) as http, pytest.raises(Nonsense, match="not further on"):
        list(Firstoff(ADDRESS, http=http).models())

    async def listed() -> None:
        async with httpx2.AsyncClient(transport=httpx2.MockTransport(script)) as http:
            async for _ in AsyncFirstoff(ADDRESS, http=http).models():
                pass

    script.requests.clear()
    with pytest.raises(Nonsense, match="not further on"):
        asyncio.run(listed())


# Real connections to this machine


def serving(answer: Callable[[socket.socket], None]) -> Iterator[str]:
    """The address of a server that treats each connection by ``answer``."""
    with socket.create_server(("127.0.0.1", 0)) as listening:
        listening.settimeout(0.1)
        over = threading.Event()

        def run() -> None:
            while not over.is_set():
                with contextlib.suppress(TimeoutError):
                    connection, _ = listening.accept()
                    with connection, contextlib.suppress(OSError):
                        connection.settimeout(5)
                        connection.recv(65_536)
                        answer(connection)

        thread = threading.Thread(target=run, daemon=True)
        thread.start()
        yield f"http://127.0.0.1:{listening.getsockname()[1]}"
        over.set()
        thread.join()


def _truncated(connection: socket.socket) -> None:
    connection.sendall(b'HTTP/1.1 200 OK\r\ncontent-type: application/json\r\ncontent-length: 999\r\n\r\n{"status"')


def _hung_up(connection: socket.socket) -> None:
    connection.close()


def _garbage(connection: socket.socket) -> None:
    connection.sendall(b"220 mail.example ready\r\n")


def _silent(connection: socket.socket) -> None:
    connection.recv(1)  # until the client goes away


def _dripping(connection: socket.socket) -> None:
    connection.sendall(b"HTTP/1.1 200 OK\r\ncontent-type: application/json\r\ncontent-length: 999\r\n\r\n")
    for _ in range(200):
        connection.sendall(b" ")
        threading.Event().wait(0.02)


@pytest.mark.parametrize(
    ("answer", "error"),
    [
        (_truncated, Interrupted),
        (_hung_up, Interrupted),
        (_garbage, Interrupted),
        (_silent, TimedOut),
        (_dripping, TimedOut),
    ],
)
def test_connections_that_go_wrong(answer: Callable[[socket.socket], None], error: type[FirstoffError]) -> None:
    retrying = Retrying(attempts=2, first=0.0)
    with contextlib.contextmanager(serving)(answer) as address:
        with Firstoff(address, timeout=0.3, retrying=retrying) as service, pytest.raises(error) as raised:
            service.health()
        assert type(raised.value) is error

        async def asked() -> None:
            async with AsyncFirstoff(address, timeout=0.3, retrying=retrying) as service:
                await service.health()

        with pytest.raises(error):
            asyncio.run(asked())


def test_nobody_there() -> None:
    with socket.create_server(("127.0.0.1", 0)) as listening:
        port = listening.getsockname()[1]
    retrying = Retrying(attempts=2, first=0.0)
    with (
        Firstoff(f"http://127.0.0.1:{port}", retrying=retrying) as service,
        pytest.raises(Unreachable, match="Nothing"),
    ):
        service.health()


def test_an_answer_without_end_is_cut() -> None:
    reading = Reading(10.0, clock=lambda: 0.0)
    assert reading.add(bytes(MOST_BYTES)) is None
    stop = reading.add(b"x")
    assert stop is not None
    assert stop.how == "garbled"


def test_every_error_of_the_library_is_translated() -> None:
    def every(base: type[httpx2.RequestError]) -> set[type[httpx2.RequestError]]:
        return {base}.union(*(every(each) for each in base.__subclasses__()))

    expected = {
        "unsent": {
            httpx2.ConnectError,
            httpx2.ConnectTimeout,
            httpx2.PoolTimeout,
            httpx2.ProxyError,
            httpx2.UnsupportedProtocol,
        },
        "late": {httpx2.TimeoutException, httpx2.ReadTimeout, httpx2.WriteTimeout},
        "garbled": {httpx2.DecodingError},
    }
    for kind in every(httpx2.RequestError):
        found = failed(kind("said\nso"))
        assert found.said == "said so"
        assert found.how == next((how for how, kinds in expected.items() if kind in kinds), "broken"), kind
    assert failed(httpx2.ReadError("")).said == "ReadError"


# What is wrong before anything is sent


@pytest.mark.parametrize(
    "address",
    [
        "",
        "localhost:8080",
        "ftp://shop.example",
        "http://",
        "//shop.example",
        "http://x/?a=1",
        "http://x/#a",
        "http://a@x",
    ],
)
def test_an_address_that_is_none_is_refused(address: str) -> None:
    for kind in (Firstoff, AsyncFirstoff):
        with pytest.raises(ValueError, match=r"such as http://localhost:8080"):
            kind(address)


@pytest.mark.parametrize("name", ["", ".", "..", "\ud800"])
def test_a_name_that_leads_elsewhere_is_refused(name: str) -> None:
    script = Script([httpx2.Response(200)])
    for ask in both(script):
        with pytest.raises(BadName):
            ask("model", name)
        with pytest.raises(ValueError, match=r"name|Unicode"):
            ask("component", "tgd27-460-s", name)
    assert script.requests == []


def test_what_no_request_can_carry_is_refused() -> None:
    script = Script([httpx2.Response(200)])
    for ask in both(script, outcome_key="a key\n"):
        with pytest.raises(BadName, match="authorization") as raised:
            ask("tell_outcome", OutcomeReport(model="tgd27-460-s"))
        assert "a key" not in str(raised.value)
        with pytest.raises(BadName, match="Unicode"):
            ask("search", "\udfff")
    assert script.requests == []


def test_an_address_too_long_is_refused_here() -> None:
    with pytest.raises(BadName, match="Ask for less"):
        Firstoff(ADDRESS).isolation("tgd27-460-s", [f"part-{n}" for n in range(3000)])
