"""Every conformance case through both clients: typed where the question has a method, as a bare question otherwise."""

from __future__ import annotations

import json
import re
from inspect import signature
from pathlib import Path
from typing import Any
from urllib.parse import unquote

import anyio
import httpx2
import pytest
from fastapi.testclient import TestClient
from pydantic import BaseModel

from firstoff_client import (
    AsyncFirstoff,
    EnteredConfirmation,
    EnteredReading,
    Firstoff,
    FirstoffError,
    ProblemError,
    ReadingSeen,
    Retrying,
    questions,
)
from firstoff_client.asking import JSON, JSON_LD, LINKED, Form, Question
from firstoff_client.errors import KINDS, TYPE_BASE
from support.services import Recorder, recorder

FOLDER = Path(__file__).resolve().parents[3] / "shared" / "conformance"
CASES = [
    pytest.param(case, id=f"{file.stem}-{place}")
    for file in sorted(FOLDER.glob("*.json"))
    for place, case in enumerate(json.loads(file.read_text(encoding="utf-8")))
]
ADDRESS = "http://larkfield.example"

#: The method that asks each address; names of the path come first, parameters have their own names.
METHODS = {
    r"/v1/search": "search",
    r"/v1/suggest": "suggest",
    r"/v1/models": "model_list",
    r"/v1/models/([^/]+)": "model",
    r"/v1/models/([^/]+)/components": "component_list",
    r"/v1/models/([^/]+)/components/([^/]+)": "component",
    r"/v1/models/([^/]+)/components/([^/]+)/hidden": "hidden",
    r"/v1/models/([^/]+)/components/([^/]+)/curve": "curve",
    r"/v1/models/([^/]+)/codes": "code_list",
    r"/v1/models/([^/]+)/codes/([^/]+)": "code",
    r"/v1/models/([^/]+)/service-modes": "service_modes",
    r"/v1/models/([^/]+)/removal-plan": "removal_plan",
    r"/v1/models/([^/]+)/removal-plan/pareto": "pareto",
    r"/v1/models/([^/]+)/removal-plan/picture": "plan_picture",
    r"/v1/models/([^/]+)/job-sheet": "job_sheet",
    r"/v1/models/([^/]+)/while-open": "while_open",
    r"/v1/models/([^/]+)/exposed": "exposed",
    r"/v1/models/([^/]+)/live-points": "live_points",
    r"/v1/models/([^/]+)/supply-picture": "supply_picture",
    r"/v1/models/([^/]+)/isolation": "isolation",
    r"/v1/models/([^/]+)/pocket": "pocket",
    r"/v1/models/([^/]+)/make-safe": "make_safe",
    r"/v1/models/([^/]+)/reading": "reading",
    r"/v1/models/([^/]+)/energies": "energies",
    r"/v1/models/([^/]+)/socket-check": "socket_check",
    r"/v1/refrigerants/([^/]+)/saturation": "saturation",
    r"/v1/models/([^/]+)/diagnosis": "diagnosis",
    r"/v1/models/([^/]+)/carry": "carry",
    r"/v1/models/([^/]+)/safety-record": "safety_record",
    r"/v1/models/([^/]+)/outcomes": "outcomes",
    r"/v1/graphs/([^/]+)": "graph",
    r"/healthz": "health",
    r"/readyz": "readiness",
}
_NUMBERS = {"limit", "offset", "parts", "columns", "celsius", "ohms", "ambient", "kilopascals_gauge"}
_MODELS: dict[tuple[str, str], type[BaseModel]] = {
    ("diagnosis", "readings"): ReadingSeen,
    ("safety_record", "readings"): EnteredReading,
    ("safety_record", "confirmed"): EnteredConfirmation,
}


def question_of(case: dict[str, Any]) -> tuple[str, Question[Any]]:
    """The method that asks what a case asks and its question; an empty name where only a bare question can."""
    request = case["request"]
    for pattern, name in METHODS.items():
        found = re.fullmatch(pattern, request["path"])
        keywords = _keywords(name, request) if found and "headers" not in request else None
        if found and keywords is not None:
            question = getattr(questions, name)(*(unquote(each) for each in found.groups()), **keywords)
            if question.method == request["method"]:
                return name, question
    return "", _bare(case)


def _keywords(name: str, request: dict[str, Any]) -> dict[str, Any] | None:
    """The arguments of a method beside the names of the path, None where the request has others than it takes."""
    takes = {key: str(each.annotation) for key, each in signature(getattr(questions, name)).parameters.items()}
    body = request.get("body", {})
    given = {key: _plain(key, value) for key, value in request["query"].items()} | body
    for key, value in given.items():
        several = "Names" in takes.get(key, "") or "Sequence" in takes.get(key, "")
        if key not in takes or (isinstance(value, list) and not several) or (key in body and isinstance(value, str)):
            return None
        model = _MODELS.get((name, key))
        if model is not None:
            given[key] = [model(**each) for each in value]
    return given if {"touch", "between"} & takes.keys() <= given.keys() else None


def _plain(key: str, value: Any) -> Any:
    if value == "":
        return [] if key in ("tools", "done") else ""
    if value == "true":
        return True
    return int(value) if key in _NUMBERS and re.fullmatch(r"-?[0-9]+", value) else value


def _bare(case: dict[str, Any]) -> Question[Any]:
    request = case["request"]
    headers = dict(request.get("headers", {}))
    accept = headers.pop("accept", JSON)
    form: Form[Any] = Form(accept, lambda got, _: json.loads(got.body), "object")
    if accept == JSON_LD:
        form = LINKED
    elif case["answer"]["status"] == 200:  # of several representations, the one that is preferred comes
        form = Form(case["answer"]["content_type"], form.read, "object")
    body = request.get("body")
    values = {key: [value] if isinstance(value, str) else value for key, value in request["query"].items()}
    return Question(
        request["path"],
        form,
        request["method"],
        tuple((key, each) for key, several in values.items() for each in several),
        headers | ({} if body is None else {"content-type": JSON}),
        None if body is None else json.dumps(body).encode(),
    )


def check(case: dict[str, Any], given: Any) -> None:
    """``given`` is what was answered, or the error that was raised."""
    answer = case["answer"]
    if answer["status"] >= 400:
        assert isinstance(given, ProblemError), given
        assert given.problem.model_dump(exclude_none=True) == answer["body"]
        assert type(given) is KINDS[answer["body"]["type"].removeprefix(TYPE_BASE)]
        assert (given.status, given.detail, given.mend) == tuple(
            answer["body"][n] for n in ("status", "detail", "mend")
        )
        assert list(given.nearest) == answer["body"].get("nearest", [])
        return
    if isinstance(given, FirstoffError):
        raise given
    assert (given.model_dump(mode="json") if isinstance(given, BaseModel) else given) == answer["body"]


def status_of(network: Recorder, case: dict[str, Any]) -> int:
    """What the case's own address answered last; a client may ask for the service's version after it."""
    path = httpx2.URL(ADDRESS + case["request"]["path"]).path
    return next(status for request, status in reversed(network.seen) if request.url.path == path)


@pytest.fixture(scope="module")
def network(client: TestClient) -> Recorder:
    return recorder(client)


@pytest.mark.parametrize("case", CASES)
def test_client_gives_what_the_case_says(network: Recorder, case: dict[str, Any]) -> None:
    question = question_of(case)[1]
    with httpx2.Client(transport=network) as http:
        service = Firstoff(ADDRESS, http=http, retrying=Retrying(attempts=1), timeout=60)
        for turn in range(2 if "again" in case else 1):
            try:
                given = service.ask(question)
            except FirstoffError as error:
                given = error
            check(case, given)
            assert status_of(network, case) == (case["again"] if turn else case["answer"])["status"]


@pytest.mark.parametrize("case", CASES)
def test_asynchronous_client_gives_what_the_case_says(network: Recorder, case: dict[str, Any]) -> None:
    question = question_of(case)[1]

    async def asked() -> None:
        async with httpx2.AsyncClient(transport=network) as http:
            service = AsyncFirstoff(ADDRESS, http=http, retrying=Retrying(attempts=1), timeout=60)
            for turn in range(2 if "again" in case else 1):
                try:
                    given = await service.ask(question)
                except FirstoffError as error:
                    given = error
                check(case, given)
                assert status_of(network, case) == (case["again"] if turn else case["answer"])["status"]

    anyio.run(asked)


def test_every_method_that_reads_has_a_case_that_is_answered() -> None:
    """All but the text of a platform, which is RDF; authors' questions are asked in their own test."""
    cases = [each.values[0] for each in CASES]
    asked = {question_of(case)[0] for case in cases if case["answer"]["status"] == 200}
    assert set(METHODS.values()) - asked == {"graph"}
