"""The safety record over HTTP."""

from __future__ import annotations

import pytest
from fastapi.testclient import TestClient

from firstoff_contract.record import SafetyRecord
from support.problems import assert_problem

DRYER = "/v1/models/tgd27-460-s/safety-record"
FRIDGE = "/v1/models/flb-316-k/safety-record"
GOOD = [
    {"quantity": "earth-continuity", "value": 80, "unit": "mohm", "note": "front panel"},
    {"quantity": "insulation-resistance", "value": 200, "unit": "Mohm", "over_range": True},
    {"quantity": "leakage-current", "value": 0.4, "unit": "mA"},
]


def test_the_blank_record_is_a_page_that_can_be_kept(client: TestClient) -> None:
    answer = client.get(DRYER)
    record = SafetyRecord.model_validate(answer.json())
    assert record.verdict == "not_measured"
    assert all(not line.readings for line in record.lines)
    assert client.get(DRYER, headers={"If-None-Match": answer.headers["etag"]}).status_code == 304


def test_readings_are_judged(client: TestClient) -> None:
    record = SafetyRecord.model_validate(client.post(DRYER, json={"readings": GOOD}).json())
    assert record.verdict == "pass"
    assert [line.readings[0].verdict for line in record.lines] == ["pass"] * 3
    assert record.lines[0].readings[0].note == "front panel"


#: query of the blank record of the fridge, verdict of its leak check
DONE = [
    ("?serial=1", "not_measured"),  # nobody said what was done
    ("?serial=1&done=", "not_applicable"),  # nothing was done
    ("?serial=1&done=evaporator-fan", "not_applicable"),
    ("?serial=1&done=evaporator-fan,recover-refrigerant", "not_measured"),
    ("?serial=1&done=evaporator-fan&done=recover-refrigerant", "not_measured"),
]


@pytest.mark.parametrize(("query", "verdict"), DONE)
def test_what_was_done(client: TestClient, query: str, verdict: str) -> None:
    lines = client.get(FRIDGE + query).json()["lines"]
    assert [line["verdict"] for line in lines if line["id"] == "finish-leak"] == [verdict]


#: bodies that are refused, a word of the detail
REFUSED = [
    ('{"readings": [{"quantity": "earth-continuity", "value": -0.1, "unit": "ohm"}]}', "greater than or equal"),
    ('{"readings": [{"quantity": "earth-continuity", "value": NaN, "unit": "ohm"}]}', "finite"),
    ('{"readings": [{"quantity": "earth-continuity", "value": Infinity, "unit": "ohm"}]}', "finite"),
    ('{"readings": [{"quantity": "earth-continuity", "value": 1e400, "unit": "ohm"}]}', "finite"),
    ('{"readings": [{"quantity": "earth-continuity", "value": 1e30, "unit": "ohm"}]}', "more than any instrument"),
    ('{"readings": [{"quantity": "earth-continuity", "value": "a bit", "unit": "ohm"}]}', "number"),
    ('{"readings": [{"quantity": "earth-continuity", "value": 0.1, "unit": "furlong"}]}', "no unit"),
    ('{"readings": [{"quantity": "earth-continuity", "value": 0.1, "unit": ""}]}', "at least 1 character"),
    ('{"readings": [{"quantity": "earth-continuity", "value": 0.1}]}', "required"),
    ('{"readings": [{"quantity": "weight", "value": 0.1, "unit": "ohm"}]}', "earth-continuity"),
    ('{"reading": []}', "Extra inputs"),
]


@pytest.mark.parametrize(("body", "said"), REFUSED)
def test_what_makes_no_sense_is_refused(client: TestClient, body: str, said: str) -> None:
    answer = client.post(DRYER, content=body, headers={"content-type": "application/json"})
    kind = "bad-request" if said in ("no unit", "more than any instrument") else "invalid-request"
    problem = assert_problem(answer, 422, kind)
    assert said in problem["detail"]
    assert problem["mend"]


def test_an_unknown_line_is_not_found(client: TestClient) -> None:
    answer = client.post(FRIDGE, json={"confirmed": [{"line": "finish-leek", "by": "A. Technician"}], "serial": "1"})
    assert "finish-leak" in assert_problem(answer, 404, "not-found")["nearest"]
