"""Outcomes over HTTP: who may tell them, what is taken, what is kept, and what answers then say."""

from __future__ import annotations

import json
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta
from importlib import resources
from pathlib import Path
from typing import Any

import pytest
from fastapi.testclient import TestClient

from firstoff.api.application import create_app
from firstoff.api.examples import ADDRESSES, file_name
from firstoff.api.representation import _LEARNED
from firstoff.collection.opening import Opened
from firstoff.errors import StateFailed
from firstoff.outcomes import digest
from firstoff.settings import Settings
from support.problems import assert_problem
from support.telling import HEATER, KEY, OTHER_KEY, headers, serving, tell, told

DRYER = "/v1/models/tgd27-460-s"
ONCE, AGAIN = "0b9b1f4e-6a47-4a0e-9f0b-2f8c5d3f7a10", "5c1d7c52-9d0f-4f3e-8a55-7d2b1c90e644"


@pytest.fixture
def service(opened: Opened, tmp_path: Path) -> Iterator[TestClient]:
    with serving(opened, tmp_path) as client:
        yield client


@pytest.fixture(scope="module")
def refusing(opened: Opened, tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[TestClient, Path]]:
    """A service for what is refused, and its folder: nothing is ever kept in it."""
    state = tmp_path_factory.mktemp("state")
    with serving(opened, state) as client:
        yield client, state


def lines(state: Path) -> list[dict[str, Any]]:
    return [json.loads(line) for line in (state / "outcomes.jsonl").read_text(encoding="utf-8").splitlines()]


# --- who may tell ----------------------------------------------------------------------------------


def test_it_is_off_until_a_key_is_set_up(client: TestClient, opened: Opened, tmp_path: Path) -> None:
    with serving(opened, tmp_path, keys=None) as keyless:
        for each in (client, keyless):
            for sent in ({}, headers()):
                problem = assert_problem(each.post("/v1/outcomes", json=HEATER, headers=sent), 403, "writing-off")
                assert "FIRSTOFF_KEYS" in problem["mend"]
        assert keyless.get(f"{DRYER}/outcomes").status_code == 200
    assert lines(tmp_path) == []


@pytest.mark.parametrize(
    ("authorization", "challenge"),
    [
        (None, 'Bearer realm="firstoff"'),
        ("Basic a2V5Og==", 'Bearer realm="firstoff"'),  # another scheme
        ("Bearer", 'Bearer realm="firstoff"'),  # no key
        (f"Bearer {KEY}x", 'Bearer realm="firstoff", error="invalid_token"'),
        (f"Bearer {KEY[:-1]}", 'Bearer realm="firstoff", error="invalid_token"'),
        (b"Bearer k\xe9y", 'Bearer realm="firstoff", error="invalid_token"'),
    ],
)
def test_who_may_not_tell_is_told_what_is_needed(
    refusing: tuple[TestClient, Path], authorization: str | bytes | None, challenge: str
) -> None:
    service, state = refusing
    sent: dict[str, Any] = {"idempotency-key": ONCE} | ({"authorization": authorization} if authorization else {})
    response = service.post("/v1/outcomes", json=HEATER, headers=sent)
    assert_problem(response, 401, "key-needed")
    assert response.headers["www-authenticate"].startswith(challenge)
    assert KEY[:-1] not in response.text
    assert lines(state) == []


def test_the_digest_of_a_key_is_no_key(opened: Opened, tmp_path: Path) -> None:
    """Whoever reads the settings cannot tell outcomes."""
    with serving(opened, tmp_path) as client:
        sent = headers(key=digest(KEY))
        assert_problem(client.post("/v1/outcomes", json=HEATER, headers=sent), 401, "key-needed")


@pytest.mark.parametrize("key", [KEY, OTHER_KEY])
def test_each_key_may_tell(service: TestClient, key: str) -> None:
    assert service.post("/v1/outcomes", json=HEATER, headers=headers(key=key)).status_code == 200


def test_a_bad_report_without_a_key_is_not_looked_at(refusing: tuple[TestClient, Path]) -> None:
    assert_problem(refusing[0].post("/v1/outcomes", json={"model": "none-such", "x": 1}), 401, "key-needed")


# --- once ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("once", [None, "", "job 7", "Mrs Example", ONCE[:-1], ONCE + "0", f'"{ONCE}', "x" * 4000])
def test_an_idempotency_key_is_a_uuid(refusing: tuple[TestClient, Path], once: str | None) -> None:
    service, state = refusing
    sent = {"authorization": f"Bearer {KEY}"} | ({} if once is None else {"idempotency-key": once})
    problem = assert_problem(service.post("/v1/outcomes", json=HEATER, headers=sent), 400, "idempotency-key-needed")
    assert "UUID" in problem["mend"]
    assert lines(state) == []


def test_the_same_report_with_the_same_key_counts_once(service: TestClient, tmp_path: Path) -> None:
    first = told(service, ONCE)
    for spelt in (ONCE, ONCE.upper(), f'"{ONCE}"', f" {ONCE} "):
        assert told(service, spelt) == first
    shuffled = json.dumps(dict(reversed(HEATER.items())) | {"symptoms": []}, indent=3)
    sent = headers(ONCE) | {"content-type": "application/json"}
    assert service.post("/v1/outcomes", content=shuffled, headers=sent).json() == first
    assert len(lines(tmp_path)) == 1
    assert told(service, AGAIN)["id"] != first["id"]
    assert service.get(f"{DRYER}/outcomes").json()["learned"]["jobs"] == 2


def test_another_report_with_the_same_key_is_refused(service: TestClient, tmp_path: Path) -> None:
    first = told(service, ONCE)
    assert_problem(tell(service, ONCE, fault="fault-belt-broken"), 422, "idempotency-key-reused")
    assert_problem(tell(service, ONCE, fault="none-such"), 422, "idempotency-key-reused")
    assert told(service, ONCE) == first
    assert [each["fault"] for each in lines(tmp_path)] == ["fault-heater-open"]


def test_a_report_that_was_refused_can_be_mended_and_sent_with_its_key(service: TestClient) -> None:
    assert_problem(tell(service, ONCE, fault="fault-heater-opn"), 404, "not-found")
    assert told(service, ONCE)["fault"] == "fault-heater-open"


def test_the_key_is_remembered_after_a_restart(opened: Opened, tmp_path: Path) -> None:
    with serving(opened, tmp_path) as client:
        first = told(client, ONCE, on=None)
    with serving(opened, tmp_path) as client:
        assert told(client, ONCE, on=None) == first
        assert_problem(tell(client, ONCE), 422, "idempotency-key-reused")
        assert client.get(f"{DRYER}/outcomes").json()["learned"]["jobs"] == 1


def test_many_at_once_with_one_key_count_once(service: TestClient, tmp_path: Path) -> None:
    with ThreadPoolExecutor(8) as pool:
        same = list(pool.map(lambda _: told(service, ONCE), range(16)))
        mixed = list(pool.map(lambda n: tell(service, AGAIN, on=f"2026-11-{n % 2 + 1:02}").status_code, range(16)))
    assert all(each == same[0] for each in same)
    assert sorted(mixed) == [200] * 8 + [422] * 8
    assert len(lines(tmp_path)) == 2


# --- what is taken ---------------------------------------------------------------------------------


def test_what_was_told_is_kept_in_the_names_of_the_content(service: TestClient, tmp_path: Path) -> None:
    found = told(
        service,
        ONCE,
        model="TGD27 / 46O S",
        remedy="remedy-replace-heater",
        symptoms=["no-heat", "no-heat"],
        absent=["noisy"],
        outcomes=[{"check": "check-heater", "label": "10.7"}],
    )
    assert found["model"] == "tgd27-460-s"
    assert found["symptoms"] == ["no-heat"]
    assert found["outcomes"] == [{"check": "check-heater", "label": "10.0 to 11.4 ohm"}]
    (line,) = lines(tmp_path)
    assert line.pop("key") != ONCE
    assert len(line.pop("body")) == 64
    assert line == {
        "form": 1, "on": "2026-11-27", "model": "tgd27-460-s", "symptoms": ["no-heat"], "absent": ["noisy"],
        "checks": [["check-heater", "10.0 to 11.4 ohm"]], "codes": [], "fault": "fault-heater-open",
        "remedy": "remedy-replace-heater", "revision": found["revision"],
    }  # fmt: skip


PERSON = "Erika Example, 7 Larkfield Road, 0170 5550199"


@pytest.mark.parametrize(
    ("body", "status", "kind", "said"),
    [
        # nothing of a person, wherever it is put
        (HEATER | {"customer": PERSON}, 422, "invalid-request", "customer"),
        (HEATER | {"note": PERSON}, 422, "invalid-request", "note"),
        (HEATER | {"serial": "22010001"}, 422, "invalid-request", "serial"),
        (HEATER | {"technician": "A."}, 422, "invalid-request", "technician"),
        (HEATER | {"outcomes": [{"check": "check-heater", "label": "x", "note": PERSON}]}, 422, "invalid-request", ""),
        (HEATER | {"symptoms": [PERSON]}, 404, "not-found", "symptom"),
        (HEATER | {"absent": [PERSON]}, 404, "not-found", "symptom"),
        (HEATER | {"codes": [PERSON]}, 404, "not-found", "code"),
        (HEATER | {"remedy": PERSON}, 404, "not-found", "remedy"),
        (HEATER | {"fault": PERSON}, 404, "not-found", "fault"),
        (HEATER | {"model": PERSON}, 404, "not-found", "model"),
        (HEATER | {"outcomes": [{"check": PERSON, "label": "x"}]}, 404, "not-found", "check"),
        (HEATER | {"outcomes": [{"check": "check-heater", "label": PERSON}]}, 422, "bad-request", "10.0 to 11.4 ohm"),
        (HEATER | {"on": PERSON}, 422, "invalid-request", "on"),
        # a day at most
        (HEATER | {"on": "2026-11-27T14:30"}, 422, "invalid-request", "on"),
        (HEATER | {"on": "2026-11-27\n"}, 422, "invalid-request", "on"),
        (HEATER | {"on": 1795737600}, 422, "invalid-request", "on"),
        (HEATER | {"on": "2026-02-30"}, 422, "bad-request", "2026-02-30"),
        (HEATER | {"on": "1961-05-04"}, 422, "bad-request", "25 years"),  # a day of birth, or a slip
        (HEATER | {"on": "2999-01-01"}, 422, "bad-request", "has not come"),
        # names that are nearly right
        (HEATER | {"model": "tgd27-46o-x"}, 404, "not-found", "tgd27-460-s"),
        (HEATER | {"fault": "fault-heater-opn"}, 404, "not-found", "fault-heater-open"),
        (HEATER | {"symptoms": ["no-heet"]}, 404, "not-found", "no-heat"),
        (HEATER | {"remedy": "replace-heater"}, 404, "not-found", "remedy-replace-heater"),
        # what does not go together
        (HEATER | {"remedy": "remedy-replace-belt"}, 422, "bad-request", "fault-belt-broken"),
        ({"model": "tgd27-460-s"}, 422, "bad-request", "which fault"),
        ({"model": "tgd27-460-s", "remedy": "remedy-replace-heater"}, 422, "bad-request", "fault-heater-earthed"),
        (HEATER | {"symptoms": ["no-heat"], "absent": ["no-heat"]}, 422, "bad-request", "no-heat"),
        (
            HEATER | {"outcomes": [{"check": "check-heater", "label": each} for each in ("10.7", "no continuity")]},
            422, "bad-request", "two outcomes",
        ),
        # what is no report
        ({"fault": "fault-heater-open"}, 422, "invalid-request", "model"),
        (HEATER | {"fault": ""}, 422, "invalid-request", "fault"),
        (HEATER | {"fault": "x" * 101}, 422, "invalid-request", "fault"),
        (HEATER | {"fault": ["fault-heater-open"]}, 422, "invalid-request", "fault"),
        (HEATER | {"symptoms": ["no-heat"] * 51}, 422, "invalid-request", "symptoms"),
        ([HEATER], 422, "invalid-request", "body"),
        (HEATER | {"symptoms": ["x" * 90] * 20_000}, 413, "body-too-large", ""),
    ],
)  # fmt: skip
def test_what_cannot_be_kept_is_named(
    refusing: tuple[TestClient, Path], body: object, status: int, kind: str, said: str
) -> None:
    service, state = refusing
    response = service.post("/v1/outcomes", json=body, headers=headers(ONCE))
    problem = assert_problem(response, status, kind)
    assert said in json.dumps(problem, ensure_ascii=False)
    assert lines(state) == []


@pytest.mark.parametrize("body", [b"{", b"", b"\xff", b"[" * 50_000, b'{"model": NaN}'])
def test_a_body_that_is_no_json(refusing: tuple[TestClient, Path], body: bytes) -> None:
    response = refusing[0].post("/v1/outcomes", content=body, headers=headers() | {"content-type": "application/json"})
    assert response.status_code in (400, 422)
    assert response.headers["content-type"] == "application/problem+json"


def test_the_only_fault_that_a_remedy_ends_need_not_be_named(service: TestClient) -> None:
    assert told(service, fault=None, remedy="remedy-advise-programme")["fault"] == "fault-air-only-chosen"


def test_the_day_is_today_where_none_is_given(service: TestClient) -> None:
    before = datetime.now(UTC).date()
    on = told(service, on=None)["on"]
    assert before.isoformat() <= on <= datetime.now(UTC).date().isoformat()
    tomorrow = (datetime.now(UTC) + timedelta(days=1)).date().isoformat()
    assert told(service, on=tomorrow)["on"] == tomorrow  # it is that day already in the east


# --- what answers then say -------------------------------------------------------------------------

LEARNING = (f"{DRYER}/diagnosis?symptoms=no-heat", f"{DRYER}/carry?symptoms=no-heat&parts=1", f"{DRYER}/outcomes",
            "/v1/search?q=no+heat&model=tgd27-460-s")  # fmt: skip
PLAN = f"{DRYER}/removal-plan?reach=lint-filter"


def test_jobs_change_ranking_next_check_what_to_carry_and_search(service: TestClient, client: TestClient) -> None:
    fault = "fault-heater-relay-open"
    before = {each: service.get(each).json() for each in LEARNING}
    for _ in range(60):
        told(service, fault=fault)
    diagnosis, carry, summary, search = (service.get(each).json() for each in LEARNING)
    # Of 50 + 60 jobs the relay has 60 and its authored part of 50.
    authored = next(each for each in before[LEARNING[2]]["faults"] if each["id"] == fault)["frequency"]["authored"]
    ranked = {each["id"]: each for each in diagnosis["faults"]}
    assert before[LEARNING[0]]["faults"][0]["id"] != fault
    assert diagnosis["faults"][0]["id"] == fault
    assert ranked[fault]["frequency"] == {
        "authored": authored,
        "jobs": 60,
        "weight": pytest.approx((authored + 60) / 110, abs=1e-6),
    }
    assert ranked["fault-heater-open"]["frequency"]["jobs"] == 0
    for answer in (diagnosis, carry, summary):
        assert answer["learned"]["authored_jobs"] == 50
        assert answer["learned"]["jobs"] == 60
        assert answer["learned"]["learned"] == pytest.approx(60 / 110, abs=1e-4)
        assert "55%" in answer["learned"]["said"]
    assert diagnosis["next"]["id"] != before[LEARNING[0]]["next"]["id"]
    assert carry["parts"] != before[LEARNING[1]]["parts"]
    assert summary["faults"][0]["id"] == fault
    assert sum(each["frequency"]["weight"] for each in summary["faults"]) == pytest.approx(1, abs=1e-4)
    assert (summary["first"], summary["last"], summary["left_out"]) == ("2026-11-27", "2026-11-27", 0)
    hit = next(each for each in search["hits"] if each["id"] == "no-heat")
    assert hit["faults"][0]["id"] == fault
    assert hit["faults"][0]["learned"] == pytest.approx(60 / 110, abs=1e-4)
    # A service that keeps nothing answers as before, and says that all of it is authored.
    for each in LEARNING[:3]:
        plain, kept = client.get(each).json(), before[each]
        assert plain.pop("learned") | {"revision": ""} == kept.pop("learned") | {"revision": ""}
        assert plain == kept


def test_shares_move_as_bayes_rule_has_it(service: TestClient) -> None:
    """Odds of two faults: those of before, times the ratio of their weights by how much these moved."""

    def odds() -> float:
        faults = {each["id"]: each for each in service.get(LEARNING[0]).json()["faults"]}
        return float(faults["fault-heater-open"]["share"] / faults["fault-cut-off-open"]["share"])

    def authored(fault: str) -> float:
        faults = service.get(LEARNING[2]).json()["faults"]
        return float(next(each for each in faults if each["id"] == fault)["frequency"]["authored"])

    before = odds()
    for _ in range(5):
        told(service)
    grown = (authored("fault-heater-open") + 5) / authored("fault-heater-open")
    assert odds() == pytest.approx(before * grown, rel=2e-3)


def test_a_posted_diagnosis_takes_in_each_job(service: TestClient) -> None:
    asked = {"symptoms": ["no-heat"]}
    seen = []
    for n in range(3):
        said = service.post(f"{DRYER}/diagnosis", json=asked).json()
        assert said == service.get(f"{DRYER}/diagnosis?symptoms=no-heat").json()
        seen.append(said["learned"]["revision"])
        told(service, on=f"2026-11-0{n + 1}")
    assert len(set(seen)) == 3


def test_the_tag_of_what_depends_on_jobs_changes_with_each(service: TestClient) -> None:
    seen: dict[str, set[str]] = {each: set() for each in LEARNING}
    plan = service.get(PLAN).headers["etag"]
    revisions = set()
    for n in range(3):
        for each in LEARNING:
            tag = service.get(each).headers["etag"]
            assert service.get(each, headers={"if-none-match": tag}).status_code == 304
            seen[each].add(tag)
        revisions.add(service.get(f"{DRYER}/outcomes").json()["learned"]["revision"])
        told(service, on=f"2026-11-0{n + 1}")
    assert [len(tags) for tags in seen.values()] == [3] * len(LEARNING)
    assert len(revisions) == 3
    assert service.get(PLAN).headers["etag"] == plan


@pytest.mark.parametrize("path", sorted(ADDRESSES))
def test_an_answer_that_says_what_is_learned_has_a_tag_of_it(path: str) -> None:
    """Every address, by its kept example: one that was forgotten would be answered from before the last job."""
    kept = resources.files("firstoff_contract").joinpath("examples", file_name(path)).read_text(encoding="utf-8")
    begins_with_frequencies = '"learned"' in kept
    assert begins_with_frequencies == bool(_LEARNED.fullmatch(ADDRESSES[path].partition("?")[0]))


def test_the_same_jobs_have_the_same_tag_after_a_restart(opened: Opened, tmp_path: Path) -> None:
    with serving(opened, tmp_path) as client:
        told(client)
        before = [(client.get(each).headers["etag"], client.get(each).json()) for each in LEARNING]
    with serving(opened, tmp_path) as client:
        assert [(client.get(each).headers["etag"], client.get(each).json()) for each in LEARNING] == before


def test_what_the_prior_is_worth_is_a_setting(opened: Opened, tmp_path: Path) -> None:
    with serving(opened, tmp_path, authored_jobs=2.0) as client:
        told(client)
        note = client.get(f"{DRYER}/outcomes").json()["learned"]
    assert (note["authored_jobs"], note["learned"]) == (2, pytest.approx(1 / 3, abs=1e-4))


def test_an_unknown_model_has_no_outcomes(refusing: tuple[TestClient, Path]) -> None:
    assert_problem(refusing[0].get("/v1/models/tgd27-46o-x/outcomes"), 404, "not-found")
    assert_problem(refusing[0].get(f"{DRYER}/outcomes?seriel=1"), 422, "bad-request")


# --- when it goes wrong ----------------------------------------------------------------------------


def test_a_torn_line_is_cut_off_at_the_start(opened: Opened, tmp_path: Path) -> None:
    with serving(opened, tmp_path) as client:
        told(client, ONCE)
    file = tmp_path / "outcomes.jsonl"
    whole = file.read_bytes()
    file.write_bytes(whole + whole[: len(whole) // 2])
    with serving(opened, tmp_path) as client:
        assert file.read_bytes() == whole
        assert client.get(f"{DRYER}/outcomes").json()["learned"]["jobs"] == 1
        told(client, AGAIN)
    assert len(lines(tmp_path)) == 2


def test_a_disk_that_is_full_is_said_and_the_report_can_be_sent_again(
    service: TestClient, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_file: int) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr("os.fsync", full)
        problem = assert_problem(tell(service, ONCE), 503, "state-failed")
    assert "same idempotency key" in problem["mend"]
    assert lines(tmp_path) == []
    told(service, ONCE)
    assert len(lines(tmp_path)) == 1


def test_a_file_that_holds_something_else_is_said_at_the_start_and_while_it_runs(
    service: TestClient, opened: Opened, tmp_path: Path
) -> None:
    (tmp_path / "outcomes.jsonl").write_bytes(b'{"form": 2}\n')
    for each in LEARNING:
        assert "line 1" in assert_problem(service.get(each), 503, "state-failed")["detail"]
    assert_problem(tell(service), 503, "state-failed")
    assert service.get(PLAN).status_code == 200
    with pytest.raises(StateFailed, match="line 1"):
        create_app(opened, Settings(state=tmp_path))
