from __future__ import annotations

import pytest

from firstoff.appliance.model import (
    Appliance,
    Connection,
    Removal,
)
from firstoff.energy import PointCondition, live_points, opens_protection, situation_of
from support.circuits import KIND, appliance, circuit, link, mains


def removal(id_: str, component: str, *opens: str, by_connection: str | None = None) -> Removal:
    connections = (Connection(KIND, "plug", opens=frozenset({by_connection})),) if by_connection else ()
    every = frozenset(opens) | ({by_connection} if by_connection else frozenset())
    return Removal(id_, component, id_, 1.0, 1.0, connections=connections, opens=every)


def machine() -> Appliance:
    """A panel with two ways off, a board that holds a capacitor with its bleed, and a drawer inside the panel."""
    links = [
        link("cord", "conductor", "l", "a", "cord"),
        link("harness", "conductor", "a", "b", "harness"),
        link("tail", "conductor", "b", "c", "harness"),
        link("lamp", "load", "c", "n", "panel"),
        link("inner-lamp", "load", "c", "n", "drawer"),
        link("panel-bond", "earth-bond", "pe", "panel-metal", "earth-wire"),
        link("second-bond", "earth-bond", "pe", "rear-metal", "earth-wire"),
        link("drawer-bond", "earth-bond", "panel-metal", "drawer-metal", "drawer"),
        link("capacitor", "capacitor", "b", "n", "board", farads=1e-6, volts=230.0, current="ac"),
        link("feed", "conductor", "b", "r", "harness"),
        link("bleed", "load", "r", "n", "bleeder", ohms=1e6, bleeds="capacitor"),
    ]
    removals = [
        removal("panel-front", "panel", "tail", "panel-bond"),
        removal("panel-whole", "panel", "tail", "harness", by_connection="second-bond"),
        removal("board-off", "board"),
        removal("bleeder-off", "bleeder"),
        removal("harness-off", "harness"),
        removal("feed-undone", "cord", "feed"),
        removal("cord-off", "cord"),
    ]
    inside = dict.fromkeys(("cord", "harness", "panel", "earth-wire", "board", "bleeder", "body"))
    return appliance(circuit(links, [mains()]), inside | {"drawer": "panel"}, removals)


@pytest.mark.parametrize(
    ("off", "ways", "links_open", "bonds_open", "in_doubt"),
    [
        # nothing off
        ((), {}, set(), set(), set()),
        # the part's own links go with it; a part without a removal opens nothing more
        (("earth-wire",), {}, set(), {"panel-bond", "second-bond"}, set()),
        # way known: exactly what it opens, connections included; what sits inside is in doubt, its bond counts open
        (("panel",), {"panel": "panel-front"}, {"lamp", "tail"}, {"panel-bond", "drawer-bond"}, {"inner-lamp"}),
        (
            ("panel",),
            {"panel": "panel-whole"},
            {"lamp", "tail", "harness"},
            {"second-bond", "drawer-bond"},
            {"inner-lamp"},
        ),
        # way not known: links only where every way opens them, bonds where any does
        (
            ("panel",),
            {},
            {"lamp", "tail"},
            {"panel-bond", "second-bond", "drawer-bond"},
            {"inner-lamp", "harness"},
        ),
        # a way of another component, or one that does not exist, says nothing
        (
            ("panel",),
            {"panel": "board-off"},
            {"lamp", "tail"},
            {"panel-bond", "second-bond", "drawer-bond"},
            {"inner-lamp", "harness"},
        ),
        # several parts
        (("board", "cord"), {"cord": "feed-undone"}, {"capacitor", "cord", "feed"}, set(), set()),
    ],
)
def test_what_conducts_no_more(
    off: tuple[str, ...], ways: dict[str, str], links_open: set[str], bonds_open: set[str], in_doubt: set[str]
) -> None:
    situation = situation_of(machine(), ["switch"], off, ["capacitor"], ways)
    assert situation.opened == {"switch"}
    assert situation.released == {"capacitor"}
    assert situation.links_open == links_open
    assert situation.bonds_open == bonds_open
    assert situation.links_in_doubt == in_doubt
    assert situation.neutral_proved is False


def test_a_link_in_doubt_still_conducts_and_a_bond_in_doubt_does_not_protect() -> None:
    states = live_points(machine(), situation_of(machine(), (), ["panel"]))
    assert states["b"].state is PointCondition.LIVE
    assert states["panel-metal"].state is PointCondition.UNKNOWN


def test_a_circle_of_nesting_ends() -> None:
    links = [link("x", "conductor", "l", "a", "one"), link("bond", "earth-bond", "pe", "m", "two")]
    of = appliance(circuit(links, [mains()]), {"one": "two", "two": "one", "body": None})
    situation = situation_of(of, (), ["one"])
    assert situation.links_open == {"x"}
    assert situation.bonds_open == {"bond"}


@pytest.mark.parametrize(
    ("way", "lost"),
    [
        # takes an earth wire off, and the bond of what sits inside
        ("panel-front", {"panel-bond", "drawer-bond"}),
        # an earth wire opened by a connection
        ("panel-whole", {"second-bond", "drawer-bond"}),
        # takes the bleed resistor itself off
        ("bleeder-off", {"bleed"}),
        # opens the conductor that ties the bleed to its capacitor
        ("feed-undone", {"bleed"}),
        # that conductor goes with the part
        ("harness-off", {"bleed"}),
        # takes the capacitor away from its bleed
        ("board-off", {"bleed"}),
        # touches neither
        ("cord-off", set()),
    ],
)
def test_removals_that_cost_protection(way: str, lost: set[str]) -> None:
    assert opens_protection(machine(), way) == lost
    assert opens_protection(machine(), machine().removals[way]) == lost


def test_a_removal_that_does_not_exist_is_refused() -> None:
    with pytest.raises(KeyError):
        opens_protection(machine(), "no-such-removal")
