"""Every address asked with marked secrets, right and wrong ones: none comes back, none is in a log or in the trail."""

from __future__ import annotations

import json
import logging
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from api.test_access import operations
from firstoff.access.keys import key_digest
from firstoff.api.application import create_app
from firstoff.collection.opening import Opened
from firstoff.settings import Settings
from support.keys import key_file

RIGHT, WRONG = "mark-right-7d1e5a", "mark-wrong-4c9b02"
ASIDE = ("mark-cookie-19f3", "mark-query-e07a", "mark-body-5b66", "mark-header-aa10")
SECRETS = (RIGHT, WRONG, key_digest(RIGHT), key_digest(WRONG), *ASIDE)
HEADERS = {
    "cookie": f"session={ASIDE[0]}",
    "x-api-key": ASIDE[3],
    "proxy-authorization": f"Basic {ASIDE[3]}",
    "x-request-id": f"{ASIDE[3]} with blanks, so that it is no id",
    "idempotency-key": ASIDE[3],
    "if-match": f'"{ASIDE[3]}"',
    "referer": f"https://shop.example/?token={ASIDE[3]}",
    "content-type": "application/json",
}
BODY = json.dumps({"access_token": ASIDE[2], "model": "tgd27-460-s", "password": ASIDE[2]})


@pytest.mark.parametrize("reading", ["open", "key"])
def test_no_secret_comes_back_or_is_kept(
    opened: Opened, tmp_path: Path, caplog: pytest.LogCaptureFixture, reading: str
) -> None:
    keys = key_file(tmp_path / "keys", {"bench": (RIGHT, "read sparql publish outcomes metrics")})
    settings = Settings(keys=keys, state=tmp_path / "state", reading=reading, rate_failing=0, sparql_workers=0)
    app = create_app(opened, settings)
    told: list[str] = []
    with caplog.at_level(logging.DEBUG), TestClient(app, raise_server_exceptions=False) as service:
        every = [each for each in operations(app) if each[0] != "HEAD"]
        assert len(every) > 40
        for method, path in every:
            for key in (RIGHT, WRONG):
                answer = service.request(
                    method,
                    path,
                    params={"access_token": ASIDE[1], "key": ASIDE[1]},
                    headers={**HEADERS, "authorization": f"Bearer {key}"},
                    content=None if method == "GET" else BODY,
                )
                assert answer.status_code < 500 or path == "/sparql", (method, path, answer.text)
                told.append(f"{method} {path} {answer.headers!r} {answer.text}")
        told.append(service.get("/metrics", headers={"authorization": f"Bearer {RIGHT}"}).text)
    told += [
        record.getMessage() + repr(vars(record)) for record in caplog.records if record.name.startswith("firstoff")
    ]
    told.append((tmp_path / "state" / "audit.jsonl").read_text(encoding="utf-8"))
    told.append(repr(settings))
    assert any("refused" in each for each in told)
    for secret in SECRETS:
        assert [each[:300] for each in told if secret in each] == [], secret
