"""What is said where there is no plan, and where the search ends before there is one or before it is proved."""

from __future__ import annotations

import pytest

from firstoff.appliance.model import Purpose
from firstoff.removal import (
    Budget,
    Request,
    Target,
    Undecided,
    Unreachable,
    plan,
)
from support.dishwasher import dishwasher
from support.full_model import check
from support.instances import access, appliance, component, preparation, removal

GOAL = Target("core", Purpose.REPLACE)


def caught(request: Request, **parts: object) -> Unreachable:
    with pytest.raises(Unreachable) as error:
        plan(appliance([component(slug) for slug in ("core", "cover", "clip")], **parts), request)  # type: ignore[arg-type]
    return error.value


def test_a_tool_that_is_not_at_hand_is_named() -> None:
    ways = [removal("core", 1, off=["cover"]), removal("cover", 1, tools=["hex key", "driver"])]
    error = caught(Request((GOAL,), tools=frozenset({"driver"})), removals=ways)
    assert error.target == GOAL
    assert [(o.way, [tool.id for tool in o.missing_tools]) for o in error.obstacles] == [("cover-way0", ["hex key"])]
    assert str(error) == ("core, to be replaced, cannot be reached. remove cover by way 0 needs hex key, not at hand.")


ROWS = [
    # what the row shows, the removals, paths, request, the ways named, a word of the reason
    ("no way is known", [removal("core", 1, off=["cover"])], [], Request((GOAL,)), ["cover"], "no usable way"),
    (
        "a way is ruled out",
        [removal("core", 1)],
        [],
        Request((GOAL,), banned=frozenset({"core-way0"})),
        ["core-way0"],
        "ruled out",
    ),
    (
        "each waits for the other",
        [removal("core", 1, off=["cover"]), removal("cover", 1, off=["core"])],
        [],
        Request((GOAL,)),
        ["core-way0", "cover-way0"],
        "which waits for it in turn",
    ),
    (
        "three in a circle, behind a way that a tool is lacking for",
        [
            removal("core", 1, off=["cover"], tools=["hook"]),
            removal("core", 1, off=["cover"], way=1),
            removal("cover", 1, off=["clip"]),
            removal("clip", 1, off=["core"]),
        ],
        [],
        Request((GOAL,)),
        ["core-way0", "cover-way0", "clip-way0"],
        "and so on in a circle",
    ),
    (
        "a state nothing brings about",
        [removal("core", 1, states=["door=9"])],
        [],
        Request((GOAL,)),
        ["core"],
        "no usable way",
    ),
]


@pytest.mark.parametrize(
    ("ways", "paths", "request_", "named", "reason"), [row[1:] for row in ROWS], ids=[row[0] for row in ROWS]
)
def test_what_stands_in_the_way(
    ways: list[object], paths: list[object], request_: Request, named: list[str], reason: str
) -> None:
    error = caught(request_, removals=ways, paths=paths)
    assert [obstacle.way for obstacle in error.obstacles] == named
    assert all(reason in obstacle.reason for obstacle in error.obstacles)
    assert error.target == GOAL


def test_a_circle_is_named_beside_what_else_stands_in_the_way() -> None:
    """The core needs the cover, which waits for the clip and the clip for it; the core's own tool is lacking too."""
    ways = [
        removal("core", 1, off=["cover"], tools=["hook"]),
        removal("core", 1, off=["cover"], way=1),
        removal("cover", 1, off=["clip"]),
        removal("clip", 1, off=["cover"]),
    ]
    error = caught(Request((GOAL,), tools=frozenset()), removals=ways)
    assert [str(obstacle.sentence) for obstacle in error.obstacles] == [
        "remove core by way 0 needs hook, not at hand.",
        "remove cover by way 0: waits for clip off, which waits for it in turn.",
        "remove clip by way 0: waits for cover off, which waits for it in turn.",
    ]


def test_a_circle_that_states_are_in() -> None:
    """The cover comes off with the machine on its back, where it goes only with the cover off."""
    error = caught(
        Request((Target("cover", Purpose.REPLACE),)),
        removals=[removal("cover", 1, states=["posture=1"])],
        variables={"posture": 2},
        preparations=[preparation("posture=1", "posture=0", 1, 1, off=["cover"])],
    )
    assert [obstacle.sentence for obstacle in error.obstacles] == [
        "remove cover by way 0: waits for posture 1, which waits for it in turn.",
        "posture=0 to posture=1: waits for cover off, which waits for it in turn.",
    ]


def test_another_way_opens_a_circle() -> None:
    ways = [
        removal("core", 1, off=["cover"]),
        removal("cover", 1, off=["core"]),
        removal("cover", 1, tools=["hook"], way=1),
    ]
    error = caught(Request((GOAL,), tools=frozenset()), removals=ways)
    assert [obstacle.way for obstacle in error.obstacles] == ["cover-way1"]


def test_states_that_exclude_one_another() -> None:
    """Shut to lift the latch and open to reach behind it, and the latch cannot be lifted once it is open."""
    error = caught(
        Request((Target("core", Purpose.INSPECT),)),
        removals=[],
        paths=[access("core", Purpose.INSPECT, states=["door=1", "latch=1"])],
        variables={"door": 2, "latch": 2},
        preparations=[
            preparation("door=1", "door=0", 1, 1, states=["latch=0"]),
            preparation("latch=1", "latch=0", 1, 1, states=["door=0"]),
        ],
    )
    assert [obstacle.way for obstacle in error.obstacles] == ["core-inspect0"]
    assert "exclude" in error.obstacles[0].reason


def test_no_way_back_to_the_initial_state() -> None:
    """The part that has to be off to shut the door can only be refitted with the door open."""
    error = caught(
        Request((Target("clip", Purpose.REPLACE),), states={"door": "door=1"}),
        removals=[removal("clip", 1), removal("cover", 1, states=["door=1"])],
        variables={"door": 2},
        preparations=[preparation("door=1", "door=0", 1, 1, off=["cover"])],
    )
    assert error.target is None


BOTH = Request((Target("board", Purpose.TEST), Target("sensor", Purpose.REPLACE)), alternatives=0)
BOTH_TAKE = 42.5


def test_a_search_that_ends_before_a_plan_is_found_says_so() -> None:
    with pytest.raises(Undecided) as error:
        plan(dishwasher(), BOTH, Budget(nodes=3))
    assert 0 < error.value.bound <= BOTH_TAKE


def test_a_search_that_ends_before_the_proof_gives_a_plan_and_a_bound() -> None:
    """The plan is one that was shown to be possible."""
    found = plan(dishwasher(), BOTH, Budget(nodes=50))
    check(dishwasher(), BOTH, found)
    assert not found.optimal
    assert 0 < found.bound <= BOTH_TAKE <= found.minutes


def test_a_clock_ends_the_search() -> None:
    """A clock that goes on by a second each time it is read leaves a hundred nodes or so."""
    ticking = iter(range(10**9))
    found = plan(dishwasher(), BOTH, Budget(seconds=100, clock=lambda: float(next(ticking))))
    check(dishwasher(), BOTH, found)
    assert not found.optimal
    assert found.nodes < 120
    assert plan(dishwasher(), BOTH).optimal
