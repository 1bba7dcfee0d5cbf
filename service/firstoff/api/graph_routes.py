"""The addresses of authors: platforms as RDF, their versions, checking a draft, publishing."""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import Annotated, Any

from fastapi import Depends, Header, Query, Request, Response

from firstoff.answers.publishing import PublishingDesk, platform_of
from firstoff.api.keys import MayPublish, Publisher
from firstoff.api.representation import chosen
from firstoff.api.routing import version_one
from firstoff.authoring.rdf_documents import RDF_TYPES, TURTLE, rdf_document
from firstoff.errors import BadRequest, PreconditionNeeded, UnsupportedMedia
from firstoff.store.revision import text_revision
from firstoff_contract.authoring import GraphCheck, GraphList, Published, VersionDifference, VersionList
from firstoff_contract.problem import Problem

WORKBOOK = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"

router = version_one()

_RDF: dict[int | str, dict[str, Any]] = {
    200: {"content": {media: {"schema": {"type": "string"}} for media in RDF_TYPES}, "description": "The graph."}
}
_WRITING: dict[int | str, dict[str, Any]] = {
    code: {"model": Problem, "description": text}
    for code, text in {
        412: "Another version is served than the one this replaces; what changed is told.",
        415: "A body of this kind is not read here.",
        428: "It is not said which version this replaces.",
    }.items()
}
_BODY = {
    "requestBody": {
        "required": True,
        "content": {
            TURTLE: {"schema": {"type": "string"}},
            WORKBOOK: {"schema": {"type": "string", "format": "binary"}},
        },
    }
}


def _desk(request: Request) -> PublishingDesk:
    desk: PublishingDesk = request.app.state.publishing
    return desk


async def _body(request: Request) -> bytes:
    return await request.body()


def _over(
    if_match: Annotated[
        str | None, Header(description="ETag of the version that this replaces, or * for whichever is served.")
    ] = None,
    if_none_match: Annotated[str | None, Header(description="* for a platform that is not served yet.")] = None,
) -> list[str] | None:
    """The revisions that may be replaced, None where there must be none.

    :raises PreconditionNeeded: neither header is sent, or something else than * for a new platform.
    """
    if if_match is not None:
        # The tag of another representation than Turtle has the revision, a hyphen and the representation.
        return [each.strip().strip('"').partition("-")[0] for each in if_match.split(",") if each.strip()]
    if if_none_match is not None and if_none_match.strip() == "*":
        return None
    raise PreconditionNeeded("There is no If-Match header, and no If-None-Match: *.")


Body = Annotated[bytes, Depends(_body)]
Over = Annotated[list[str] | None, Depends(_over)]
Why = Annotated[str, Query(max_length=1_000, description="Why the content changes; it is kept with the version.")]
Number = Annotated[int, Query(ge=1, description="Number of a version.")]


@router.get("/graphs", tags=["authoring"], summary="Every platform with its models and versions")
def graphs(request: Request, response: Response) -> GraphList:
    """What is served, and what was."""
    response.headers["cache-control"] = "no-store"
    return _desk(request).graphs()


@router.post(
    "/graphs/check",
    tags=["authoring"],
    summary="Check a draft, and see what it would change",
    dependencies=[MayPublish],
    openapi_extra=_BODY,
    responses=_WRITING,
)
def check(request: Request, body: Body) -> GraphCheck:
    """Findings as of a check, what it says otherwise than what is published, and what that changes for a technician:
    plans, live points, charges and the ranking of faults. Nothing is published."""
    return _desk(request).check(_turtle(request, body))


@router.get(
    "/graphs/{platform}", tags=["authoring"], summary="A platform as RDF", response_class=Response, responses=_RDF
)
def graph(request: Request, platform: str) -> Response:
    """The graph as it is served. Its ETag is what a save over it sends back."""
    return _as_rdf(request, _desk(request).text(platform))


@router.put(
    "/graphs/{platform}",
    tags=["authoring"],
    summary="Publish a platform",
    openapi_extra=_BODY,
    responses={**_WRITING, 201: {"model": Published, "description": "The platform is new."}},
)
def publish(request: Request, response: Response, platform: str, body: Body, who: Publisher, over: Over, why: Why) -> (
    Published
):  # fmt: skip
    """Checked first; all of it or nothing. Who reads has the version before or this one, each whole."""
    turtle = _turtle(request, body)
    described = platform_of(turtle)
    if described != platform:
        raise BadRequest(f"The text describes {described}, not {platform}.", mend=f"Send it to /v1/graphs/{described}.")
    done = _desk(request).publish(platform, turtle, over=over, who=who, why=why)
    response.headers["etag"] = f'"{done.version.revision}"'
    if over is None:
        response.status_code = 201
    return done


@router.delete("/graphs/{platform}", tags=["authoring"], summary="Withdraw a platform", responses=_WRITING)
def withdraw(request: Request, platform: str, who: Publisher, over: Over, why: Why) -> Published:
    """It is served no more; its versions stay and can be restored."""
    return _desk(request).withdraw(platform, over=over, who=who, why=why)


@router.get("/graphs/{platform}/versions", tags=["authoring"], summary="The versions of a platform")
def versions(request: Request, response: Response, platform: str) -> VersionList:
    """Who published each, when and why, the first first."""
    response.headers["cache-control"] = "no-store"
    return _desk(request).versions(platform)


@router.get(
    "/graphs/{platform}/versions/{number}",
    tags=["authoring"],
    summary="A version as RDF",
    response_class=Response,
    responses=_RDF,
)
def version(request: Request, platform: str, number: int) -> Response:
    """As it was published."""
    return _as_rdf(request, _desk(request).text(platform, number))


@router.post(
    "/graphs/{platform}/versions/{number}/restore",
    tags=["authoring"],
    summary="Publish an earlier version again",
    responses=_WRITING,
)
def restore(request: Request, platform: str, number: int, who: Publisher, over: Over, why: Why) -> Published:
    """It becomes a version of its own; it is checked as the words are now."""
    return _desk(request).restore(platform, number, over=over, who=who, why=why)


@router.get("/graphs/{platform}/difference", tags=["authoring"], summary="What differs between two versions")
def difference(
    request: Request,
    response: Response,
    platform: str,
    before: Number,
    after: Annotated[int | None, Query(ge=1, description="Number of a version; left out, what is served.")] = None,
) -> VersionDifference:
    """In words, by resource."""
    response.headers["cache-control"] = "no-store"
    return _desk(request).difference(platform, before, after)


@router.get(
    "/graphs/{platform}/provenance",
    tags=["authoring"],
    summary="Who published what, when and why, as PROV-O",
    response_class=Response,
    responses={200: {"content": {TURTLE: {"schema": {"type": "string"}}}, "description": "The provenance."}},
)
def provenance(request: Request, platform: str) -> Response:
    """Entities, activities and agents of every version."""
    return _as_rdf(request, _desk(request).provenance(platform))


def _turtle(request: Request, body: bytes) -> str:
    """The Turtle text of a body.

    :raises UnsupportedMedia: it is neither Turtle nor a workbook.
    :raises BadRequest: it cannot be read.
    """
    media = request.headers.get("content-type", "").partition(";")[0].strip().lower()
    if media == TURTLE:
        try:
            return body.decode("utf-8")
        except UnicodeDecodeError as error:
            raise BadRequest("The body is not UTF-8 text.", mend="Send Turtle in UTF-8.") from error
    if media == WORKBOOK:
        return _of_workbook(body)
    raise UnsupportedMedia(f"A body of type {media[:100] or 'unknown'} is not read here.")


def _of_workbook(body: bytes) -> str:
    from firstoff.authoring.importing import imported
    from firstoff.errors import ContentRefused

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "workbook.xlsx"
        path.write_bytes(body)
        found = imported(path)
    if found.turtle is None:
        raise ContentRefused(found.platform or "The workbook", found.report.findings)
    return found.turtle


def _as_rdf(request: Request, turtle: str) -> Response:
    """``turtle`` in the representation that is asked for, with its ETag."""
    media = chosen(request.headers.get("accept", ""), RDF_TYPES)
    revision = text_revision(turtle)
    tag = f'"{revision}"' if media == TURTLE else f'"{revision}-{media.rpartition("/")[2]}"'
    headers = {"etag": tag, "vary": "Accept", "cache-control": "no-cache"}
    asked = {each.strip().removeprefix("W/") for each in request.headers.get("if-none-match", "").split(",")}
    if tag in asked or "*" in asked:
        return Response(status_code=304, headers=headers)
    return Response(rdf_document({"graph": turtle}, media), media_type=media, headers=headers)


for _address, _answer in (
    ("/graphs/{platform}", graph),
    ("/graphs/{platform}/versions/{number}", version),
    ("/graphs/{platform}/provenance", provenance),
):
    router.add_api_route(_address, _answer, methods=["HEAD"], include_in_schema=False)
