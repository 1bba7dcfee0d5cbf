"""Codes and service modes over HTTP."""

from __future__ import annotations

import math
from typing import Any

import pytest
from fastapi.testclient import TestClient

from firstoff.answers.desk import Desk
from support.problems import assert_problem

DRYER = "/v1/models/tgd27-460-s"
MODELS = (
    "flb-316-k", "flb-316-t", "mdr60-510-f", "mdr60-560-z", "qmh60-420-n", "qmh60-450-b", "tem34-210-c", "tem34-260-h",
    "tgd27-410-k", "tgd27-460-s",
)  # fmt: skip


def got(client: TestClient, address: str, **query: object) -> dict[str, Any]:
    response = client.get(address, params=query or None)
    assert response.status_code == 200, response.text
    found: dict[str, Any] = response.json()
    return found


@pytest.mark.parametrize("model", MODELS)
def test_every_code_is_told_in_full(client: TestClient, desk: Desk, model: str) -> None:
    appliance = desk.opened.collection.appliances(model, "1")[0]
    listed = got(client, f"/v1/models/{model}/codes", serial="1")
    assert {each["id"] for each in listed["codes"]} == appliance.codes.keys()
    assert listed["read_with"]
    assert listed["clear_with"]
    for each in listed["codes"]:
        found = got(client, f"/v1/models/{model}/codes/{each['notation']}", serial="1")
        assert found["code"] == each
        faults = {fault["id"]: fault for fault in found["faults"]}
        assert appliance.codes[each["id"]].faults <= faults.keys()
        assert {slug for slug, fault in faults.items() if fault["pointed_to"]} == appliance.codes[each["id"]].faults
        pointed = sum(fault["after"] for fault in faults.values() if fault["pointed_to"])
        assert math.isclose(pointed + found["others"], 1, abs_tol=0.01)
        assert pointed > sum(fault["before"] for fault in faults.values() if fault["pointed_to"])
        assert found["set_when"]
        assert found["first"]["id"]
        assert ("before this visit" in " ".join(found["does_not_prove"])) is each["stored"]


def test_what_it_says_is_what_the_diagnosis_says(client: TestClient) -> None:
    found = got(client, f"{DRYER}/codes/e%205")
    for body in ({"codes": ["E5"]}, {"codes": ["e 5"]}, {"codes": [found["code"]["id"]]}):
        diagnosed = client.post(f"{DRYER}/diagnosis", json=body).json()
        shares = {fault["id"]: fault["share"] for fault in diagnosed["faults"]}
        assert {fault["id"]: fault["after"] for fault in found["faults"]} == {
            fault["id"]: shares.get(fault["id"], 0.0) for fault in found["faults"]
        }
        assert diagnosed["next"] == found["first"]
        weights = {
            fault["id"]: moved["decibans"]
            for fault in diagnosed["faults"]
            for moved in fault["moved"]
            if moved["kind"] == "code"
        }
        assert {fault["id"]: fault["decibans"] for fault in found["faults"]}.items() <= weights.items()


def test_a_code_and_another_finding_go_together(client: TestClient) -> None:
    """The code as a finding narrows; a symptom it brings and that is absent takes away from it."""
    alone = client.post(f"{DRYER}/diagnosis", json={"codes": ["E5"]}).json()
    without = client.post(f"{DRYER}/diagnosis", json={"codes": ["E5"], "absent": ["hums"]}).json()
    shares = [{each["id"]: each["share"] for each in found["faults"]} for found in (alone, without)]
    assert shares[0]["fault-start-contact-open"] > shares[1]["fault-start-contact-open"]


@pytest.mark.parametrize("written", ["E4", "e4", "E 4", " e 4", "E-4", "code-e4"])
def test_a_code_is_read_however_it_is_written(client: TestClient, written: str) -> None:
    assert got(client, f"{DRYER}/codes/{written}")["code"]["notation"] == "E4"


@pytest.mark.parametrize(
    ("written", "near"),
    [("E44", ["E4"]), ("E0", ["E1", "E2", "E3"]), ("qqqqqq", []), ("\U0001f600", []), ("E" * 300, [])],
)
def test_an_unknown_code_names_those_near_it(client: TestClient, written: str, near: list[str]) -> None:
    problem = assert_problem(client.get(f"{DRYER}/codes/{written}"), 404, "not-found")
    assert problem.get("nearest", []) == near
    assert len(problem["detail"]) < 250


@pytest.mark.parametrize(
    ("address", "status", "kind"),
    [
        ("/v1/models/tgd27-460-x/codes", 404, "not-found"),
        ("/v1/models/tgd27-460-x/codes/E1", 404, "not-found"),
        ("/v1/models/tgd27-460-x/service-modes", 404, "not-found"),
        (f"{DRYER}/service-modes?kind=clean", 404, "not-found"),
        (f"{DRYER}/service-modes?kinds=clearing", 422, "bad-request"),
        (f"{DRYER}/codes?limit=0", 422, "invalid-request"),
        ("/v1/models/qmh60-420-n/service-modes", 409, "serial-needed"),  # the fans differ by serial number
    ],
)
def test_addresses_that_cannot_be_answered(client: TestClient, address: str, status: int, kind: str) -> None:
    assert_problem(client.get(address), status, kind)


def test_codes_are_paged(client: TestClient) -> None:
    whole = got(client, f"{DRYER}/codes", limit=200)
    first = got(client, f"{DRYER}/codes", limit=5)
    rest = got(client, first["page"]["next"])
    assert first["page"]["total"] == len(whole["codes"])
    assert [*first["codes"], *rest["codes"]][:10] == whole["codes"][:10]


@pytest.mark.parametrize("model", MODELS)
def test_every_mode_can_be_followed(client: TestClient, model: str) -> None:
    modes = got(client, f"/v1/models/{model}/service-modes", serial="1")["service_modes"]
    kinds = {kind["id"] for mode in modes for kind in mode["kinds"]}
    assert kinds >= {"stored-codes", "component-test", "clearing", "configuration"}
    for mode in modes:
        assert mode["supply"] == "on"
        stages = [step["stage"] for step in mode["steps"]]
        assert (stages[0], stages[-1]) == ("enter", "leave")
        assert mode["needs_fitted"]
        runs = [step for step in mode["steps"] if step["runs"]]
        assert all(step["live"] or step["untold"] for step in runs)
        assert all(step["shows"] for step in mode["steps"])
        words = {each["id"]: each["signal_word"] for each in mode["cautions"]}
        own = "service-mode-runs" if runs else "service-mode-powered"
        assert words[own] == ("DANGER" if runs else "WARNING")
        assert mode["cautions"][0]["signal_word"] in ("DANGER", words[own])
        assert not runs or words.keys() > {own}


def test_the_heater_is_live_in_the_step_that_runs_it(client: TestClient) -> None:
    (mode,) = got(client, f"{DRYER}/service-modes", kind="component-test")["service_modes"]
    heating = [step["order"] for step in mode["steps"] if "heater-element" in {each["id"] for each in step["runs"]}]
    live = [step["order"] for step in mode["steps"] if "heater-1" in {each["id"] for each in step["live"]}]
    assert heating == live == [3]
