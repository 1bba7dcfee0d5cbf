"""A safety record judged in a client is the one of the service, and what the service refuses is refused."""

from __future__ import annotations

import json
import random
from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Any

import pytest
from fastapi.testclient import TestClient
from pydantic import ValidationError

from firstoff.answers.desk import Desk
from firstoff.answers.record import safety_record_answer
from firstoff.appliance.model import Appliance, Construction
from firstoff.collection.opening import Opened
from firstoff.errors import FirstoffError
from firstoff_contract.record import RecordRequest
from firstoff_contract.removal import PlanRequest
from support.node import called, plain

Needed = Callable[[object, str], None]
MODULE, CALL = "phone/offline/record.js", "judged"
QUANTITIES = ("earth-continuity", "insulation-resistance", "leakage-current")
UNITS = {
    "earth-continuity": ["ohm", "ohms", "Ω", "Ω", "mohm", "milliohm", "milliohms", "mΩ", " ohm\u00a0"],
    "insulation-resistance": ["Mohm", "megohm", "MΩ", "Gohm", "GΩ", "kohm", "kΩ"],
    "leakage-current": ["mA", "uA", "µA", "μA", "\tmA "],
}
#: Values at the limits of the demo machines and beside them, in the unit of the limit.
LIMITS = [0.1, 0.134, 0.25, 0.3, 0.5, 0.75, 1.0, 1.5, 2.0]


def machines(opened: Opened) -> Iterator[Appliance]:
    """The demo machines, and such as have no limits, others, or lack a measurement."""
    for entry in opened.collection.models:
        for each in opened.collection.appliances(entry.id):
            yield each
            yield replace(each, construction=Construction())
            for protection in ("II", "III"):
                yield replace(each, construction=replace(each.construction, protection_class=protection))


def some_reading(rng: random.Random) -> dict[str, Any]:
    quantity = rng.choice(QUANTITIES)
    value = rng.choice([rng.choice(LIMITS), rng.uniform(0, 3), round(rng.uniform(0, 3), 2), 0, 200, 1e4])
    value = value * rng.choice([1, 1, 1000, 1e-3, 1 + 2**-52])
    found = {"quantity": quantity, "value": value, "unit": rng.choice(UNITS[quantity])}
    if rng.random() < 0.3:
        found["over_range"] = rng.random() < 0.8
    if rng.random() < 0.2:
        found["note"] = rng.choice(["front panel", "", None])
    return found


def some_entries(rng: random.Random, machine: Appliance) -> dict[str, Any]:
    lines = [step.id for step in machine.finish if step.recorded]
    most = rng.choice([0, 1, 3, 8])
    return {
        "readings": [some_reading(rng) for _ in range(rng.randint(0, most))],
        "confirmed": [
            {
                "line": rng.choice(lines),
                "by": rng.choice(["A. Technician", "<b>&\"'"]),
                "note": rng.choice([None, "ok"]),
            }
            for _ in range(rng.randint(0, 2) if lines else 0)
        ],
    }


def test_judged_as_the_service_judges(needed: Needed, opened: Opened) -> None:
    rng = random.Random(5)
    calls, expected, refused = [], [], 0
    for machine in machines(opened):
        things = sorted({*machine.components, *machine.preparations, *machine.states})
        for _ in range(30):
            done = rng.choice([None, [], rng.sample(things, 3), things])
            entered = some_entries(rng, machine)
            blank = safety_record_answer(machine, RecordRequest(done=done))
            calls.append([json.loads(blank.model_dump_json()), entered])
            try:
                judged = safety_record_answer(machine, RecordRequest.model_validate({**entered, "done": done}))
                expected.append(plain(judged.model_dump_json()))
            except FirstoffError:
                expected.append(None)
                refused += 1
    verdicts = set()
    for call, answer, said in zip(calls, called(needed, MODULE, CALL, calls), expected, strict=True):
        if said is None:
            assert answer["error"]["mend"], call[1]
        else:
            assert plain(json.dumps(answer.get("value", answer))) == said, call[1]
            verdicts.add(answer["value"]["verdict"])
    assert verdicts == {"pass", "fail", "unknown", "not_measured"}
    assert 0 < refused < len(calls) / 2


def test_every_line_passes_at_its_limit_and_not_beyond(needed: Needed, opened: Opened) -> None:
    calls, expected = [], []
    for machine in machines(opened):
        blank = json.loads(safety_record_answer(machine, RecordRequest(done=[])).model_dump_json())
        for line in (each for each in blank["lines"] if each["limit"]):
            most, least = line["limit"]["at_most"], line["limit"]["at_least"]
            for factor, over in ((1.0, False), (0.999, False), (1.001, False), (1.0, True)):
                reading = {"quantity": line["id"], "value": (most or least) * factor, "unit": line["unit"]}
                calls.append([blank, {"readings": [{**reading, "over_range": over}]}])
            expected += ["pass", "pass", "fail", "fail"] if most else ["pass", "fail", "pass", "pass"]
    told = [
        next(line["readings"][0]["verdict"] for line in answer["value"]["lines"] if line["readings"])
        for answer in called(needed, MODULE, CALL, calls)
    ]
    assert told == expected


def reading(**more: Any) -> dict[str, Any]:
    return {"readings": [{"quantity": "earth-continuity", "value": 0.08, "unit": "ohm", **more}]}


#: What neither takes.
REFUSED = [
    reading(quantity="weight"),
    reading(quantity="constructor"),
    reading(value=-0.1),
    reading(value=None),
    reading(value="a bit"),
    reading(value=1e9),
    reading(unit=""),
    reading(unit="furlong"),
    reading(unit="Mohm"),
    reading(unit="toString"),
    reading(unit="o" * 21),
    reading(over_range="perhaps"),
    reading(note="n" * 501),
    {"readings": reading()["readings"] * 201},
    {"confirmed": [{"line": "finish-leek", "by": "A. Technician"}]},
    {"confirmed": [{"line": "earth-continuity", "by": "A. Technician"}]},
    {"confirmed": [{"line": "finish-leak", "by": ""}]},
    {"confirmed": [{"line": "finish-leak", "by": "b" * 101}]},
    {"confirmed": [{"line": "finish-leak", "by": "A", "note": "n" * 501}]},
    {"confirmed": [{"line": "finish-leak", "by": "A"}] * 101},
]


@pytest.mark.parametrize("entered", REFUSED)
def test_refused(needed: Needed, desk: Desk, entered: dict[str, Any]) -> None:
    blank = json.loads(desk.safety_record("flb-316-k", RecordRequest(serial="1")).model_dump_json())
    with pytest.raises((FirstoffError, ValidationError)):
        desk.safety_record("flb-316-k", RecordRequest.model_validate({**entered, "serial": "1"}))
    (answer,) = called(needed, MODULE, CALL, [[blank, entered]])
    assert answer["error"]["message"]
    assert answer["error"]["mend"]


def test_a_record_that_is_filled_in_is_not_judged_again(needed: Needed, desk: Desk) -> None:
    """What was confirmed before would be passed without its confirmation."""
    asked = RecordRequest.model_validate({"serial": "1", "confirmed": [{"line": "finish-leak", "by": "A"}]})
    filled = json.loads(desk.safety_record("flb-316-k", asked).model_dump_json())
    (answer,) = called(needed, MODULE, CALL, [[filled, {}]])
    assert "filled in already" in answer["error"]["message"]


def test_over_http_and_from_a_plan(needed: Needed, client: TestClient, desk: Desk) -> None:
    address = "/v1/models/flb-316-k/safety-record"
    entered = {
        "readings": [{"quantity": "earth-continuity", "value": 120, "unit": "mohm", "note": "rear cover"}],
        "confirmed": [{"line": "finish-leak", "by": "A. Technician, L-1"}],
    }
    done = ["compressor", "recover-refrigerant"]
    blank = client.get(address, params={"serial": "1", "done": done}).json()
    (answer,) = called(needed, MODULE, CALL, [[blank, entered]])
    sent = client.post(address, json={**entered, "done": done, "serial": "1"})
    assert plain(json.dumps(answer["value"])) == plain(sent.text)

    plan = desk.removal_plan("flb-316-k", PlanRequest(reach=["compressor"], serial="1"))
    assert plan.record is not None
    (answer,) = called(needed, MODULE, CALL, [[json.loads(plan.record.model_dump_json()), entered]])
    lines = {line["id"]: line for line in answer["value"]["lines"]}
    assert lines["earth-continuity"]["readings"][0]["verdict"] == "pass"
    assert lines["finish-leak"]["verdict"] == "pass"
    assert answer["value"]["verdict"] == "not_measured"
