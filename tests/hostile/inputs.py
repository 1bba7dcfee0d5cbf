"""An input as it goes over the wire, and short ways to write one."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any
from urllib.parse import quote

KEY = "a key for hostile inputs"
PLATFORM = "tolvane-galewood"
MODEL = "/v1/models/tgd27-460-s"
TURTLE = "text/turtle"
WORKBOOK = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
CHECK = "/v1/graphs/check"

#: Texts that break what takes a text for plain words.
TEXTS = [
    "\x00", "a\x00b", "\x01\x02\x03", "\x1b[31m", "\x7f", "\r\n", "a\r\nset-cookie: b=c", "\t\t\t", " ", "   ",
    "\u200b",
    "\ufeff", "\u202edrum", "\ufdd0", "\ufffe", "\uffff", "\U0010ffff", "\U000e0001", "́" * 60, "e" + "́" * 900,
    "Å", "ẞ", "ß" * 50, "ﬃ", "İ", "ı", "Σς", "𝔻𝕣𝕦𝕞", "漢字", "한국어", "العربية", "עברית", "🇩🇪",
    "👩\u200d👩\u200d👧\u200d👦",
    "①②③", "٤٥٦",
    "a" * 200, "a" * 5_000, "ab " * 1_500, "drum " * 900, "-" * 300, "(" * 300, "[" * 300, "*" * 300, "\\" * 300,
    "' OR 1=1 --", '"; DROP TABLE models; --', "} UNION { ?s ?p ?o", "<> ?p ?o }", "${7*7}", "{{7*7}}", "%s%s%s%n",
    "%p%x%d", "$(id)", "`id`", "; cat /etc/passwd", "| ls", "../../../etc/passwd", "..\\..\\windows",
    "file:///etc/passwd",
    "http://127.0.0.1:1/", "<script>alert(1)</script>", "<img src=x onerror=alert(1)>", "javascript:alert(1)", "<!--",
    "]]>", "&lt;&amp;&#0;", "(a+)+$", "^(([a-z])+.)+[A-Z]([a-z])+$", "null", "None", "undefined", "NaN", "Infinity",
    "-0", "0x10", "1e309", "true", "[object Object]", "__proto__", "constructor", "__class__", "\\u0000", "\\ud800",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Hostile:
    """``sent`` goes over the wire,
    ``name`` tells it in a failure; what is no ``whole`` request may wait for the rest."""

    name: str
    sent: bytes
    whole: bool = True


def request(
    method: str, target: str, headers: Iterable[tuple[str, str]] = (), body: bytes | None = None, *, name: str = ""
) -> Hostile:
    """A request that HTTP itself has nothing against, with whatever it carries."""
    lines = [f"{method} {target} HTTP/1.1", "Host: localhost", "Connection: close"]
    lines += [f"{title}: {value}" for title, value in headers]
    if body is not None:
        lines.append(f"Content-Length: {len(body)}")
    head = "\r\n".join(lines).encode("utf-8", "surrogatepass")
    told = name or f"{method} {target}"
    return Hostile(told[:160], head + b"\r\n\r\n" + (body or b""))


def get(target: str) -> Hostile:
    return request("GET", target)


def asking(address: str, **said: str) -> Hostile:
    """A GET with parameters, whatever their text."""
    query = "&".join(f"{name}={quote(value.encode('utf-8', 'surrogatepass'), safe='')}" for name, value in said.items())
    return get(f"{address}?{query}")


def posting(address: str, body: bytes | str, media: str = "application/json", *, name: str, method: str = "POST") -> (
    Hostile
):  # fmt: skip
    """A body with the key that may send it."""
    sent = body.encode("utf-8", "surrogatepass") if isinstance(body, str) else body
    headers = [("Content-Type", media), ("Authorization", f"Bearer {KEY}"), ("If-Match", "*")]
    headers.append(("Idempotency-Key", "7f3c2a90-5d1e-4b86-9c47-0e8d2b61a5f3"))
    return request(method, address, headers, sent, name=f"{method} {address}: {name}")


def said(value: Any) -> str:
    """JSON of a value."""
    return json.dumps(value)
