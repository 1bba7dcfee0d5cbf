"""Shares of faults against published belief networks, and against pyagrum's inference on random machines."""

from __future__ import annotations

from itertools import combinations, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firstoff.appliance.model import Appliance, Effect, Fault, Symptom
from firstoff.appliance.terms import Concept
from firstoff.diagnosis import Findings, Reading, weighed
from firstoff.diagnosis.weighing import evidence_of, pair_weights
from support.belief_networks import gum

# As the room's documentation states them.
LEAK, SECOND, BROUGHT = 0.02, 0.02, 0.3
SYMPTOMS = ("noise", "warm", "wet")
PARENTS = {
    "alarm": ("burglary", "earthquake"),
    "john": ("alarm",),
    "mary": ("alarm",),
    "tub": ("asia",),
    "lung": ("smoke",),
    "bronc": ("smoke",),
    "either": ("tub", "lung"),
    "xray": ("either",),
    "dysp": ("either", "bronc"),
}


def fault(name: str, frequency: float, likelihoods: dict[str, float], brings_on: frozenset[str] = frozenset()) -> Fault:
    concept = Concept("x", "x")
    effects = tuple(Effect(symptom, likelihood) for symptom, likelihood in likelihoods.items())
    return Fault(name, name, concept, concept, frequency, name, effects, brings_on)


def machine(*faults: Fault) -> Appliance:
    concept = Concept("x", "x")
    symptoms = {name: Symptom(name, name) for name in SYMPTOMS}
    return Appliance(
        "m", "M", "M", concept, "Tolvane", concept, "r", symptoms=symptoms, faults={one.id: one for one in faults}
    )


def network(text: str, tables: dict[str, dict[tuple[int, ...], float]]) -> gum.BayesNet:
    """Yes-or-no variables; each table has P(yes) by the values of the parents, in the order of ``PARENTS``."""
    net = gum.fastBN(text, 2)
    for name, rows in tables.items():
        for values, yes in rows.items():
            parents = dict(zip(PARENTS.get(name, ()), values, strict=True))
            if parents:
                net.cpt(name)[parents] = [1 - yes, yes]
            else:
                net.cpt(name).fillWith([1 - yes, yes])
    return net


def given_causes(net: gum.BayesNet, seen: dict[str, int], causes: dict[str, int]) -> float:
    """P(seen | causes), by pyagrum."""
    engine = gum.LazyPropagation(net)
    engine.setEvidence({**seen, **causes})
    both = engine.evidenceProbability()
    engine.setEvidence(causes)
    return float(both / engine.evidenceProbability())


def shares(net: gum.BayesNet, causes: tuple[str, ...], groups: list[dict[str, int]]) -> dict[tuple[int, ...], float]:
    """Every combination of causes as a hypothesis of ours, with the findings of each group as a reading."""
    rows = list(product((0, 1), repeat=len(causes)))
    named = {row: "".join(map(str, row)) for row in rows}
    engine = gum.LazyPropagation(net)
    faults = []
    for row in rows:
        engine.setEvidence(dict(zip(causes, row, strict=True)))
        faults.append(fault(named[row], engine.evidenceProbability(), {}))
    readings = tuple(
        Reading(
            " ".join(seen),
            {named[row]: given_causes(net, seen, dict(zip(causes, row, strict=True))) for row in rows},
        )
        for seen in groups
    )
    found = weighed(machine(*faults), Findings(readings=readings)).shares
    return {row: found[named[row]] for row in rows}


def test_burglary() -> None:
    """Russell and Norvig, the burglar alarm (from memory): P(burglary | John calls, Mary calls) = 0.284."""
    net = network(
        "burglary->alarm<-earthquake;alarm->john;alarm->mary",
        {
            "burglary": {(): 0.001},
            "earthquake": {(): 0.002},
            "alarm": {(0, 0): 0.001, (0, 1): 0.29, (1, 0): 0.94, (1, 1): 0.95},
            "john": {(0,): 0.05, (1,): 0.90},
            "mary": {(0,): 0.01, (1,): 0.70},
        },
    )
    found = shares(net, ("burglary", "earthquake"), [{"john": 1, "mary": 1}])
    assert sum(part for row, part in found.items() if row[0]) == pytest.approx(0.284, abs=5e-4)


def test_asia() -> None:
    """Lauritzen and Spiegelhalter 1988, the chest clinic (from memory): P(lung cancer | x-ray, dyspnoea) = 0.62125."""
    net = network(
        "asia->tub->either<-lung<-smoke->bronc->dysp<-either->xray",
        {
            "asia": {(): 0.01},
            "smoke": {(): 0.5},
            "tub": {(0,): 0.01, (1,): 0.05},
            "lung": {(0,): 0.01, (1,): 0.10},
            "bronc": {(0,): 0.30, (1,): 0.60},
            "either": {(0, 0): 0.0, (0, 1): 1.0, (1, 0): 1.0, (1, 1): 1.0},
            "xray": {(0,): 0.05, (1,): 0.98},
            "dysp": {(0, 0): 0.1, (0, 1): 0.8, (1, 0): 0.7, (1, 1): 0.9},
        },
    )
    # The published marginals, so that the network is the published one.
    for name, value in (("xray", 0.11029), ("dysp", 0.43597)):
        assert gum.getPosterior(net, target=name, evs={})[1] == pytest.approx(value, abs=5e-6)
    found = shares(net, ("tub", "lung", "bronc"), [{"xray": 1}, {"dysp": 1}])
    assert sum(part for row, part in found.items() if row[1]) == pytest.approx(0.62125, abs=5e-6)


def test_polybox() -> None:
    """de Kleer and Williams 1987, the polybox (from memory): F shows 10 and G 12 where 12 and 12 are computed.

    Conflicts {A1, M1, M2} and {A1, A2, M1, M3}; minimal diagnoses {A1}, {M1}, {M2, A2}, {M2, M3}.
    """
    conflicts = [{"A1", "M1", "M2"}, {"A1", "A2", "M1", "M3"}]
    parts = [fault(name, 1, {}) for name in ("A1", "A2", "M1", "M2", "M3")]
    box = machine(*parts)
    readings = tuple(
        Reading(f"conflict {n}", {part.id: float(part.id in conflict) for part in parts})
        for n, conflict in enumerate(conflicts)
    )
    belief = weighed(box, Findings(readings=readings))
    single = {name for name, share in belief.shares.items() if share}
    # A pair that is boundlessly likelier than either of its faults: neither explains it alone.
    double = {frozenset(pair[:2]) for pair in belief.pairs if pair[2] == float("inf")}
    assert single == {"A1", "M1"}
    assert double == {frozenset({"M2", "A2"}), frozenset({"M2", "M3"})}
    assert single == set.intersection(*conflicts)
    assert double == {
        frozenset(pair)
        for pair in combinations(("A1", "A2", "M1", "M2", "M3"), 2)
        if not single & set(pair) and all(conflict & set(pair) for conflict in conflicts)
    }


CHANCES = st.sampled_from([0.0, 0.1, 0.5, 0.9])
ROWS = st.lists(st.tuples(st.integers(1, 9), CHANCES, CHANCES, CHANCES, st.booleans()), min_size=2, max_size=4)
TOLD = st.fixed_dictionaries(dict.fromkeys(SYMPTOMS, st.sampled_from([None, 0, 1])))


def drawn(rows: list[tuple[int, float, float, float, bool]]) -> list[Fault]:
    """Faults with the likelihoods of ``rows``; where the last is true it brings on the fault after it."""
    return [
        fault(
            f"f{n}",
            row[0],
            dict(zip(SYMPTOMS, row[1:4], strict=True)),
            frozenset({f"f{n + 1}"} if row[4] and n + 1 < len(rows) else ()),
        )
        for n, row in enumerate(rows)
    ]


def findings(told: dict[str, int | None]) -> Findings:
    return Findings(
        present=frozenset(name for name, what in told.items() if what == 1),
        absent=frozenset(name for name, what in told.items() if what == 0),
    )


@settings(max_examples=200)
@given(ROWS, TOLD)
def test_one_fault_at_work(rows: list[tuple[int, float, float, float, bool]], told: dict[str, int | None]) -> None:
    """One variable with a value for each fault; each symptom a child of it by noisy-OR with leak."""
    faults = drawn(rows)
    net = gum.BayesNet()
    net.add(gum.LabelizedVariable("fault", "", len(faults)))
    total = sum(row[0] for row in rows)
    net.cpt("fault").fillWith([row[0] / total for row in rows])
    for place, name in enumerate(SYMPTOMS):
        net.add(gum.LabelizedVariable(name, "", 2))
        net.addArc("fault", name)
        for n, row in enumerate(rows):
            off = (1 - LEAK) * (1 - row[1 + place])
            net.cpt(name)[{"fault": n}] = [off, 1 - off]
    seen = {name: what for name, what in told.items() if what is not None}
    posterior = gum.getPosterior(net, target="fault", evs=seen)
    found = weighed(machine(*faults), findings(told)).shares
    assert [found[each.id] for each in faults] == pytest.approx([posterior[n] for n in range(len(faults))])


@settings(max_examples=200)
@given(ROWS, TOLD)
def test_two_faults_at_once(rows: list[tuple[int, float, float, float, bool]], told: dict[str, int | None]) -> None:
    """A yes-or-no variable for each fault, pyagrum's own noisy-OR for each symptom; every single fault and pair."""
    faults = drawn(rows)
    net = gum.BayesNet()
    for each in faults:
        net.add(gum.LabelizedVariable(each.id, "", 2))
        net.cpt(each.id).fillWith([0.5, 0.5])
    for place, name in enumerate(SYMPTOMS):
        net.addNoisyORNet(gum.LabelizedVariable(name, "", 2), LEAK)
        for each, row in zip(faults, rows, strict=True):
            if row[1 + place] > 0:
                net.addWeightedArc(each.id, name, row[1 + place])
    seen = {name: what for name, what in told.items() if what is not None}
    total = sum(row[0] for row in rows)
    prior = {each.id: row[0] / total for each, row in zip(faults, rows, strict=True)}
    wanted = {}
    for size in (1, 2):
        for chosen in combinations(sorted(prior), size):
            causes = {each.id: int(each.id in chosen) for each in faults}
            weight = given_causes(net, seen, causes) if seen else 1.0
            wanted[chosen] = weight * (prior[chosen[0]] if size == 1 else both(chosen, prior, faults))
    box = machine(*faults)
    evidence = evidence_of(box, findings(told))
    assert pair_weights(box, evidence, prior) == pytest.approx(wanted)
    # What is told of a pair: how much likelier it is than the likelier of its faults.
    for one, other, times in weighed(box, findings(told)).pairs:
        assert times == pytest.approx(wanted[one, other] / max(wanted[one,], wanted[other,]))
        assert times > 1


def both(pair: tuple[str, ...], prior: dict[str, float], faults: list[Fault]) -> float:
    """Either is there first and the other comes besides, or is brought on by it."""
    brings = {each.id: each.brings_on for each in faults}
    ways = [(pair[0], pair[1]), (pair[1], pair[0])]
    return sum(prior[a] * (BROUGHT if b in brings[a] else SECOND * prior[b] / 2) for a, b in ways)
