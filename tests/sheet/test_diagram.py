"""What the picture shows of a plan and of the ways it was chosen over."""

from __future__ import annotations

from random import Random

import networkx as nx
import pytest

from firstoff.answers.bench import laid_out
from firstoff.answers.desk import Desk
from firstoff.answers.job_sheet import job_sheet
from firstoff.appliance.model import (
    Appliance,
    Purpose,
)
from firstoff.errors import FirstoffError
from firstoff.settings import Settings
from firstoff.sheet import Diagram
from firstoff.sheet.diagram import MOST_BOXES, Box
from firstoff_contract.removal import PlanRequest
from support.instances import (
    Shape,
    access,
    appliance,
    component,
    one_phase,
    one_phase_with_states,
    preparation,
    removal,
    small_case,
)


def diagram(machine: Appliance, *reach: str, **more: object) -> Diagram:
    asked = PlanRequest(reach=list(reach), **more)  # type: ignore[arg-type]
    return job_sheet(laid_out(machine), Settings(), asked).diagram


def box(found: Diagram, text: str) -> Box:
    (one,) = [each for each in found.boxes if each.text == text]
    return one


def arrows(found: Diagram) -> set[tuple[str, str, bool]]:
    return {(found.boxes[each.tail].text, found.boxes[each.head].text, each.taken) for each in found.arrows}


#: A belt behind two covers, one within the other, or behind a panel that needs the machine tilted, a foot off first.
MACHINE = appliance(
    [component(slug) for slug in ("belt", "cover", "lid", "panel", "foot", "lamp")],
    [
        removal("belt", 3, 4, off=["cover", "lid"], states=["supply=1"], way=0),
        removal("belt", 5, 20, off=["panel"], states=["supply=1"], way=1),
        removal("cover", 1, 1, off=["lid"]),
        removal("lid", 1, 1, states=["supply=1"]),
        removal("panel", 2, 2, states=["posture=1"]),
        removal("foot", 1, 1),
        removal("lamp", 1, 1),
    ],
    [access("lamp", Purpose.INSPECT, 1, states=["supply=1"])],
    {"posture": 2, "supply": 2},
    [
        preparation("posture=1", "posture=0", 2, 2, off=["foot"]),
        preparation("supply=1", "supply=0", 1, 1),
    ],
)


def test_the_plan_and_the_other_way() -> None:
    found = diagram(MACHINE, "belt")
    assert {each.text for each in found.boxes} == {
        "belt", "by way 0", "by way 1", "cover", "lid", "panel", "posture 1", "foot"
    }  # fmt: skip
    assert [each.text for each in found.boxes if each.taken] == ["belt", "by way 0", "cover", "lid"]
    assert box(found, "belt").target
    assert box(found, "belt").steps == (4,)
    assert box(found, "belt").notes == ("target: replace, step 5",)
    assert box(found, "lid").steps == (2,)
    assert box(found, "posture 1").kind == "state"
    assert box(found, "by way 0").notes == ("7 min, needs A",)
    assert box(found, "by way 1").notes == ("25 min, needs A", "24 min more in all")
    assert found.keys == ("A: supply 1 (step 1)",)
    assert found.left_out == ()
    assert found.title == "Replace: belt"


def test_arrows_that_others_imply_are_left_out() -> None:
    """The belt needs the lid off too, but so does the cover that it needs off."""
    assert arrows(diagram(MACHINE, "belt")) == {
        ("lid", "cover", True),
        ("cover", "by way 0", True),
        ("by way 0", "belt", True),
        ("foot", "posture 1", False),
        ("posture 1", "panel", False),
        ("panel", "by way 1", False),
        ("by way 1", "belt", False),
    }


def test_what_is_off_already_is_said() -> None:
    found = diagram(MACHINE, "belt", off=["lid"], states=["supply=1"])
    assert "off already" in box(found, "lid").notes
    assert box(found, "lid").off
    assert not box(found, "lid").taken
    assert "lid; off already." in found.words


def test_a_target_to_be_looked_at_is_a_box_of_its_own() -> None:
    found = diagram(MACHINE, "lamp:inspect", "belt")
    lamp = box(found, "lamp")
    assert lamp.target
    assert lamp.notes == ("target: inspect", "needs A")
    assert len(lamp.steps) == 1


def test_two_purposes_of_one_part_are_both_said() -> None:
    found = diagram(MACHINE, "belt:inspect", "belt:replace")
    assert [note.split(",")[0] for note in box(found, "belt").notes[:2]] == ["target: inspect", "target: replace"]


def test_a_circle_of_needs_becomes_a_note() -> None:
    machine = appliance(
        [component("a"), component("b")],
        [removal("a", 1, off=["b"]), removal("a", 9, way=1), removal("b", 1, off=["a"]), removal("b", 5, way=1)],
    )
    found = diagram(machine, "a")
    assert [note for each in found.boxes for note in each.notes if note.startswith("first off")] == ["first off: a"]
    assert nx.is_directed_acyclic_graph(nx.DiGraph((each.tail, each.head) for each in found.arrows))


def test_ways_that_cannot_be_used_are_said() -> None:
    machine = appliance(
        [component("a"), component("frame")],
        [removal("a", 5, way=0), removal("a", 1, off=["frame"], way=1), removal("a", 1, tools=["puller"], way=2)],
    )
    found = diagram(machine, "a", tools=[])
    assert found.left_out == ("Not drawn, since they cannot be done here: remove a by way 1 and remove a by way 2.",)


def test_without_a_target_nothing_is_drawn() -> None:
    found = diagram(MACHINE, off=["lid"], states=["supply=1"])
    assert found.boxes == ()
    assert found.title == "Close up the machine"
    assert found.left_out[0] == "Nothing has to come off first."


def test_a_large_graph_is_cut_to_the_plan_and_the_next_best() -> None:
    """A target with forty ways: the plan's and those of the alternatives are drawn."""
    parts = [f"p{number}" for number in range(40)]
    machine = appliance(
        [component("a"), *(component(part) for part in parts)],
        [
            *(removal("a", 1, 1, off=[part], way=number) for number, part in enumerate(parts)),
            *(removal(part, number + 1) for number, part in enumerate(parts)),
        ],
    )
    found = diagram(machine, "a")
    assert [each.text for each in found.boxes if each.kind == "part"] == ["a", "p0", "p1", "p2", "p3"]
    assert [each.text for each in found.boxes if each.taken] == ["a", "by way 0", "p0"]
    assert found.left_out == (
        "Not drawn, since neither this plan nor the next best need them: p4, p5, p6, p7, p8, p9, p10, p11 and 28 more.",
    )


def test_a_long_plan_is_cut_to_what_is_near_the_target() -> None:
    """A chain of 300 parts."""
    machine = appliance(
        [component(f"p{number}") for number in range(300)],
        [removal(f"p{number}", 1, off=[f"p{number + 1}"] if number < 299 else []) for number in range(300)],
    )
    found = diagram(machine, "p0")
    assert len(found.boxes) == MOST_BOXES
    assert found.boxes[-1].notes == ("1 more first, not drawn",)
    assert found.left_out[0].startswith("Only what is nearest to the target is drawn; 270 more")


def check(found: Diagram) -> None:
    """What must hold of every picture."""
    assert len(found.boxes) <= MOST_BOXES
    graph = nx.DiGraph((arrow.tail, arrow.head) for arrow in found.arrows)
    graph.add_nodes_from(range(len(found.boxes)))
    assert nx.is_directed_acyclic_graph(graph)
    targets = {number for number, each in enumerate(found.boxes) if each.target}
    assert targets
    for number in graph:
        leads = number in targets or targets & nx.descendants(graph, number)
        assert leads or found.boxes[number].taken, "all leads to a target"
    for arrow in found.arrows:
        if arrow.taken:
            assert found.boxes[arrow.head].taken
            assert found.boxes[arrow.tail].taken or not found.boxes[arrow.tail].steps
    for number, each in enumerate(found.boxes):
        assert each.taken or not each.steps
        assert (each.of >= 0) == (each.kind == "way")
        if each.kind == "way":
            assert graph.has_edge(number, each.of)
    assert len(found.words) == len(found.boxes)


@pytest.mark.parametrize("seed", range(120))
def test_pictures_of_random_machines_with_states(seed: int) -> None:
    machine, request = small_case(seed)
    asked = PlanRequest(
        reach=[f"{target.component}:{target.purpose.value}" for target in request.targets],
        off=sorted(request.off),
        states=sorted(request.states.values()),
    )
    try:
        job = job_sheet(laid_out(machine), Settings(), asked)
    except FirstoffError:
        return
    check(job.diagram)
    shown = {step for each in job.diagram.boxes for step in each.steps}
    for step in job.plan.steps:
        assert step.action != "remove" or step.n in shown or f"(step {step.n})" in " ".join(job.diagram.left_out)


@pytest.mark.parametrize("seed", range(25))
def test_pictures_of_larger_machines(seed: int) -> None:
    rng = Random(seed)
    shape = Shape(parts=rng.randint(5, 60), ways=80, mutual=rng.choice((0.0, 0.3)))
    machine = one_phase_with_states(rng, shape, 3) if seed % 2 else one_phase(rng, shape)
    try:
        job = job_sheet(laid_out(machine), Settings(), PlanRequest(reach=["p0", "p3"]))
    except FirstoffError:
        return
    check(job.diagram)


@pytest.mark.parametrize("model", ["flb-316-t", "tgd27-460-s"])
def test_every_part_of_the_demo_machines(desk: Desk, model: str) -> None:
    """Every removal of the plan is in its picture, with its number."""
    reached = 0
    for slug in desk.opened.collection.appliances(model, None)[0].components:
        try:
            job = desk.job_sheet(model, PlanRequest(reach=[slug]))
        except FirstoffError:
            continue
        reached += 1
        check(job.diagram)
        numbered = {step for each in job.diagram.boxes for step in each.steps}
        assert {step.n for step in job.plan.steps if step.action == "remove"} <= numbered
    assert reached > 40
