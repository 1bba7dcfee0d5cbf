"""Representations: JSON or JSON-LD, HTML or SVG where an address is for the eye; entity tags; a cache of answers given.

An answer to a GET under ``/v1`` depends on the address, the graph revision, the package version, the settings, the
media type and, where it begins with the frequencies of faults, the outcomes kept alone. Their digest is its ETag (RFC
9110, 8.8.3); with it a repeated request is answered without computing. So is a question that is posted, by its body
too: it changes nothing, and has no ETag.
"""

from __future__ import annotations

import hashlib
import json
import re
import zlib
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass
from urllib.parse import quote

from starlette.datastructures import Headers
from starlette.responses import Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from firstoff.api.problems import firstoff_problem
from firstoff.api.telemetry import Tracing
from firstoff.errors import FirstoffError, NotAcceptable

JSON = "application/json"
JSON_LD = "application/ld+json"
HTML = "text/html"
SVG = "image/svg+xml"
CONTEXT_ADDRESS = "/v1/context.jsonld"

_FOR_THE_EYE = {
    re.compile(r"/v1/models/[^/]+/job-sheet"): (HTML,),
    re.compile(r"/v1/models/[^/]+/removal-plan/picture"): (SVG,),
    re.compile(r"/v1/models/[^/]+/supply-picture"): (SVG,),
}
#: Addresses whose answers depend on what jobs have shown.
_LEARNED = re.compile(r"/v1/search|/v1/models/[^/]+/(diagnosis|carry|outcomes|codes/[^/]+)")
#: Questions that are posted since they may be long; asking changes nothing.
_POSTED = re.compile(r"/v1/models/[^/]+/(diagnosis|removal-plan)")
#: Addresses that choose their representation and ETag themselves.
_OWN = re.compile(re.escape(CONTEXT_ADDRESS) + r"|/v1/graphs/(?!check)[^/]+(/versions/[^/]+|/provenance)?")
#: What keeping an answer takes besides its body, about.
_BESIDES = 800
_KEPT_HEADERS = ("content-security-policy", "x-content-type-options")


def offered(path: str) -> tuple[str, ...]:
    """The media types that an address under ``/v1`` answers in."""
    return next((types for pattern, types in _FOR_THE_EYE.items() if pattern.fullmatch(path)), (JSON, JSON_LD))


def chosen(accept: str, types: tuple[str, ...] = (JSON, JSON_LD)) -> str:
    """Of ``types`` the one to answer with, of those the Accept header allows (RFC 9110, 12.5.1).

    :raises NotAcceptable: none of them is allowed.
    """
    weights: dict[str, float] = {}
    for part in (accept or "*/*").split(","):
        name, *parameters = (piece.strip().lower() for piece in part.split(";"))
        quality = next((piece[2:] for piece in parameters if piece.startswith("q=")), "1")
        try:
            weights[name] = float(quality)
        except ValueError:
            weights[name] = 0.0

    def weight(media_type: str) -> float:
        for name in (media_type, f"{media_type.partition('/')[0]}/*", "*/*"):
            if name in weights:
                return weights[name]
        return 0.0

    best = max(types, key=weight)
    if weight(best) <= 0:
        raise NotAcceptable(f"None of {accept!r} is offered here.", mend=f"Ask for {' or '.join(types)}.")
    return best


@dataclass(frozen=True, slots=True)
class _Kept:
    """An answer with its body compressed: it shrinks to a third or less, and is back in about 0.1 ms."""

    packed: bytes
    headers: dict[str, str]

    @classmethod
    def of(cls, body: bytes, headers: dict[str, str]) -> _Kept:
        return cls(zlib.compress(body, 1), headers)

    @property
    def body(self) -> bytes:
        return zlib.decompress(self.packed)

    @property
    def size(self) -> int:
        """Bytes of memory, about."""
        return len(self.packed) + _BESIDES


@dataclass(slots=True)
class Tally:
    """How many answers were kept already, and how many had to be computed."""

    hits: int = 0
    misses: int = 0


class Representations:
    """ASGI middleware over the answers.

    ``seed`` tells what every ETag depends on besides the address, ``learned`` what those of answers that begin with the
    frequencies of faults depend on too; at most ``kept_bytes`` of answers are kept, those asked for last.
    """

    def __init__(
        self,
        app: ASGIApp,
        *,
        seed: Callable[[], str],
        learned: Callable[[], str],
        kept_bytes: int,
        tally: Tally,
        tracing: Tracing,
    ) -> None:
        self._app = app
        self._seed = seed
        self._learned = learned
        self._most = kept_bytes
        self._size = 0
        self._tally = tally
        self._tracing = tracing
        self._answers: OrderedDict[str, _Kept] = OrderedDict()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http" or not scope["path"].startswith("/v1/") or _OWN.fullmatch(scope["path"]):
            await self._app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        try:
            media_type = chosen(headers.get("accept", ""), offered(scope["path"]))
            learned = self._learned() if _LEARNED.fullmatch(scope["path"]) else ""
        except FirstoffError as error:
            await firstoff_problem(scope["path"], error)(scope, receive, send)
            return
        address = scope["path"] + "?" + scope["query_string"].decode("latin-1")
        depends = [self._seed(), learned, media_type, address]
        posted = scope["method"] == "POST" and _POSTED.fullmatch(scope["path"]) is not None
        if posted:
            body = await _body(receive)
            depends += [headers.get("content-type", ""), hashlib.sha256(body).hexdigest()]
            receive = _once_more(body, receive)
        elif scope["method"] not in ("GET", "HEAD"):
            await self._translated(scope, receive, send, media_type)
            return
        tag = hashlib.sha256("\n".join(depends).encode()).hexdigest()[:24]
        kept = self._answers.get(tag)
        if kept is None:
            self._tally.misses += 1
            own = {} if posted else {"etag": f'"{tag}"'}
            kept = await self._computed(scope, receive, send, media_type, own)
            if kept is None:
                return
            self._keep(tag, kept)
        else:
            self._tally.hits += 1
            self._answers.move_to_end(tag)
        await (Response(kept.body, headers=kept.headers) if posted else _sent(kept, headers))(scope, receive, send)

    def _keep(self, tag: str, kept: _Kept) -> None:
        if tag not in self._answers:
            self._answers[tag] = kept
            self._size += kept.size
        while self._size > self._most:
            _, dropped = self._answers.popitem(last=False)
            self._size -= dropped.size

    async def _computed(
        self, scope: Scope, receive: Receive, send: Send, media_type: str, own: dict[str, str]
    ) -> _Kept | None:
        """Ask the application. A good answer is returned to be kept, with headers of its ``own``; any other is sent on
        as it is."""
        whole = "GET" if scope["method"] == "HEAD" else scope["method"]
        with self._tracing.computation():
            status, headers, body = await _captured(self._app, {**scope, "method": whole}, receive)
        if status != 200 or not headers.get("content-type", "").startswith((JSON, media_type)):
            await Response(body, status, dict(headers.items()))(scope, receive, send)
            return None
        said = _as(media_type, body, scope["path"])
        kept = {**_common(media_type), **{name: headers[name] for name in _KEPT_HEADERS if name in headers}}
        if headers.get("cache-control") == "no-store":
            await Response(said, headers={**kept, "cache-control": "no-store"})(scope, receive, send)
            return None
        return _Kept.of(said, {**kept, **own})

    async def _translated(self, scope: Scope, receive: Receive, send: Send, media_type: str) -> None:
        with self._tracing.computation():
            status, headers, body = await _captured(self._app, scope, receive)
        plain = dict(headers.items())
        if status == 200 and plain.get("content-type", "").startswith(JSON):
            body = _as(media_type, body, scope["path"])
            plain = _common(media_type)
        plain.pop("content-length", None)
        await Response(body, status, plain)(scope, receive, send)


def _common(media_type: str) -> dict[str, str]:
    return {
        "content-type": f"{media_type}; charset=utf-8" if media_type == HTML else media_type,
        "content-language": "en",
        "vary": "Accept, Accept-Language",
        "cache-control": "no-cache",
    }


def _as(media_type: str, body: bytes, path: str) -> bytes:
    """``body`` in the media type asked for: JSON-LD is the same object with its context and its address."""
    if media_type != JSON_LD:
        return body
    head = json.dumps({"@context": CONTEXT_ADDRESS, "@id": quote(path, safe="/:@!$&'()*+,;=~")})[:-1]
    return head.encode() + b"," + body[1:] if body != b"{}" else head.encode() + b"}"


async def _body(receive: Receive) -> bytes:
    """The whole body: what is too large was refused before it came here."""
    parts, more = [], True
    while more:
        message = await receive()
        parts.append(message.get("body", b""))
        more = message["type"] == "http.request" and message.get("more_body", False)
    return b"".join(parts)


def _once_more(body: bytes, receive: Receive) -> Receive:
    """``receive`` as if ``body`` had not been read yet."""
    waiting: list[Message] = [{"type": "http.request", "body": body, "more_body": False}]

    async def again() -> Message:
        return waiting.pop() if waiting else await receive()

    return again


def _sent(kept: _Kept, headers: Headers) -> Response:
    etag = kept.headers["etag"]
    asked = {tag.strip().removeprefix("W/") for tag in headers.get("if-none-match", "").split(",")}
    if etag in asked or "*" in asked:
        return Response(status_code=304, headers={k: v for k, v in kept.headers.items() if k != "content-type"})
    return Response(kept.body, headers=kept.headers)


async def _captured(app: ASGIApp, scope: Scope, receive: Receive) -> tuple[int, Headers, bytes]:
    """Status, headers and body of what ``app`` answers."""
    status, headers, parts = 500, Headers(), []

    async def catching(message: Message) -> None:
        nonlocal status, headers
        if message["type"] == "http.response.start":
            status, headers = message["status"], Headers(raw=message["headers"])
        elif message["type"] == "http.response.body":
            parts.append(message.get("body", b""))

    await app(scope, receive, catching)
    return status, headers, b"".join(parts)
