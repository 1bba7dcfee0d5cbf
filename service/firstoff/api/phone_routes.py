"""The phone app at ``/``: its files as they lie in ``clients/``, under a policy that lets nothing else in.

The service worker is told which files there are and their digest, so that it keeps a whole app of one version.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from fastapi import APIRouter, Request
from fastapi.responses import Response
from starlette.exceptions import HTTPException

from firstoff.content import clients_folder

CONTENT_SECURITY_POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self'",
        "connect-src 'self'",
        "manifest-src 'self'",
        "worker-src 'self'",
        "base-uri 'none'",
        "form-action 'none'",
        "frame-ancestors 'none'",
        "require-trusted-types-for 'script'",
        "trusted-types firstoff-worker",
    )
)
_ROOMS = ("phone", "javascript")
_ASIDE = {"node_modules", "development", "example.js"}
_PAGE = "phone/index.html"
_WORKER = "phone/worker.js"
_TYPES = {
    ".css": "text/css; charset=utf-8",
    ".html": "text/html; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".png": "image/png",
    ".svg": "image/svg+xml",
    ".webmanifest": "application/manifest+json",
}

router = APIRouter(include_in_schema=False)


@dataclass(frozen=True, slots=True)
class PhoneFile:
    """A file of the app as it is sent."""

    body: bytes
    media_type: str
    etag: str


def phone_files(folder: Path | None = None) -> Mapping[str, PhoneFile]:
    """The files of the app by their path below ``clients/``, ``phone/`` and ``javascript/`` together.

    The worker begins with ``FILES``, the addresses to keep, and ``VERSION``, the digest of them all.
    """
    folder = folder or clients_folder()
    bodies = {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for room in _ROOMS
        for path in sorted((folder / room).rglob("*"))
        if path.suffix in _TYPES and path.is_file() and _ASIDE.isdisjoint(path.relative_to(folder).parts)
    }
    version = hashlib.sha256(b"\n".join(name.encode() + b"\0" + body for name, body in bodies.items())).hexdigest()[:16]
    kept = sorted(bodies.keys() - {_WORKER, _PAGE})
    told = f"const FILES = {json.dumps(['./', *kept])}\nconst VERSION = {json.dumps(version)}\n"
    bodies[_WORKER] = told.encode() + bodies[_WORKER]
    return {
        name: PhoneFile(body, _TYPES[Path(name).suffix], f'"{hashlib.sha256(body).hexdigest()[:24]}"')
        for name, body in bodies.items()
    }


@router.api_route("/", methods=["GET", "HEAD"])
def phone(request: Request) -> Response:
    """The app itself."""
    return _sent(request, _PAGE)


@router.api_route("/phone/{path:path}", methods=["GET", "HEAD"])
def phone_file(request: Request, path: str) -> Response:
    """A file of the app."""
    return _sent(request, f"phone/{path}")


@router.api_route("/javascript/{path:path}", methods=["GET", "HEAD"])
def client_file(request: Request, path: str) -> Response:
    """A file of the JavaScript client, which the app uses."""
    return _sent(request, f"javascript/{path}")


def _sent(request: Request, name: str) -> Response:
    found: PhoneFile | None = request.app.state.phone.get(name)
    if found is None:
        raise HTTPException(404)
    headers = {
        "etag": found.etag,
        "cache-control": "no-cache",
        "x-content-type-options": "nosniff",
        "referrer-policy": "no-referrer",
        "content-security-policy": CONTENT_SECURITY_POLICY,
    }
    if name == _WORKER:
        headers["service-worker-allowed"] = "/"
    if found.etag in (tag.strip() for tag in request.headers.get("if-none-match", "").split(",")):
        return Response(status_code=304, headers=headers)
    return Response(found.body, media_type=found.media_type, headers=headers)
