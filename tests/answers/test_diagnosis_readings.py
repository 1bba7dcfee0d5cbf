"""What a meter showed as a finding, against the answer of what a meter should read."""

from __future__ import annotations

from typing import Any

import pytest

from firstoff.answers.desk import Desk
from firstoff.answers.diagnosis_readings import BESIDE, MISTAKEN, UNPOWERED, outcome_label
from firstoff.answers.reading import ReadingRequest
from firstoff.appliance.model import Check, Outcome, Purpose
from firstoff.appliance.terms import Concept
from firstoff.collection.opening import Opened
from firstoff.commands.diagnosing import reading_told
from firstoff.errors import BadRequest, NotFound
from firstoff_contract.diagnosis import Diagnosis, DiagnosisRequest, OutcomeSeen, ReadingSeen

DEAD: dict[str, Any] = {"opened": ["supply-plug"], "released": ["bus-capacitor", "filter-capacitor"]}
HEATER = {"between": ["heater-1", "heater-2"], "quantity": "resistance", **DEAD}


def diagnosed(desk: Desk, *readings: dict[str, Any], **asked: Any) -> Diagnosis:
    seen = [ReadingSeen.model_validate(each) for each in readings]
    return desk.diagnosis("tgd27-460-s", DiagnosisRequest(readings=seen, **asked))


def shares(found: Diagnosis) -> dict[str, float]:
    return {fault.id: fault.share for fault in found.faults}


def test_an_open_heater(desk: Desk) -> None:
    before = shares(diagnosed(desk, symptoms=["no-heat"]))
    found = diagnosed(desk, {**HEATER, "value": "OL"}, symptoms=["no-heat"])
    after, note = shares(found), found.readings[0]
    assert note.fits is False
    assert note.expected.startswith("10.67 ohm")
    assert [each.id for each in note.supports] == ["fault-heater-open"]
    assert max(after, key=lambda slug: after[slug]) == "fault-heater-open"
    assert after["fault-heater-open"] > 2 * before["fault-heater-open"]
    assert after["fault-cut-off-open"] < before["fault-cut-off-open"] / 4
    assert any(moved.kind == "reading" for fault in found.faults for moved in fault.moved)


def test_a_sound_heater(desk: Desk) -> None:
    """10.67 ohm within 6 %: nothing is supported, an open heater is all but out."""
    before = shares(diagnosed(desk, symptoms=["no-heat"]))
    found = diagnosed(desk, {**HEATER, "value": "10.7"}, symptoms=["no-heat"])
    assert found.readings[0].fits is True
    assert found.readings[0].supports == []
    assert "fault-heater-open" in [each.id for each in found.readings[0].rules_out]
    assert shares(found)["fault-heater-open"] < before["fault-heater-open"] / 10


@pytest.mark.parametrize(
    "seen",
    [
        {**HEATER, "value": "OL"},
        {**HEATER, "value": "10.7"},
        {**HEATER, "value": "3"},
        {"between": ["tb-l1", "tb-l2"], "value": "118 V"},
        {
            "between": ["heater-1", "heater-2"],
            "quantity": "ac-voltage",
            "value": "0",
            "actuated": ["centrifugal-contacts"],
        },
        {"between": ["cutoff-1", "cutoff-2"], "quantity": "resistance", "value": "OL", **DEAD},
    ],
)
def test_the_weights_are_the_verdicts_of_the_reading(desk: Desk, opened: Opened, seen: dict[str, Any]) -> None:
    asked = {key: tuple(value) if isinstance(value, list) else value for key, value in seen.items() if key != "value"}
    read = desk.reading("tgd27-460-s", ReadingRequest(**asked, measured=seen["value"]))
    verdicts = {each.fault.id: each.verdict for each in read.faults if each.fault is not None}
    assert verdicts
    faults = opened.collection.appliances("tgd27-460-s", None)[0].faults
    weights = {}
    for slug, fault in faults.items():
        weight = MISTAKEN if verdicts.get(slug) == "rules_out" else 1.0
        if slug not in verdicts and read.fits is False and not fault.alters and fault.failure_mode.id in UNPOWERED:
            powered = read.quantity != "resistance" and fault.failure_mode.id.startswith(("wrong", "supply", "half"))
            weight = 1.0 if powered else BESIDE
        weights[slug] = weight * fault.relative_frequency
    total = sum(weights.values())
    found = shares(diagnosed(desk, seen))
    assert found == {slug: pytest.approx(weight / total, abs=6e-5) for slug, weight in weights.items()}


def test_two_readings_count_both(desk: Desk) -> None:
    one = diagnosed(desk, {**HEATER, "value": "10.7"}, {"between": ["tb-l1", "tb-l2"], "value": "240"})
    assert [note.fits for note in one.readings] == [True, True]
    moved = {move.finding for fault in one.faults for move in fault.moved}
    assert len(moved) == 2


@pytest.mark.parametrize(
    ("seen", "error", "said"),
    [
        ({"between": ["heater-1"], "value": "1"}, BadRequest, "two points"),
        ({"between": ["heater-1", "heater-9"], "value": "1"}, NotFound, "heater-9"),
        ({**HEATER, "value": "lots"}, BadRequest, "no value of a meter"),
        ({**HEATER, "value": " "}, BadRequest, "no value"),
        ({**HEATER, "opened": ["supply-plugg"], "value": "1"}, NotFound, "supply-plug"),
        ({"between": ["heater-1", "heater-2"], "quantity": "resistance", "value": "1"}, BadRequest, "live"),
        ({"label": "volts"}, BadRequest, "two points and a value"),
        ({**HEATER, "value": "1", "likelihoods": {"heater-open": 1}}, BadRequest, "not both"),
        ({"likelihoods": {"heater-opened": 1}}, NotFound, "heater-open"),
    ],
)
def test_a_reading_that_makes_no_sense(desk: Desk, seen: dict[str, Any], error: type[Exception], said: str) -> None:
    with pytest.raises(error, match=said):
        diagnosed(desk, seen)


CORD = Check(
    "cord", "Cord", "cord", Purpose.TEST, Concept("resistance", ""), 1,
    outcomes=(
        Outcome("below 0.3 ohm", True, at_least=0.0, at_most=0.3),
        Outcome("above 10 ohm", False, at_least=10.0),
    ),
)  # fmt: skip


@pytest.mark.parametrize(
    ("told", "label"),
    [
        ("above 10 ohm", "above 10 ohm"),  # its words
        ("0.1", "below 0.3 ohm"),
        ("0.3 ohm", "below 0.3 ohm"),  # a bound belongs to it
        ("12 kohm", "above 10 ohm"),
        ("OL", "above 10 ohm"),
        ("broken", "broken"),  # no value: left for the check to refuse
    ],
)
def test_an_outcome_by_its_value(told: str, label: str) -> None:
    assert outcome_label(CORD, OutcomeSeen(check="cord", label=told)) == label


def test_a_value_in_no_outcome_is_refused() -> None:
    with pytest.raises(BadRequest, match="lies in no outcome") as raised:
        outcome_label(CORD, OutcomeSeen(check="cord", label="5 ohm"))
    assert "above 10 ohm" in raised.value.mend


@pytest.mark.parametrize(
    ("text", "seen"),
    [
        ("tb-l1 tb-l2=118", {"between": ["tb-l1", "tb-l2"], "value": "118"}),
        ("a b resistance = 12.4 kohm", {"between": ["a", "b"], "quantity": "resistance", "value": " 12.4 kohm"}),
        (
            "a b resistance=OL; opened plug relay; off lead; actuated m; released c1 c2; at -18",
            {
                "between": ["a", "b"], "quantity": "resistance", "value": "OL", "opened": ["plug", "relay"],
                "off": ["lead"], "actuated": ["m"], "released": ["c1", "c2"], "celsius": -18.0,
            },
        ),
    ],
)  # fmt: skip
def test_a_reading_on_the_command_line(text: str, seen: dict[str, Any]) -> None:
    assert reading_told(text) == ReadingSeen.model_validate(seen)


@pytest.mark.parametrize(
    "text",
    ["", "a b", "a=3", "a b c d=3", "a b amps=3", "a b=3; opened", "a b=3; shut door", "a b=3; at noon", "a b=3;"],
)
def test_a_reading_that_cannot_be_read_teaches(text: str) -> None:
    with pytest.raises(BadRequest) as raised:
        reading_told(text)
    assert "RED BLACK QUANTITY=VALUE" in raised.value.mend
