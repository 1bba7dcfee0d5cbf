"""Walks from what the customer says to a repaired machine: one step after another, with one fault at work.

What a check shows is what the content says that the fault shows, the likeliest where there are several.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from fastapi.testclient import TestClient

from firstoff.appliance.model import Appliance
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


def start_with(kind: str, found: str) -> dict[str, list[str]]:
    """What is told at the beginning: a symptom, or a code."""
    return {"codes" if kind == "code" else "symptoms": [found]}


def asking(client: TestClient, model: str) -> Ask:
    """Asks the service over HTTP; what was asked before is not asked again."""
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

    return ask
