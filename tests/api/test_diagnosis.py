"""Diagnosis and what to carry over HTTP, with findings that are wrong or contradict each other."""

from __future__ import annotations

import json
import math
from typing import Any

import pytest
from fastapi.testclient import TestClient

from support.problems import assert_problem

FRIDGE = "/v1/models/flb-316-k"
LIT = {"check": "check-settings", "label": "showroom symbol lit"}
COVERED = {"check": "check-loading", "label": "food stands against outlets or is still warm"}
HELD = {"check": "check-fridge-gasket", "label": "held all round"}


def asked(client: TestClient, **body: object) -> dict[str, Any]:
    response = client.post(f"{FRIDGE}/diagnosis", json={"serial": "1", **body})
    assert response.status_code == 200, response.text
    found: dict[str, Any] = json.loads(response.text, parse_constant=_no_constant)
    return found


def _no_constant(name: str) -> object:
    raise AssertionError(f"{name} in an answer")


@pytest.mark.parametrize(
    ("body", "status", "kind", "said"),
    [
        ({"symptoms": ["fridge-warm"], "absent": ["fridge-warm"]}, 422, "bad-request", "present and as absent"),
        ({"symptoms": ["qzxv"]}, 404, "not-found", "symptom 'qzxv'"),
        ({"absent": ["\u202e\U0001f600"]}, 404, "not-found", "symptom"),  # turned round, and a face
        ({"codes": ["Z 99"]}, 404, "not-found", "code 'Z 99'"),
        ({"outcomes": [{"check": "check-setting", "label": "x"}]}, 404, "not-found", "check-settings"),
        ({"outcomes": [LIT | {"label": "lit"}]}, 422, "bad-request", "showroom symbol lit"),  # the labels there are
        ({"outcomes": [LIT, LIT | {"label": "display and lights dark"}]}, 422, "bad-request", "given as"),
        ({"readings": [{"label": "volts", "likelihoods": {"drain-block": 1}}]}, 404, "not-found", "drain-blocked"),
        ({"readings": [{"label": "volts", "likelihoods": {"drain-blocked": 1.5}}]}, 422, "bad-request", "0 and 1"),
        ({"tried": ["replace-compresor"]}, 404, "not-found", "remedy"),
        ({"off": ["fridge-shelff"]}, 404, "not-found", "component"),
        ({"tools": ["hammer-of-gold"]}, 404, "not-found", "tool"),
        ({"symptoms": ["fridge-warm"] * 51}, 422, "invalid-request", "symptoms"),
        ({"symptom": ["fridge-warm"]}, 422, "invalid-request", "symptom"),  # no such field
        ({"outcomes": ["lit"]}, 422, "invalid-request", "outcomes"),
    ],
)
def test_a_finding_that_cannot_be_is_named(
    client: TestClient, body: dict[str, Any], status: int, kind: str, said: str
) -> None:
    problem = assert_problem(client.post(f"{FRIDGE}/diagnosis", json={"serial": "1", **body}), status, kind)
    assert said in json.dumps(problem, ensure_ascii=False)


def test_a_likelihood_that_is_no_number_is_refused(client: TestClient) -> None:
    body = '{"serial": "1", "readings": [{"label": "volts", "likelihoods": {"drain-blocked": NaN}}]}'
    response = client.post(f"{FRIDGE}/diagnosis", content=body, headers={"content-type": "application/json"})
    assert response.status_code in (400, 422)
    assert response.headers["content-type"] == "application/problem+json"


@pytest.mark.parametrize(
    ("address", "status", "kind"),
    [
        ("diagnosis?symptoms=qzxv&serial=1", 404, "not-found"),
        ("diagnosis?symptoms=fridge-warm&absent=fridge-warm&serial=1", 422, "bad-request"),
        ("diagnosis?symptom=fridge-warm", 422, "bad-request"),  # misspelt
        ("diagnosis?codes=zz&serial=1", 404, "not-found"),
        ("carry?symptoms=qzxv&serial=1", 404, "not-found"),
        ("carry?parts=11", 422, "invalid-request"),
        ("carry?parts=-1", 422, "invalid-request"),
        ("carry?parts=some", 422, "invalid-request"),
    ],
)
def test_addresses_that_cannot_be_answered(client: TestClient, address: str, status: int, kind: str) -> None:
    assert_problem(client.get(f"{FRIDGE}/{address}"), status, kind)


def test_an_unknown_model_is_answered_with_the_nearest(client: TestClient) -> None:
    for way in ("diagnosis", "carry"):
        assert "flb-316-k" in assert_problem(client.get(f"/v1/models/flb-316-q/{way}"), 404, "not-found")["nearest"]


def test_the_findings_that_contradict_each_other_are_named(client: TestClient) -> None:
    found = asked(client, symptoms=["fridge-warm"], outcomes=[HELD, LIT, COVERED])
    assert found["contradicted"] is True
    assert [each["id"] for each in found["conflict"]["findings"]] == ["check-loading", "check-settings"]
    assert found["conflict"]["smallest"] is True
    for outcome in (LIT, COVERED):
        assert outcome["label"] in found["said"]
    assert HELD["label"] not in found["said"]
    assert found["faults"] == []
    assert found["next"] is None
    assert [sorted(fault["id"] for fault in pair["faults"]) for pair in found["pairs"]] == [
        ["outlets-covered", "showroom-mode-on"]
    ]
    # Without either of them there is a fault that explains the rest.
    for outcome in (LIT, COVERED):
        assert asked(client, symptoms=["fridge-warm"], outcomes=[HELD, outcome])["conflict"] is None


@pytest.mark.parametrize("code", ["b1", "B1", "b 1", " B 1 ", "code-b1"])
def test_a_code_is_read_with_and_without_spaces(client: TestClient, code: str) -> None:
    found = client.get(f"{FRIDGE}/diagnosis", params={"codes": code, "serial": "1"})
    assert found.status_code == 200
    faults = {fault["id"]: fault for fault in found.json()["faults"]}
    assert faults["evaporator-fan-stopped"]["share"] > 0.2
    assert any(moved["kind"] == "code" for moved in faults["evaporator-fan-stopped"]["moved"])


def test_a_dear_part_comes_with_what_looks_alike_and_what_confirms_it(client: TestClient) -> None:
    faults = {fault["id"]: fault for fault in asked(client, symptoms=["not-cooling"])["faults"]}
    guard = faults["compressor-seized"]["guard"]
    assert (guard["part"]["id"], guard["why"]) == ("compressor", "dear")
    assert guard["look_alikes"][0]["id"] in ("socket-dead", "showroom-mode-on", "supply-voltage-low", "condenser-dirty")
    assert "check-compressor-running" in [each["id"] for each in guard["confirm"]]
    assert guard["confirmed_by"] == []
    assert faults["condenser-dirty"]["guard"] is None
    dark = {"check": "check-settings", "label": "display and lights dark"}
    made = {fault["id"]: fault for fault in asked(client, symptoms=["not-cooling"], outcomes=[dark])["faults"]}
    guard = made["main-board-supply-failed"]["guard"]
    assert [each["id"] for each in guard["confirmed_by"]] == ["check-settings"]
    assert "check-main-fuse" in [each["id"] for each in guard["confirm"]]


def test_without_the_tool_for_what_confirms_it_a_dear_part_is_not_recommended(client: TestClient) -> None:
    """With a screwdriver and no meter the tree has no new compressor and no new board."""
    found = asked(client, symptoms=["not-cooling"], tools=[], tree=True)
    steps = [found["next"]]
    for step in steps:
        steps += [then["step"] for then in step["then"] if then["step"]]
        if step["guard"]:
            assert step["guard"]["confirmed_by"], step["id"]
    assert len(steps) > 3


def test_nothing_found_is_answered_from_the_frequencies(client: TestClient) -> None:
    found = asked(client)
    assert math.isclose(sum(fault["share"] for fault in found["faults"]), 1, abs_tol=0.01)
    assert found["conflict"] is None
    assert found["next"] is not None


def test_what_to_carry_adds_up(client: TestClient) -> None:
    found = client.get(f"{FRIDGE}/carry", params={"symptoms": "fridge-warm", "parts": 2, "serial": "1"}).json()
    none = client.get(f"{FRIDGE}/carry", params={"symptoms": "fridge-warm", "parts": 0, "serial": "1"}).json()
    assert len(found["parts"]) == 2
    assert none["parts"] == []
    assert none["chance"] < found["chance"] <= 1
    assert found["greedy"] <= found["chance"]
    assert found["tools"]
