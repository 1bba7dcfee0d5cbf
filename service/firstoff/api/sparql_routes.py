"""SPARQL 1.1 Protocol, reading only; without a query, what is offered here (SPARQL 1.1 Service Description)."""

from __future__ import annotations

import asyncio
import hashlib
import re
from typing import Any

from fastapi import APIRouter, Request, Response

from firstoff.api.representation import HTML, chosen
from firstoff.api.sparql_page import POLICY, sparql_page
from firstoff.api.sparql_requests import DIRECT, FORM, Asked, asked_in_address, asked_in_body
from firstoff.authoring.rdf_documents import RDF_TYPES, rdf_document
from firstoff.errors import NotAcceptable, QueriesBusy
from firstoff.sparql.asking import GRAPH_TYPES, RESULT_TYPES, Answer, Question
from firstoff.sparql.description import description
from firstoff.sparql.endpoint import Endpoint
from firstoff_contract.problem import Problem

REVISION = "firstoff-revision"
_METHODS = "GET, HEAD, POST, OPTIONS"
_ADDRESS = re.compile(r"https?://[A-Za-z0-9.:\[\]_-]+/[A-Za-z0-9/._~-]*")
_DESCRIBED = (*RDF_TYPES, HTML)

router = APIRouter()

_TYPES = tuple(dict.fromkeys((*RESULT_TYPES[:4], *GRAPH_TYPES, HTML)))
_RESPONSES: dict[int | str, dict[str, Any]] = {
    200: {"content": {each: {"schema": {"type": "string"}} for each in _TYPES}, "description": "The whole answer."},
    **{
        code: {"model": Problem, "description": text}
        for code, text in {
            400: "This is no SPARQL 1.1 query, or there is more than one.",
            401: "A key is needed, or it is not known.",
            403: "It changes something, or asks another service; or the key may do other things.",
            406: "The answer is not offered in what is accepted.",
            413: "The body is too large.",
            414: "The address is too long.",
            422: "It names a graph that is not served, was stopped at its time or memory, or its answer is too large.",
            429: "These are more requests than are granted in a minute.",
            503: "Too many queries are waiting, or none are answered here.",
        }.items()
    },
}
_DATASET = [
    {
        "name": f"{kind}-graph-uri",
        "in": "query",
        "schema": {"type": "array", "items": {"type": "string"}},
        "description": f"Graphs of this service, by name, {what}. It repeats.",
    }
    for kind, what in (("default", "that are merged to the default graph"), ("named", "that GRAPH finds"))
]
_QUERY = {
    "name": "query",
    "in": "query",
    "schema": {"type": "string"},
    "description": "A query in SPARQL 1.1. Without one the answer is the service description.",
}
_BODY = {
    "required": True,
    "content": {
        FORM: {
            "schema": {
                "type": "object",
                "required": ["query"],
                "properties": {each["name"]: each["schema"] for each in (_QUERY, *_DATASET)},
            }
        },
        DIRECT: {"schema": {"type": "string"}},
    },
}


@router.get(
    "/sparql",
    tags=["query"],
    summary="A query in SPARQL, or what is offered here",
    response_class=Response,
    responses=_RESPONSES,
    openapi_extra={"parameters": [_QUERY, *_DATASET]},
)
async def query_by_address(request: Request) -> Response:
    """SPARQL 1.1 Protocol, reading only. The Accept header chooses: JSON, XML, CSV or TSV for SELECT and ASK; Turtle,
    N-Triples, RDF/XML or JSON-LD for CONSTRUCT and DESCRIBE. An answer is whole or a problem, never cut."""
    asked = asked_in_address(request.scope["query_string"])
    if asked.text is None:
        return await _described(request)
    return await _answered(request, asked)


@router.post(
    "/sparql",
    tags=["query"],
    summary="A query in SPARQL, in the body",
    response_class=Response,
    responses={**_RESPONSES, 415: {"model": Problem, "description": "The body is no query."}},
    openapi_extra={"parameters": _DATASET, "requestBody": _BODY},
)
async def query_by_body(request: Request) -> Response:
    """The same as by GET, for queries that are too long for an address: a form with `query=`, or the query itself."""
    content_type = request.headers.get("content-type", "")
    return await _answered(request, asked_in_body(content_type, request.scope["query_string"], await request.body()))


router.add_api_route("/sparql", query_by_address, methods=["HEAD"], include_in_schema=False)


@router.options("/sparql", include_in_schema=False)
async def methods() -> Response:
    """What can be done here."""
    return Response(status_code=204, headers={"allow": _METHODS, "accept-post": f"{FORM}, {DIRECT}"})


def _endpoint(request: Request) -> Endpoint:
    endpoint: Endpoint = request.app.state.sparql
    return endpoint


async def _answered(request: Request, asked: Asked) -> Response:
    accept = request.headers.get("accept", "")
    result_type, graph_type = _chosen_or_none(accept, RESULT_TYPES), _chosen_or_none(accept, GRAPH_TYPES)
    if result_type is None and graph_type is None:
        chosen(accept, (*RESULT_TYPES[:4], *GRAPH_TYPES))  # raises, and says what is offered
    question = Question(asked.text or "", asked.dataset, result_type, graph_type)
    answer = await _while_there(request, question)
    return _sent(request, answer.body, answer.media_type, answer.revision)


async def _while_there(request: Request, question: Question) -> Answer:
    """The answer; where the client goes, the query is stopped."""
    asking = asyncio.ensure_future(_endpoint(request).ask(question))
    leaving = asyncio.ensure_future(_left(request))
    try:
        await asyncio.wait((asking, leaving), return_when=asyncio.FIRST_COMPLETED)
        if asking.done():
            return asking.result()
        raise QueriesBusy("The client has gone.")
    finally:
        asking.cancel()
        leaving.cancel()


async def _left(request: Request) -> None:
    while (await request.receive())["type"] != "http.disconnect":
        pass


async def _described(request: Request) -> Response:
    media_type = chosen(request.headers.get("accept", ""), _DESCRIBED)
    served = await _endpoint(request).served()
    if media_type == HTML:
        return _sent(request, sparql_page(served).encode(), HTML, served.revision, {"content-security-policy": POLICY})
    turtle = description(_address(request), served)
    return _sent(request, rdf_document({"description": turtle}, media_type), media_type, served.revision)


def _address(request: Request) -> str:
    """Where this was asked, as far as it is an address that may stand in a document."""
    address = str(request.url.replace(query=None, fragment=None))
    return address if _ADDRESS.fullmatch(address) else "http://localhost/sparql"


def _chosen_or_none(accept: str, types: tuple[str, ...]) -> str | None:
    try:
        return chosen(accept, types)
    except NotAcceptable:
        return None


def _sent(
    request: Request, body: bytes, media_type: str, revision: str, more: dict[str, str] | None = None
) -> Response:
    """An answer with what tells whether it is still the same (RFC 9110, 8.8.3)."""
    headers = {
        "content-type": f"{media_type}; charset=utf-8" if media_type.startswith("text/") else media_type,
        "vary": "Accept",
        "cache-control": "no-cache",
        "x-content-type-options": "nosniff",
        REVISION: revision,
        **(more or {}),
    }
    if request.method == "POST":
        return Response(body, headers=headers)
    digest = hashlib.sha256(f"{revision}\n{media_type}\n".encode() + body).hexdigest()[:24]
    headers["etag"] = f'"{digest}"'
    known = {tag.strip().removeprefix("W/") for tag in request.headers.get("if-none-match", "").split(",")}
    if headers["etag"] in known or "*" in known:
        return Response(status_code=304, headers={k: v for k, v in headers.items() if k != "content-type"})
    return Response(body, headers=headers)
