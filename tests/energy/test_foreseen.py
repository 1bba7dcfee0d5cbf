"""What is worked out beforehand is what is found when asked, for every set of the devices that decide."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import settings as hypothesis_settings
from hypothesis import strategies as st

from firstoff.energy import SAFE_VOLTS, Situation, cleared_by, live_points, stored
from firstoff.energy.errors import TooMany
from firstoff.energy.foreseen import MOST_DEVICES, Foreseen, deciding, foreseen
from firstoff.energy.network import earthed, network_of
from support.circuits import circuit, link, mains, random_case


def opened_at(devices: tuple[str, ...], place: int) -> frozenset[str]:
    return frozenset(device for bit, device in enumerate(devices) if place >> bit & 1)


@hypothesis_settings(max_examples=60)
@given(st.integers(0, 10**9))
def test_as_found_when_asked(seed: int) -> None:
    of = random_case(seed, isolating=3).circuit
    network = network_of(of)
    devices = deciding(network)
    found = foreseen(of, SAFE_VOLTS)
    assert len({opened_at(devices, place) for place in range(len(found))}) == len(found) == 2 ** len(devices)
    for place, each in enumerate(found):
        situation = Situation(opened=opened_at(devices, place))
        assert each.earth == {network.points[number] for number in earthed(network, situation)}
        assert each.cleared_by == {point: cleared_by(of, situation, point) for point in of.points}
        states = live_points(of, situation)
        assert {point for point, state in states.items() if state.state == "unknown"} <= each.doubt
        assert not {point for point, state in states.items() if state.state == "isolated"} & each.doubt
        assert {charge.link: charge.wait_s for charge in stored(of, situation)} == {
            capacitor: wait.seconds[0] for capacitor, wait in each.waits.items()
        }


@hypothesis_settings(max_examples=40)
@given(st.integers(0, 10**9), st.data())
def test_controls_change_nothing_that_is_foreseen(seed: int, data: st.DataObject) -> None:
    of = random_case(seed, isolating=3).circuit
    devices = deciding(network_of(of))
    opened = data.draw(st.sets(st.sampled_from(sorted(of.devices))))
    place = sum(1 << bit for bit, device in enumerate(devices) if device in opened)
    each: Foreseen = foreseen(of, SAFE_VOLTS)[place]
    situation = Situation(opened=frozenset(opened))
    assert each.cleared_by == {point: cleared_by(of, situation, point) for point in of.points}


def test_a_control_that_opens_an_earth_bond_decides() -> None:
    bond = link("g", "earth-bond", "pe", "metal", device="c")
    of = circuit([link("k", "contact", "l", "p", device="i"), bond], [mains()], ["i"], ["c"])
    assert deciding(network_of(of)) == ("c", "i")
    closed, opened = foreseen(of, SAFE_VOLTS)[0], foreseen(of, SAFE_VOLTS)[1]
    assert "metal" in closed.earth
    assert ("metal" in opened.earth, "metal" in opened.doubt) == (False, True)


def shared_charge(size: int) -> list[float | None]:
    """Times for the first of ``size`` capacitors at one bleed, by how many of the others are released."""
    sizes = {"farads": 1e-5, "volts": 325.0, "current": "dc"}
    links = [link(f"q{number}", "capacitor", "a", "b", **sizes) for number in range(size)]
    of = circuit([*links, link("r", "load", "a", "b", ohms=47000.0, bleeds="q0")], [mains()])
    wait = foreseen(of, SAFE_VOLTS)[0].waits["q0"]
    assert len(wait.seconds) == 2 ** (size - 1)
    return [wait.seconds[(1 << released) - 1] for released in range(size)]


def test_less_charge_takes_less_time() -> None:
    times = [each for each in shared_charge(4) if each is not None]
    assert len(times) == 4
    assert all(more > less > 0 for more, less in combinations(times, 2))


def test_too_many() -> None:
    names = [f"i{number}" for number in range(MOST_DEVICES + 1)]
    links = [link(f"k-{name}", "contact", "l", "p", device=name) for name in names]
    with pytest.raises(TooMany, match="9 devices"):
        foreseen(circuit(links, [mains()], names), SAFE_VOLTS)
    with pytest.raises(TooMany, match="9 capacitors"):
        shared_charge(10)
