"""The safety record of the demo machines: blank, judged, in a plan, and what is refused."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firstoff.answers.desk import Desk
from firstoff.answers.record import record_body
from firstoff.answers.requests import record_request
from firstoff.appliance.model import Construction
from firstoff.errors import BadRequest, NotFound, SerialNeeded
from firstoff_contract.record import RecordLine, RecordRequest, SafetyRecord
from firstoff_contract.removal import PlanRequest

GOOD = {"earth": ["0.08"], "insulation": ["12"], "leakage": ["0.4"]}


def ask(desk: Desk, model: str, **said: object) -> SafetyRecord:
    return desk.safety_record(model, record_request(**{"serial": "1", **said}))  # type: ignore[arg-type]


def line(record: SafetyRecord, slug: str) -> RecordLine:
    return next(each for each in record.lines if each.id == slug)


#: model, limits of earth, insulation and leakage
LIMITS = [
    # 230 V, IEC: 0.1 ohm and 2 m of 1 mm2; 1.5 mA since it refrigerates
    ("flb-316-k", (0.134, 1.0, 1.5)),
    ("flb-316-t", (0.134, 1.0, 1.5)),
    # 120/240 V split phase, North America
    ("tgd27-460-s", (0.1, 1.0, 0.75)),
    ("tgd27-410-k", (0.1, 1.0, 0.75)),
]


@pytest.mark.parametrize(("model", "expected"), LIMITS)
def test_blank_record(desk: Desk, model: str, expected: tuple[float, float, float]) -> None:
    record = ask(desk, model)
    measured = [each for each in record.lines if each.kind == "measurement"]
    assert tuple(each.limit.at_most or each.limit.at_least for each in measured if each.limit) == expected
    assert record.verdict == "not_measured"
    assert all(each.verdict == "not_measured" for each in measured)
    assert record.standard is not None
    assert "Local codes" in record.standard_note
    assert all(fact.value for fact in record.facts)
    for each in measured:
        assert each.limit is not None
        assert each.limit.edition
        assert each.limit.confirmed


def test_which_standard_applies_is_said(desk: Desk) -> None:
    fridge, dryer = ask(desk, "flb-316-k"), ask(desk, "tgd27-460-s")
    assert fridge.standard is not None
    assert dryer.standard is not None
    assert (fridge.standard.id, dryer.standard.id) == ("iec-60335", "north-american")


def test_a_models_own_rated_input_goes_before_its_platforms(desk: Desk) -> None:
    rated = {
        model: next(fact.value for fact in ask(desk, model).facts if fact.name == "rated input")
        for model in ("flb-316-k", "flb-316-t", "tgd27-460-s")
    }
    assert rated == {"flb-316-k": "210 W", "flb-316-t": "240 W", "tgd27-460-s": "6100 W"}


#: what is entered beside good readings, verdict of the record, line, its verdict
ENTERED = [
    ({}, "pass", "earth-continuity", "pass"),
    ({"earth": ["0.1"]}, "pass", "earth-continuity", "pass"),
    ({"earth": ["100 mohm"]}, "pass", "earth-continuity", "pass"),
    ({"earth": ["0.101"]}, "fail", "earth-continuity", "fail"),
    ({"earth": ["0.05", "0.3", "0.04"]}, "fail", "earth-continuity", "fail"),
    ({"earth": []}, "not_measured", "earth-continuity", "not_measured"),
    ({"insulation": [">500"]}, "pass", "insulation-resistance", "pass"),
    ({"insulation": ["> 0.5 Mohm"]}, "unknown", "insulation-resistance", "unknown"),
    ({"insulation": ["900 kohm"]}, "fail", "insulation-resistance", "fail"),
    ({"leakage": ["0.75"]}, "pass", "leakage-current", "pass"),
    ({"leakage": ["760 uA"]}, "fail", "leakage-current", "fail"),
]


@pytest.mark.parametrize(("entered", "whole", "slug", "expected"), ENTERED)
def test_judged(desk: Desk, entered: dict[str, list[str]], whole: str, slug: str, expected: str) -> None:
    record = ask(desk, "tgd27-460-s", **{**GOOD, **entered})
    assert record.verdict == whole
    assert line(record, slug).verdict == expected


def test_a_failed_reading_says_what_to_do(desk: Desk) -> None:
    record = ask(desk, "tgd27-460-s", **{**GOOD, "earth": ["0.4"]})
    told = line(record, "earth-continuity").advice + " ".join(record.advice)
    for word in ("Do not hand the machine over", "Isolate", "measure again", "Failed: earth continuity"):
        assert word in told


def test_a_missing_reading_says_so(desk: Desk) -> None:
    record = ask(desk, "tgd27-460-s", earth=["0.05"])
    assert record.verdict == "not_measured"
    assert any("Still open: insulation resistance, leakage current" in text for text in record.advice)


def test_the_leak_check_of_an_opened_circuit(desk: Desk) -> None:
    """It is asked for where the circuit was opened and where nobody said; not where it was not opened."""
    unsaid = ask(desk, "flb-316-k", **GOOD)
    assert (unsaid.verdict, line(unsaid, "finish-leak").verdict) == ("not_measured", "not_measured")
    assert "Or say what was done" in line(unsaid, "finish-leak").advice
    none = ask(desk, "flb-316-k", **GOOD, done=[])
    assert (none.verdict, line(none, "finish-leak").verdict) == ("pass", "not_applicable")
    other = ask(desk, "flb-316-k", **GOOD, done=["evaporator-fan", "pull-out"])
    assert other.verdict == "pass"
    opened = ask(desk, "flb-316-k", **GOOD, done=["recover-refrigerant"])
    assert (opened.verdict, line(opened, "finish-leak").verdict) == ("not_measured", "not_measured")
    assert "licensed refrigeration technician" in line(opened, "finish-leak").advice
    signed = ask(desk, "flb-316-k", **GOOD, done=["recover-refrigerant"], confirm=["finish-leak=A. Technician, L-1"])
    assert (signed.verdict, line(signed, "finish-leak").confirmed_by) == ("pass", "A. Technician, L-1")


def test_the_record_of_a_plan_names_the_earths_it_undid(desk: Desk) -> None:
    plan = desk.removal_plan("flb-316-k", PlanRequest(reach=["compressor"], serial="1"))
    assert plan.record is not None
    (earth,) = (each for each in plan.record.lines if each.id == "earth-continuity")
    opened = {place.component.id for place in earth.places if place.opened}
    assert {"compressor", "rear-cover"} <= opened
    assert "evaporator" not in opened
    assert [place.opened for place in earth.places] == sorted((place.opened for place in earth.places), reverse=True)
    assert not {"supply-cord", "wall-socket"} & {place.component.id for place in earth.places}
    assert plan.record.verdict == "not_measured"


def test_a_look_with_nothing_taken_off_needs_no_record(desk: Desk) -> None:
    plan = desk.removal_plan("flb-316-k", PlanRequest(reach=["control-panel:inspect"], serial="1"))
    assert plan.record is None
    assert not any("Measure" in each.text for each in plan.finish)


#: what is entered, what the refusal says
REFUSED = [
    ({"earth": ["-0.1"]}, "greater than or equal to 0"),
    ({"earth": ["nan"]}, "finite"),
    ({"earth": ["inf"]}, "finite"),
    ({"earth": ["a bit"]}, "no reading"),
    ({"earth": ["0.1.2"]}, "no reading"),
    ({"earth": ["0.08 Mohm"]}, "no unit of earth-continuity"),
    ({"insulation": ["12 mohm"]}, "no unit of insulation-resistance"),
    ({"leakage": ["0.4 furlong"]}, "no unit of leakage-current"),
    ({"leakage": ["1e9"]}, "more than any instrument"),
    ({"confirm": ["finish-leak"]}, "who did it"),
]


@pytest.mark.parametrize(("entered", "said"), REFUSED)
def test_refused(desk: Desk, entered: dict[str, list[str]], said: str) -> None:
    with pytest.raises(BadRequest) as caught:
        ask(desk, "flb-316-k", **entered)
    assert said in caught.value.detail
    assert caught.value.mend


@pytest.mark.parametrize(
    "entered", [{"confirm": ["finish-lek=A"]}, {"done": ["recover-refrigerent"]}, {"confirm": ["finish-level=A"]}]
)
def test_unknown_names(desk: Desk, entered: dict[str, list[str]]) -> None:
    with pytest.raises(NotFound) as caught:
        ask(desk, "flb-316-k", **entered)
    assert caught.value.nearest


def test_a_record_that_serial_ranges_share_needs_no_serial(desk: Desk) -> None:
    try:
        record = desk.safety_record("tgd27-460-s", RecordRequest())
    except SerialNeeded:
        pytest.fail("the limits do not depend on the serial number")
    assert record.verdict == "not_measured"


@settings(max_examples=50)
@given(
    st.lists(st.floats(0, 2), max_size=3),
    st.lists(st.floats(0, 50), max_size=3),
    st.lists(st.floats(0, 9), max_size=3),
)
def test_pass_only_where_every_line_is_within_its_limit(
    desk: Desk, earth: list[float], insulation: list[float], leakage: list[float]
) -> None:
    """Judged again here by hand, from the limits that the record shows."""
    record = ask(
        desk,
        "tgd27-460-s",
        earth=[f"{value:.6f}" for value in earth],
        insulation=[f"{value:.6f}" for value in insulation],
        leakage=[f"{value:.6f}" for value in leakage],
    )
    within = all(round(v, 6) <= 0.1 for v in earth) and all(round(v, 6) >= 1.0 for v in insulation)
    within = within and all(round(v, 6) <= 0.75 for v in leakage)
    measured = bool(earth and insulation and leakage)
    assert (record.verdict == "pass") == (within and measured)
    assert (record.verdict == "fail") == (not within)


def test_without_the_facts_there_is_no_pass(desk: Desk) -> None:
    appliance = desk.opened.collection.appliances("tgd27-460-s", "1")[0]
    bare = replace(appliance, construction=Construction())
    entered = record_request(**GOOD)  # type: ignore[arg-type]
    body = record_body(bare, None, entered.readings)
    assert body.verdict == "unknown"
    assert body.standard is None
    assert {each.verdict for each in body.lines} == {"unknown"}
    assert all("No limit is known" in each.advice for each in body.lines)
    assert any("Unknown is never a pass" in text for text in body.advice)
