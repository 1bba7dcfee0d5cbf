"""Why a step is in a plan, and what counts in it."""

from __future__ import annotations

from collections.abc import Iterable

from firstoff.answers.bench import Bench
from firstoff.removal import ActKind, Plan
from firstoff_contract.removal import HazardNote, Step


def with_exposures(bench: Bench, plan: Plan, steps: Iterable[Step]) -> list[Step]:
    """The steps with the exposures that count in each. ``n`` is the number of the act, as ``steps_of`` leaves it."""
    found = []
    for step in steps:
        act = plan.acts[step.n - 1] if step.n else None
        each = bench.exposures.get(act.way or "") if act is not None else None
        if act is None or each is None:
            found.append(step)
            continue
        exposed = each.taken_back if act.kind in (ActKind.REFIT, ActKind.UNDO) else each.done
        notes = [HazardNote.model_validate({"kind": one.hazard.value, "text": one.text}) for one in exposed]
        found.append(step.model_copy(update={"exposures": notes}))
    return found
