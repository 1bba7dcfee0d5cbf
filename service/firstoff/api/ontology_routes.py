"""The ontology at its own address: a page for a person, RDF for a program."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

from fastapi import APIRouter, Request, Response

from firstoff.api.representation import HTML, JSON_LD, chosen
from firstoff.api.routing import GUARDED
from firstoff.sheet import content_security_policy
from firstoff_contract.problem import Problem

RDF_TYPES = ("text/turtle", JSON_LD, "application/rdf+xml", "application/n-triples")
OFFERED = (HTML, *RDF_TYPES)

router = APIRouter()


@dataclass(frozen=True, slots=True)
class Document:
    body: bytes
    headers: dict[str, str]


class Documents:
    """The ontology in every media type offered, each made when it is first asked for and then kept."""

    def __init__(self) -> None:
        self.of: Callable[[str], Document] = cache(_document)


@router.get(
    "/ontology",
    tags=["operation"],
    summary="The ontology as a page or as RDF",
    response_class=Response,
    responses={
        200: {"content": {each: {"schema": {"type": "string"}} for each in OFFERED}},
        406: {"model": Problem, "description": "The representation asked for is not offered."},
        **GUARDED,
    },
)
def ontology(request: Request) -> Response:
    """Every class, property and term with its definition. The Accept header chooses: text/html for a person, Turtle,
    JSON-LD, RDF/XML or N-Triples for a program."""
    media_type = chosen(request.headers.get("accept", ""), OFFERED)
    documents: Documents = request.app.state.ontology
    found = documents.of(media_type)
    known = {tag.strip().removeprefix("W/") for tag in request.headers.get("if-none-match", "").split(",")}
    if found.headers["etag"] in known or "*" in known:
        return Response(status_code=304, headers={k: v for k, v in found.headers.items() if k != "content-type"})
    return Response(found.body, headers=found.headers)


router.add_api_route("/ontology", ontology, methods=["HEAD"], include_in_schema=False)


def _document(media_type: str) -> Document:
    from firstoff.authoring.ontology_documents import ontology_document

    headers = {"vary": "Accept", "cache-control": "no-cache", "x-content-type-options": "nosniff"}
    if media_type == HTML:
        from firstoff.authoring.glossary import load_glossary
        from firstoff.reference import ontology_page, ontology_style

        body = ontology_page(load_glossary()).encode()
        headers |= {"content-language": "en", "content-security-policy": content_security_policy(ontology_style())}
    else:
        body = ontology_document(media_type)
    written = f"{media_type}; charset=utf-8" if media_type.startswith("text/") else media_type
    digest = hashlib.sha256(media_type.encode() + b"\n" + body).hexdigest()[:24]
    return Document(body, {**headers, "content-type": written, "etag": f'"{digest}"'})
