"""The one boundary to the HTTP library: requests out, answers in, its errors translated."""

from __future__ import annotations

import time
from collections.abc import Callable

import httpx2

from .replies import Failed, Got, Send

#: Bytes of an answer that are read at the most.
MOST_BYTES = 64_000_000

_UNSENT = (
    httpx2.ConnectError,
    httpx2.ConnectTimeout,
    httpx2.PoolTimeout,
    httpx2.ProxyError,
    httpx2.UnsupportedProtocol,
)


def failed(error: httpx2.RequestError) -> Failed:
    """What an error of the library means for the exchange."""
    said = " ".join(str(error).split()) or type(error).__name__
    if isinstance(error, _UNSENT):
        return Failed("unsent", said)
    if isinstance(error, httpx2.TimeoutException):
        return Failed("late", said)
    return Failed("garbled" if isinstance(error, httpx2.DecodingError) else "broken", said)


class Reading:
    """An answer while it is being read: bounded in bytes, and in time even where it comes drop by drop. The time runs
    from the making of this."""

    def __init__(self, seconds: float, clock: Callable[[], float] = time.monotonic) -> None:
        self._seconds = seconds
        self._clock = clock
        self._end = clock() + seconds
        self._body = bytearray()

    def add(self, chunk: bytes) -> Failed | None:
        """Take ``chunk`` in; why reading has to stop, None where it goes on."""
        self._body += chunk
        if len(self._body) > MOST_BYTES:
            return Failed("garbled", f"it is larger than {MOST_BYTES} bytes")
        if self._clock() > self._end:
            return Failed("late", f"it was still coming after {self._seconds:.3g} seconds")
        return None

    def whole(self, response: httpx2.Response) -> Got:
        """The answer, once every chunk of ``response`` is in."""
        headers = {name.lower(): value for name, value in response.headers.items()}
        return Got(response.status_code, headers, bytes(self._body))


def _request(http: httpx2.Client | httpx2.AsyncClient, send: Send) -> httpx2.Request:
    return http.build_request(
        send.method, send.address, headers=dict(send.headers), content=send.body, timeout=send.seconds
    )


def sent(http: httpx2.Client, send: Send) -> Got | Failed:
    """Send and read the whole answer, blocking."""
    reading = Reading(send.seconds)
    try:
        response = http.send(_request(http, send), stream=True, follow_redirects=False)
        try:
            for chunk in response.iter_bytes():
                stop = reading.add(chunk)
                if stop is not None:
                    return stop
            return reading.whole(response)
        finally:
            response.close()
    except httpx2.RequestError as error:
        return failed(error)


async def sent_async(http: httpx2.AsyncClient, send: Send) -> Got | Failed:
    """Send and read the whole answer."""
    reading = Reading(send.seconds)
    try:
        response = await http.send(_request(http, send), stream=True, follow_redirects=False)
        try:
            async for chunk in response.aiter_bytes():
                stop = reading.add(chunk)
                if stop is not None:
                    return stop
            return reading.whole(response)
        finally:
            await response.aclose()
    except httpx2.RequestError as error:
        return failed(error)
