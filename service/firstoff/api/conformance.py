"""Conformance cases: requests with what the service answers, for everything that speaks to it or answers in its place.

``python -m firstoff.api.conformance`` asks the service again and rewrites ``shared/conformance/*.json`` in a checkout.
A case is ``{"name", "request", "answer"}``. Of the request, ``path`` is as it is sent, values of ``query`` are plain
text, a list where a parameter repeats. Of the answer, ``body`` is JSON, or text where ``content_type`` is another;
``headers`` are there where the protocol promises them. With ``again``, the request sent once more with the answer's
ETag as ``If-None-Match`` has that answer.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import parse_qs

from firstoff.api.conformance_questions import SUBJECTS, Question

if TYPE_CHECKING:
    from fastapi.testclient import TestClient
    from httpx2 import Response

Case = dict[str, Any]


def cases(subject: str) -> list[Case]:
    """The requests of a subject, without answers."""
    found = []
    for name, asked in SUBJECTS[subject].items():
        question = Question(asked) if isinstance(asked, str) else asked
        path, _, query = question.address.partition("?")
        values = parse_qs(query, keep_blank_values=True)
        request = {"method": question.method, "path": path, "query": {k: _plain(v) for k, v in values.items()}}
        if question.headers:
            request["headers"] = question.headers
        if question.body is not None:
            request["body"] = question.body
        found.append({"name": name, "request": request})
    return found


def answered(client: TestClient, subject: str, case: Case) -> Case:
    """``case`` with what the service behind ``client`` answers.

    :raises ValueError: the answer depends on how busy the service is, and so may be no case.
    """
    asked = SUBJECTS[subject][case["name"]]
    kept, again = ((), False) if isinstance(asked, str) else (asked.kept, asked.again)
    response = _sent(client, case["request"], {})
    if response.headers.get("cache-control") == "no-store":
        raise ValueError(f"{subject}, {case['name']}: the answer may not be kept, so it is no case")
    full = {**case, "answer": _told(response, kept)}
    if again:
        full["again"] = _told(_sent(client, case["request"], {"if-none-match": response.headers["etag"]}), ())
    return full


def written(found: list[Case]) -> str:
    """A file of cases, one on a line, so that a difference shows which case it is in."""
    lines = ",\n".join(json.dumps(case, ensure_ascii=False, separators=(",", ":")) for case in found)
    return f"[\n{lines}\n]\n"


def rewrite(folder: Path) -> None:
    """Write a file for each subject into ``folder``, and take away files of subjects that are no more."""
    from fastapi.testclient import TestClient

    from firstoff.api.application import create_app
    from firstoff.collection.opening import open_content
    from firstoff.settings import Settings

    settings = Settings()
    folder.mkdir(parents=True, exist_ok=True)
    for old in folder.glob("*.json"):
        if old.stem not in SUBJECTS:
            old.unlink()
    with TestClient(create_app(open_content(settings.data), settings), follow_redirects=False) as client:
        for subject in SUBJECTS:
            found = [answered(client, subject, case) for case in cases(subject)]
            (folder / f"{subject}.json").write_text(written(found), encoding="utf-8")


def _plain(values: list[str]) -> str | list[str]:
    return values[0] if len(values) == 1 else values


def _sent(client: TestClient, request: Case, headers: dict[str, str]) -> Response:
    headers = {"accept": "*/*", **request.get("headers", {}), **headers}
    return client.request(
        request["method"], request["path"], params=request["query"], headers=headers, json=request.get("body")
    )


def _told(response: Response, kept: tuple[str, ...]) -> Case:
    content_type = response.headers.get("content-type")
    media = content_type.partition(";")[0] if content_type else None
    body = response.json() if media and media.endswith("json") else response.text or None
    told: Case = {"status": response.status_code, "content_type": media, "body": body}
    if kept:
        told["headers"] = {name: response.headers[name] for name in kept}
    return told


if __name__ == "__main__":
    rewrite(Path(__file__).resolve().parents[3] / "shared" / "conformance")
