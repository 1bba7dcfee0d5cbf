"""Small pieces of wording that the sheet and the picture share."""

from __future__ import annotations

from collections.abc import Sequence

from firstoff_contract.removal import RemovalPlan, Target

PURPOSES = {"inspect": "Inspect", "test": "Test", "live-test": "Test live", "replace": "Replace"}


def listed(items: Sequence[str], most: int | None = None) -> str:
    """``items`` as "a, b and c"; with ``most``, the first so many "and 4 more"."""
    if most is not None and len(items) > most:
        return f"{', '.join(items[:most])} and {len(items) - most} more"
    return " and ".join(part for part in (", ".join(items[:-1]), items[-1] if items else "") if part)


def sentence(text: str) -> str:
    """``text`` with a capital at its beginning."""
    return text[:1].upper() + text[1:]


def letter(number: int) -> str:
    """A, B, ... Z, AA, AB, ... for 0, 1, ..."""
    rest, last = divmod(number, 26)
    return (letter(rest - 1) if rest else "") + chr(ord("A") + last)


def minutes(amount: float) -> str:
    """Minutes without idle zeros, such as "4.5 min"."""
    return f"{amount:g} min"


def errand(target: Target) -> str:
    """What is to be done, such as "Replace: drum belt"."""
    return f"{PURPOSES[target.purpose]}: {target.component.label}"


def job_title(plan: RemovalPlan) -> str:
    """All that is to be done, the first three by name; without a target the machine is closed up."""
    return listed([errand(target) for target in plan.reach], most=3) or "Close up the machine"


def at_steps(steps: Sequence[int]) -> str:
    """Such as "step 4" or "steps 4 and 9"."""
    return f"step{'s' if len(steps) > 1 else ''} {listed([str(n) for n in steps])}"
