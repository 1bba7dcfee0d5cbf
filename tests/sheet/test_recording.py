"""The lines of a safety record as they are filled in by hand."""

from __future__ import annotations

from typing import Any

import pytest

from firstoff.answers.desk import Desk
from firstoff.sheet.recording import Row, rows_of
from firstoff_contract.common import Ref
from firstoff_contract.record import RecordBody, RecordLimit, RecordLine, RecordPlace
from firstoff_contract.removal import FinishNote, PlanRequest, RemovalPlan

LIMIT = RecordLimit(
    at_most=0.1, at_least=None, unit="ohm", standard="EN 50106", edition="2008", clause="annex A.1",
    confirmed="secondary text", why="Protection class I.",
)  # fmt: skip


def line(**more: Any) -> RecordLine:
    given = {"id": "earth", "kind": "measurement", "label": "earth continuity", "how": "Measure from pin to metal."}
    rest = {"with_supply": False, "unit": "ohm", "limit": LIMIT, "missing": [], "verdict": "not_measured", "advice": ""}
    return RecordLine.model_validate({**given, **rest, **more})


@pytest.fixture(scope="module")
def plan(desk: Desk) -> RemovalPlan:
    return desk.removal_plan("tgd27-460-s", PlanRequest(reach=["lint-filter:inspect"]))


def rows(plan: RemovalPlan, *lines: RecordLine, **more: Any) -> list[Row]:
    body = RecordBody(standard=None, standard_note="", facts=[], lines=list(lines), verdict="not_measured", advice=[])
    return rows_of(plan.model_copy(update={"record": body, **more}))


@pytest.mark.parametrize(
    ("changes", "limit"),
    [
        ({}, "at most 0.1 ohm"),
        ({"limit": LIMIT.model_copy(update={"at_most": None, "at_least": 2.0, "unit": "Mohm"})}, "at least 2 Mohm"),
        ({"limit": None}, "no limit is known"),
        ({"limit": None, "missing": ["length", "class"]}, "no limit is known: length and class not known"),
        ({"limit": None, "kind": "confirmation"}, ""),
    ],
)
def test_limits(plan: RemovalPlan, changes: dict[str, Any], limit: str) -> None:
    (row,) = rows(plan, line(**changes))
    assert row.limit == limit
    assert row.source == ("EN 50106, 2008, annex A.1, secondary text" if row.line.limit else "")


def test_how_is_not_said_twice(plan: RemovalPlan) -> None:
    (row,) = rows(plan, line())
    assert row.how == "Measure from pin to metal."
    told = FinishNote(order=1, text="Measure earth continuity. Measure from pin to metal.")
    (row,) = rows(plan, line(), finish=[told])
    assert row.how == ""


def test_parts_whose_earth_was_undone_have_a_blank_each(plan: RemovalPlan) -> None:
    places = [RecordPlace(component=Ref(id=name, label=name), opened=name == "lid") for name in ("lid", "door", "base")]
    (row,) = rows(plan, line(places=places))
    assert (row.places, row.others) == (("lid",), 2)


def test_what_does_not_apply_is_left_out(plan: RemovalPlan) -> None:
    assert rows(plan, line(verdict="not_applicable")) == []
    assert rows_of(plan.model_copy(update={"record": None})) == []
