"""The one assertion about error bodies."""

from __future__ import annotations

from typing import Any

from httpx2 import Response


def assert_problem(response: Response, status: int, kind: str) -> dict[str, Any]:
    """``response`` is a problem document (RFC 9457) of ``kind`` that says what is wrong and what to do."""
    assert response.status_code == status, response.text
    assert response.headers["content-type"] == "application/problem+json"
    body: dict[str, Any] = response.json()
    assert body["type"] == f"https://firstoff.example/problems/{kind}"
    assert body["status"] == status
    for member in ("title", "detail", "mend", "instance"):
        assert body[member].strip(), member
    assert "Traceback" not in response.text
    return body
