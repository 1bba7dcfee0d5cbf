"""Operation: health, readiness, the context of JSON-LD answers and the page of addresses."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response

from firstoff import __version__
from firstoff.api.addresses_page import addresses_page
from firstoff.api.representation import CONTEXT_ADDRESS, JSON_LD
from firstoff.content import context_file
from firstoff.errors import EngineFailed
from firstoff_contract.operation import Health, Readiness, Refused

router = APIRouter()


@router.get("/healthz", tags=["operation"], summary="Is the process alive")
async def health() -> Health:
    """Answers as long as the process runs."""
    return Health(status="ok", version=__version__)


@router.get(
    "/readyz",
    tags=["operation"],
    summary="Is the content loaded, and was any of it refused",
    responses={503: {"model": Readiness, "description": "Nothing is served, or the engine does not answer."}},
)
def readiness(request: Request, response: Response) -> Readiness:
    """``degraded`` names every file that is not served and why; 503 where nothing is served at all, or the engine does
    not answer: what is in memory is answered still."""
    keys = request.app.state.keys
    keys.keys()
    opened = request.app.state.desk.opened
    failure = _failure(request)
    served = bool(opened.collection.models) and failure is None
    if not served:
        response.status_code = 503
    return Readiness(
        engine=failure,
        status="unavailable" if not served else "degraded" if opened.refused or keys.failure else "ready",
        revision=opened.collection.revision,
        platforms=opened.collection.platform_count,
        models=len(opened.collection.models),
        refused=[Refused(file=each.file, line=each.line, reason=each.reason) for each in opened.refused],
        keys="The file of keys that is there cannot be used; the keys before it still serve." if keys.failure else None,
    )


def _failure(request: Request) -> str | None:
    """Why the engine cannot be counted on, as the last look at it says; looked at now where nothing looks."""
    state = request.app.state
    if not state.desk.settings.refresh_seconds and state.desk.opened.store.shared:
        try:
            state.desk.opened.store.check()
        except EngineFailed as error:
            return error.detail
    failure: str | None = state.shelf.looks.failure
    return failure


@router.get(
    CONTEXT_ADDRESS,
    tags=["operation"],
    summary="The context of the JSON-LD answers",
    response_class=Response,
    responses={200: {"content": {JSON_LD: {"schema": {"type": "object"}}}, "description": "The context."}},
)
def context() -> Response:
    """Maps the fields of the answers to terms of the ontology."""
    return Response(context_file().read_bytes(), media_type=JSON_LD)


@router.get("/addresses", include_in_schema=False)
def addresses(request: Request) -> HTMLResponse:
    """Links that work, for a person with a browser."""
    return HTMLResponse(addresses_page(request.app.state.desk.opened.collection))


@router.get("/favicon.ico", include_in_schema=False)
def no_icon() -> Response:
    """Browsers ask; there is none."""
    return Response(status_code=204)
