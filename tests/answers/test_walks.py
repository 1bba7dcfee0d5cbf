"""From what the customer says to a repaired machine: every fault of the machine, one step after another.

Words lead by search to a symptom or a code, that to the next check, its outcome to the next, until a remedy ends the
fault that is at work or help is called. What a check shows is what the content says that the fault shows.
"""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import pytest
from fastapi.testclient import TestClient

from firstoff.appliance.model import Appliance
from firstoff.collection.opening import Opened
from firstoff.diagnosis import confirming, guard
from firstoff.diagnosis.telling import outcome_probabilities

Ask = Callable[[dict[str, Any]], dict[str, Any]]
SERIAL = "1"
ENTRIES = (
    ("warm fridge but freezer ok", "flb-316-k", "symptom", "fridge-warm"),
    ("se para a mitad de ciclo", "mdr60-510-f", "symptom", "stops-midway"),
    ("Trommel dreht nicht", "tgd27-460-s", "symptom", "drum-does-not-turn"),
    ("E 3", "qmh60-420-n", "code", "code-e3"),
)


@dataclass(frozen=True, slots=True)
class Walk:
    """``end``: ``repaired`` or ``help``, with the checks made, the remedies tried, and the last answer."""

    end: str
    made: tuple[str, ...]
    tried: tuple[str, ...]
    answer: dict[str, Any]


def walk(ask: Ask, appliance: Appliance, fault: str, start: dict[str, list[str]]) -> Walk:
    """What a technician does who follows every step while ``fault`` is at work."""
    seen: list[dict[str, str]] = []
    tried: list[str] = []
    # One step more than there are checks and remedies: who takes that one goes round in circles.
    for _ in range(len(appliance.checks) + sum(len(each.remedies) for each in appliance.faults.values()) + 1):
        answer = ask({**start, "outcomes": seen, "tried": tried, "serial": SERIAL})
        step = answer["next"]
        made = tuple(each["check"] for each in seen)
        assert not answer["contradicted"], (fault, answer["said"])
        assert step["id"] not in (*made, *tried), f"{fault}: {step['id']} again"
        if step["kind"] == "help":
            return Walk("help", made, tuple(tried), answer)
        if step["kind"] == "remedy":
            _not_condemned(appliance, step["id"], frozenset(made))
            if step["id"] in {each.id for each in appliance.faults[fault].remedies}:
                return Walk("repaired", made, (*tried, step["id"]), answer)
            tried.append(step["id"])
        else:
            check = appliance.checks[step["id"]]
            given = outcome_probabilities(check, fault)
            shown = check.outcomes[given.index(max(given))].label
            seen.append({"check": check.id, "label": shown})
    raise AssertionError(f"{fault}: no end")


def _not_condemned(appliance: Appliance, remedy: str, made: frozenset[str]) -> None:
    ended = [fault.id for fault in appliance.faults.values() if remedy in {each.id for each in fault.remedies}]
    described = next(each for each in appliance.faults[ended[0]].remedies if each.id == remedy)
    if guard(appliance, described):
        assert made & frozenset[str]().union(*(confirming(appliance, fault) for fault in ended)), remedy


def _start(kind: str, found: str) -> dict[str, list[str]]:
    return {"codes" if kind == "code" else "symptoms": [found]}


@pytest.mark.parametrize(("words", "model", "kind", "found"), ENTRIES, ids=[each[0] for each in ENTRIES])
def test_every_fault_is_ended_or_help_is_called(
    client: TestClient, opened: Opened, words: str, model: str, kind: str, found: str
) -> None:
    hits = client.get("/v1/search", params={"q": words, "model": model, "serial": SERIAL}).json()["hits"]
    assert (hits[0]["kind"], hits[0]["id"]) == (kind, found)
    appliance = opened.collection.appliances(model, SERIAL)[0]
    answers: dict[str, dict[str, Any]] = {}

    def ask(body: dict[str, Any]) -> dict[str, Any]:
        # Findings weigh the same in any order, so that faults share the steps that they have in common.
        key = json.dumps(
            [sorted(each["check"] + "=" + each["label"] for each in body["outcomes"]), sorted(body["tried"])]
        )
        if key not in answers:
            response = client.post(f"/v1/models/{model}/diagnosis", json=body)
            assert response.status_code == 200, response.text
            answers[key] = response.json()
        return answers[key]

    first = ask({**_start(kind, found), "outcomes": [], "tried": [], "serial": SERIAL})["next"]
    assert first["kind"] == "check"
    assert first["instruction"]
    assert len(first["then"]) > 1
    explaining = {each.id for each in appliance.faults.values() if found in {effect.symptom for effect in each.effects}}
    explaining |= appliance.codes[found].faults if kind == "code" else frozenset()
    assert len(explaining) > 3
    for fault in appliance.faults:
        walked = walk(ask, appliance, fault, _start(kind, found))
        if walked.end == "help":
            # Described: said so, and the fault is still named among those that may be there.
            assert walked.answer["next"]["label"].startswith("Get help")
            assert fault in {each["id"] for each in walked.answer["faults"]}
            assert fault not in explaining
        assert len(walked.made) == len(set(walked.made))


@pytest.mark.parametrize("fault", ["fault-belt-broken", "fault-start-winding-open"])
def test_the_same_walk_at_a_terminal(opened: Opened, fault: str) -> None:
    """The belt is torn; or a winding of the motor is open, which is dear: a check confirms it first."""
    words, model, kind, found = ENTRIES[2]
    appliance = opened.collection.appliances(model, SERIAL)[0]
    hits = _firstoff("search", words, "--model", model, "--serial", SERIAL)["hits"]
    assert (hits[0]["kind"], hits[0]["id"]) == (kind, found)

    def ask(body: dict[str, Any]) -> dict[str, Any]:
        findings = [each for slug in body["symptoms"] for each in ("--symptom", slug)]
        findings += [each for seen in body["outcomes"] for each in ("--outcome", f"{seen['check']}={seen['label']}")]
        findings += [each for remedy in body["tried"] for each in ("--tried", remedy)]
        return _firstoff("diagnose", model, "--serial", SERIAL, *findings)

    walked = walk(ask, appliance, fault, _start(kind, found))
    assert walked.end == "repaired"
    assert walked.made


def _firstoff(*arguments: str) -> dict[str, Any]:
    done = subprocess.run(
        [sys.executable, "-m", "firstoff.cli", *arguments, "--json"],
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    answer: dict[str, Any] = json.loads(done.stdout)
    return answer
