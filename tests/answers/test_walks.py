"""From what the customer says to a repaired machine, over HTTP and at a terminal.

Words lead by search to a symptom or a code, that to the next check, its outcome to the next, until a remedy ends the
fault that is at work or help is called. ``tests/benchmarks/walks.py`` walks every fault.
"""

from __future__ import annotations

import json
import subprocess
import sys
from typing import Any

import pytest
from fastapi.testclient import TestClient

from firstoff.collection.opening import Opened
from support.walks import ENTRIES, SERIAL, asking, start_with, walk

#: Of the faults that do not explain the complaint one in so many is walked here.
ONE_IN = 12


@pytest.mark.parametrize(("words", "model", "kind", "found"), ENTRIES, ids=[each[0] for each in ENTRIES])
def test_a_fault_is_ended_or_help_is_called(
    client: TestClient, opened: Opened, words: str, model: str, kind: str, found: str
) -> None:
    hits = client.get("/v1/search", params={"q": words, "model": model, "serial": SERIAL}).json()["hits"]
    assert (hits[0]["kind"], hits[0]["id"]) == (kind, found)
    appliance = opened.collection.appliances(model, SERIAL)[0]
    ask = asking(client, model)
    first = ask({**start_with(kind, found), "outcomes": [], "tried": [], "serial": SERIAL})["next"]
    assert first["kind"] == "check"
    assert first["instruction"]
    assert len(first["then"]) > 1
    explaining = {each.id for each in appliance.faults.values() if found in {effect.symptom for effect in each.effects}}
    explaining |= appliance.codes[found].faults if kind == "code" else frozenset()
    assert len(explaining) > 3
    others = sorted(appliance.faults.keys() - explaining)
    for fault in sorted(explaining)[::4] + others[::ONE_IN]:
        walked = walk(ask, appliance, fault, start_with(kind, found))
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

    walked = walk(ask, appliance, fault, start_with(kind, found))
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
