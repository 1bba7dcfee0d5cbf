"""Errors as problem documents (RFC 9457): one table, one builder."""

from __future__ import annotations

import logging
from collections.abc import Iterable, Sequence
from dataclasses import asdict
from itertools import chain
from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse
from starlette.exceptions import HTTPException
from starlette.routing import Route

from firstoff import errors
from firstoff.api.noted import present
from firstoff_contract.problem import Problem

MEDIA_TYPE = "application/problem+json"
TYPE_BASE = "https://firstoff.example/problems/"

#: Seconds after which an engine that failed may be tried again.
RETRY_SECONDS = 2

_log = logging.getLogger("firstoff.api")

#: Status, name and title for each class of the tree; a subclass without a row has its base's.
KINDS: dict[type[errors.FirstoffError], tuple[int, str, str]] = {
    errors.NotFound: (404, "not-found", "Not found"),
    errors.AmbiguousModel: (409, "ambiguous-model", "More than one model fits"),
    errors.SerialNeeded: (409, "serial-needed", "A serial number is needed"),
    errors.TargetUnreachable: (422, "target-unreachable", "The target cannot be reached"),
    errors.OutOfTime: (503, "out-of-time", "The plan took too long"),
    errors.NotAcceptable: (406, "not-acceptable", "Not acceptable"),
    errors.IdempotencyKeyNeeded: (400, "idempotency-key-needed", "An idempotency key is needed"),
    errors.KeyNeeded: (401, "key-needed", "A key is needed"),
    errors.ScopeMissing: (403, "scope-missing", "This key may not do this"),
    errors.TooManyRequests: (429, "too-many-requests", "Too many requests"),
    errors.TooBusy: (503, "too-busy", "The service is busy"),
    errors.WritingOff: (403, "writing-off", "Nothing can be written here"),
    errors.KeyReused: (422, "idempotency-key-reused", "The idempotency key was used before"),
    errors.StateFailed: (503, "state-failed", "What is kept cannot be read or written"),
    errors.ContentRefused: (422, "content-refused", "The content did not pass the check"),
    errors.PreconditionNeeded: (428, "precondition-needed", "It is not said which version this replaces"),
    errors.Stale: (412, "stale", "Another version is served"),
    errors.UnsupportedMedia: (415, "unsupported-media", "A body of this kind is not read here"),
    errors.ContentBroken: (503, "content-broken", "The content of this platform cannot be used"),
    errors.StoreError: (503, "store-failed", "The store did not answer"),
    errors.QueryMalformed: (400, "malformed-query", "This is no query"),
    errors.QueryNotAllowed: (403, "query-not-allowed", "This query is not run here"),
    errors.QueryStopped: (422, "query-stopped", "The query was stopped"),
    errors.AnswerTooLarge: (422, "answer-too-large", "The answer is too large"),
    errors.QueriesBusy: (503, "queries-busy", "No query can be taken now"),
    errors.QueriesOff: (503, "queries-off", "No queries are answered here"),
    errors.FirstoffError: (422, "bad-request", "The request cannot be answered"),
}

#: Attributes of an error that become members of its problem document.
_MEMBERS = (
    "nearest",
    "ranges",
    "models",
    "target",
    "obstacles",
    "missing_tools",
    "limits",
    "would_do",
    "revision",
    "changed",
    "scope",
)

_HTTP = {
    400: ("malformed-body", "The body cannot be read", "Send a JSON object in UTF-8; /openapi.json describes it."),
    404: ("no-such-address", "No such address", "Start at / or read /openapi.json."),
    405: ("method-not-allowed", "Method not allowed", "Use one of the methods in the Allow header."),
}


def problem_response(
    status: int, kind: str, title: str, detail: str, mend: str, *, instance: str, **members: Any
) -> JSONResponse:
    """The one builder of error bodies; empty ``members`` are left out."""
    body = Problem(type=TYPE_BASE + kind, title=title, status=status, detail=detail, mend=mend, instance=instance)
    note = present.get()
    if note is not None:
        note.problem = kind
    content = body.model_dump(exclude_none=True) | {name: value for name, value in members.items() if value}
    return JSONResponse(content, status_code=status, media_type=MEDIA_TYPE)


def firstoff_problem(instance: str, error: errors.FirstoffError) -> JSONResponse:
    """The problem document of an error of the tree."""
    status, kind, title = next(KINDS[base] for base in type(error).__mro__ if base in KINDS)
    members = {name: getattr(error, name, None) for name in _MEMBERS}
    listed = {name: list(value) if isinstance(value, tuple) else value for name, value in members.items()}
    if isinstance(error, errors.ContentRefused):
        listed["findings"] = [asdict(each) for each in error.findings]
    response = problem_response(status, kind, title, error.detail, error.mend, instance=instance, **listed)
    if isinstance(error, errors.Stale) and error.revision:
        response.headers["etag"] = f'"{error.revision}"'
    if isinstance(error, errors.EngineFailed):
        response.headers["retry-after"] = str(RETRY_SECONDS)
    if isinstance(error, (errors.KeyNeeded, errors.ScopeMissing)):
        response.headers["www-authenticate"] = error.challenge
    if isinstance(error, (errors.QueriesBusy, errors.TooManyRequests, errors.TooBusy)):
        response.headers["retry-after"] = str(error.retry_after)
    return response


def _validation_problem(request: Request, error: RequestValidationError) -> JSONResponse:
    fields = [
        {"where": ".".join(str(part) for part in each["loc"]), "wrong": each["msg"]} for each in error.errors()[:20]
    ]
    said = "; ".join(f"{field['where']}: {field['wrong']}" for field in fields)
    return problem_response(
        422,
        "invalid-request",
        "The request is not of the expected form",
        said or "The request is not of the expected form.",
        "Correct the fields named; /openapi.json describes every address.",
        instance=request.url.path,
        fields=fields,
    )


def _http_problem(request: Request, error: HTTPException, routes: Iterable[Route]) -> JSONResponse:
    kind, title, mend = _HTTP.get(error.status_code, ("http-error", "The request failed", "Correct the request."))
    response = problem_response(
        error.status_code,
        kind,
        title,
        f"{request.method} {request.url.path}: {title}.",
        mend,
        instance=request.url.path,
    )
    response.headers.update(error.headers or {})
    if error.status_code == 405:  # every method the address has (RFC 9110, 15.5.6), not those of the first route alone
        fitting = (each.methods or () for each in routes if each.path_regex.match(request.url.path))
        response.headers["allow"] = ", ".join(sorted(set(chain.from_iterable(fitting))))
    return response


def _unexpected(request: Request, error: Exception) -> JSONResponse:
    _log.error("unexpected error on %s %s", request.method, request.url.path, exc_info=error)
    note = present.get()
    response = problem_response(
        500,
        "unexpected",
        "Something went wrong in the service",
        "The service met an error it did not expect.",
        "Try again; if it goes on, report the address and the request id.",
        instance=request.url.path,
        request_id=note.request_id if note else "",
    )
    if note is not None:
        response.headers["x-request-id"] = note.request_id
    return response


def install(app: FastAPI, routes: Sequence[Route]) -> None:
    """Make every error of ``app`` a problem document; ``routes`` are those it has."""

    async def on_firstoff(request: Request, error: Exception) -> JSONResponse:
        if not isinstance(error, errors.FirstoffError):
            return _unexpected(request, error)
        if isinstance(error, (errors.StoreError, errors.ContentBroken, errors.StateFailed)):
            _log.error("%s on %s", type(error).__name__, request.url.path, exc_info=error)
        return firstoff_problem(request.url.path, error)

    async def on_validation(request: Request, error: Exception) -> JSONResponse:
        if not isinstance(error, RequestValidationError):
            return _unexpected(request, error)
        return _validation_problem(request, error)

    async def on_http(request: Request, error: Exception) -> JSONResponse:
        if not isinstance(error, HTTPException):
            return _unexpected(request, error)
        return _http_problem(request, error, routes)

    async def on_any(request: Request, error: Exception) -> JSONResponse:
        return _unexpected(request, error)

    app.add_exception_handler(errors.FirstoffError, on_firstoff)
    app.add_exception_handler(RequestValidationError, on_validation)
    app.add_exception_handler(HTTPException, on_http)
    app.add_exception_handler(Exception, on_any)
