"""The head of a job sheet in words: how long it takes, what was made smallest, and whether that is proved."""

from __future__ import annotations

from firstoff.sheet.words import listed, minutes
from firstoff_contract.removal import PlanFigures, RemovalPlan

#: What is counted in each measure but minutes, and which figure of a plan it is.
_COUNTED = {
    "parts": ("parts taken off", "parts"),
    "single-use": ("single-use parts broken", "single_use"),
    "exposure": ("exposures to a hazard", "exposures"),
}


def time_of(plan: RemovalPlan) -> str:
    """Such as "53 min of work out and back, and 40 min of waiting"."""
    waiting = f", and up to {minutes(plan.waiting_minutes)} of waiting" if plan.waiting_minutes else ""
    return f"{minutes(plan.minutes)} of work out and back{waiting}"


def proof_of(plan: RemovalPlan) -> str:
    """What was made smallest, and what is proved of it."""
    if plan.minimise == "minutes":
        doubt = f"Not proved the least: no plan is under {minutes(plan.bound)}."
        return "Proved: no plan takes less work." if plan.optimal else doubt
    words, name = _COUNTED[plan.minimise]
    count = _figure(plan.figures, name)
    if plan.optimal:
        return f"Fewest {words}: {count}. Proved: no plan has fewer, and none that has as few takes less work."
    return f"Fewest {words} found: {count}. Not proved the least: no plan has under {plan.bound:g}."


def given_of(plan: RemovalPlan) -> list[str]:
    """What the plan was made for: what is off already, the states in force, the limits of the day."""
    said = []
    if plan.off:
        said.append(f"Off already: {listed([ref.label for ref in plan.off])}.")
    if plan.states:
        said.append(f"At the start: {'; '.join(ref.label for ref in plan.states)}.")
    if plan.limits:
        said.append(f"Limits: {'; '.join(limit.label for limit in plan.limits)}.")
    return said


def _figure(figures: PlanFigures, name: str) -> int:
    return int(getattr(figures, name))
