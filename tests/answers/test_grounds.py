"""What answers rest on: drafts and bulletins."""

from __future__ import annotations

from dataclasses import replace

import pytest

from firstoff.answers.desk import Desk
from firstoff.answers.grounds import grounded
from firstoff.collection.opening import Opened
from firstoff.settings import Settings
from firstoff_contract.removal import PlanRequest


@pytest.fixture(scope="module")
def desk(opened: Opened) -> Desk:
    return Desk(opened, Settings())


def names(answer: object) -> set[str]:
    return {each.id for each in answer.bulletins}  # type: ignore[attr-defined]


def test_a_bulletin_stands_on_what_names_its_part(desk: Desk) -> None:
    """The bulletin of the dryer's cut-off concerns two thermostats."""
    cut_off = desk.removal_plan("tgd27-460-s", PlanRequest(reach=["thermal-cut-off"]))
    assert "bulletin-cut-off" in names(cut_off)
    console = desk.removal_plan("tgd27-460-s", PlanRequest(reach=["console"]))
    assert "bulletin-cut-off" not in names(console)
    assert "bulletin-cut-off" in names(desk.component("tgd27-460-s", "thermal-cut-off", None))


def test_a_recall_stands_on_every_answer_for_its_range_alone(desk: Desk) -> None:
    """The inlet recall of the fridge-freezer is for early serial numbers."""
    for serial, there in (("1", True), ("241801000", False)):
        for answer in (
            desk.removal_plan("flb-316-k", PlanRequest(reach=["damper:test"], serial=serial)),
            desk.energies("flb-316-k", serial),
            desk.model("flb-316-k", serial),
        ):
            assert ("bulletin-inlet" in names(answer)) is there
    assert "bulletin-inlet" not in names(desk.energies("flb-316-t", None))


def test_what_concerns_no_part_stands_on_every_answer_of_its_models(desk: Desk) -> None:
    assert "bulletin-dryer" in names(desk.energies("flb-316-t", None))


def test_an_answer_from_a_draft_says_so(desk: Desk, opened: Opened) -> None:
    (appliance,) = opened.collection.appliances("tgd27-460-s")
    answer = desk.energies("tgd27-460-s", None)
    assert not answer.draft
    assert grounded(answer, (replace(appliance, status="draft"),)).draft
    assert grounded(answer, (appliance, replace(appliance, status="draft"))).draft
