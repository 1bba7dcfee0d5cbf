"""The conformance cases: every one is what the service answers now, and together they touch every address to read."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest
from fastapi.testclient import TestClient

from firstoff.api.conformance import answered, cases, written
from firstoff.api.conformance_questions import SUBJECTS, Question

FOLDER = Path(__file__).resolve().parents[2] / "shared" / "conformance"
REWRITE = "Run `python -m firstoff.api.conformance` and look at what changed."
ALL = [(subject, place) for subject in SUBJECTS for place in range(len(SUBJECTS[subject]))]


def kept(subject: str) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = json.loads((FOLDER / f"{subject}.json").read_text(encoding="utf-8"))
    return found


@pytest.mark.parametrize(("subject", "place"), ALL, ids=[f"{subject}-{place}" for subject, place in ALL])
def test_case_is_what_the_service_answers(client: TestClient, subject: str, place: int) -> None:
    asked = cases(subject)[place]
    assert answered(client, subject, asked) == kept(subject)[place], REWRITE


def test_every_subject_has_a_file_and_every_file_its_subject() -> None:
    assert {file.stem for file in FOLDER.glob("*.json")} == set(SUBJECTS)
    for subject in SUBJECTS:
        assert [case["name"] for case in kept(subject)] == list(SUBJECTS[subject]), REWRITE
        assert (FOLDER / f"{subject}.json").read_text(encoding="utf-8") == written(kept(subject)), REWRITE


def test_every_address_to_read_has_a_case_that_is_answered(client: TestClient) -> None:
    paths = client.get("/openapi.json").json()["paths"]
    read = [path for path, methods in paths.items() if "get" in methods and path.startswith("/v1/")]
    asked = [case["request"]["path"] for s in SUBJECTS for case in kept(s) if case["answer"]["status"] == 200]
    for path in read:
        if "/graphs" in path or path.endswith(".jsonld"):  # what authors keep depends on when they kept it
            continue
        pattern = re.compile(re.sub(r"\{\w+\}", "[^/]+", path))
        assert any(pattern.fullmatch(each) for each in asked), path


def test_cases_stay_small_enough_to_ship() -> None:
    assert sum(file.stat().st_size for file in FOLDER.glob("*.json")) < 3_000_000


def test_an_answer_that_may_not_be_kept_is_no_case(client: TestClient, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(SUBJECTS, "models", {"versions": Question("/v1/graphs")})
    with pytest.raises(ValueError, match="no case"):
        answered(client, "models", cases("models")[0])
