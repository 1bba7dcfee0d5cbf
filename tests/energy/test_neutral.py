from __future__ import annotations

import pytest

from firstoff.energy import PointCondition, Situation, live_points
from firstoff.energy.network import network_of
from firstoff.energy.neutral import lines_still_to_open, may_be_proved
from support.circuits import circuit, link, mains

PROVABLE = {"fixed": True, "earthed_neutral": True, "polarised": True}


@pytest.mark.parametrize(
    ("changes", "provable"),
    [
        ({}, True),
        ({"fixed": False}, False),
        ({"earthed_neutral": False}, False),
        ({"polarised": False}, False),
        ({"neutral": None}, False),
        ({"lines": ()}, False),
        ({"neutral": "l"}, False),
        ({"derived_from": ("x",)}, False),
    ],
)
def test_which_supplies_have_a_neutral_that_can_be_proved(changes: dict[str, object], provable: bool) -> None:
    assert may_be_proved(mains(**{**PROVABLE, **changes})) is provable


BREAKER = link("pole", "contact", "l", "a", device="breaker")
REST = [link("heater", "load", "a", "b"), link("return", "conductor", "b", "n")]


@pytest.mark.parametrize(
    ("links", "opened", "lacking"),
    [
        # the one line is open: proved
        ([BREAKER, *REST], {"breaker"}, None),
        # nothing is open yet: the breaker has to
        ([BREAKER, *REST], set(), {"breaker"}),
        # only a control is open: a control opens nothing
        ([link("pole", "contact", "l", "a", device="relay"), *REST], {"relay"}, set()),
        # a conductor and a fuse may lie before the breaker
        (
            [
                link("w", "conductor", "l", "l1"),
                link("f", "fuse", "l1", "l2"),
                link("p", "contact", "l2", "a", device="breaker"),
                *REST,
            ],
            {"breaker"},
            None,
        ),
        # a load before the breaker still feeds the neutral
        ([BREAKER, *REST, link("lamp", "load", "l", "n")], {"breaker"}, set()),
        # a load before the breaker that ends nowhere: something is still on
        ([BREAKER, *REST, link("lamp", "load", "l", "x")], {"breaker"}, set()),
        # a wire passes the breaker by
        ([BREAKER, *REST, link("by", "conductor", "l", "a")], {"breaker"}, set()),
        # the same, to a dead end: the contact does not open what it is passed by
        ([BREAKER, link("by", "conductor", "l", "a")], {"breaker"}, set()),
        # a changeover throw never opens
        ([link("p", "contact", "l", "a", device="breaker", changeover=True), *REST], {"breaker"}, set()),
        # a second branch has its own switch
        (
            [BREAKER, *REST, link("q", "contact", "l", "c", device="switch"), link("lamp", "load", "c", "n")],
            {"breaker"},
            {"switch"},
        ),
        # a line of which nothing is known is not open
        ([link("heater", "load", "a", "n")], {"breaker"}, set()),
        # line straight to neutral through a closed switch, nothing else on it
        ([BREAKER, link("q", "contact", "l", "n", device="switch")], {"breaker"}, {"switch"}),
        # a line that has nothing on it yet, but a breaker that is still closed
        ([BREAKER], set(), {"breaker"}),
        # the same with a load beyond
        ([BREAKER, *REST, link("q", "contact", "l", "n", device="switch")], {"breaker"}, {"switch"}),
    ],
)
def test_when_every_line_is_open(links: list, opened: set[str], lacking: set[str] | None) -> None:
    of = circuit(links, [mains(**PROVABLE)], isolating=["breaker", "switch"], control=["relay"])
    found = lines_still_to_open(network_of(of), of.sources["mains"], frozenset(opened))
    assert found == lacking


@pytest.mark.parametrize(
    ("opened", "proved", "changes", "state"),
    [
        ({"breaker"}, True, {}, PointCondition.ISOLATED),
        ({"breaker"}, False, {}, PointCondition.LIVE),
        (set(), True, {}, PointCondition.LIVE),
        ({"breaker"}, True, {"polarised": False}, PointCondition.LIVE),
        ({"breaker"}, True, {"fixed": False}, PointCondition.LIVE),
        ({"breaker"}, True, {"earthed_neutral": False}, PointCondition.LIVE),
        # one leg of two
        ({"breaker"}, True, {"lines": ("l", "l2")}, PointCondition.LIVE),
        ({"breaker", "second"}, True, {"lines": ("l", "l2")}, PointCondition.ISOLATED),
    ],
)
def test_a_proved_neutral_is_dead_and_no_other(
    opened: set[str], proved: bool, changes: dict[str, object], state: PointCondition
) -> None:
    second = [link("pole2", "contact", "l2", "c", device="second"), link("lamp", "load", "c", "b")]
    of = circuit(
        [BREAKER, *REST, *(second if "lines" in changes else [])],
        [mains(**{**PROVABLE, **changes})],
        isolating=["breaker", "second"],
    )
    situation = Situation(opened=frozenset(opened), neutral_proved=proved)
    assert live_points(of, situation)["b"].state is state


def test_what_feeds_a_proved_neutral_from_elsewhere_is_named() -> None:
    links = [BREAKER, *REST, link("backfeed", "load", "other-line", "b")]
    other = mains("other", lines=("other-line",), neutral=None)
    of = circuit(links, [mains(**PROVABLE), other], isolating=["breaker"])
    found = live_points(of, Situation(opened=frozenset({"breaker"}), neutral_proved=True))["n"]
    assert found.state is PointCondition.LIVE
    assert (found.source, found.fed_by) == ("other", ("other-line", "backfeed", "b", "return", "n"))


def test_an_opened_connector_is_not_an_isolating_device() -> None:
    links = [link("w", "conductor", "l", "a"), *REST]
    of = circuit(links, [mains(**PROVABLE)], isolating=["breaker"])
    situation = Situation(links_open=frozenset({"w"}), neutral_proved=True)
    assert live_points(of, situation)["b"].state is PointCondition.LIVE
