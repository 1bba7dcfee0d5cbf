"""Shares of faults: by hand, and against Bayes' rule computed with numpy."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.appliance.model import (
    Appliance,
    Effect,
    Fault,
    Symptom,
)
from firstoff.appliance.terms import Concept
from firstoff.diagnosis import UnknownSymptom, ranked

NAMES = ("no-heat", "no-spin", "noise", "leak")
#: Likelihood of a symptom that a fault does not list, as the room's documentation states it.
LEAK = 0.02


def fault(name: str, frequency: float, **likelihoods: float) -> Fault:
    """A fault whose symptoms are given with ``_`` for ``-``."""
    effects = tuple(Effect(symptom.replace("_", "-"), likelihood) for symptom, likelihood in likelihoods.items())
    return Fault(
        name, name.title(), Concept("component", "component"), Concept("open", "open"), frequency, "part", effects
    )


def appliance(*faults: Fault) -> Appliance:
    return Appliance(
        model="m",
        model_number="M",
        label="M",
        platform=Concept("p", "P"),
        maker="Marrowby",
        kind=Concept("dryer", "dryer"),
        revision="r",
        symptoms={name: Symptom(name, name) for name in NAMES},
        faults={one.id: one for one in faults},
    )


HEATER = fault("heater", 6, no_heat=0.9)
BELT = fault("belt", 3, no_spin=0.8, noise=0.4)
MOTOR = fault("motor", 1, no_spin=0.9, no_heat=0.5, noise=0.2)
DRYER = appliance(BELT, HEATER, MOTOR)


@pytest.mark.parametrize(
    ("symptoms", "weights"),
    [
        # Without symptoms: relative frequencies.
        ([], {"heater": 6, "belt": 3, "motor": 1}),
        # 6 x 0.9, 1 x 0.5, 3 x 0.02
        (["no-heat"], {"heater": 5.4, "motor": 0.5, "belt": 0.06}),
        # 3 x 0.8, 1 x 0.9, 6 x 0.02
        (["no-spin"], {"belt": 2.4, "motor": 0.9, "heater": 0.12}),
        # 1 x 0.9 x 0.5, 6 x 0.02 x 0.9, 3 x 0.8 x 0.02: two symptoms together turn the order round.
        (["no-spin", "no-heat"], {"motor": 0.45, "heater": 0.108, "belt": 0.048}),
        # A symptom given twice counts once.
        (["no-spin", "no-spin"], {"belt": 2.4, "motor": 0.9, "heater": 0.12}),
        # A symptom that no fault lists tells nothing.
        (["leak"], {"heater": 6, "belt": 3, "motor": 1}),
    ],
)
def test_shares_by_hand(symptoms: list[str], weights: dict[str, float]) -> None:
    total = sum(weights.values())
    found = ranked(DRYER, symptoms)
    assert [item.fault for item in found] == list(weights)
    assert {item.fault: item.share for item in found} == pytest.approx({f: w / total for f, w in weights.items()})


def test_what_a_fault_explains_and_what_it_brings() -> None:
    found = {item.fault: item for item in ranked(DRYER, ["no-spin", "no-heat"])}
    assert found["belt"].explains == {"no-spin"}
    assert found["belt"].unexplained == {"no-heat"}
    assert found["motor"].explains == {"no-spin", "no-heat"}
    assert found["motor"].unexplained == frozenset()
    assert found["heater"].component == "part"
    assert found["heater"].origin.id == "component"
    assert found["heater"].label == "Heater"


def test_an_unknown_symptom_is_named() -> None:
    with pytest.raises(UnknownSymptom, match=r"m has no symptom named bad, worse\.") as raised:
        ranked(DRYER, ["worse", "noise", "bad"])
    assert raised.value.symptoms == ("bad", "worse")


def test_no_faults_and_no_weight() -> None:
    assert ranked(appliance(), ["noise"]) == ()
    even = ranked(appliance(fault("b", 0), fault("a", 0)), ["noise"])
    assert [(item.fault, item.share) for item in even] == [("a", 0.5), ("b", 0.5)]
    # A fault that never occurs has no share beside one that does.
    assert [item.share for item in ranked(appliance(fault("b", 2), fault("a", 0)), [])] == [1.0, 0.0]


def test_a_listed_symptom_is_never_less_likely_than_one_not_listed() -> None:
    found = ranked(appliance(fault("a", 1, noise=0.0), fault("b", 1)), ["noise"])
    assert [item.share for item in found] == [0.5, 0.5]


def test_many_symptoms_do_not_underflow() -> None:
    many = {f"s{number}": Symptom(f"s{number}", "") for number in range(400)}
    lists = fault("lists", 1, **dict.fromkeys(many, 0.03))
    plain = fault("plain", 1)
    base = appliance(lists, plain)
    wide = Appliance(
        base.model,
        base.model_number,
        base.label,
        base.platform,
        base.maker,
        base.kind,
        base.revision,
        symptoms=many,
        faults=base.faults,
    )
    # 0.02 to the power of 400 is below the smallest float; the ratio 1.5 to the power of 400 is not.
    assert [item.fault for item in ranked(wide, many)] == ["lists", "plain"]
    assert sum(item.share for item in ranked(wide, many)) == pytest.approx(1)


LIKELIHOODS = st.lists(st.floats(LEAK, 1), min_size=len(NAMES), max_size=len(NAMES))


@given(
    st.lists(
        st.tuples(st.floats(0.01, 100), LIKELIHOODS, st.lists(st.booleans(), min_size=4, max_size=4)),
        min_size=1,
        max_size=6,
    ),
    st.sets(st.sampled_from(NAMES)),
)
def test_shares_are_those_of_bayes_rule(drawn: list[tuple[float, list[float], list[bool]]], seen: set[str]) -> None:
    faults = [
        Fault(
            f"f{number}",
            "",
            Concept("component", ""),
            Concept("open", ""),
            frequency,
            effects=tuple(
                Effect(name, likelihood)
                for name, likelihood, listed in zip(NAMES, likelihoods, lists, strict=True)
                if listed
            ),
        )
        for number, (frequency, likelihoods, lists) in enumerate(drawn)
    ]
    prior = np.array([frequency for frequency, _, _ in drawn])
    table = np.where([lists for _, _, lists in drawn], [likelihoods for _, likelihoods, _ in drawn], LEAK)
    posterior = prior * table[:, [name in seen for name in NAMES]].prod(axis=1)
    posterior /= posterior.sum()
    found = ranked(appliance(*faults), seen)
    assert [item.share for item in found] == sorted((item.share for item in found), reverse=True)
    shares = {item.fault: item.share for item in found}
    assert [shares[f"f{number}"] for number in range(len(faults))] == pytest.approx(posterior.tolist(), rel=1e-9)
