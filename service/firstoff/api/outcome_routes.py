"""The addresses of outcomes: what a job has shown, and what jobs have shown of a model."""

from __future__ import annotations

from fastapi import Request

from firstoff.api.keys import IdempotencyKey, MayTell
from firstoff.api.parameters import Serial
from firstoff.api.routing import desk_of, version_one
from firstoff_contract.outcomes import OutcomeKept, OutcomeReport, OutcomeSummary
from firstoff_contract.problem import Problem

router = version_one()

_WRITING = {
    400: "The body cannot be read, or there is no idempotency key that is a UUID.",
}


@router.post(
    "/outcomes",
    tags=["outcomes"],
    summary="Tell what a job has shown",
    dependencies=[MayTell],
    responses={code: {"model": Problem, "description": text} for code, text in _WRITING.items()},
)
def tell(request: Request, asked: OutcomeReport, key: IdempotencyKey) -> OutcomeKept:
    """The fault confirmed is kept, forced to disk before this is answered, and counted at once. Names of the content
    alone are taken: nothing of a person."""
    return desk_of(request).outcome(asked, key)


@router.get("/models/{model}/outcomes", tags=["outcomes"], summary="What jobs have shown of a model")
def outcomes(request: Request, model: str, serial: Serial = None) -> OutcomeSummary:
    """How often each fault is the one: as authored, counted on jobs, and both together."""
    return desk_of(request).outcome_summary(model, serial)
