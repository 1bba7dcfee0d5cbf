"""Each tool's structured answer is what the HTTP API answers to the same question, and fits the schema it announces."""

from __future__ import annotations

import json
from typing import Any

import pytest
from fastapi.testclient import TestClient
from jsonschema import Draft202012Validator

from firstoff.answers.desk import Desk
from firstoff.assistants.tools import BY_NAME, TOOLS
from support.assistants import called, text_of, with_client

DRYER, HOB = "/v1/models/tgd27-460-s", "/v1/models/qmh60-420-n"
ON_DRYER: dict[str, Any] = {"model": "tgd27-460-s"}
ON_HOB: dict[str, Any] = {"model": "qmh60-420-n", "serial": "24200000"}
LIVE_TEST = {"reach": ["terminal-block:live-test"], "limits": ["alone"], "minimise": "parts"}
#: Tool, arguments, method and address of the same question over HTTP, and the body where it is posted.
QUESTIONS: list[tuple[str, dict[str, Any], str, str, dict[str, Any] | None]] = [
    ("find", {"query": "drumm wont trun", "limit": 3}, "GET", "/v1/search?q=drumm+wont+trun&limit=3", None),
    ("find", {"query": "zone kalt", **ON_HOB, "kind": "symptom"}, "GET",
     "/v1/search?q=zone+kalt&model=qmh60-420-n&serial=24200000&kind=symptom&limit=5", None),
    ("describe_machine", {"model": "TGD27/46O S"}, "GET", "/v1/models/TGD27-46O%20S", None),
    ("describe_machine", ON_HOB, "GET", f"{HOB}?serial=24200000", None),
    ("parts", ON_DRYER, "GET", f"{DRYER}/components?limit=200", None),
    ("parts", {**ON_DRYER, "component": "drum-belt"}, "GET", f"{DRYER}/components/drum-belt", None),
    ("parts", {**ON_HOB, "limit": 2, "offset": 1}, "GET", f"{HOB}/components?serial=24200000&limit=2&offset=1", None),
    ("removal_plan", {**ON_DRYER, "reach": ["drum-belt"]}, "GET", f"{DRYER}/removal-plan?reach=drum-belt", None),
    ("removal_plan", {**ON_DRYER, **LIVE_TEST}, "POST", f"{DRYER}/removal-plan", LIVE_TEST),
    ("removal_plan", {**ON_HOB, "reach": ["glass-top"]}, "GET",
     f"{HOB}/removal-plan?reach=glass-top&serial=24200000", None),
    ("make_safe", {**ON_DRYER, "reach": ["drum-belt"]}, "GET", f"{DRYER}/make-safe?reach=drum-belt", None),
    ("make_safe", {**ON_HOB, "reach": ["glass-top"]}, "GET", f"{HOB}/make-safe?reach=glass-top&serial=24200000", None),
    ("live_points", {**ON_DRYER, "opened": ["power-control"]}, "GET",
     f"{DRYER}/live-points?opened=power-control", None),
    ("live_points", {**ON_DRYER, "at": ["heater-1"], "assume": ["open-neutral"], "worst": False}, "GET",
     f"{DRYER}/live-points?at=heater-1&assume=open-neutral", None),
    ("live_points", {**ON_HOB, "worst": True}, "GET", f"{HOB}/live-points?worst=true&serial=24200000", None),
    ("isolation", {**ON_DRYER, "touch": ["drive-motor", "heater-1"]}, "GET",
     f"{DRYER}/isolation?touch=drive-motor,heater-1", None),
    ("isolation", {**ON_HOB, "touch": ["tb-l1"]}, "GET", f"{HOB}/isolation?touch=tb-l1&serial=24200000", None),
    ("diagnose", {**ON_DRYER, "symptoms": ["no-heat"], "absent": ["drum-does-not-turn"]}, "GET",
     f"{DRYER}/diagnosis?symptoms=no-heat&absent=drum-does-not-turn", None),
    ("diagnose", {**ON_DRYER, "symptoms": ["turns but stays cold"], "readings": [READING := {
        "between": ["heater-1", "heater-2"], "quantity": "resistance", "value": "OL", "opened": ["supply-plug"],
        "released": ["bus-capacitor", "filter-capacitor"]}], "tree": True}, "POST", f"{DRYER}/diagnosis",
     {"symptoms": ["turns but stays cold"], "readings": [READING], "tree": True}),
    ("diagnose", {**ON_HOB, "symptoms": ["dead"]}, "GET", f"{HOB}/diagnosis?symptoms=dead&serial=24200000", None),
    ("carry_list", {**ON_DRYER, "symptoms": ["no-heat"]}, "GET", f"{DRYER}/carry?symptoms=no-heat", None),
    ("carry_list", {**ON_HOB, "symptoms": ["dead"], "parts": 1}, "GET",
     f"{HOB}/carry?symptoms=dead&parts=1&serial=24200000", None),
    ("display_code", {**ON_DRYER, "code": "e 5"}, "GET", f"{DRYER}/codes/e%205", None),
    ("display_code", {**ON_HOB, "code": "E1"}, "GET", f"{HOB}/codes/E1?serial=24200000", None),
    ("expected_reading", {**ON_DRYER, "between": ["heater-1", "heater-2"], "quantity": "resistance", "measured": "OL",
                          "opened": ["supply-plug"], "released": ["bus-capacitor", "filter-capacitor"]}, "GET",
     f"{DRYER}/reading?between=heater-1,heater-2&quantity=resistance&measured=OL&opened=supply-plug"
     "&released=bus-capacitor,filter-capacitor", None),
    ("expected_reading", {**ON_HOB, "between": ["tb-l1", "tb-l2"]}, "GET",
     f"{HOB}/reading?between=tb-l1,tb-l2&serial=24200000", None),
    ("safety_record", ON_DRYER, "GET", f"{DRYER}/safety-record", None),
    ("safety_record", {**ON_HOB, "readings": [{"quantity": "earth-continuity", "value": 0.09, "unit": "ohm"}]}, "POST",
     f"{HOB}/safety-record", {"readings": [{"quantity": "earth-continuity", "value": 0.09, "unit": "ohm"}],
                              "serial": "24200000"}),
]  # fmt: skip


def test_every_tool_is_asked_on_two_machines() -> None:
    for tool in TOOLS:
        machines = {arguments.get("model", "any") for name, arguments, *_ in QUESTIONS if name == tool.name}
        assert len(machines) >= 2, tool.name


@pytest.mark.parametrize(("name", "arguments", "method", "address", "body"), QUESTIONS)
def test_structured_answer_is_that_of_http(
    desk: Desk,
    client: TestClient,
    name: str,
    arguments: dict[str, Any],
    method: str,
    address: str,
    body: dict[str, Any] | None,
) -> None:
    tool = BY_NAME[name]
    Draft202012Validator(tool.input_schema()).validate(arguments)
    response = client.request(method, address, json=body)
    (result,) = called(desk, [(name, arguments)])
    assert response.status_code == 200, response.text
    assert not result.is_error, text_of(result)
    assert result.structured_content == response.json()
    Draft202012Validator(tool.output_schema()).validate(result.structured_content)


@pytest.mark.parametrize("tool", TOOLS, ids=lambda tool: tool.name)
def test_schemas_are_json_schema_and_refuse_what_is_not_known(tool: Any) -> None:
    for schema in (tool.input_schema(), tool.output_schema()):
        Draft202012Validator.check_schema(schema)
        assert schema["type"] == "object"
    asked = tool.input_schema()
    assert asked["additionalProperties"] is False
    assert {"query"} <= set(asked["required"]) or "model" in asked["required"]
    assert all("description" in each or "$ref" in each or "items" in each for each in asked["properties"].values())


def test_the_list_is_that_of_the_tools(desk: Desk) -> None:
    async def listing(client: Any) -> Any:
        return await client.list_tools(), client.instructions

    listed, instructions = with_client(desk, listing)
    assert [each.name for each in listed.tools] == [tool.name for tool in TOOLS]
    assert len(TOOLS) <= 12
    for each in listed.tools:
        assert each.annotations.read_only_hint is True
        assert len(each.description) > 80
        assert each.output_schema == BY_NAME[each.name].output_schema()
    for word in ("Unknown is never safe", "DANGER", "never permission", "Never guess"):
        assert word in instructions
    mentioned = {tool.name for tool in TOOLS if tool.name in instructions}
    assert {"describe_machine", "make_safe", "removal_plan", "live_points", "safety_record"} <= mentioned


def test_resources_are_the_machines_and_the_words(desk: Desk, client: TestClient) -> None:
    async def reading(host: Any) -> Any:
        listed = await host.list_resources()
        return {str(each.uri): (await host.read_resource(each.uri)).contents[0] for each in listed.resources}

    read = with_client(desk, reading)
    models = json.loads(read["firstoff://models"].text)
    assert models["models"] == client.get("/v1/models?limit=200").json()["models"]
    assert "skos:definition" in read["firstoff://ontology"].text
    assert read["firstoff://ontology"].mime_type == "text/turtle"
