"""The conformance cases, answered without the service wherever that is computed and not looked up."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

from fastapi.testclient import TestClient

from support.node import called, plain

Needed = Callable[[object, str], None]
CONFORMANCE = Path(__file__).resolve().parents[3] / "shared" / "conformance"


def cases(subject: str) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = json.loads((CONFORMANCE / f"{subject}.json").read_text(encoding="utf-8"))
    return found


def names(told: str | list[str]) -> list[str]:
    """Names as they stand in a query, where they repeat or are joined by commas."""
    return [name for each in ([told] if isinstance(told, str) else told) for name in each.split(",")]


def test_live_points(needed: Needed, client: TestClient) -> None:
    """All that is asked with no part off and no fault assumed; of those that ask for some points, those points.

    Serial ranges that differ may still agree about some points: then there is no one pocket to take along.
    """
    kept, calls, expected = {}, [], []
    for case in cases("live-points"):
        query = case["request"]["query"]
        if {"off", "assume", "worst"} & query.keys() or case["answer"]["status"] != 200:
            continue
        address = case["request"]["path"].replace("live-points", "pocket")
        pocket = client.get(address, params={"serial": query["serial"]} if "serial" in query else {})
        if pocket.status_code == 409:
            assert "at" in query
            continue
        kept[address] = pocket.json()
        asked = {name: names(query[name]) for name in ("opened", "released") if name in query}
        calls.append([{"kept": address}, asked])
        expected.append(case)
    assert len(expected) > 15
    for case, answer in zip(
        expected, called(needed, "phone/offline/circuit.js", "livePoints", calls, kept), strict=True
    ):
        said, body = answer["value"], case["answer"]["body"]
        if "at" in case["request"]["query"]:
            shown = {point["id"] for point in body["points"]}
            said["points"] = [point for point in said["points"] if point["id"] in shown]
            said, body = ({**each, "bulletins": None} for each in (said, body))
        assert plain(json.dumps(said)) == plain(json.dumps(body)), case["name"]


def test_safety_record(needed: Needed, client: TestClient) -> None:
    calls, expected = [], []
    for case in cases("record"):
        if case["request"]["method"] != "POST" or case["answer"]["status"] != 200:
            continue
        asked = case["request"]["body"]
        query = {
            name: ",".join(asked[name]) if name == "done" else asked[name]
            for name in ("done", "serial")
            if name in asked
        }
        blank = client.get(case["request"]["path"], params=query).json()
        calls.append([blank, {name: asked[name] for name in ("readings", "confirmed") if name in asked}])
        expected.append(case)
    assert expected
    for case, answer in zip(expected, called(needed, "phone/offline/record.js", "judged", calls), strict=True):
        assert plain(json.dumps(answer["value"])) == plain(json.dumps(case["answer"]["body"])), case["name"]
