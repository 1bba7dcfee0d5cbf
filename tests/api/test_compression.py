"""Answers compressed for whom accepts it: the same answer, with an ETag of its own."""

from __future__ import annotations

import gzip

import pytest
from fastapi.testclient import TestClient

from firstoff.api import compression
from firstoff.api.application import create_app
from firstoff.api.compression import LEAST_BYTES, accepted
from firstoff.collection.opening import Opened
from firstoff.settings import Settings

PLAN = "/v1/models/tgd27-460-s/removal-plan?reach=drum-belt"
SMALL = "/v1/models?number=tgd27-460-s"
GZIP, PLAIN = {"accept-encoding": "gzip"}, {"accept-encoding": "identity"}


@pytest.mark.parametrize(
    ("header", "expected"),
    [
        (None, False),  # nothing said: any would do (RFC 9110, 12.5.3), but who does not ask may not understand
        ("", False),
        ("gzip", True),
        ("GZIP", True),
        ("x-gzip", True),  # the same by an old name (8.4.1.3)
        ("gzip, deflate, br", True),
        ("br;q=1.0, gzip;q=0.8, *;q=0.1", True),
        ("*", True),
        ("*;q=0", False),
        ("gzip;q=0", False),
        ("gzip;q=0, *", False),  # the more specific holds
        ("gzip;q=0.5, identity;q=0.8", False),
        ("gzip;q=0.5, identity;q=0.5", True),
        ("identity", False),
        ("deflate", False),
        ("gzip;q=much", False),
        ("gzip;q=nan", False),
        (",;,;q=1", False),
    ],
)
def test_accepted(header: str | None, expected: bool) -> None:
    assert accepted(header) is expected


@pytest.mark.parametrize(
    "address",
    [
        PLAN,
        "/v1/models/tgd27-460-s/pocket",
        "/v1/models/tgd27-460-s/job-sheet?reach=drum-belt",
        "/v1/models/tgd27-460-s/supply-picture",
        "/openapi.json",
        "/ontology",
    ],
)
def test_compressed_is_the_same_answer(client: TestClient, address: str) -> None:
    plain, packed = client.get(address, headers=PLAIN), client.get(address, headers=GZIP)
    assert "content-encoding" not in plain.headers
    assert packed.headers["content-encoding"] == "gzip"
    assert packed.content == plain.content
    assert int(packed.headers["content-length"]) < len(plain.content) / 2
    assert packed.headers["content-type"] == plain.headers["content-type"]
    for response in (plain, packed):
        assert "Accept-Encoding" in response.headers["vary"]


@pytest.mark.parametrize("address", [PLAN, "/ontology"])
def test_each_form_has_its_own_strong_tag(client: TestClient, address: str) -> None:
    plain, packed = client.get(address, headers=PLAIN), client.get(address, headers=GZIP)
    tags = plain.headers["etag"], packed.headers["etag"]
    assert tags[0] != tags[1]
    assert all(tag.startswith('"') and tag.endswith('"') for tag in tags)


@pytest.mark.parametrize("address", [PLAN, "/ontology"])
def test_what_the_client_has_is_not_sent_again(client: TestClient, address: str) -> None:
    plain = client.get(address, headers=PLAIN).headers["etag"]
    packed = client.get(address, headers=GZIP).headers["etag"]
    for accepts, sent, told in (
        (GZIP, packed, packed),
        (GZIP, f'"other", {packed}', packed),
        (GZIP, f"W/{packed}", packed),
        (GZIP, f"{plain}, {packed}", packed),
        (GZIP, plain, plain),  # the plain form would do too, and the client has it
        (PLAIN, plain, plain),
    ):
        response = client.get(address, headers={**accepts, "if-none-match": sent})
        assert (response.status_code, response.content) == (304, b""), sent
        assert response.headers["etag"] == told
        assert "Accept-Encoding" in response.headers["vary"]
        assert "content-encoding" not in response.headers
    for accepts, sent in ((PLAIN, packed), (GZIP, '"other"'), (GZIP, '"other-gzip"')):
        assert client.get(address, headers={**accepts, "if-none-match": sent}).status_code == 200, sent


@pytest.mark.parametrize("address", [PLAN, "/ontology", SMALL, "/openapi.json"])
@pytest.mark.parametrize("accepts", [GZIP, PLAIN])
def test_head_says_what_get_says(client: TestClient, address: str, accepts: dict[str, str]) -> None:
    got, head = client.get(address, headers=accepts), client.head(address, headers=accepts)
    assert head.status_code == 200
    apart = ("content-length", "x-request-id")
    told = {name: value for name, value in head.headers.items() if name not in apart}
    assert told == {name: value for name, value in got.headers.items() if name not in apart}
    assert head.headers.get("content-length", got.headers["content-length"]) == got.headers["content-length"]


def test_small_answers_and_problems_stay_as_they_are(client: TestClient) -> None:
    for address in ("/healthz", "/v1/models/none-such", SMALL):
        response = client.get(address, headers=GZIP)
        assert len(response.content) < LEAST_BYTES
        assert "content-encoding" not in response.headers, address
    assert "Accept-Encoding" in client.get(SMALL, headers=GZIP).headers["vary"]


def test_posted_answers_are_compressed(client: TestClient) -> None:
    address, asked = PLAN.partition("?")[0], {"reach": ["drum-belt"]}
    plain, packed = (client.post(address, json=asked, headers=each) for each in (PLAIN, GZIP))
    assert packed.headers["content-encoding"] == "gzip"
    assert packed.json() == plain.json()


def test_graphs_keep_the_tag_that_a_save_sends_back(client: TestClient) -> None:
    plain, other = (client.get("/v1/graphs/tolvane-galewood", headers=each) for each in (PLAIN, GZIP))
    assert plain.status_code == 200
    assert other.headers["etag"] == plain.headers["etag"]
    assert "content-encoding" not in other.headers


@pytest.mark.parametrize(("cache_bytes", "compressed"), [(64_000_000, 1), (0, 3)])
def test_compressed_answers_are_kept_within_bounds(
    opened: Opened, monkeypatch: pytest.MonkeyPatch, cache_bytes: int, compressed: int
) -> None:
    made = []

    def counting(body: bytes, level: int, *, mtime: int) -> bytes:
        made.append(len(body))
        return gzip.compress(body, level, mtime=mtime)

    monkeypatch.setattr(compression, "gzip", type("counted", (), {"compress": staticmethod(counting)}))
    with TestClient(create_app(opened, Settings(cache_bytes=cache_bytes))) as client:
        bodies = {client.get(PLAN, headers=GZIP).content for _ in range(3)}
    assert len(bodies) == 1
    assert len(made) == compressed


def test_the_same_tag_is_the_same_bytes(opened: Opened) -> None:
    """A strong ETag promises that, whichever process compressed."""
    sent = set()
    for _ in range(2):
        with TestClient(create_app(opened, Settings())) as client, client.stream("GET", PLAN, headers=GZIP) as response:
            sent.add((response.headers["etag"], b"".join(response.iter_raw())))
    assert len(sent) == 1
