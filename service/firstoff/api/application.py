"""The application: the one place where store, collection, answers and routes are put together."""

from __future__ import annotations

import asyncio
import hashlib
import json
import logging
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from typing import Any

from fastapi import FastAPI
from opentelemetry.trace import TracerProvider
from starlette.middleware.cors import CORSMiddleware
from starlette.routing import Route
from starlette.types import ASGIApp

from firstoff import __version__
from firstoff.access.key_file import KeyRing
from firstoff.access.trail import Trail
from firstoff.answers.desk import Desk
from firstoff.answers.publishing import PublishingDesk
from firstoff.api import (
    code_routes,
    diagnosis_routes,
    energy_routes,
    graph_routes,
    ontology_routes,
    operation,
    outcome_routes,
    phone_routes,
    problems,
    readiness,
    routes,
    sparql_routes,
)
from firstoff.api.access import Access
from firstoff.api.answering import Answering
from firstoff.api.audited import Audited, Beginning
from firstoff.api.compression import Compressed
from firstoff.api.examples import completed
from firstoff.api.headers import SecurityHeaders
from firstoff.api.limits import RequestLimits
from firstoff.api.metrics import Held, Metrics
from firstoff.api.observing import Observed
from firstoff.api.representation import Representations, Tally
from firstoff.api.telemetry import NO_OTHER, Tracing
from firstoff.api.templates import template_of
from firstoff.collection.engines import following
from firstoff.collection.opening import Opened
from firstoff.collection.replica import Replica
from firstoff.collection.shelf import Shelf
from firstoff.errors import FirstoffError
from firstoff.settings import Settings, of_answers
from firstoff.sparql.endpoint import Endpoint

_ROUTED = (
    routes,
    energy_routes,
    diagnosis_routes,
    outcome_routes,
    ontology_routes,
    code_routes,
    graph_routes,
    sparql_routes,
    operation,
    phone_routes,
)

_log = logging.getLogger("firstoff.api")

#: Answers compress to about an eighth, so that one part in this many of what is kept holds them all once more.
_COMPRESSED_SHARE = 8

#: What pages of other origins may send, and what they may read of an answer.
_ASKED_WITH = ("Authorization", "Content-Type", "If-Match", "If-None-Match", "Idempotency-Key")
_TOLD = ("ETag", "Retry-After", "RateLimit", "RateLimit-Policy", "WWW-Authenticate", "Firstoff-Revision")

_DESCRIPTION = """What comes off first, what is still live, and what is probably wrong: computed from a knowledge graph.

Local codes and licensed practice come first. Unknown is never safe.
"""


def create_app(opened: Opened, settings: Settings, tracers: TracerProvider | None = None) -> FastAPI:
    """A service over content already opened; ``tracers`` make its spans, where it is to have any.

    :raises StateFailed: the folder for outcomes cannot be used.
    :raises BadRequest: the file of keys cannot be used.
    """
    desk = Desk(opened, settings)
    desk.prepare()
    app = FastAPI(
        title="firstoff",
        version=__version__,
        description=_DESCRIPTION,
        docs_url=None,
        redoc_url=None,
        redirect_slashes=False,
        lifespan=_following,
        telemetry=NO_OTHER,
    )
    app.state.desk = desk
    app.state.keys = KeyRing(settings.keys)
    app.state.ontology = ontology_routes.Documents()
    app.state.seed = _seed(opened, settings)
    app.state.phone = phone_routes.phone_files()
    app.state.sparql = Endpoint(opened, settings)

    def renew(published: Opened) -> None:
        # The desk before the seed: an answer is kept under a seed that was read before the desk was asked.
        app.state.desk = app.state.desk.renewed(published)
        app.state.seed = _seed(published, settings)
        app.state.sparql.renewed(published)

    app.state.shelf = following(opened, settings, renew)
    app.state.publishing = PublishingDesk(app.state.shelf)
    app.state.stopping = False
    app.state.checks = [
        readiness.running(lambda: app.state.stopping),
        readiness.content(lambda: app.state.desk.opened),
        readiness.engine(app.state.shelf, looks_itself=bool(settings.refresh_seconds)),
        readiness.keys(app.state.keys),
        readiness.state(settings),
    ]
    tally = Tally()
    app.state.metrics = Metrics(lambda: _held(app.state.desk.opened, tally, app.state.shelf.looks.failures))
    for each in _ROUTED:
        app.include_router(each.router)
    problems.install(app, _routes())
    _layer(app, settings, tally, Tracing(tracers))
    _document(app)
    return app


def _layer(app: FastAPI, settings: Settings, tally: Tally, tracing: Tracing) -> None:
    """Put the layers around the routes, the innermost first."""
    app.add_middleware(Answering, most=settings.computations, seconds=settings.answer_seconds)
    app.add_middleware(
        Representations,
        seed=lambda: app.state.seed,
        learned=lambda: app.state.desk.counted().revision or "",
        kept_bytes=settings.cache_bytes - settings.cache_bytes // _COMPRESSED_SHARE,
        tally=tally,
        tracing=tracing,
    )
    app.add_middleware(Compressed, kept_bytes=settings.cache_bytes // _COMPRESSED_SHARE)
    _guard(app, settings)
    app.add_middleware(Observed, metrics=app.state.metrics, template=template_of(_templates()), tracing=tracing)


def _document(app: FastAPI) -> None:
    """Complete the OpenAPI document when it is first asked for."""
    plain = app.openapi

    def documented() -> dict[str, Any]:
        if app.openapi_schema is None:
            app.openapi_schema = completed(plain())
        return app.openapi_schema

    app.openapi = documented  # type: ignore[method-assign]


def _guard(app: FastAPI, settings: Settings) -> None:
    """What stands between strangers and the answers, from the inside to the outside."""
    trail = Trail(settings.state) if settings.state is not None else None
    app.add_middleware(Beginning, trail=trail)
    app.add_middleware(
        RequestLimits,
        body_bytes=settings.body_bytes,
        graph_bytes=settings.graph_bytes,
        body_seconds=settings.body_seconds,
    )
    app.add_middleware(
        Access,
        ring=app.state.keys,
        reading_by_key=settings.reading == "key",
        rates={
            "reading": settings.rate_reading,
            "writing": settings.rate_writing,
            "failing": settings.rate_failing,
        },
    )
    app.add_middleware(Audited, trail=trail)
    if settings.cors_origins:
        app.add_middleware(
            CORSMiddleware,
            allow_origins=settings.cors_origins,
            allow_methods=("GET", "HEAD", "POST", "PUT", "DELETE"),
            allow_headers=_ASKED_WITH,
            expose_headers=_TOLD,
        )
    stack = app.build_middleware_stack

    def guarded() -> ASGIApp:
        # Around what makes an answer of an error nobody expected too, which middleware that is added is not.
        return SecurityHeaders(stack(), hsts_seconds=settings.hsts_seconds)

    app.build_middleware_stack = guarded  # type: ignore[method-assign]


@asynccontextmanager
async def _following(app: FastAPI) -> AsyncIterator[None]:
    """While the service runs it takes over what others publish into its folder, or into the engine it reads."""
    every = app.state.desk.settings.refresh_seconds
    task = asyncio.create_task(_follow(app.state.shelf, every)) if every else None
    try:
        yield
    finally:
        if task is not None:
            task.cancel()
        await asyncio.to_thread(app.state.sparql.close)


async def _follow(shelf: Shelf | Replica, every: float) -> None:
    while True:
        await asyncio.sleep(every)
        try:
            await asyncio.to_thread(shelf.refresh)
        except FirstoffError as error:
            _log.error("the content cannot be followed: %s", error.detail)


def _templates() -> list[str]:
    return ["/openapi.json", *(route.path for route in _routes())]


def _routes() -> list[Route]:
    return [route for each in _ROUTED for route in each.router.routes if isinstance(route, Route)]


def _held(opened: Opened, tally: Tally, engine_failures: int) -> Held:
    collection = opened.collection
    return Held(
        version=__version__,
        revision=collection.revision,
        platforms=collection.platform_count,
        models=len(collection.models),
        refused=len(opened.refused),
        hits=tally.hits,
        misses=tally.misses,
        engine_failures=engine_failures,
    )


def _seed(opened: Opened, settings: Settings) -> str:
    """What every answer depends on besides its address and representation."""
    said = json.dumps(of_answers(settings), default=str, sort_keys=True)
    return hashlib.sha256(f"{opened.collection.revision}\n{__version__}\n{said}".encode()).hexdigest()
