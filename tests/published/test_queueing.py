"""The simulation behind the plan for many machines, held against closed forms and published values.

Erlang's delay formula: A. K. Erlang, "Solution of some problems in the theory of probabilities of significance in
automatic telephone exchanges" (1917). For one server the share that waits is the load itself; for two, with a the load
offered, a^2 / (2 + a), which follows from the formula by hand. LRU caches: H. Che, Y. Tung, Z. Wang, "Hierarchical Web
caching systems: modeling, design and experimental results", IEEE Journal on Selected Areas in Communications 20(7),
2002, doi:10.1109/JSAC.2002.801752.
"""

from __future__ import annotations

import bisect
import itertools
import math
import random
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from support.queueing import Outcome, che_hits, erlang_c, simulated, zipf


@given(st.floats(0.01, 0.99))
def test_one_server_waits_with_its_load(load: float) -> None:
    assert erlang_c(1, load) == pytest.approx(load)


@given(st.floats(0.01, 1.99))
def test_two_servers_wait_as_by_hand(offered: float) -> None:
    assert erlang_c(2, offered) == pytest.approx(offered**2 / (2 + offered))


@given(st.integers(1, 40), st.fractions(Fraction(1, 100), Fraction(99, 100), max_denominator=100))
def test_erlang_by_its_definition(servers: int, load: Fraction) -> None:
    """The formula as it is written, in exact fractions."""
    offered = load * servers
    last = offered**servers / math.factorial(servers) / (1 - load)
    before = sum(offered**number / math.factorial(number) for number in range(servers))
    assert erlang_c(servers, float(offered)) == pytest.approx(float(last / (before + last)))


def flat(rate: float) -> object:
    return lambda drawn, _: drawn.expovariate(rate)


@pytest.mark.parametrize(("replicas", "load"), [(1, 0.5), (2, 0.7), (8, 0.8)])
def test_waiting_is_as_erlang_says(replicas: int, load: float) -> None:
    service = 100.0
    found = simulated(
        random.Random(1),
        requests=200_000,
        rate=load * replicas * service,
        replicas=replicas,
        popular=lambda _: 0,
        kept=1,
        hit=flat(service),  # type: ignore[arg-type]
        miss=flat(service),  # type: ignore[arg-type]
    )
    waits = erlang_c(replicas, load * replicas)
    assert found.waited == pytest.approx(waits, rel=0.05)
    assert found.mean_wait == pytest.approx(waits / (replicas * service * (1 - load)), rel=0.1)


@pytest.mark.parametrize("kept", [20, 200])
def test_hits_are_as_che_says(kept: int) -> None:
    shares = zipf(2_000)
    ends = list(itertools.accumulate(shares))
    found = simulated(
        random.Random(2),
        requests=100_000,
        rate=1.0,
        replicas=1,
        popular=lambda drawn: bisect.bisect(ends, drawn.random()),
        kept=kept,
        hit=lambda *_: 0.0,
        miss=lambda *_: 0.0,
    )
    assert found.hits == pytest.approx(che_hits(shares, kept), abs=0.01)


def test_a_lost_replica_makes_the_others_busier() -> None:
    def run(lost: int | None) -> Outcome:
        return simulated(
            random.Random(3),
            requests=40_000,
            rate=240.0,
            replicas=4,
            popular=lambda _: 0,
            kept=1,
            hit=flat(100.0),  # type: ignore[arg-type]
            miss=flat(100.0),  # type: ignore[arg-type]
            lost_after=lost,
        )

    assert run(0).waited == pytest.approx(erlang_c(3, 2.4), rel=0.06)
    assert run(None).waited == pytest.approx(erlang_c(4, 2.4), rel=0.1)
