"""Learned frequencies against scipy's Dirichlet distribution and against Bayes' rule over a grid."""

from __future__ import annotations

from collections import Counter
from itertools import product
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import dirichlet, multinomial

from firstoff.appliance.model import Appliance, Fault
from firstoff.appliance.terms import Concept
from firstoff.diagnosis import Findings, UnknownFinding, after_jobs, authored_frequencies, taught, weighed

TOLD = st.lists(st.integers(1, 90), min_size=2, max_size=6)
WORTH = st.floats(0.5, 500)


def machine(told: list[float]) -> Appliance:
    kind: Any = Concept("dryer", "dryer")
    every = [
        Fault(f"f{n}", f"f{n}", Concept("component", ""), Concept("open", ""), each) for n, each in enumerate(told)
    ]
    return Appliance("m", "M", "M", kind, "Marrowby", kind, "r", faults={one.id: one for one in every})


@given(st.data(), TOLD, WORTH)
def test_the_weights_are_the_mean_of_the_posterior(data: st.DataObject, told: list[float], worth: float) -> None:
    confirmed = data.draw(st.lists(st.sampled_from([f"f{n}" for n in range(len(told))]), max_size=40))
    found = after_jobs(authored_frequencies(machine(told), worth), confirmed)
    counts = Counter(confirmed)
    # Conjugacy as published; the prior made from the told numbers by hand.
    posterior = dirichlet([worth * each / sum(told) + counts[f"f{n}"] for n, each in enumerate(told)])
    assert [found.weight(f"f{n}") for n in range(len(told))] == pytest.approx(list(posterior.mean()))
    assert found.learned == pytest.approx(len(confirmed) / (worth + len(confirmed)))


@pytest.mark.parametrize("counts", [(0, 0, 0), (3, 0, 1), (0, 9, 2)])
def test_the_weights_by_bayes_rule_over_a_grid(counts: tuple[int, int, int]) -> None:
    """No conjugacy: prior density times the multinomial likelihood, summed over the triangle of frequencies."""
    told, worth, fine = [5.0, 3.0, 2.0], 20.0, 200
    cells = [(i + 1 / 3, j + 1 / 3) for i, j in product(range(fine), repeat=2) if i + j < fine - 1]
    points = np.array([(i / fine, j / fine, 1 - (i + j) / fine) for i, j in cells])
    prior = dirichlet([worth * each / 10 for each in told]).pdf(points.T)
    likelihood = multinomial.pmf(np.array(counts), n=sum(counts), p=points) if sum(counts) else np.ones(len(points))
    mass = prior * likelihood
    mean = (points * mass[:, None]).sum(axis=0) / mass.sum()
    confirmed = [f"f{n}" for n, count in enumerate(counts) for _ in range(count)]
    found = after_jobs(authored_frequencies(machine(told), worth), confirmed)
    assert [found.weight(f"f{n}") for n in range(3)] == pytest.approx(list(mean), abs=1e-3)


@given(st.data(), TOLD, WORTH)
def test_one_by_one_is_all_at_once_in_any_order(data: st.DataObject, told: list[float], worth: float) -> None:
    confirmed = data.draw(st.lists(st.sampled_from([f"f{n}" for n in range(len(told))]), max_size=30))
    before = authored_frequencies(machine(told), worth)
    stepwise = before
    for each in data.draw(st.permutations(confirmed)):
        stepwise = after_jobs(stepwise, [each])
    cut = data.draw(st.integers(0, len(confirmed)))
    assert stepwise == after_jobs(before, Counter(confirmed))
    assert stepwise == after_jobs(before, confirmed) == after_jobs(after_jobs(before, confirmed[:cut]), confirmed[cut:])


@given(TOLD, st.integers(1, 400))
def test_weights_sum_to_one_and_go_to_what_was_confirmed(told: list[float], jobs: int) -> None:
    before = authored_frequencies(machine(told), 10)
    after = after_jobs(before, ["f0"] * jobs)
    assert sum(after.weight(fault) for fault in after.authored) == pytest.approx(1)
    assert before.weight("f0") < after.weight("f0") < 1
    assert all(after.weight(fault) < before.weight(fault) for fault in after.authored if fault != "f0")


def test_without_jobs_the_machine_is_as_it_was() -> None:
    told = machine([4, 1])
    assert taught(told, authored_frequencies(told, 50)) is told


def test_the_shares_of_a_diagnosis_begin_with_the_weights() -> None:
    told = machine([3, 1])
    learned = after_jobs(authored_frequencies(told, 4), ["f1"] * 4)
    assert weighed(told, Findings()).shares == pytest.approx({"f0": 3 / 4, "f1": 1 / 4})
    assert weighed(taught(told, learned), Findings()).shares == pytest.approx({"f0": 3 / 8, "f1": 5 / 8})


def test_frequencies_of_nil_are_learned_from_jobs_alone() -> None:
    none = authored_frequencies(machine([0.0, 0.0]), 50)
    assert (none.worth, none.weight("f0"), none.learned) == (0, 0, 0)
    some = after_jobs(none, ["f1"])
    assert (some.weight("f0"), some.weight("f1"), some.learned) == (0, 1, 1)


def test_a_fault_that_is_not_there_is_refused() -> None:
    with pytest.raises(UnknownFinding, match="f9"):
        after_jobs(authored_frequencies(machine([1, 1]), 50), ["f9"])
