"""Operation: health, readiness, the context of JSON-LD answers and the page of addresses."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response

from firstoff import __version__
from firstoff.api.addresses_page import STYLE, addresses_page
from firstoff.api.readiness import readiness
from firstoff.api.representation import CONTEXT_ADDRESS, JSON_LD
from firstoff.api.routing import GUARDED
from firstoff.content import context_file
from firstoff.sheet.policy import content_security_policy
from firstoff_contract.operation import Health, Readiness

METRICS = "text/plain; version=0.0.4; charset=utf-8"

router = APIRouter()


@router.get("/healthz", tags=["operation"], summary="Is the process alive")
async def health() -> Health:
    """Answers as long as the process runs."""
    return Health(status="ok", version=__version__)


@router.get(
    "/readyz",
    tags=["operation"],
    summary="Should requests be sent here",
    responses={503: {"model": Readiness, "description": "No request should be sent here."}},
)
def ready(request: Request, response: Response) -> Readiness:
    """Every check with what it found. 503 where no request should be sent here; ``degraded`` is answered on."""
    found = readiness(request.app.state.desk.opened, request.app.state.checks)
    if found.status == "unavailable":
        response.status_code = 503
    return found


@router.get(
    "/metrics",
    tags=["operation"],
    summary="Counts and durations for a scraper",
    response_class=Response,
    responses={
        200: {"content": {METRICS: {"schema": {"type": "string"}}}, "description": "Prometheus text format."},
        **GUARDED,
    },
)
def metrics(request: Request) -> Response:
    """Requests by route, how long they took, what is held in memory, and the process."""
    return Response(request.app.state.metrics.text(), media_type=METRICS, headers={"cache-control": "no-store"})


@router.get(
    CONTEXT_ADDRESS,
    tags=["operation"],
    summary="The context of the JSON-LD answers",
    response_class=Response,
    responses={
        200: {"content": {JSON_LD: {"schema": {"type": "object"}}}, "description": "The context."},
        **GUARDED,
    },
)
def context() -> Response:
    """Maps the fields of the answers to terms of the ontology."""
    return Response(context_file().read_bytes(), media_type=JSON_LD)


@router.get("/addresses", include_in_schema=False)
def addresses(request: Request) -> HTMLResponse:
    """Links that work, for a person with a browser."""
    page = addresses_page(request.app.state.desk.opened.collection)
    return HTMLResponse(page, headers={"content-security-policy": content_security_policy(STYLE)})


@router.get("/favicon.ico", include_in_schema=False)
def no_icon() -> Response:
    """Browsers ask; there is none."""
    return Response(status_code=204)
