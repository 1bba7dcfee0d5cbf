"""The addresses of diagnosis: what is probably wrong, what to do next."""

from __future__ import annotations

from typing import Annotated

from fastapi import Query, Request

from firstoff.api.parameters import Names, Serial, split
from firstoff.api.routing import BODY, desk_of, version_one
from firstoff_contract.diagnosis import CarryAnswer, Diagnosis, DiagnosisRequest

router = version_one()


@router.post("/models/{model}/diagnosis", tags=["diagnosis"], summary="From findings to the next step", responses=BODY)
def diagnose(request: Request, model: str, asked: DiagnosisRequest) -> Diagnosis:
    """The likely faults, what moved them, and the next check or remedy on the quickest expected way to a repair."""
    return desk_of(request).diagnosis(model, asked)


@router.get("/models/{model}/diagnosis", tags=["diagnosis"], summary="From symptoms to the next step")
def diagnosis(
    request: Request,
    model: str,
    symptoms: Annotated[Names, Query(description="Symptom that is there. Repeats.", max_length=50)] = [],
    absent: Annotated[Names, Query(description="Symptom looked for and not there. Repeats.", max_length=50)] = [],
    codes: Annotated[Names, Query(description="Code on the display. Repeats.", max_length=20)] = [],
    tree: Annotated[bool, Query(description="True for the whole decision tree.")] = False,
    serial: Serial = None,
) -> Diagnosis:
    """As posted, for symptoms and codes alone."""
    asked = DiagnosisRequest(
        symptoms=split(symptoms, 50), absent=split(absent, 50), codes=split(codes, 20), tree=tree, serial=serial
    )
    return desk_of(request).diagnosis(model, asked)


@router.get("/models/{model}/carry", tags=["diagnosis"], summary="What to carry")
def carry(
    request: Request,
    model: str,
    symptoms: Annotated[Names, Query(description="Symptom that is there. Repeats.", max_length=50)] = [],
    parts: Annotated[int, Query(ge=0, le=10, description="How many parts at the most.")] = 3,
    serial: Serial = None,
) -> CarryAnswer:
    """The parts likeliest to make one visit suffice, and the tools and consumables."""
    return desk_of(request).carry(model, serial, split(symptoms, 50), parts)
