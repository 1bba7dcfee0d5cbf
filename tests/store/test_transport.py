"""A server that is slow, cuts its answers or lies: an error in time, never a short answer, and no crowd that waits."""

from __future__ import annotations

import base64
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import suppress
from http.server import BaseHTTPRequestHandler

import pytest

from firstoff.errors import BadRequest, EngineFailed, QueryRefused, StoreError
from firstoff.store.credentials import PASSWORD, USER, Credentials
from firstoff.store.gate import Gate
from firstoff.store.remote import RemoteStore
from firstoff.store.terms import Iri, Text
from firstoff.store.transport import IN_FLIGHT, WAITING
from support.fake_engine import RESULTS, ROW, ROWS, Answer, FakeEngine, says

GOOD = ROWS % ROW
Making = Callable[[Answer], FakeEngine]


@pytest.fixture
def engine() -> Iterator[Making]:
    made: list[FakeEngine] = []

    def make(answer: Answer) -> FakeEngine:
        made.append(FakeEngine(answer))
        return made[-1]

    yield make
    for each in made:
        each.stop()


def asked(fake: FakeEngine, seconds: float = 5.0, credentials: Credentials | None = None) -> list[object]:
    store = RemoteStore(fake.address, seconds=seconds, credentials=credentials)
    try:
        return [dict(row) for row in store.select("numbers")]
    finally:
        store.close()


def test_a_whole_answer(engine: Making) -> None:
    assert asked(engine(says(GOOD))) == [{"graph": Iri("http://x/g"), "number": Text("1")}]


#: what is wrong, the answer, what the error says
WRONG: list[tuple[str, Answer, str]] = [
    ("the sign of a part", says(GOOD, x_sql_state="S1TAT"), "a part of the answer"),
    ("the sign of a row limit", says(GOOD, x_sparql_maxrows="10000"), "cut the answer at 10000 rows"),
    ("given up", says(GOOD[:-2] + b"\nThe SPARQL operation has been cancelled"), "gave up"),
    ("cut in a row", says(ROWS[:-30]), "not whole"),
    ("cut before the end", says(GOOD[:-1]), "not whole"),
    ("nothing", says(b""), "not whole"),
    ("a page", says(b"<html>", "text/html"), "answered with text/html"),
    ("text that calls itself results", says(b"s,p\n1,2\n"), "not whole"),
    ("results that call themselves text", says(GOOD, "text/csv"), "answered with text/csv"),
    ("other variables", says(GOOD.replace(b'"number"', b'"name"')), "gave"),
    ("a boolean", says(b'{"head":{},"boolean":true}'), "something else"),
    ("a sick server", says(b"sick", "text/plain", 500), "status 500: sick"),
    ("a door that is shut", says(b"", "text/plain", 403), "does not let this service in"),
    ("elsewhere", says(b"", "text/plain", 302, location="http://x/"), "status 302"),
]


@pytest.mark.parametrize(("answer", "said"), [row[1:] for row in WRONG], ids=[row[0] for row in WRONG])
def test_what_may_not_be_whole_is_an_error(engine: Making, answer: Answer, said: str) -> None:
    with pytest.raises(EngineFailed, match=said):
        asked(engine(answer))


def test_a_text_the_server_does_not_accept(engine: Making) -> None:
    with pytest.raises(QueryRefused, match="no such thing"):
        asked(engine(says(b"no such thing", "text/plain", 400)))


def test_more_rows_than_were_probed_are_counted(engine: Making) -> None:
    """4,096 rows of 5,000, without any sign."""
    rows = ROWS % b",".join([ROW] * 4_096)
    count = b'{"head":{"vars":["rows"]},"results":{"bindings":[{"rows":{"type":"literal","value":"5000"}}]}}'
    answers = iter([rows, count])
    fake = engine(lambda handler: says(next(answers))(handler))
    with pytest.raises(EngineFailed, match="gave 4096 rows of 5000"):
        asked(fake)


def _waits(handler: BaseHTTPRequestHandler) -> None:
    time.sleep(0.6)
    with suppress(OSError):
        says(GOOD)(handler)


def _trickles(handler: BaseHTTPRequestHandler) -> None:
    """A byte at a time, each well before a reader gives up."""
    handler.send_response(200)
    handler.send_header("content-type", RESULTS)
    handler.send_header("content-length", "1000")
    handler.end_headers()
    with suppress(OSError):
        for _ in range(20):
            handler.wfile.write(b" ")
            handler.wfile.flush()
            time.sleep(0.05)


def _hangs_up(handler: BaseHTTPRequestHandler) -> None:
    handler.send_response(200)
    handler.send_header("content-type", RESULTS)
    handler.send_header("content-length", "1000")
    handler.end_headers()
    handler.wfile.write(GOOD)
    handler.close_connection = True


@pytest.mark.parametrize(
    ("answer", "said"),
    [(_waits, "did not answer"), (_trickles, "did not"), (_hangs_up, "connection")],
    ids=["waits", "trickles", "hangs-up"],
)
def test_a_slow_or_broken_answer_ends(engine: Making, answer: Answer, said: str) -> None:
    with pytest.raises(EngineFailed, match=said):
        asked(engine(answer), seconds=0.3)


def test_nobody_there() -> None:
    fake = FakeEngine(says(GOOD))
    fake.stop()
    with pytest.raises(EngineFailed, match="cannot be reached"):
        asked(fake)


def test_a_slow_engine_gathers_no_crowd(engine: Making) -> None:
    """Of many that ask at once some are answered late, and those beyond are refused at once."""
    fake: list[FakeEngine] = []

    def until_let_go(handler: BaseHTTPRequestHandler) -> None:
        fake[0].let_go.wait(20)
        says(GOOD)(handler)

    fake.append(engine(until_let_go))
    store = RemoteStore(fake[0].address, seconds=20)
    found: list[object] = []

    def ask() -> None:
        try:
            found.append(store.select("numbers"))
        except StoreError as error:
            found.append(error.detail)

    threads = [threading.Thread(target=ask) for _ in range(IN_FLIGHT + WAITING + 10)]
    for each in threads:
        each.start()
    end = time.monotonic() + 15
    while len(found) < 10 and time.monotonic() < end:
        time.sleep(0.01)
    assert [each for each in found if "too many" in str(each)] == found
    assert len(found) == 10
    assert fake[0].asked <= IN_FLIGHT
    fake[0].let_go.set()
    for each in threads:
        each.join()
    store.close()
    assert sum(isinstance(each, list) for each in found) == IN_FLIGHT + WAITING


def test_who_waits_too_long_goes() -> None:
    gate = Gate(1, 1, 0.02)
    with gate.passed(), pytest.raises(EngineFailed, match="not free within"), gate.passed():
        pass
    with gate.passed():
        pass


# --- who the service is ------------------------------------------------------------------------------

SECRET = Credentials("reader", "sesame of the cave")


def _guarded(challenge: str, wanted: str) -> Answer:
    def answer(handler: BaseHTTPRequestHandler) -> None:
        if handler.headers.get("authorization", "").startswith(wanted):
            says(GOOD)(handler)
        else:
            says(b"", "text/plain", 401, www_authenticate=challenge)(handler)

    return answer


@pytest.mark.parametrize(
    ("challenge", "wanted"),
    [
        ('Basic realm="x"', "Basic " + base64.b64encode(b"reader:sesame of the cave").decode()),
        ('Digest realm="x", nonce="n", qop="auth", algorithm=MD5', 'Digest username="reader", realm="x"'),
    ],
)
def test_user_and_password_as_the_server_asks(engine: Making, challenge: str, wanted: str) -> None:
    fake = engine(_guarded(challenge, wanted))
    assert len(asked(fake, credentials=SECRET)) == 1
    assert "authorization" not in fake.headers[0]  # not before it asks
    with pytest.raises(EngineFailed, match="does not let this service in"):
        asked(fake)


def test_a_secret_is_shown_nowhere(engine: Making) -> None:
    store = RemoteStore(engine(says(b"", "text/plain", 401)).address, credentials=SECRET)
    with pytest.raises(EngineFailed) as caught:
        store.check()
    store.close()
    said = f"{caught.value.detail} {caught.value.mend} {caught.value!r} {store!r} {vars(store)!r} {SECRET!r}"
    assert "sesame" not in said
    assert "reader'" not in said


def test_credentials_come_whole_from_the_environment() -> None:
    assert Credentials.from_environment({}) is None
    assert Credentials.from_environment({USER: "a", PASSWORD: "b"}) == Credentials("a", "b")
    for half in ({USER: "a"}, {PASSWORD: "b"}):
        with pytest.raises(BadRequest, match="Only one"):
            Credentials.from_environment(half)
