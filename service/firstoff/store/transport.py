"""Requests to a SPARQL 1.1 server: pooled connections, deadlines, a bounded number in flight, whole answers only."""

from __future__ import annotations

from time import monotonic

import httpx2

from firstoff.errors import EngineFailed, QueryRefused
from firstoff.store.credentials import AsAsked, Credentials
from firstoff.store.gate import Gate

RESULTS = "application/sparql-results+json"
_JSON = (RESULTS, "application/json")
#: Requests in flight, and requests that wait for one of them. Fewer together than the threads that answer people.
IN_FLIGHT, WAITING = 8, 16
CONNECT_SECONDS = 2.0
MOST_BYTES = 512_000_000
#: What ends an answer that an engine gave up on with status 200.
_GIVEN_UP = (b"cancelled", b"timed out", b"timeout")


class Transport:
    """Asks one query address, and one update address where there is one.

    ``seconds`` is the time for one whole answer, and again for waiting until it can be asked for.
    """

    def __init__(self, query: str, update: str | None, seconds: float, credentials: Credentials | None = None) -> None:
        self._query, self._update, self._seconds = query, update, seconds
        self._gate = Gate(IN_FLIGHT, WAITING, seconds)
        self._client = httpx2.Client(
            auth=AsAsked(credentials) if credentials else None,
            timeout=httpx2.Timeout(seconds, connect=min(CONNECT_SECONDS, seconds)),
            limits=httpx2.Limits(max_connections=IN_FLIGHT, max_keepalive_connections=IN_FLIGHT),
            headers={"user-agent": "firstoff"},
            follow_redirects=False,
            trust_env=False,
        )

    def close(self) -> None:
        self._client.close()

    def ask(self, text: str) -> bytes:
        """The answer to a query as SPARQL 1.1 Query Results JSON.

        :raises QueryRefused: the server does not accept the text.
        :raises EngineFailed: there is no answer, or one that may not be whole.
        """
        response, body = self._sent(self._query, {"query": text}, again=True)
        media = response.headers.get("content-type", "").partition(";")[0].strip().lower()
        if media not in _JSON:
            raise EngineFailed(f"The engine answered with {media or 'no type'}, not with {RESULTS}.")
        _whole(response, body)
        return body

    def change(self, text: str) -> None:
        """Carry out an update.

        :raises QueryRefused: there is no update address, or the server does not accept the text.
        :raises EngineFailed: it was not carried out, or that is not known.
        """
        if self._update is None:
            raise QueryRefused("There is no address to write to.", mend="Set FIRSTOFF_ENGINE_UPDATE.")
        response, body = self._sent(self._update, {"update": text}, again=False)
        if "x-sql-state" in response.headers or (len(body) < 10_000 and _GIVEN_UP[0] in body):
            raise EngineFailed("The engine gave up on an update.")

    def _sent(self, address: str, form: dict[str, str], *, again: bool) -> tuple[httpx2.Response, bytes]:
        """``again``: what may be asked twice is, where a kept connection turns out to be closed."""
        with self._gate.passed():
            end = monotonic() + self._seconds
            for last in (not again, True):
                try:
                    return self._received(address, form, end)
                except (httpx2.RemoteProtocolError, httpx2.ReadError, httpx2.WriteError) as error:
                    if last or monotonic() > end:
                        raise EngineFailed(f"The connection to the engine broke: {_named(error)}.") from error
                except httpx2.TimeoutException as error:
                    raise EngineFailed(f"The engine did not answer within {self._seconds:g} s.") from error
                except (httpx2.HTTPError, httpx2.InvalidURL, httpx2.StreamError, OSError) as error:
                    raise EngineFailed(f"The engine cannot be reached: {_named(error)}.") from error
        raise AssertionError("the last turn returns or raises")

    def _received(self, address: str, form: dict[str, str], end: float) -> tuple[httpx2.Response, bytes]:
        parts, size = [], 0
        with self._client.stream("POST", address, data=form, headers={"accept": RESULTS}) as response:
            for part in response.iter_bytes():
                parts.append(part)
                size += len(part)
                if monotonic() > end:
                    raise EngineFailed(f"The engine did not end its answer within {self._seconds:g} s.")
                if size > MOST_BYTES:
                    raise EngineFailed(f"The engine's answer is larger than {MOST_BYTES} bytes.")
        body = b"".join(parts)
        _accepted(response, body)
        return response, body


def _accepted(response: httpx2.Response, body: bytes) -> None:
    status = response.status_code
    if 200 <= status < 300:
        return
    said = body[:300].decode("utf-8", "replace").partition("\n")[0].strip()
    if status in (401, 403):
        raise EngineFailed(
            f"The engine does not let this service in (status {status}).",
            mend="See FIRSTOFF_ENGINE_USER and FIRSTOFF_ENGINE_PASSWORD, and what this user may do at the engine.",
        )
    if status in (400, 413, 414, 422):
        raise QueryRefused(f"The engine does not accept the text: {said or status}")
    raise EngineFailed(f"The engine answered with status {status}{': ' + said if said else ''}.")


def _whole(response: httpx2.Response, body: bytes) -> None:
    """:raises EngineFailed: a sign says that the answer was cut."""
    if "x-sql-state" in response.headers:
        raise EngineFailed("The engine gave a part of the answer only: its time was over.")
    if "x-sparql-maxrows" in response.headers:
        raise EngineFailed(
            f"The engine cut the answer at {response.headers['x-sparql-maxrows'][:20]} rows.",
            mend="Let the engine give more rows (ResultSetMaxRows in the section SPARQL of a Virtuoso).",
        )
    if not body.rstrip().endswith(b"}") and any(each in body[-300:] for each in _GIVEN_UP):
        raise EngineFailed("The engine gave up in the middle of an answer: its time was over.")


def _named(error: Exception) -> str:
    return f"{type(error).__name__}: {error}" if str(error) else type(error).__name__
