"""Questions and methods: every address has one, both clients have the same, and each says what it sends."""

from __future__ import annotations

import asyncio
import inspect
import json
import pickle
import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import httpx2
import pytest
from fastapi.testclient import TestClient

import firstoff_client
from firstoff import __version__ as version_of_the_service
from firstoff.api import limits, problems
from firstoff_client import AsyncFirstoff, Firstoff, GraphText, errors, questions
from firstoff_client.asking import LINKED, Question
from firstoff_client.contract.outcomes import OutcomeReport
from firstoff_client.contract.problem import Problem
from firstoff_client.contract.removal import RemovalPlan
from firstoff_client.listing import Listing
from firstoff_client.methods import public
from support.services import Script, recorder

ROOT = Path(__file__).resolve().parents[3]
ADDRESS = "http://larkfield.example"
DRYER = "tgd27-460-s"

#: Arguments for questions that need others than a name for each parameter without a default.
ARGUMENTS: dict[str, tuple[tuple[Any, ...], dict[str, Any]]] = {
    "tell_outcome": ((OutcomeReport(model=DRYER),), {}),
    "graph_version": (("p", 1), {}),
    "graph_difference": (("p", 1), {}),
    "restore_graph": (("p", 1), {"over": "*", "why": "w"}),
    "publish_graph": (("p", "t"), {"over": "*", "why": "w"}),
    "withdraw_graph": (("p",), {"over": "*", "why": "w"}),
}
#: What the clients do not ask: what is for browsers, RDF tools and monitors.
NOT_ASKED = {"/v1/context.jsonld", "/ontology", "/metrics", "/sparql"}


def made(name: str) -> Question[Any]:
    """The question ``name`` with any arguments."""
    function = getattr(questions, name)
    needed = [each for each in inspect.signature(function).parameters.values() if each.default is each.empty]
    arguments, keywords = ARGUMENTS.get(name, (["x"] * len(needed), {}))
    question = function(*arguments, **keywords)
    return question.first if isinstance(question, Listing) else question


def test_both_clients_have_a_method_for_every_question() -> None:
    names = set(questions.__all__)
    assert set(public(Firstoff)) == names
    assert set(public(AsyncFirstoff)) == names


@pytest.mark.parametrize("name", questions.__all__)
def test_a_method_is_described_as_its_question(name: str) -> None:
    question = getattr(questions, name)
    expected = list(inspect.signature(question).parameters.values())
    for kind in (Firstoff, AsyncFirstoff):
        method = getattr(kind, name)
        assert list(inspect.signature(method).parameters.values())[1:] == expected
        assert method.__doc__ == question.__doc__
        assert len(method.__doc__) > 20
        assert re.fullmatch(r"(Async)?(Iterator\[\w+\])|\w+", inspect.signature(method).return_annotation)


def test_every_address_of_the_service_has_a_question() -> None:
    document = json.loads((ROOT / "shared" / "openapi.json").read_text(encoding="utf-8"))
    asked = {(each.method, each.path) for each in map(made, questions.__all__)}
    asked |= {
        (each.method, each.path)
        for each in (
            questions.removal_plan("x", [f"part-{n}" for n in range(1000)]),
            questions.diagnosis("x", tried="y"),
            questions.safety_record("x", readings=[firstoff_client.EnteredReading(**READING)]),
        )
    }
    for path, methods in document["paths"].items():
        pattern = re.compile(re.sub(r"\{\w+\}", "[^/]+", path))
        for method in {each.upper() for each in methods} - {"HEAD"}:
            if path not in NOT_ASKED:
                assert any(one == method and pattern.fullmatch(where) for one, where in asked), (method, path)


READING: dict[str, Any] = {"quantity": "earth-continuity", "value": 0.1, "unit": "ohm"}


@pytest.mark.parametrize(
    ("question", "address"),
    [
        (questions.model("TGD27/460 S"), "/v1/models/TGD27%20460%20S"),  # a slash says no more than a space
        (questions.component("m", "a/b"), "/v1/models/m/components/a%2Fb"),
        (questions.code("m", "../x?y#z"), "/v1/models/m/codes/..%2Fx%3Fy%23z"),
        (questions.model("<é>"), "/v1/models/%3C%C3%A9%3E"),
        (questions.search("won't & can't"), "/v1/search?q=won%27t+%26+can%27t"),
        (questions.removal_plan("m"), "/v1/models/m/removal-plan"),
        (questions.removal_plan("m", "a"), "/v1/models/m/removal-plan?reach=a"),
        (questions.removal_plan("m", ["a", "b:test"]), "/v1/models/m/removal-plan?reach=a&reach=b%3Atest"),
        (questions.removal_plan("m", iter("ab")), "/v1/models/m/removal-plan?reach=a&reach=b"),
        (questions.removal_plan("m", "a", tools=()), "/v1/models/m/removal-plan?reach=a&tools="),  # none at hand
        (questions.removal_plan("m", "a", tools="t"), "/v1/models/m/removal-plan?reach=a&tools=t"),
        (questions.safety_record("m"), "/v1/models/m/safety-record"),
        (questions.safety_record("m", done=[]), "/v1/models/m/safety-record?done="),  # nothing was opened
        (questions.live_points("m", worst=True), "/v1/models/m/live-points?worst=true"),
        (questions.live_points("m", worst=False), "/v1/models/m/live-points"),
        (questions.carry("m", parts=0), "/v1/models/m/carry?parts=0"),
        (questions.saturation("r600a", celsius=-20), "/v1/refrigerants/r600a/saturation?celsius=-20"),
        (questions.saturation("r600a", celsius=0.5), "/v1/refrigerants/r600a/saturation?celsius=0.5"),
        (questions.graph_difference("p", 1), "/v1/graphs/p/difference?before=1"),
    ],
)
def test_what_is_sent(question: Question[Any], address: str) -> None:
    assert question.address == address
    assert question.method == "GET"


def test_a_long_question_about_a_plan_goes_by_body_and_has_the_same_answer(client: TestClient) -> None:
    service = Firstoff(ADDRESS, http=httpx2.Client(transport=recorder(client)))
    tools = [tool.id for tool in service.model(DRYER).tools]
    by_address = questions.removal_plan(DRYER, "drum-belt", tools=tools)
    by_body = questions.removal_plan(DRYER, "drum-belt", tools=tools * 20)
    assert (by_address.method, by_body.method, by_body.query) == ("GET", "POST", ())
    assert service.ask(by_body) == service.ask(by_address)


def test_linked_data_can_be_had_of_any_answer(client: TestClient) -> None:
    service = Firstoff(ADDRESS, http=httpx2.Client(transport=recorder(client)))
    linked = service.ask(replace(questions.model(DRYER), form=LINKED))
    assert linked["@id"] == f"/v1/models/{DRYER}"
    assert linked["@context"] == "/v1/context.jsonld"


def test_a_platform_comes_as_turtle_with_its_etag_and_is_not_sent_twice(client: TestClient) -> None:
    network = recorder(client)
    service = Firstoff(ADDRESS, http=httpx2.Client(transport=network))
    first, second = service.graph("tolvane-galewood"), service.graph("tolvane-galewood")
    assert isinstance(first, GraphText)
    assert "fo:Platform" in first.text
    assert first.etag is not None
    assert first == second
    assert [status for _, status in network.seen] == [200, 304]
    other = service.graph("tolvane-galewood", media_type="application/n-triples")
    assert other.media_type == "application/n-triples"
    assert other.etag != first.etag


def test_pages_are_asked_for_when_they_are_needed(client: TestClient) -> None:
    network = recorder(client)
    service = Firstoff(ADDRESS, http=httpx2.Client(transport=network))
    listing = replace(questions.components(DRYER), first=questions.component_list(DRYER, limit=7))
    found = service.each(listing)
    assert network.seen == []
    for _ in range(7):
        next(found)
    assert len(network.seen) == 1
    rest = [each.id for each in found]
    whole = service.component_list(DRYER, limit=200)
    assert rest == [each.id for each in whole.components][7:]

    async def listed() -> list[str]:
        async with AsyncFirstoff(ADDRESS, http=httpx2.AsyncClient(transport=network)) as waiting:
            return [each.id async for each in waiting.each(listing)]

    assert asyncio.run(listed()) == [each.id for each in whole.components]


# Keys


def test_a_key_goes_where_it_belongs_and_nowhere_else() -> None:
    script = Script([httpx2.Response(404)])
    http = httpx2.Client(transport=httpx2.MockTransport(script))
    service = Firstoff(ADDRESS, http=http, outcome_key="of the van", publish_key="of the bench")
    sent = {}
    for name in questions.__all__:
        with pytest.raises(errors.Nonsense):
            service.ask(made(name))
        sent[name] = script.requests[-1].headers.get("authorization")
    assert {name for name, key in sent.items() if key == "Bearer of the van"} == {"tell_outcome"}
    publishing = {"check_graph", "publish_graph", "withdraw_graph", "restore_graph"}
    assert {name for name, key in sent.items() if key == "Bearer of the bench"} == publishing
    assert {sent[name] for name in sent.keys() - publishing - {"tell_outcome"}} == {None}
    assert "of the van" not in repr(service._setup)


def test_a_job_is_told_with_one_key_however_often_it_is_sent() -> None:
    script = Script([httpx2.Response(503), httpx2.Response(503), httpx2.Response(404)])
    http = httpx2.Client(transport=httpx2.MockTransport(script))
    service = Firstoff(ADDRESS, http=http, retrying=firstoff_client.Retrying(first=0.0))
    for _ in range(2):
        with pytest.raises(errors.FirstoffError):
            service.tell_outcome(OutcomeReport(model=DRYER))
    keys = [each.headers["idempotency-key"] for each in script.requests]
    assert len(keys) == 4
    assert len(set(keys[:3])) == 1
    assert keys[3] != keys[0]


@pytest.mark.parametrize(
    ("question", "headers"),
    [
        (questions.publish_graph("p", "t", over='"1"', why=""), {"if-match": '"1"', "content-type": "text/turtle"}),
        (questions.publish_graph("p", "t", over=None, why=""), {"if-none-match": "*", "content-type": "text/turtle"}),
        (questions.withdraw_graph("p", over="*", why=""), {"if-match": "*"}),
        (questions.check_graph(b"PK"), {"content-type": questions.graphs.WORKBOOK}),
    ],
)
def test_a_save_says_what_it_replaces(question: Question[Any], headers: dict[str, str]) -> None:
    assert question.headers == headers


# Errors and the package


def test_every_problem_of_the_service_has_its_class() -> None:
    """The rows of the service's table, those of the framework, and the two that are refused before anything reads."""
    named = {kind for _, kind, _ in problems.KINDS.values()} | {kind for kind, *_ in problems._HTTP.values()}
    source = Path(problems.__file__).read_text("utf-8") + Path(limits.__file__).read_text("utf-8")
    written = set(re.findall(r'^ +"([a-z]+(?:-[a-z]+)*)",$', source, re.MULTILINE)) - set(problems._MEMBERS)
    assert {"body-too-large", "address-too-long", "invalid-request", "unexpected"} <= written
    assert set(errors.KINDS) == named | written | {"http-error"}
    assert errors.TYPE_BASE == problems.TYPE_BASE


def test_the_tree_is_drawn_as_it_is() -> None:
    drawn = re.findall(r"^    [│ ]*(?:├── |└── )?(\w+)", errors.__doc__ or "", re.MULTILINE)

    def every(base: type[Exception]) -> list[str]:
        return [base.__name__, *(name for each in base.__subclasses__() for name in every(each))]

    assert drawn == every(errors.FirstoffError)


@pytest.mark.parametrize("kind", sorted({each.__name__ for each in errors.KINDS.values()}))
def test_errors_survive_being_passed_between_processes(kind: str) -> None:
    problem = Problem.model_validate(
        {"type": "t", "title": "T", "status": 422, "detail": "D.", "mend": "M.", "nearest": ["a"], "limits": ["alone"]}
    )
    error = pickle.loads(pickle.dumps(getattr(errors, kind)(problem, 3.0)))
    assert (error.problem, error.retry_after, error.nearest, error.limits) == (problem, 3.0, ("a",), ("alone",))
    assert (str(error), error.changed, error.findings) == ("D. M.", (), ())


def test_other_errors_survive_it_too() -> None:
    other = pickle.loads(pickle.dumps(errors.OtherVersion("D.", "M.", "2", "1")))
    assert (other.theirs, other.ours, str(other)) == ("2", "1", "D. M.")
    gone = pickle.loads(pickle.dumps(errors.TimedOut("D.", "M.")))
    assert (gone.detail, gone.mend, gone.nearest) == ("D.", "M.", ())


def test_client_and_service_are_of_one_version() -> None:
    project = (ROOT / "clients" / "python" / "pyproject.toml").read_text(encoding="utf-8")
    assert firstoff_client.__version__ == version_of_the_service
    assert f'version = "{firstoff_client.__version__}"' in project


def test_the_contract_is_the_shared_one() -> None:
    """Built into the client under a name of its own, so that the two distributions have no file in common."""
    folder = ROOT / "clients" / "python" / "firstoff_client" / "contract"
    assert folder.resolve() == ROOT / "shared" / "firstoff_contract"
    assert RemovalPlan.__module__ == "firstoff_client.contract.removal"
