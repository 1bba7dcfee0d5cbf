"""The job sheet and the picture over HTTP: media types, headers, tags and errors."""

from __future__ import annotations

from html import unescape

import pytest
from fastapi.testclient import TestClient

from firstoff.answers.desk import Desk
from firstoff.api.application import create_app
from firstoff.api.representation import HTML, JSON, JSON_LD, SVG, chosen, offered
from firstoff.collection.opening import Opened
from firstoff.errors import NotAcceptable
from firstoff.settings import Settings
from firstoff.sheet import content_security_policy, page_style, picture_style
from firstoff_contract.removal import PlanRequest
from support.problems import assert_problem

MODEL = "/v1/models/tgd27-460-s"
SHEET = f"{MODEL}/job-sheet?reach=drum-belt"
PICTURE = f"{MODEL}/removal-plan/picture?reach=drum-belt"
BOTH = pytest.mark.parametrize("address", [SHEET, PICTURE])


@pytest.mark.parametrize(
    ("path", "types"),
    [
        ("/v1/models/a/job-sheet", (HTML,)),
        ("/v1/models/a/removal-plan/picture", (SVG,)),
        ("/v1/models/a/removal-plan", (JSON, JSON_LD)),
        ("/v1/models/job-sheet", (JSON, JSON_LD)),  # a model of that name
        ("/v1/models/a/components/job-sheet", (JSON, JSON_LD)),  # a component of that name
        ("/v1/models/a/job-sheet/more", (JSON, JSON_LD)),
    ],
)
def test_what_an_address_offers(path: str, types: tuple[str, ...]) -> None:
    assert offered(path) == types


@pytest.mark.parametrize(
    ("accept", "types", "expected"),
    [
        ("", (HTML,), HTML),
        ("text/*", (HTML,), HTML),
        ("text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8", (HTML,), HTML),  # a browser
        ("image/avif,image/webp,image/*,*/*;q=0.8", (SVG,), SVG),  # a browser, for an image
        ("application/json", (HTML,), None),
        ("application/*", (HTML,), None),
        ("text/html;q=0", (HTML,), None),
        ("text/*", (JSON, JSON_LD), None),
    ],
)
def test_which_of_them_is_chosen(accept: str, types: tuple[str, ...], expected: str | None) -> None:
    if expected is None:
        with pytest.raises(NotAcceptable):
            chosen(accept, types)
    else:
        assert chosen(accept, types) == expected


def test_the_sheet_is_a_page(client: TestClient) -> None:
    response = client.get(SHEET, headers={"accept": "text/html"})
    assert response.status_code == 200
    assert response.headers["content-type"] == "text/html; charset=utf-8"
    assert "Replace: drum belt" in response.text
    assert response.headers["content-security-policy"] == content_security_policy(page_style())


def test_the_picture_is_an_image(client: TestClient) -> None:
    response = client.get(PICTURE, headers={"accept": "image/svg+xml"})
    assert response.status_code == 200
    assert response.headers["content-type"] == SVG
    assert response.text.startswith("<svg ")
    assert response.headers["content-security-policy"] == content_security_policy(picture_style())


@BOTH
def test_headers_are_those_of_other_answers(client: TestClient, address: str) -> None:
    for _ in ("computed", "kept"):
        response = client.get(address)
        assert response.headers["cache-control"] == "no-cache"
        assert response.headers["vary"] == "Accept, Accept-Language, Accept-Encoding"
        assert response.headers["content-language"] == "en"
        assert response.headers["x-content-type-options"] == "nosniff"
        assert "script" not in response.headers["content-security-policy"]
        tag = response.headers["etag"]
        again = client.get(address, headers={"if-none-match": tag})
        assert again.status_code == 304
        assert again.headers["etag"] == tag
    assert client.head(address).headers["etag"] == tag


@BOTH
@pytest.mark.parametrize("accept", ["application/json", "application/ld+json", "text/plain"])
def test_no_other_representation_is_offered(client: TestClient, address: str, accept: str) -> None:
    body = assert_problem(client.get(address, headers={"accept": accept}), 406, "not-acceptable")
    assert "Ask for text/html" in body["mend"] or "Ask for image/svg+xml" in body["mend"]


def test_the_plan_is_no_page(client: TestClient) -> None:
    assert_problem(
        client.get(f"{MODEL}/removal-plan?reach=drum-belt", headers={"accept": "text/html"}), 406, "not-acceptable"
    )


@pytest.mark.parametrize("place", ["job-sheet", "removal-plan/picture"])
def test_errors_are_those_of_the_plan(client: TestClient, place: str) -> None:
    assert_problem(client.get(f"{MODEL}/{place}"), 422, "bad-request")
    assert_problem(client.get(f"{MODEL}/{place}?reach=drum-bolt"), 404, "not-found")
    assert_problem(client.get(f"{MODEL}/{place}?reach=drum-belt&of=drum"), 422, "bad-request")
    assert_problem(client.get(f"{MODEL}/{place}?reach=wall-socket"), 422, "target-unreachable")
    assert_problem(client.get(f"/v1/models/flb-316-k/{place}?reach=evaporator-fan"), 409, "serial-needed")


def test_parameters_are_those_of_the_plan(client: TestClient) -> None:
    paths = client.get("/openapi.json").json()["paths"]
    base = "/v1/models/{model}"
    plan, sheet, image = (
        paths[f"{base}/{place}"]["get"]["parameters"] for place in ("removal-plan", "job-sheet", "removal-plan/picture")
    )
    assert {"reach", "off", "states", "tools", "minimise", "serial"} <= {each["name"] for each in plan}
    assert plan == sheet == image


def test_off_and_states_are_said(client: TestClient) -> None:
    said = unescape(client.get(f"{MODEL}/job-sheet?reach=drum-belt&off=transition-duct&states=supply-isolated").text)
    assert "Off already: flexible exhaust duct." in said
    assert "unplugged and proved dead" in said


def test_the_plan_still_refuses_what_it_does_not_know(client: TestClient) -> None:
    body = assert_problem(client.get(f"{MODEL}/removal-plan?reach=drum-belt&tool=x"), 422, "bad-request")
    assert "tools=?" in body["detail"]


@pytest.mark.parametrize("lacking", ["optimal", "alternatives_complete"])
@pytest.mark.parametrize("place", ["job-sheet", "removal-plan/picture"])
def test_a_plan_that_ran_out_of_time_is_not_kept(
    opened: Opened, settings: Settings, monkeypatch: pytest.MonkeyPatch, place: str, lacking: str
) -> None:
    plain = Desk.job_sheet

    def doubtful(desk: Desk, model: str, asked: PlanRequest) -> object:
        from dataclasses import replace

        job = plain(desk, model, asked)
        return replace(job, plan=job.plan.model_copy(update={lacking: False}))

    monkeypatch.setattr(Desk, "job_sheet", doubtful)
    with TestClient(create_app(opened, settings)) as client:
        response = client.get(f"{MODEL}/{place}?reach=drum-belt")
    assert response.headers["cache-control"] == "no-store"
    assert "etag" not in response.headers
    assert "content-security-policy" in response.headers


def test_the_page_of_addresses_leads_to_a_sheet(client: TestClient) -> None:
    assert "/job-sheet?reach=" in client.get("/addresses").text
