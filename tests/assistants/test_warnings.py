"""Every answer of every tool begins with its warnings, whatever is asked."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firstoff.answers.desk import Desk
from firstoff.assistants.telling import told, warnings
from firstoff.assistants.tools import BY_NAME, TOOLS
from firstoff.errors import FirstoffError
from firstoff_contract.common import NOTICE, BulletinNote
from firstoff_contract.energy import LivePoints
from firstoff_contract.record import SafetyRecord

MACHINES = ("tgd27-460-s", "qmh60-420-n", "flb-316-k", "tem34-210-c", "mdr60-510-f")


def dictionaries(value: Any) -> Iterator[dict[str, Any]]:
    """Every object in a JSON value."""
    if isinstance(value, dict):
        yield value
        value = list(value.values())
    if isinstance(value, list):
        for each in value:
            yield from dictionaries(each)


def asked(desk: Desk, tool: str, arguments: dict[str, Any]) -> tuple[str, dict[str, Any]]:
    """The text of an answer, and the answer as JSON."""
    found = BY_NAME[tool]
    answer = found.ask(desk, found.asked.model_validate(arguments))
    return told(found, answer), answer.model_dump(mode="json")


def assert_warned(text: str, said: dict[str, Any]) -> None:
    """The first block of ``text`` is the notice, the revision, and every warning that is anywhere in ``said``."""
    head, _, body = text.partition("\n\n")
    lines = head.splitlines()
    assert lines[0] == said.get("notice", NOTICE) == NOTICE
    assert f"revision {said['revision']}" in lines
    assert body.strip()
    assert any(line.startswith("DRAFT") for line in lines) is said["draft"]
    order = [line.partition(":")[0] for line in lines if line.partition(":")[0] in _WORDS]
    assert order == sorted(order, key=_WORDS.index)
    for each in dictionaries(said):
        if "signal_word" in each:
            assert f"{each['signal_word']}: {each['text']} {each['protection']}" in lines
        if each.get("state") == "unknown":
            assert any("treat as live" in line and each["label"] in line for line in lines) or "points" not in said
        for point in each.get("unknown", []) if "prove_dead" in each else []:
            assert any("treat as live" in line and point in line for line in lines)
    for each in said["bulletins"]:
        assert any(line.startswith("BULLETIN") and each["text"] in line for line in lines)


_WORDS = ["DANGER", "WARNING", "CAUTION", "NOTICE"]


@st.composite
def questions(draw: st.DrawFn, desk: Desk) -> tuple[str, dict[str, Any]]:
    """A question about a demo machine, its names from the machine."""
    model = draw(st.sampled_from(MACHINES))
    machine = desk.opened.collection.appliances(model, None)[0]
    serial = draw(st.sampled_from([None, "1", "24200000"]))

    def some(names: Iterable[str], most: int = 2) -> list[str]:
        return draw(st.lists(st.sampled_from(sorted(names)), max_size=most, unique=True))

    parts, points, devices = machine.components, machine.circuit.points, machine.circuit.devices
    tool = draw(st.sampled_from(sorted(BY_NAME)))
    rest: dict[str, Any] = {
        "find": lambda: {"query": draw(st.sampled_from(["no heat", "e4", "door", "motor", "xqzw"]))},
        "describe_machine": dict,
        "parts": lambda: {"component": draw(st.none() | st.sampled_from(sorted(parts)))},
        "removal_plan": lambda: {"reach": [draw(st.sampled_from(sorted(parts)))], "off": some(parts, 1)},
        "make_safe": lambda: {"reach": [draw(st.sampled_from(sorted(parts)))]},
        "live_points": lambda: {"opened": some(devices), "off": some(parts, 1), "worst": draw(st.booleans())},
        "isolation": lambda: {"touch": [draw(st.sampled_from(sorted(points)))]},
        "diagnose": lambda: {"symptoms": some(machine.symptoms, 1)},
        "carry_list": lambda: {"symptoms": some(machine.symptoms)},
        "display_code": lambda: {"code": draw(st.sampled_from(sorted(machine.codes)))},
        "expected_reading": lambda: {"between": some(points, 2), "opened": some(devices)},
        "safety_record": dict,
    }[tool]()
    return tool, {"model": model, "serial": serial, **rest}


def test_every_answer_begins_with_its_warnings(desk: Desk) -> None:
    answered: set[str] = set()

    @settings(max_examples=150)
    @given(questions(desk))
    def hold(question: tuple[str, dict[str, Any]]) -> None:
        tool, arguments = question
        if tool == "expected_reading" and len(arguments["between"]) != 2:
            return
        try:
            text, said = asked(desk, tool, arguments)
        except FirstoffError:
            return
        answered.add(tool)
        assert_warned(text, said)

    hold()
    assert answered == {tool.name for tool in TOOLS}


def live(desk: Desk) -> LivePoints:
    return desk.live_points("tgd27-460-s", None, opened=["supply-plug"], off=[], released=[])


def test_unknown_points_are_told_as_live(desk: Desk) -> None:
    answer = live(desk)
    assert "unknown" not in {each.state for each in answer.points}
    unknown = answer.points[3].model_copy(update={"state": "unknown", "label": "a point nobody described"})
    text = told(BY_NAME["live_points"], answer.model_copy(update={"points": [unknown, *answer.points[4:]]}))
    head = text.partition("\n\n")[0]
    assert "UNKNOWN, treat as live: a point nobody described." in head
    assert "1 unknown: treat all of these as live" in head
    assert "unknown: treat as live" in next(line for line in text.splitlines() if line.startswith("a point nobody"))


def test_draft_and_bulletin_come_first(desk: Desk) -> None:
    bulletin = BulletinNote(id="recall", kind="safety recall", label="new cord", text="Do not use it before.")
    answer = live(desk).model_copy(update={"draft": True, "bulletins": [bulletin]})
    lines = warnings(answer)
    assert lines[0] == NOTICE
    assert lines[2].startswith("DRAFT")
    assert lines[3] == "BULLETIN (safety recall): new cord. Do not use it before."


@pytest.mark.parametrize("verdict", ["fail", "not_measured", "unknown"])
def test_a_record_that_is_no_pass_says_so_first(desk: Desk, verdict: str) -> None:
    asked_for = BY_NAME["safety_record"].asked.model_validate({"model": "tgd27-460-s"})
    answer = desk.safety_record("tgd27-460-s", asked_for)
    assert isinstance(answer, SafetyRecord)
    said = warnings(answer.model_copy(update={"verdict": verdict}))
    assert any("do not hand the machine over" in line for line in said)
    assert not any("hand" in line for line in warnings(answer.model_copy(update={"verdict": "pass"})))


def test_the_text_of_a_plan_is_whole_and_in_order(desk: Desk) -> None:
    text, said = asked(desk, "removal_plan", {"model": "tgd27-460-s", "reach": ["drum-belt"]})
    place = text.index("\nOut\n")
    for way in ("steps", "refit"):
        for step in said[way]:
            for caution in step["cautions"]:
                assert caution["text"] in text[place : text.index(f"{step['n']}. {step['label']}", place)]
            place = text.index(f"{step['n']}. {step['label']}", place)
            assert step["instruction"] in text[place:]
            for check in step["checks"]:
                assert check["text"] in text[place:]
            for who in [step["competence"]] if step["competence"] else []:
                assert who in text[place:]
    for each in (*said["finish"], *said["make_safe"]["prove_dead"]):
        assert each["text"] in text
    for each in said["kit"]["tools"]:
        assert each["label"] in text
    assert "drum-belt = drum belt" in text
    assert len(text) < len(str(said))


def test_names_of_checks_are_told_for_the_next_question(desk: Desk) -> None:
    text, said = asked(desk, "diagnose", {"model": "tgd27-460-s", "symptoms": ["no-heat"], "tried": []})
    assert said["next"]["id"] in text.partition("Names for further questions:")[2]
