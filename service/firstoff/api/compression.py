"""Answers compressed with gzip for whom accepts it (RFC 9110, 8.4.1.3 and 12.5.3).

The compressed answer is a representation of its own, so its strong ETag is one too (8.8.3.3 shows just this case): the
answer's with ``-gzip`` in it. A client that sends either back has 304 where nothing changed. What may be written to,
the graphs of authors, is left alone: their ETag says which version a save replaces.
"""

from __future__ import annotations

import gzip
import re
from collections import OrderedDict

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import Headers, MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

LEAST_BYTES = 1000
"""Smaller bodies gain nothing that a network packet would notice."""

_TEXTS = re.compile(r"text/.*|image/svg\+xml|application/([a-z.-]+\+)?(json|xml)|application/(javascript|n-triples)")
_APART = "/v1/graphs/"
_SUFFIX = "-gzip"
_PACKED_TAG = re.compile(_SUFFIX + '"')


def accepted(accept_encoding: str | None) -> bool:
    """Whether gzip is accepted, and not liked less than no coding at all; nothing said is no coding."""
    weights: dict[str, float] = {}
    for part in (accept_encoding or "").lower().split(","):
        name, *parameters = (piece.strip() for piece in part.split(";"))
        quality = next((piece[2:] for piece in parameters if piece.startswith("q=")), "1")
        try:
            weights[name] = float(quality)
        except ValueError:
            weights[name] = 0.0
    weight = max((weights[name] for name in ("gzip", "x-gzip") if name in weights), default=weights.get("*", 0.0))
    return weight > 0 and weight >= weights.get("identity", 0.0)


class Compressed:
    """ASGI middleware over whole answers; at most ``kept_bytes`` of those compressed are kept, by address and ETag."""

    def __init__(self, app: ASGIApp, *, kept_bytes: int) -> None:
        self._app = app
        self._most = kept_bytes
        self._size = 0
        self._kept: OrderedDict[tuple[str, bytes, str], bytes] = OrderedDict()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http" or scope["path"].startswith(_APART):
            await self._app(scope, receive, send)
            return
        wanted = accepted(Headers(scope=scope).get("accept-encoding"))
        known = _known_tags(scope) if wanted else frozenset()
        inner = {**scope, "headers": [_unpacked(*header) for header in scope["headers"]]} if known else scope
        await self._app(inner, receive, _Sending(self, scope, send, wanted, known).message)

    async def packed(self, scope: Scope, etag: str | None, body: bytes) -> bytes:
        """``body`` compressed: the same bytes for the same ETag, so no time stands in them."""
        key = (scope["path"], scope["query_string"], etag or "")
        found = self._kept.get(key) if etag else None
        if found is not None:
            self._kept.move_to_end(key)
            return found
        made = await run_in_threadpool(gzip.compress, body, 6, mtime=0)
        if etag and etag.startswith('"') and key not in self._kept:
            self._kept[key] = made
            self._size += len(made)
            while self._size > self._most:
                self._size -= len(self._kept.popitem(last=False)[1])
        return made


class _Sending:
    """One answer on its way out. ``known`` are the ETags that the client has."""

    def __init__(self, of: Compressed, scope: Scope, send: Send, wanted: bool, known: frozenset[str]) -> None:
        self._of = of
        self._scope = scope
        self._send = send
        self._wanted = wanted
        self._known = known
        self._held: Message | None = None
        self._body: list[bytes] = []

    async def message(self, message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(raw=message["headers"])
            if message["status"] == 304:
                headers.add_vary_header("Accept-Encoding")
                if _packed_tag(headers.get("etag", "")) in self._known:
                    headers["etag"] = _packed_tag(headers["etag"])
            elif message["status"] == 200 and _compressible(headers):
                headers.add_vary_header("Accept-Encoding")
                if self._wanted and int(headers.get("content-length", "0")) >= LEAST_BYTES:
                    self._held = message
                    return
        elif self._held is not None:
            self._body.append(message.get("body", b""))
            if not message.get("more_body", False):
                await self._release(self._held, b"".join(self._body))
            return
        await self._send(message)

    async def _release(self, start: Message, body: bytes) -> None:
        """Send what was held. A HEAD may come without the body: then its length is not said."""
        headers = MutableHeaders(raw=start["headers"])
        etag = headers.get("etag")
        del headers["content-length"]
        if body:
            body = await self._of.packed(self._scope, etag, body)
            headers["content-length"] = str(len(body))
        headers["content-encoding"] = "gzip"
        if etag:
            headers["etag"] = _packed_tag(etag)
        await self._send(start)
        await self._send({"type": "http.response.body", "body": body})


def _compressible(headers: Headers) -> bool:
    """Whether it is text that nobody compressed, and that may be changed on its way."""
    told = headers.get("content-type", "").partition(";")[0].strip().lower()
    kept_as_is = "no-transform" in headers.get("cache-control", "").lower() or "content-encoding" in headers
    return bool(_TEXTS.fullmatch(told)) and not kept_as_is


def _known_tags(scope: Scope) -> frozenset[str]:
    """The ETags that the client has, compared weakly as If-None-Match asks for (13.1.2)."""
    told = ",".join(Headers(scope=scope).getlist("if-none-match"))
    return frozenset(tag for each in told.split(",") if (tag := each.strip().removeprefix("W/")))


def _packed_tag(etag: str) -> str:
    """The ETag of the compressed representation; a weak one holds for both."""
    return etag if etag.startswith("W/") or not etag else f'{etag[:-1]}{_SUFFIX}"'


def _unpacked(name: bytes, value: bytes) -> tuple[bytes, bytes]:
    """A header with the ETags of compressed representations as those of the answers below."""
    if name != b"if-none-match":
        return name, value
    return name, _PACKED_TAG.sub('"', value.decode("latin-1")).encode("latin-1")
