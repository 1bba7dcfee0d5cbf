"""Which jobs count for which machine, against Bayes' rule over a grid of the platform's frequencies."""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from pathlib import Path
from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest
from scipy.stats import dirichlet

from firstoff.answers.learning import learned_note, learned_of
from firstoff.appliance.model import Appliance, Fault
from firstoff.appliance.terms import Concept
from firstoff.collection.catalogue import Collection
from firstoff.collection.opening import Opened
from firstoff.outcomes import Counted
from support.telling import serving, told

FREQUENCIES = {"belt": 5.0, "pump": 3.0, "ice": 2.0}


def machine(model: str, *faults: str, platform: str = "p") -> Appliance:
    kind: Any = Concept("dryer", "dryer")
    every = [Fault(each, each, Concept("component", ""), Concept("open", ""), FREQUENCIES[each]) for each in faults]
    return Appliance(
        model, "M", "M", Concept(platform, platform), "Marrowby", kind, "r", faults={one.id: one for one in every}
    )


def collected(*machines: Appliance) -> Collection:
    """A collection of these; several of one model are its serial ranges."""

    def appliances(model: str) -> list[Appliance]:
        return [each for each in machines if each.model == model]

    models = [SimpleNamespace(id=each.model, platform=each.platform) for each in machines]
    return cast(Collection, SimpleNamespace(models=models, appliances=appliances))


LARGE, SMALL = machine("large", *FREQUENCIES), machine("small", "belt", "pump")


def test_jobs_on_a_larger_machine_count_for_a_smaller_one() -> None:
    """The posterior of the platform's frequencies by prior density times the likelihood of the jobs on both machines,
    a small one's given that its fault is none it cannot have; and of it the mean of what the small machine has."""
    jobs = {"large": {"belt": 1, "pump": 4, "ice": 3}, "small": {"belt": 2, "pump": 5}}
    worth, fine = 20.0, 300
    cells = [(i + 1 / 3, j + 1 / 3) for i, j in product(range(fine), repeat=2) if i + j < fine - 1]
    belt, pump, ice = np.array([(i / fine, j / fine, 1 - (i + j) / fine) for i, j in cells]).T
    mass = dirichlet([worth * each / 10 for each in FREQUENCIES.values()]).pdf(np.array([belt, pump, ice]))
    mass = mass * belt**1 * pump**4 * ice**3 * (belt / (belt + pump)) ** 2 * (pump / (belt + pump)) ** 5
    mean = float((mass * belt / (belt + pump)).sum() / mass.sum())
    # The small machine's faults have 8 of 10 of the platform's frequencies: its prior is worth as much of the 20 jobs.
    found = learned_of(collected(LARGE, SMALL), SMALL, Counted("r", jobs), worth * 8 / 10)
    assert found.frequencies.weight("belt") == pytest.approx(mean, abs=1e-3)
    assert found.frequencies.jobs == {"belt": 3, "pump": 9}


@pytest.mark.parametrize(
    ("asked", "others", "counts"),
    [
        (LARGE, [LARGE], {"belt": 1, "ice": 1}),
        (LARGE, [LARGE, SMALL], {"belt": 1, "ice": 1}),  # what had no chance to be met proves nothing
        (SMALL, [LARGE, SMALL], {"belt": 2}),
        (SMALL, [SMALL], {"belt": 1}),  # the large one is no longer described
        (SMALL, [SMALL, machine("large", *FREQUENCIES, platform="q")], {"belt": 1}),  # another construction
        # a range of the large one has as few faults, the other has not: what the job could meet is not known
        (LARGE, [LARGE, machine("large", "belt", "pump")], {}),
        (SMALL, [LARGE, machine("large", "belt", "pump"), SMALL], {"belt": 2}),
    ],
)
def test_which_jobs_count(asked: Appliance, others: list[Appliance], counts: dict[str, int]) -> None:
    jobs = {"large": {"belt": 1, "ice": 1}, "small": {"belt": 1}}
    found = learned_of(collected(*others), asked, Counted("r", jobs), 50)
    assert found.frequencies.jobs == counts


def test_a_fault_that_is_no_longer_described_is_passed_over() -> None:
    found = learned_of(collected(SMALL), SMALL, Counted("r", {"small": {"belt": 1, "gone": 7}}), 50)
    assert found.frequencies.job_count == 1


def test_what_is_said_adds_up() -> None:
    none = learned_note(learned_of(collected(SMALL), SMALL, Counted(), 50))
    assert (none.jobs, none.learned, none.authored_jobs, none.revision) == (0, 0, 50, None)
    some = learned_note(learned_of(collected(SMALL), SMALL, Counted("r", {"small": {"belt": 150}}), 50))
    assert (some.jobs, some.learned, some.authored_jobs, some.revision) == (150, 0.75, 50, "r")
    assert "75%" in some.said
    empty = replace(SMALL, faults={})
    assert learned_note(learned_of(collected(empty), empty, Counted(), 50)).learned == 0


def test_the_demo_fridge_without_an_ice_maker_learns_from_the_one_with_it(opened: Opened, tmp_path: Path) -> None:
    with serving(opened, tmp_path) as client:
        told(client, model="flb-316-k", fault="damper-stuck-open")
        told(client, model="flb-316-k", fault="ice-valve-coil-open")
        told(client, model="flb-316-t", fault="damper-stuck-open")
        plain = client.get("/v1/models/flb-316-t/outcomes").json()
        ice = client.get("/v1/models/flb-316-k/outcomes").json()
    assert (plain["learned"]["jobs"], plain["left_out"]) == (2, 1)
    assert (ice["learned"]["jobs"], ice["left_out"]) == (2, 1)
    jobs = {each["id"]: each["frequency"]["jobs"] for each in ice["faults"] if each["frequency"]["jobs"]}
    assert jobs == {"damper-stuck-open": 1, "ice-valve-coil-open": 1}
