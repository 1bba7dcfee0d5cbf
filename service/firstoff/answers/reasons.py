"""Why each step is in a plan: which later steps rely on it, in numbers and in a sentence, and what counts in it."""

from __future__ import annotations

from collections.abc import Sequence

from firstoff.answers.bench import Bench
from firstoff.answers.notes import component_ref
from firstoff.answers.timeline import Moment
from firstoff.appliance.model import Appliance
from firstoff.removal import Act, ActKind, Reliance, reliance
from firstoff_contract.removal import HazardNote, Step

_DONE_TO = {"inspect": "inspected", "test": "tested", "replace": "replaced"}
#: Why a step is there that is no act of the plan's own, and where that depends on nothing else.
_ALWAYS = {
    "attach_probes": "So that the reading can be taken with hands off.",
    "prove_dead": "An open plug or switch does not prove that nothing is live.",
    "verify": "So that the supply can return.",
}


def explained(bench: Bench, moments: Sequence[Moment], *lists: list[Step]) -> tuple[list[Step], ...]:
    """The lists of steps, each counted from 1, with what every step makes possible and the exposures that count in it.

    ``n`` of the steps is the number of the act, counted from 1, and 0 for what was added, as ``steps_of`` leaves it;
    what was added is put down to the next act, or a release that follows it to the act before.
    """
    acts = [moment.act for moment in moments]
    relied = reliance(bench.appliance, acts)
    return tuple(_explained(bench, moments, acts, relied, steps) for steps in lists)


def _explained(
    bench: Bench, moments: Sequence[Moment], acts: list[Act], relied: Sequence[Reliance], steps: list[Step]
) -> list[Step]:
    number = {step.n - 1: n for n, step in enumerate(steps, 1) if step.n}
    found = []
    for n, step in enumerate(steps, 1):
        if step.n:
            at = step.n - 1
            later = [number[each] for each in _later(acts[at], relied[at]) if each in number]
            because = _because(bench.appliance, moments, acts, relied, at)
            added = {"exposures": _exposures(bench, acts[at])}
        else:
            following = next((n + k for k, other in enumerate(steps[n:], 1) if other.n), None)
            later = [following] if following else []
            because, added = _because_added(step), {}
        found.append(step.model_copy(update={"n": n, "makes_possible": later, "because": because, **added}))
    return found


def _later(act: Act, relied: Reliance) -> tuple[int, ...]:
    """The acts that rely on ``act``: on the way back also those that had to wait for it."""
    if act.kind in (ActKind.REFIT, ActKind.UNDO):
        return tuple(sorted({*relied.makes_possible, *relied.goes_before}))
    return relied.makes_possible


def _exposures(bench: Bench, act: Act) -> list[HazardNote]:
    each = bench.exposures.get(act.way or "")
    if each is None:
        return []
    exposed = each.taken_back if act.kind in (ActKind.REFIT, ActKind.UNDO) else each.done
    return [HazardNote.model_validate({"kind": one.hazard.value, "text": one.text}) for one in exposed]


def _because(
    appliance: Appliance, moments: Sequence[Moment], acts: list[Act], relied: Sequence[Reliance], at: int
) -> str:
    """One sentence on what the act is for: the first act that relies on it."""
    act = acts[at]
    if act.kind is ActKind.SERVE:
        return "This is what was asked for."
    later = _later(act, relied[at])
    if moments[at].isolates:
        return "So that nothing within reach is live while parts are off."
    if not later:
        if act.kind is ActKind.REFIT:
            return "So that the machine is whole again."
        return "So that the machine is left as it was found."
    return f"So that {_can(appliance, moments[later[0]])}."


def _can(appliance: Appliance, moment: Moment) -> str:
    """What is possible then, as it follows "so that"."""
    act = moment.act
    part = f"the {component_ref(appliance, act.component).label}" if act.component else ""
    if moment.restores:
        return "the supply can return"
    if moment.isolates:
        return "the supply can be isolated"
    if act.kind is ActKind.REMOVE:
        return f"{part} can come off"
    if act.kind is ActKind.REFIT:
        return f"{part} can go back"
    if act.kind is ActKind.SERVE:
        purpose = act.needed_for[0].purpose.value if act.needed_for else "inspect"
        return f"{part} can be {_DONE_TO[purpose]}"
    preparation = appliance.preparations[act.way or ""]
    state = preparation.gives if act.kind is ActKind.PREPARE else preparation.from_state
    variable = appliance.variables[appliance.states[state].variable]
    return f"the {variable.label} can be brought to: {appliance.states[state].label}"


def _because_added(step: Step) -> str:
    if step.action == "release" and step.component:
        return f"So that no hand meets the energy held in the {step.component.label}."
    return _ALWAYS.get(step.action, "")
