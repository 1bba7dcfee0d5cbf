"""Header fields of every answer, whatever made it; pages of other origins where they are let in, and only there."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from fastapi.testclient import TestClient

from firstoff.api.application import create_app
from firstoff.api.phone_routes import CONTENT_SECURITY_POLICY
from firstoff.collection.opening import Opened
from firstoff.settings import Settings

SHOP = "https://shop.example"
DATA = "default-src 'none'; frame-ancestors 'none'"

#: method, address, status, policy where it is another than that of data
ANSWERS = [
    ("GET", "/v1/models", 200, DATA),
    ("GET", "/v1/models/none", 404, DATA),
    ("GET", "/nothing", 404, DATA),
    ("DELETE", "/v1/models", 405, DATA),
    ("GET", f"/v1/models?q={'x' * 20_000}", 414, DATA),
    ("POST", "/v1/outcomes", 403, DATA),
    ("GET", "/healthz", 200, DATA),
    ("GET", "/openapi.json", 200, DATA),
    ("GET", "/favicon.ico", 204, DATA),
    ("GET", "/", 200, CONTENT_SECURITY_POLICY),
    ("GET", "/phone/main.js", 200, CONTENT_SECURITY_POLICY),
    ("GET", "/addresses", 200, "style-src 'sha256-"),
    ("GET", "/v1/models/tgd27-460-s/job-sheet?reach=drum-belt", 200, "style-src 'sha256-"),
    ("GET", "/v1/models/tgd27-460-s/removal-plan/picture?reach=drum-belt", 200, "style-src 'sha256-"),
]


@pytest.mark.parametrize(("method", "address", "status", "policy"), ANSWERS, ids=lambda each: str(each)[:40])
def test_every_answer_says_what_a_browser_may_do_with_it(
    client: TestClient, method: str, address: str, status: int, policy: str
) -> None:
    answer = client.request(method, address)
    assert answer.status_code == status
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert answer.headers["referrer-policy"] == "no-referrer"
    assert answer.headers["cross-origin-resource-policy"] == "same-origin"
    assert policy in answer.headers["content-security-policy"]
    assert "'unsafe" not in answer.headers["content-security-policy"]
    for name in ("x-content-type-options", "referrer-policy", "content-security-policy"):
        assert len(answer.headers.get_list(name)) == 1
    assert "strict-transport-security" not in answer.headers
    assert "access-control-allow-origin" not in answer.headers


def test_an_error_nobody_expected_says_it_too(opened: Opened, monkeypatch: pytest.MonkeyPatch) -> None:
    app = create_app(opened, Settings(hsts_seconds=60))
    with TestClient(app, raise_server_exceptions=False) as service, monkeypatch.context() as patch:
        patch.setattr(app.state, "desk", None)
        answer = service.get("/v1/models/tgd27-460-s")
    assert answer.status_code == 500
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert answer.headers["content-security-policy"] == DATA
    assert answer.headers["strict-transport-security"] == "max-age=60"


def test_what_is_not_modified_keeps_the_policy_it_was_kept_with(client: TestClient) -> None:
    address = "/v1/models/tgd27-460-s/job-sheet?reach=drum-belt"
    tag = client.get(address).headers["etag"]
    answer = client.get(address, headers={"if-none-match": tag})
    assert answer.status_code == 304
    assert answer.headers.get("content-security-policy", "style-src").find("style-src") >= 0


@pytest.fixture(scope="module")
def shared(opened: Opened) -> Iterator[TestClient]:
    with TestClient(create_app(opened, Settings(cors_origins=(SHOP,), reading="open"))) as service:
        yield service


def test_a_page_of_an_origin_that_is_let_in_may_read(shared: TestClient) -> None:
    answer = shared.get("/v1/models", headers={"origin": SHOP})
    assert answer.headers["access-control-allow-origin"] == SHOP
    assert "Origin" in answer.headers["vary"]
    assert "ETag" in answer.headers["access-control-expose-headers"]
    assert "access-control-allow-credentials" not in answer.headers


@pytest.mark.parametrize(
    "origin", ["https://shop.example.org", "http://shop.example", "https://shop.example:8443", "null", "https://x"]
)
def test_no_other_page_may(shared: TestClient, origin: str) -> None:
    assert "access-control-allow-origin" not in shared.get("/v1/models", headers={"origin": origin}).headers
    asked = {"origin": origin, "access-control-request-method": "PUT"}
    assert "access-control-allow-origin" not in shared.options("/v1/models", headers=asked).headers


def test_a_page_asks_first_and_needs_no_key_for_that(opened: Opened) -> None:
    asked = {
        "origin": SHOP,
        "access-control-request-method": "POST",
        "access-control-request-headers": "authorization, content-type, idempotency-key",
    }
    with TestClient(create_app(opened, Settings(cors_origins=(SHOP,)))) as service:
        answer = service.options("/v1/outcomes", headers=asked)
    assert answer.status_code == 200
    assert answer.headers["access-control-allow-origin"] == SHOP
    assert "idempotency-key" in answer.headers["access-control-allow-headers"].lower()
    assert answer.headers["x-content-type-options"] == "nosniff"
