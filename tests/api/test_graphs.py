"""Authoring over HTTP: platforms as RDF, drafts checked, versions published, saved over, restored and withdrawn."""

from __future__ import annotations

import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pyoxigraph as ox
import pytest
from fastapi.testclient import TestClient

from firstoff.api.application import create_app
from firstoff.api.graph_routes import WORKBOOK
from firstoff.authoring.importing import exported, write_tables
from firstoff.authoring.rdf_documents import RDF_TYPES
from firstoff.collection.opening import open_content
from firstoff.collection.shelf import Shelf
from firstoff.settings import Settings
from firstoff.store.revision import text_revision
from support.keys import key_file
from support.problems import assert_problem
from support.small_platform import TURTLE

BOX = "/v1/graphs/small-box"
KEY, OTHER = "a key for the bench", "a key for the van"
SLOWER = TURTLE.replace("fo:minutesOut ", "fo:minutesOut 1", 1)
TEXT = {"content-type": "text/turtle"}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "small-box.ttl").write_text(TURTLE, encoding="utf-8")
    return tmp_path


@pytest.fixture
def service(folder: Path) -> Iterator[TestClient]:
    keys = key_file(folder / "keys", {"bench": (KEY, "publish"), "van": (OTHER, "publish")})
    settings = Settings(data=folder, keys=keys, refresh_seconds=0.05)
    with TestClient(create_app(open_content(folder), settings)) as client:
        yield client


def headers(key: str = KEY, **more: str) -> dict[str, str]:
    return {"authorization": f"Bearer {key}", **TEXT, **{name.replace("_", "-"): text for name, text in more.items()}}


def put(service: TestClient, text: str, key: str = KEY, why: str = "for a test", **more: str) -> Any:
    return service.put(BOX, content=text.encode(), params={"why": why}, headers=headers(key, **more))


# --- reading ----------------------------------------------------------------------------------------------


def test_the_text_as_it_was_published(service: TestClient) -> None:
    answer = service.get(BOX)
    assert answer.text == TURTLE
    assert answer.headers["content-type"].startswith("text/turtle")
    assert answer.headers["etag"] == f'"{text_revision(TURTLE)}"'
    head = service.head(BOX)
    assert (head.status_code, head.content, head.headers["etag"]) == (200, b"", answer.headers["etag"])
    again = service.get(BOX, headers={"if-none-match": answer.headers["etag"]})
    assert (again.status_code, again.content) == (304, b"")


@pytest.mark.parametrize("media", RDF_TYPES)
def test_every_representation_says_the_same(service: TestClient, media: str) -> None:
    answer = service.get(BOX, headers={"accept": media})
    assert answer.headers["content-type"].startswith(media)
    form = ox.RdfFormat.from_media_type(media)
    found = ox.Dataset(ox.parse(answer.content, format=form))
    wanted = ox.Dataset(ox.parse(TURTLE.encode(), format=ox.RdfFormat.TURTLE))
    for each in (found, wanted):
        each.canonicalize(ox.CanonicalizationAlgorithm.UNSTABLE)
    assert found == wanted


def test_a_representation_that_is_not_offered(service: TestClient) -> None:
    assert_problem(service.get(BOX, headers={"accept": "image/png"}), 406, "not-acceptable")


def test_unknown_platforms_and_versions(service: TestClient) -> None:
    for address in ("/v1/graphs/no-box", "/v1/graphs/no-box/versions", "/v1/graphs/no-box/provenance"):
        assert assert_problem(service.get(address), 404, "not-found")["nearest"] == ["small-box"]
    assert_problem(service.get(f"{BOX}/versions/7"), 404, "not-found")
    assert_problem(service.get(f"{BOX}/difference?before=7"), 404, "not-found")
    assert_problem(service.get("/v1/graphs/Small%20Box"), 422, "bad-request")


# --- who may publish --------------------------------------------------------------------------------------


def test_it_is_off_until_a_key_is_set_up(folder: Path) -> None:
    with TestClient(create_app(open_content(folder), Settings(data=folder))) as keyless:
        for answer in (
            put(keyless, SLOWER, if_match="*"),
            keyless.delete(BOX, params={"why": "x"}, headers=headers(if_match="*")),
            keyless.post("/v1/graphs/check", content=TURTLE, headers=headers()),
        ):
            assert "FIRSTOFF_KEYS" in assert_problem(answer, 403, "writing-off")["mend"]
        assert keyless.get("/v1/graphs").status_code == 200


@pytest.mark.parametrize("sent", [{}, {"authorization": "Bearer wrong"}, {"authorization": "Basic a2V5Og=="}])
def test_without_a_key_that_is_known(service: TestClient, sent: dict[str, str]) -> None:
    answer = service.put(BOX, content=SLOWER, params={"why": "x"}, headers={**TEXT, "if-match": "*", **sent})
    assert_problem(answer, 401, "key-needed")
    assert answer.headers["www-authenticate"].startswith("Bearer")
    assert service.get(BOX).text == TURTLE


# --- publishing -------------------------------------------------------------------------------------------


def test_published_and_served(service: TestClient) -> None:
    posted = {"reach": ["lamp"]}
    before = service.get("/v1/models/box-10").json()["revision"]
    was = service.post("/v1/models/box-10/removal-plan", json=posted).json()
    tag = service.get(BOX).headers["etag"]
    answer = put(service, SLOWER, if_match=tag, why="Timed on the bench.")
    assert answer.status_code == 200, answer.text
    assert answer.headers["etag"] == f'"{text_revision(SLOWER)}"'
    done = answer.json()
    assert (done["version"]["who"], done["version"]["why"]) == ("bench", "Timed on the bench.")
    assert [each["id"] for each in done["models"]] == ["box-10", "box-20"]
    assert any("minutes out" in sentence for each in done["differences"] for sentence in each["sentences"])
    after = service.get("/v1/models/box-10").json()["revision"]
    assert after != before
    now = service.post("/v1/models/box-10/removal-plan", json=posted).json()
    assert (was["revision"], now["revision"]) == (before, after)
    assert service.get(BOX).text == SLOWER
    assert service.get(f"{BOX}/versions/1").text == TURTLE
    kept = service.get(f"{BOX}/versions").json()["versions"]
    assert [(each["number"], each["act"], each["who"]) for each in kept] == [
        (1, "found", ""),
        (2, "published", "bench"),
    ]
    told = service.get(f"{BOX}/difference?before=1").json()["differences"]
    assert told == done["differences"]
    assert "bench" in service.get(f"{BOX}/provenance").text


def test_a_new_platform_is_created_once(service: TestClient) -> None:
    other = TURTLE.replace("platform/small-box", "platform/big-box").replace("model/box-", "model/big-")
    other = other.replace('"BOX ', '"BIG ')
    sent = {"content": other, "params": {"why": "new"}, "headers": headers(if_none_match="*")}
    assert service.put("/v1/graphs/big-box", **sent).status_code == 201
    assert_problem(service.put("/v1/graphs/big-box", **sent), 412, "stale")
    assert {each["platform"] for each in service.get("/v1/graphs").json()["graphs"]} == {"small-box", "big-box"}


def test_saving_over_what_another_author_saved(service: TestClient) -> None:
    tag = service.get(BOX).headers["etag"]
    put(service, SLOWER, if_match=tag)
    answer = put(service, TURTLE + "# mine\n", key=OTHER, if_match=tag)
    problem = assert_problem(answer, 412, "stale")
    assert any("minutes out" in each for each in problem["changed"])
    assert answer.headers["etag"] == f'"{text_revision(SLOWER)}"'
    assert service.get(BOX).text == SLOWER
    tag = service.get(BOX, headers={"accept": "application/ld+json"}).headers["etag"]
    assert put(service, TURTLE, key=OTHER, if_match=tag).status_code == 200


def test_it_must_be_said_which_version_is_replaced(service: TestClient) -> None:
    assert_problem(put(service, SLOWER), 428, "precondition-needed")
    assert_problem(put(service, SLOWER, if_none_match='"abc"'), 428, "precondition-needed")


def test_refused_as_a_whole_with_every_finding(service: TestClient) -> None:
    problem = assert_problem(
        put(service, TURTLE.replace("fo:status", "fo:state", 1), if_match="*"), 422, "content-refused"
    )
    assert {each["severity"] for each in problem["findings"]} >= {"error"}
    assert all(each["mend"] for each in problem["findings"])
    assert service.get(BOX).text == TURTLE
    assert service.get(f"{BOX}/versions").json()["versions"] == []


@pytest.mark.parametrize(
    ("content", "media", "status", "kind"),
    [
        (b"\xff\xfe", "text/turtle", 422, "bad-request"),
        (b"nonsense", "text/turtle", 422, "bad-request"),
        (b"", "text/turtle", 422, "bad-request"),
        (TURTLE.encode(), "application/json", 415, "unsupported-media"),
        (TURTLE.encode(), "", 415, "unsupported-media"),
        (b"PK no workbook", WORKBOOK, 422, "bad-request"),
        (TURTLE.replace("platform/small-box", "platform/big-box").encode(), "text/turtle", 422, "bad-request"),
    ],
)
def test_bodies_that_are_not_read(service: TestClient, content: bytes, media: str, status: int, kind: str) -> None:
    sent = headers(if_match="*") | {"content-type": media}
    assert_problem(service.put(BOX, content=content, params={"why": "x"}, headers=sent), status, kind)
    assert service.get(BOX).text == TURTLE


def test_no_reason_no_version(service: TestClient) -> None:
    assert_problem(put(service, SLOWER, why=" ", if_match="*"), 422, "bad-request")
    assert_problem(service.put(BOX, content=SLOWER, headers=headers(if_match="*")), 422, "invalid-request")


def test_a_body_too_large(folder: Path) -> None:
    keys = key_file(folder / "keys", {"bench": (KEY, "publish")})
    settings = Settings(data=folder, keys=keys, graph_bytes=len(TURTLE.encode()))
    with TestClient(create_app(open_content(folder), settings)) as service:
        assert_problem(put(service, TURTLE + "#", if_match="*"), 413, "body-too-large")
        assert put(service, TURTLE, if_match="*").status_code == 200


def test_withdrawn_and_restored(service: TestClient) -> None:
    put(service, SLOWER, if_match="*")
    answer = service.delete(BOX, params={"why": "sold out"}, headers=headers(if_match="*"))
    assert answer.json()["version"]["act"] == "withdrawn"
    assert_problem(service.get(BOX), 404, "not-found")
    assert service.get("/v1/models/box-10").status_code == 404
    back = service.post(f"{BOX}/versions/1/restore", params={"why": "back"}, headers=headers(OTHER, if_none_match="*"))
    assert (back.json()["version"]["restored"], back.json()["version"]["who"]) == (1, "van")
    assert service.get(BOX).text == TURTLE
    assert len(service.get(f"{BOX}/versions").json()["versions"]) == 4


def test_a_workbook_is_published(service: TestClient, tmp_path: Path) -> None:
    book = tmp_path / "box.xlsx"
    write_tables(exported(SLOWER, "small-box.ttl"), book)
    sent = headers(if_match="*") | {"content-type": WORKBOOK}
    answer = service.put(BOX, content=book.read_bytes(), params={"why": "from the workbook"}, headers=sent)
    assert answer.status_code == 200, answer.text
    assert any("minutes out" in line for each in answer.json()["differences"] for line in each["sentences"])


# --- checking ---------------------------------------------------------------------------------------------


def test_a_draft_beside_what_is_published(service: TestClient) -> None:
    answer = service.post("/v1/graphs/check", content=SLOWER, headers=headers()).json()
    assert answer["ok"]
    assert answer["complete"]
    assert answer["compared_with"] == text_revision(TURTLE)
    assert answer["differences"]
    assert any(change["plans"] for change in answer["models"])
    assert service.get(BOX).text == TURTLE


def test_a_draft_that_says_the_same_changes_nothing(service: TestClient) -> None:
    answer = service.post("/v1/graphs/check", content=TURTLE + "# again\n", headers=headers()).json()
    assert (answer["differences"], answer["models"]) == ([], [])


def test_a_broken_draft_is_told_with_its_findings(service: TestClient) -> None:
    answer = service.post("/v1/graphs/check", content=TURTLE.replace("fo:status", "fo:state", 1), headers=headers())
    assert answer.status_code == 200
    assert not answer.json()["ok"]
    assert answer.json()["findings"]


# --- what others publish ----------------------------------------------------------------------------------


def test_another_process_publishes_into_the_folder(service: TestClient, folder: Path) -> None:
    before = service.get("/v1/models").headers["etag"]
    other = Shelf(open_content(folder), folder)
    other.publish("small-box", SLOWER, over=["*"], who="jo", why="elsewhere")
    deadline = time.monotonic() + 30
    while service.get("/readyz").json()["revision"] != other.opened.collection.revision:
        assert time.monotonic() < deadline
        time.sleep(0.02)
    assert service.get("/v1/models").headers["etag"] != before
