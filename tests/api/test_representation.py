"""Media types, entity tags and headers of the answers."""

from __future__ import annotations

import pytest
from fastapi.testclient import TestClient

from firstoff.answers.desk import Desk
from firstoff.api.application import create_app
from firstoff.api.representation import JSON, JSON_LD, chosen
from firstoff.collection.opening import Opened
from firstoff.errors import NotAcceptable
from firstoff.settings import Settings
from firstoff_contract.catalogue import ModelList
from firstoff_contract.removal import PlanRequest, RemovalPlan
from support.problems import assert_problem

ADDRESS = "/v1/models/tgd27-460-s/isolation?touch=drive-motor"


@pytest.mark.parametrize(
    ("accept", "expected"),
    [
        ("", JSON),  # nothing said
        ("*/*", JSON),
        ("application/*", JSON),
        ("application/ld+json", JSON_LD),
        ("application/json;q=0.5, application/ld+json", JSON_LD),  # weights (RFC 9110, 12.4.2)
        ("application/ld+json;q=0.5, */*", JSON),  # the more specific range has its own weight
        ("text/html, application/xhtml+xml, */*;q=0.8", JSON),  # a browser
        ("APPLICATION/JSON", JSON),
    ],
)
def test_chosen(accept: str, expected: str) -> None:
    assert chosen(accept) == expected


@pytest.mark.parametrize("accept", ["text/turtle", "application/json;q=0", "*/*;q=0", ";;;"])
def test_not_offered(accept: str) -> None:
    with pytest.raises(NotAcceptable):
        chosen(accept)


def test_not_acceptable_is_a_problem(client: TestClient) -> None:
    assert_problem(client.get(ADDRESS, headers={"accept": "text/turtle"}), 406, "not-acceptable")


def test_headers_of_an_answer(client: TestClient) -> None:
    response = client.get(ADDRESS)
    assert response.status_code == 200
    assert response.headers["content-type"] == JSON
    assert response.headers["cache-control"] == "no-cache"
    assert response.headers["vary"] == "Accept, Accept-Language, Accept-Encoding"
    assert response.headers["etag"].startswith('"')


def test_known_tag_is_answered_without_a_body(client: TestClient) -> None:
    tag = client.get(ADDRESS).headers["etag"]
    assert client.get(ADDRESS, headers={"if-none-match": "*"}).status_code == 304
    for sent in (tag, f'"other", {tag}', f"W/{tag}"):
        response = client.get(ADDRESS, headers={"if-none-match": sent})
        assert response.status_code == 304, sent
        assert response.content == b""
        assert response.headers["etag"] == tag
    assert client.get(ADDRESS, headers={"if-none-match": '"other"'}).status_code == 200


def test_tag_depends_on_address_representation_and_settings(
    client: TestClient, opened: Opened, settings: Settings
) -> None:
    tags = {
        client.get(ADDRESS).headers["etag"],
        client.get(ADDRESS, headers={"accept": JSON_LD}).headers["etag"],
        client.get(ADDRESS + "&touch=drum").headers["etag"],
    }
    other = Settings(data=settings.data, safe_volts=34.0, safe_volts_standard="IEC 60335-1, 22.5 (from memory)")
    with TestClient(create_app(opened, other)) as second:
        tags.add(second.get(ADDRESS).headers["etag"])
    assert len(tags) == 4
    assert client.get(ADDRESS).headers["etag"] in tags


def test_repeated_answer_is_the_same(client: TestClient) -> None:
    first, second = client.get(ADDRESS), client.get(ADDRESS)
    assert first.content == second.content
    assert first.headers["etag"] == second.headers["etag"]


def test_errors_carry_no_tag(client: TestClient) -> None:
    response = client.get("/v1/models/none-such")
    assert "etag" not in response.headers


def test_head_has_the_headers_and_no_body(client: TestClient) -> None:
    response = client.head(ADDRESS)
    assert response.status_code == 200
    assert response.headers["etag"] == client.get(ADDRESS).headers["etag"]


def test_json_ld_is_the_same_answer_with_its_context(client: TestClient) -> None:
    plain = client.get(ADDRESS).json()
    response = client.get(ADDRESS, headers={"accept": JSON_LD})
    assert response.headers["content-type"] == JSON_LD
    linked = response.json()
    context = client.get(linked.pop("@context"))
    assert context.headers["content-type"] == JSON_LD
    assert "@vocab" in context.json()["@context"]
    assert linked.pop("@id") == ADDRESS.partition("?")[0]
    assert linked == plain


def test_posted_answer_can_be_json_ld(client: TestClient) -> None:
    response = client.post(
        "/v1/models/tgd27-460-s/removal-plan", json={"reach": ["lint-filter"]}, headers={"accept": JSON_LD}
    )
    assert response.status_code == 200
    assert "@context" in response.json()


@pytest.mark.parametrize(("cache_bytes", "computed"), [(64_000_000, 3), (0, 6)])
def test_answers_are_kept_within_bounds(
    opened: Opened, settings: Settings, monkeypatch: pytest.MonkeyPatch, cache_bytes: int, computed: int
) -> None:
    asked: list[str | None] = []
    plain = Desk.models

    def counting(desk: Desk, number: str | None, offset: int, limit: int) -> ModelList:
        asked.append(number)
        return plain(desk, number, offset, limit)

    monkeypatch.setattr(Desk, "models", counting)
    with TestClient(create_app(opened, Settings(data=settings.data, cache_bytes=cache_bytes))) as client:
        addresses = [f"/v1/models?limit={limit}" for limit in (1, 2, 3)]
        first = [client.get(address).json() for address in addresses]
        assert [client.get(address).json() for address in addresses] == first
    assert len(asked) == computed


POSTED = "/v1/models/tgd27-460-s/removal-plan"


def test_posted_questions_are_kept_by_their_bodies(
    opened: Opened, settings: Settings, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[PlanRequest] = []
    plain = Desk.removal_plan

    def counting(desk: Desk, model: str, request: PlanRequest) -> RemovalPlan:
        asked.append(request)
        return plain(desk, model, request)

    monkeypatch.setattr(Desk, "removal_plan", counting)
    bodies = [{"reach": ["lint-filter"]}, {"reach": ["drum-belt"]}, {"reach": ["lint-filter"], "off": ["top-panel"]}]
    with TestClient(create_app(opened, Settings(data=settings.data))) as client:
        first = [client.post(POSTED, json=body).json() for body in bodies]
        again = [client.post(POSTED, json=body) for body in bodies]
        assert [each.json() for each in again] == first
        assert len(asked) == len(bodies)
        assert "etag" not in again[0].headers
        assert again[0].headers["cache-control"] == "no-cache"
        linked = client.post(POSTED, json=bodies[0], headers={"accept": JSON_LD})
        assert linked.headers["content-type"] == JSON_LD
        assert len(asked) == len(bodies) + 1  # each media type has its own


def test_a_posted_question_in_another_media_type_is_not_answered_from_what_is_kept(client: TestClient) -> None:
    body = b'{"reach": ["lint-filter"]}'
    assert client.post(POSTED, content=body, headers={"content-type": JSON}).status_code == 200
    assert client.post(POSTED, content=body, headers={"content-type": "text/plain"}).status_code == 422


def test_a_refused_question_is_refused_each_time(client: TestClient) -> None:
    for _ in range(2):
        assert_problem(client.post(POSTED, json={"reach": ["no-such-part"]}), 404, "not-found")
