"""Bad requests are answered with problem documents that say what to do."""

from __future__ import annotations

import pytest
from fastapi.testclient import TestClient
from hypothesis import HealthCheck, given
from hypothesis import settings as profile
from hypothesis import strategies as st

from firstoff import errors
from firstoff.api.application import create_app
from firstoff.api.problems import KINDS
from firstoff.collection.opening import Opened
from firstoff.settings import Settings
from support.problems import assert_problem

DRYER = "/v1/models/tgd27-460-s"


@pytest.mark.parametrize(
    ("address", "status", "kind"),
    [
        ("/v1/models/tgd27-46o-x", 404, "not-found"),  # no such model
        (f"{DRYER}/components/drumbelt", 404, "not-found"),  # no such component
        (f"{DRYER}/removal-plan?reach=drum-bellt", 404, "not-found"),  # target misspelt
        (f"{DRYER}/removal-plan?reach=drum-belt&off=top-pannel", 404, "not-found"),  # part off misspelt
        (f"{DRYER}/removal-plan?reach=drum-belt&tools=hammer", 404, "not-found"),  # a tool nothing needs
        (f"{DRYER}/live-points?opened=supply-plugg", 404, "not-found"),  # no such device
        (f"{DRYER}/live-points?released=c9", 404, "not-found"),  # no such capacitor
        (f"{DRYER}/isolation?touch=nowhere", 404, "not-found"),  # neither point nor component
        (f"{DRYER}/safety-record?done=drum-bellt", 404, "not-found"),  # nothing that can be done
        (f"{DRYER}/removal-plan", 422, "bad-request"),  # nothing to reach
        (f"{DRYER}/isolation", 422, "bad-request"),  # nothing to touch
        (f"{DRYER}/removal-plan?reach=drum-belt:polish", 422, "bad-request"),  # no such purpose
        (f"{DRYER}/removal-plan?reach=drum-belt&of=top-panel", 422, "bad-request"),  # parameter misspelt
        (f"{DRYER}/removal-plan?reach=drum-belt&minimise=parts&minimise=minutes", 422, "bad-request"),  # said twice
        (f"{DRYER}/removal-plan?reach=drum-belt&minimise=effort", 422, "invalid-request"),  # not offered
        (f"{DRYER}/removal-plan?reach=drum-belt&limits=machine-fix", 422, "bad-request"),  # no such limit
        (f"{DRYER}/removal-plan?reach=drum-belt&limits=machine-fixed", 422, "target-unreachable"),  # no way to the plug
        (f"{DRYER}/removal-plan?reach=drum-belt&limits=machine-fixed&states=pulled-out", 422, "bad-request"),
        (f"{DRYER}/removal-plan?reach={','.join(['drum-belt'] * 1000)}", 422, "bad-request"),  # a thousand targets
        (f"{DRYER}/removal-plan?" + "reach=drum-belt&" * 400, 422, "invalid-request"),
        (f"{DRYER}/components?limit=0", 422, "invalid-request"),
        (f"{DRYER}/components?limit=many", 422, "invalid-request"),
        ("/v1/search?q=" + "x" * 10_001, 422, "invalid-request"),  # too long a query
        ("/v1/search?q=" + "x" * 20_000, 414, "address-too-long"),
        ("/v1/search?q=drum&model=nothing-like-it", 404, "not-found"),
        ("/v1/nothing", 404, "no-such-address"),
    ],
)
def test_bad_request_says_what_to_do(client: TestClient, address: str, status: int, kind: str) -> None:
    assert_problem(client.get(address), status, kind)


def test_unknown_names_come_with_the_nearest(client: TestClient) -> None:
    body = assert_problem(client.get(f"{DRYER}/components/drumbelt"), 404, "not-found")
    assert body["nearest"][0] == "drum-belt"
    body = assert_problem(client.get("/v1/models/tgd27-46o-x"), 404, "not-found")
    assert "tgd27-460-s" in body["nearest"]
    body = assert_problem(client.get(f"{DRYER}/removal-plan?reach=drum-belt&of=door"), 422, "bad-request")
    assert "off=" in body["detail"]


def test_what_would_lift_a_limit_is_named(client: TestClient) -> None:
    body = assert_problem(
        client.get(f"{DRYER}/removal-plan?reach=drum-belt&limits=machine-fixed&limits=alone"), 422, "target-unreachable"
    )
    assert body["limits"] == ["machine-fixed"]
    assert body["would_do"] == [body["mend"]]
    assert "room to move the machine" in body["mend"]


def test_missing_tool_is_named_with_the_step(client: TestClient) -> None:
    response = client.get(f"{DRYER}/removal-plan?reach=drive-motor&tools=multimeter")
    body = assert_problem(response, 422, "target-unreachable")
    assert body["missing_tools"]
    assert body["obstacles"]
    assert body["target"] in body["detail"]


@pytest.mark.parametrize(
    ("body", "content_type", "status", "kind"),
    [
        (b"{", "application/json", 422, "invalid-request"),  # cut short
        (b"[]", "application/json", 422, "invalid-request"),  # not an object
        (b'{"reach": []}', "application/json", 422, "bad-request"),  # nothing to reach and nothing to put back
        (b'{"states": ["supply-on"]}', "application/json", 422, "bad-request"),  # it stands as it should
        (b'{"off": ["take-off-back-panel", "back-panel-2"]}', "application/json", 404, "not-found"),
        (b'{"reach": ["drum-belt"], "of": []}', "application/json", 422, "invalid-request"),  # unknown field
        (b'{"reach": ["\xff"]}', "application/json", 400, "malformed-body"),  # not UTF-8
        (b"reach=drum-belt", "application/x-www-form-urlencoded", 422, "invalid-request"),
        (b'{"reach": ["' + b"x" * 1_100_000 + b'"]}', "application/json", 413, "body-too-large"),
        (b"[" * 100_000, "application/json", 400, "malformed-body"),  # deep nesting
    ],
)
def test_bad_body(client: TestClient, body: bytes, content_type: str, status: int, kind: str) -> None:
    response = client.post(f"{DRYER}/removal-plan", content=body, headers={"content-type": content_type})
    assert_problem(response, status, kind)


def test_body_without_length_is_measured(client: TestClient) -> None:
    def endless() -> object:
        for _ in range(40):
            yield b" " * 50_000

    response = client.post(f"{DRYER}/removal-plan", content=endless(), headers={"content-type": "application/json"})
    assert_problem(response, 413, "body-too-large")


@pytest.mark.parametrize(
    ("method", "address", "allowed"),
    [
        ("DELETE", "/v1/models", {"GET"}),
        ("PUT", f"{DRYER}/removal-plan", {"GET", "POST"}),
        ("PATCH", f"{DRYER}/diagnosis", {"GET", "POST"}),
        ("PUT", "/sparql", {"GET", "POST", "OPTIONS"}),
    ],
)
def test_wrong_method(client: TestClient, method: str, address: str, allowed: set[str]) -> None:
    response = client.request(method, address)
    assert_problem(response, 405, "method-not-allowed")
    assert set(response.headers["allow"].split(", ")) - {"HEAD"} == allowed


def test_every_error_of_the_tree_has_a_row() -> None:
    """Classes that only the command line can meet share the root's row; all others have their own or their base's."""

    def every(base: type[errors.FirstoffError]) -> set[type[errors.FirstoffError]]:
        return {base}.union(*(every(each) for each in base.__subclasses__()))

    sharing = {
        errors.BadRequest,  # the root's row says what it is
        errors.ContentMissing,  # met before anything is served
        errors.ContentSyntax,
        errors.QueryRefused,
        errors.NotHeld,
        errors.EngineFailed,
        errors.HistoryFailed,  # the store's row
        errors.PublishedElsewhere,  # nothing can be written here, either
    }
    assert every(errors.FirstoffError) - set(KINDS) == sharing
    assert len({kind for _, kind, _ in KINDS.values()}) == len(KINDS)


def test_unexpected_error_shows_no_trace(opened: Opened, settings: Settings, caplog: pytest.LogCaptureFixture) -> None:
    app = create_app(opened, settings)

    @app.get("/v1/broken")
    def broken() -> None:
        raise RuntimeError("a secret of the house")

    with TestClient(app, raise_server_exceptions=False) as client:
        response = client.get("/v1/broken")
    assert_problem(response, 500, "unexpected")
    assert "secret" not in response.text
    assert "a secret of the house" in caplog.text


@profile(max_examples=150, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    path=st.sampled_from(
        ["removal-plan", "removal-plan/pareto", "live-points", "isolation", "components", "components/x", ""]
    ),
    parameters=st.lists(
        st.tuples(
            st.sampled_from(
                [
                    "reach",
                    "off",
                    "tools",
                    "opened",
                    "touch",
                    "serial",
                    "released",
                    "limit",
                    "offset",
                    "q",
                    "limits",
                    "minimise",
                ]
            ),
            st.text(max_size=40) | st.sampled_from(["drum-belt", "drum-belt:test", ":", ",", "supply-plug"]),
        ),
        max_size=4,
    ),
)
def test_nothing_asked_makes_the_service_fail(client: TestClient, path: str, parameters: list[tuple[str, str]]) -> None:
    response = client.get(f"{DRYER}/{path}".rstrip("/"), params=parameters)
    assert response.status_code < 500
    if response.status_code >= 400:
        assert response.headers["content-type"] == "application/problem+json"


@pytest.mark.parametrize("address", ["/v1/search", "/v1/suggest"])
@pytest.mark.parametrize(
    "query",
    [
        "",
        "x" * 2_000,
        "%F0%9F%98%80",  # an emoji
        "%E2%80%AE%D8%A7%D9%84%D8%AB%D9%84%D8%A7%D8%AC%D8%A9",  # right to left
        "%00%07%1B",
        "%FF%FE",  # no UTF-8
    ],
)
def test_queries_that_are_no_words_find_nothing_and_say_so(client: TestClient, address: str, query: str) -> None:
    answered = client.get(f"{address}?q={query}")
    assert answered.status_code == 200
    answer = answered.json()
    assert (answer["hits"] if "hits" in answer else answer["completions"]) == []
    assert "note" not in answer or answer["note"].startswith(("There is no word", "Nothing good"))
