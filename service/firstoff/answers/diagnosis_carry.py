"""What to carry, as a contract answer."""

from __future__ import annotations

import math
from collections.abc import Sequence

from firstoff.answers.bench import Bench
from firstoff.answers.learning import Learned, learned_note, taught_bench
from firstoff.answers.names import known
from firstoff.answers.notes import component_ref, concept_ref, model_ref
from firstoff.appliance.model import Purpose, Remedy
from firstoff.diagnosis import Findings, best_load, weighed
from firstoff.removal import Budget, RemovalError, Request, Target
from firstoff_contract.diagnosis import CarryAnswer

#: Tools and consumables are for the likeliest faults that together have this share.
COVERED = 0.9


def carry_answer(bench: Bench, symptoms: Sequence[str], parts: int, learned: Learned) -> CarryAnswer:
    """:raises NotFound: a symptom is unknown."""
    bench = taught_bench(bench, learned)
    appliance = bench.appliance
    shares = weighed(appliance, Findings(present=known("symptom", symptoms, appliance.symptoms))).shares
    remedies = {fault: appliance.faults[fault].remedies for fault in shares}
    needs = {fault: tuple(_parts(each) for each in which) for fault, which in remedies.items()}
    load = best_load(shares, needs, parts)
    likely, covered = list[str](), 0.0
    for fault, share in sorted(shares.items(), key=lambda each: (-each[1], each[0])):
        if covered < COVERED:
            likely.append(fault)
            covered += share
    replaced = {each.component for fault in likely for each in remedies[fault] if _parts(each) and each.component}
    ways = frozenset[str]().union(*(_ways(bench, component) for component in sorted(replaced)))
    done = [appliance.removals[way] for way in sorted(ways & appliance.removals.keys())]
    tools = {tool.id: tool for removal in done for tool in removal.all_tools}
    for check in appliance.checks.values():
        if any(outcome.speaks_for & set(likely) for outcome in check.outcomes):
            tools |= {tool.id: tool for tool in check.tools}
    return CarryAnswer(
        model=model_ref(appliance),
        parts=[component_ref(appliance, part) for part in load.parts],
        chance=round(load.chance, 4),
        exact=load.exact,
        greedy=round(load.greedy, 4),
        without_remedy=round(math.fsum(share for fault, share in shares.items() if not remedies[fault]), 4),
        tools=[concept_ref(tools[slug]) for slug in sorted(tools)],
        consumables=sorted({each for removal in done for each in removal.consumables}),
        learned=learned_note(learned),
        revision=appliance.revision,
    )


def _parts(remedy: Remedy) -> frozenset[str]:
    """A replacement takes its component; other remedies take no part."""
    return frozenset({remedy.component} if remedy.component and remedy.kind.id == "replace" else ())


def _ways(bench: Bench, component: str) -> frozenset[str]:
    try:
        plan = bench.planner.plan(Request((Target(component, Purpose.REPLACE),), alternatives=0), Budget(nodes=2000))
    except RemovalError:
        return frozenset()
    return frozenset(act.way for act in plan.acts if act.way is not None)
