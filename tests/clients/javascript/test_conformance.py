"""Every conformance case, asked by the client's own methods of the real service: the same answer, the same problem."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parents[3]
CASES = [
    (file.stem, case["name"])
    for file in sorted((ROOT / "shared" / "conformance").glob("*.json"))
    for case in json.loads(file.read_text(encoding="utf-8"))
    if case["request"]["method"] in ("GET", "POST")  # the client neither publishes nor withdraws
]


@pytest.fixture(scope="module")
def results(node: Callable[..., Any], service: str) -> dict[tuple[str, str], tuple[str, str]]:
    """By subject and name: the method that asked, and what differs."""
    done = node(Path(__file__).with_name("conformance.mjs"), service)
    assert done.returncode == 0, done.stderr
    return {(subject, name): (by, wrong) for subject, name, by, wrong in json.loads(done.stdout)}


@pytest.mark.parametrize(("subject", "name"), CASES, ids=[f"{subject}-{name}" for subject, name in CASES])
def test_case(results: dict[tuple[str, str], tuple[str, str]], subject: str, name: str) -> None:
    _, wrong = results[subject, name]
    assert not wrong


def test_cases_go_through_the_methods(results: dict[tuple[str, str], tuple[str, str]]) -> None:
    """Only what speaks of the protocol, or has no method, is asked for by get and post."""
    by = [method for method, _ in results.values()]
    assert len(by) == len(CASES)
    assert len(set(by) - {"get", "post"}) > 25
    plain = {name for (_, name), (method, _) in results.items() if method in ("get", "post")}
    spoken = {name for subject, name in CASES if subject == "protocol"}
    assert len(plain - spoken) < 10, plain - spoken
