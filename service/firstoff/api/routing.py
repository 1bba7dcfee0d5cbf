"""What the routers of version 1 share: their prefix and problems, the desk they ask, what may be kept."""

from __future__ import annotations

from fastapi import APIRouter, Request, Response

from firstoff.answers.desk import Desk
from firstoff.api.parameters import Known
from firstoff_contract.problem import Problem

_PROBLEMS = {
    code: {"model": Problem, "description": text}
    for code, text in {
        401: "A key is needed, or it is not known.",
        403: "The key may do other things, or none is set up for this.",
        404: "A name is unknown; the nearest are given.",
        406: "The representation asked for is not offered.",
        409: "The number or the serial number leaves more than one machine possible.",
        413: "The body is too large.",
        414: "The address is too long.",
        422: "The request cannot be answered as it stands.",
        429: "These are more requests than are granted in a minute.",
        503: "The store, the content or what is kept failed, or too much is computed already.",
    }.items()
}

#: What any address can answer where it needs a key, is asked too often, or the service is busy.
GUARDED: dict[int | str, dict[str, object]] = {code: _PROBLEMS[code] for code in (401, 403, 429, 503)}
#: For a route that takes a body of JSON.
BODY: dict[int | str, dict[str, object]] = {400: {"model": Problem, "description": "The body cannot be read."}}


def version_one() -> APIRouter:
    """A router below ``/v1`` that refuses unknown parameters and documents every problem."""
    return APIRouter(prefix="/v1", dependencies=[Known], responses=dict(_PROBLEMS))  # type: ignore[arg-type]


def desk_of(request: Request) -> Desk:
    """The desk of the application that got the request."""
    desk: Desk = request.app.state.desk
    return desk


def keep_if(settled: bool, response: Response) -> None:
    """An answer that ran out of time depends on how busy the service was: it is not to be kept."""
    if not settled:
        response.headers["cache-control"] = "no-store"
