"""The addresses of display codes and service modes."""

from __future__ import annotations

from typing import Annotated

from fastapi import Query, Request

from firstoff.api.parameters import Limit, Names, Offset, Serial, split
from firstoff.api.routing import desk_of, version_one
from firstoff_contract.codes import CodeDetail, CodeList, ServiceModeList

router = version_one()


@router.get("/models/{model}/codes", tags=["diagnosis"], summary="Codes that the machine shows or stores")
def codes(request: Request, model: str, offset: Offset = 0, limit: Limit = 50, serial: Serial = None) -> CodeList:
    """Each code with the faults it points to, and the service modes that read and clear stored ones."""
    return desk_of(request).codes(model, serial, offset, limit)


@router.get("/models/{model}/codes/{code}", tags=["diagnosis"], summary="What a code says, and what it does not")
def code(request: Request, model: str, code: str, serial: Serial = None) -> CodeDetail:
    """What sets it, how it moves the faults, what it does not prove, how it is cleared, and what to check first.

    Read as the machine shows it or by name; spaces, case, hyphens and O for 0 are forgiven. To go on with it and other
    findings, give it as ``codes`` to the diagnosis.
    """
    return desk_of(request).code(model, code, serial)


@router.get("/models/{model}/service-modes", tags=["diagnosis"], summary="Reading stored codes, test programmes")
def service_modes(
    request: Request,
    model: str,
    kind: Annotated[
        Names,
        Query(description="stored-codes, readings, component-test, clearing or configuration. Repeats."),
    ] = [],
    serial: Serial = None,
) -> ServiceModeList:
    """How to enter each mode, what each step shows and switches on, which points that makes live, how to leave it."""
    return desk_of(request).service_modes(model, serial, split(kind))
