"""What serves a target whose purpose has no access path of its own, and parts that are replaced as a unit."""

from __future__ import annotations

import pytest

from firstoff.appliance.model import (
    AccessPath,
    Purpose,
)
from firstoff.removal import (
    ActKind,
    Request,
    Target,
    Unreachable,
    plan,
)
from support.full_model import cheapest
from support.instances import (
    access,
    appliance,
    component,
    removal,
)
from support.proved import plan_checked

INSPECT, TEST, REPLACE = Purpose.INSPECT, Purpose.TEST, Purpose.REPLACE
NO_TOOLS: frozenset[str] = frozenset()


def to(slug: str, purpose: Purpose = REPLACE) -> Target:
    return Target(slug, purpose)


PATH = {"i": INSPECT, "t": TEST, "r": REPLACE}


@pytest.mark.parametrize(
    ("paths", "purpose", "way", "removed"),
    [
        ("", INSPECT, None, True), ("", TEST, None, True), ("", REPLACE, None, True),
        ("i", INSPECT, "i", False), ("i", TEST, None, True), ("i", REPLACE, None, True),
        ("t", INSPECT, "t", False), ("t", TEST, "t", False), ("t", REPLACE, None, True),
        ("r", INSPECT, "r", True), ("r", TEST, "r", True), ("r", REPLACE, "r", True),
        ("it", INSPECT, "i", False), ("it", TEST, "t", False), ("it", REPLACE, None, True),
        ("ir", INSPECT, "i", False), ("ir", TEST, "r", True), ("ir", REPLACE, "r", True),
        ("tr", INSPECT, "t", False), ("tr", TEST, "t", False), ("tr", REPLACE, "r", True),
        ("itr", INSPECT, "i", False), ("itr", TEST, "t", False), ("itr", REPLACE, "r", True),
    ],
)  # fmt: skip
def test_purposes_without_a_path(paths: str, purpose: Purpose, way: str | None, removed: bool) -> None:
    """Test stands in for inspect, replace for test. Even a dearer path of the purpose itself is not passed over."""
    minutes = {"i": 40, "t": 20, "r": 10}
    machine = appliance(
        [component("pump")], [removal("pump", 3, 2)], [access("pump", PATH[p], minutes[p]) for p in paths]
    )
    found = plan_checked(machine, Request((to("pump", purpose),)))
    (serve,) = (act for act in found.acts if act.kind is ActKind.SERVE)
    assert serve.way == (None if way is None else f"pump-{PATH[way]}0")
    assert found.removed == (("pump",) if removed else ())
    assert found.minutes == (5 if removed else 0) + (0 if way is None else minutes[way])


@pytest.mark.parametrize("purpose", [INSPECT, TEST])
def test_a_path_that_cannot_be_used_is_not_passed_over(purpose: Purpose) -> None:
    """A purpose that has a path is served by that alone: the next purpose's stand in for none, not for a poor one."""
    machine = appliance(
        [component("pump")], [removal("pump", 1)], [access("pump", purpose, tools={"jack"}), access("pump", REPLACE)]
    )
    with pytest.raises(Unreachable):
        plan(machine, Request((to("pump", purpose),), tools=NO_TOOLS))
    assert plan_checked(machine, Request((to("pump", REPLACE),), tools=NO_TOOLS)).removed == ("pump",)


@pytest.mark.parametrize(
    ("pump_minutes", "unit_minutes", "unit", "paths", "removed", "minutes"),
    [
        (9, 4, "unit", (), ("unit",), 4.0),
        (4, 9, "unit", (), ("pump",), 4.0),
        (None, 9, "unit", (), ("unit",), 9.0),
        (9, None, "unit", (), ("pump",), 9.0),
        (None, None, "unit", (), None, None),
        (9, 4, None, (), ("pump",), 9.0),
        # A unit that the model does not have, and one that is the part itself.
        (9, 4, "gone", (), ("pump",), 9.0),
        (9, 4, "pump", (), ("pump",), 9.0),
        # A path for replace has to hold as well, whichever of the two is off.
        (9, 4, "unit", (access("pump", REPLACE, 2),), ("unit",), 6.0),
        (9, 4, "unit", (access("pump", REPLACE, 2, off={"pump"}),), ("pump",), 11.0),
        (9, 4, "unit", (access("pump", REPLACE, 2, fitted={"unit"}),), ("pump",), 11.0),
        (9, 4, "unit", (access("pump", REPLACE, 2, fitted={"unit", "pump"}),), None, None),
    ],
)
@pytest.mark.parametrize("purpose", [INSPECT, TEST, REPLACE])
def test_a_part_is_replaced_with_its_unit(
    pump_minutes: float | None, unit_minutes: float | None, unit: str | None, paths: tuple[AccessPath, ...],
    removed: tuple[str, ...] | None, minutes: float | None, purpose: Purpose,
) -> None:  # fmt: skip
    """All purposes come to the same, as there are no paths but for replace."""
    times = {"pump": pump_minutes, "unit": unit_minutes}
    ways = [removal(slug, time) for slug, time in times.items() if time is not None]
    machine = appliance([component("pump", replaced_as=unit), component("unit")], ways, paths)
    request = Request((to("pump", purpose),))
    if removed is None:
        assert cheapest(machine, request) is None
        with pytest.raises(Unreachable) as caught:
            plan(machine, request)
        assert caught.value.target == request.targets[0]
        return
    found = plan_checked(machine, request)
    assert found.removed == removed
    assert found.minutes == minutes


def test_a_unit_already_off_serves_at_once() -> None:
    ways = [removal("pump", 3), removal("unit", 4, 2)]
    machine = appliance([component("pump", replaced_as="unit"), component("unit")], ways)
    assert plan_checked(machine, Request((to("pump"),), frozenset({"unit"}))).minutes == 2.0
