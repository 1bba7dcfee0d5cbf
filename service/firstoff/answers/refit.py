"""Putting back: what a refit says, and which checks a later step hides.

A check that only holds before the next part goes on (``before_cover``) is hidden by the first later step that takes
away what the removal of its part needed: a part that had to be off goes on again, or a state that had to hold ends.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from firstoff.answers.notes import check_notes, component_ref, concept_ref
from firstoff.appliance.model import (
    Appliance,
    Fastening,
    ReassemblyCheck,
    Removal,
)
from firstoff.removal import Act, ActKind
from firstoff_contract.common import Ref
from firstoff_contract.removal import Consumable, HiddenCheck, RefitCheck


def hidden_checks(appliance: Appliance, acts: Sequence[Act]) -> dict[int, list[HiddenCheck]]:
    """The checks that each act hides, by the number of the act; acts that hide none are left out."""
    hidden: dict[int, list[HiddenCheck]] = {}
    open_yet: dict[str, tuple[Removal, list[HiddenCheck]]] = {}
    for act in acts:
        back = act.component if act.kind is ActKind.REFIT else None
        in_force = frozenset(act.states.values())
        for part, (removal, checks) in list(open_yet.items()):
            if back in removal.needs_off or not removal.needs_states <= in_force:
                hidden.setdefault(act.step, []).extend(checks)
                del open_yet[part]
        if act.kind is ActKind.REMOVE and act.component is not None:
            open_yet.pop(act.component, None)
        if act.kind is ActKind.REFIT and act.component is not None:
            used = appliance.removals.get(act.way or "")
            part_ref = component_ref(appliance, act.component)
            found = [_hidden(part_ref, each) for each in used.checks if each.before_cover] if used else []
            if used and found:
                open_yet[act.component] = (used, found)
    return hidden


def _hidden(part: Ref, check: ReassemblyCheck) -> HiddenCheck:
    return HiddenCheck(component=part, kind=concept_ref(check.kind) if check.kind else None, text=check.text)


def refit_checks(removal: Removal) -> list[RefitCheck]:
    """What is looked at while the supply is off: first what the next part will hide."""
    now = (check for check in removal.checks if not check.after_supply)
    return check_notes(sorted(now, key=lambda check: not check.before_cover))


def refit_wait(removal: Removal) -> float | None:
    """Minutes to let it rest once it is back: the longest of its checks', None where none waits."""
    return max((check.wait_minutes for check in removal.checks if check.wait_minutes), default=None)


def refit_words(removal: Removal, renew: Sequence[Consumable]) -> str:
    """How the part goes back: the way, the torques, what must be new, what to see before it is hidden, the wait."""
    sentences = [removal.refit_instruction or "Put it back in the reverse order of taking it off."]
    torques = [f"{_held(each)} to {each.torque:g} N m" for each in removal.fastenings if each.torque is not None]
    if torques:
        sentences.append(f"Tighten {'; '.join(torques)}.")
    if renew:
        sentences.append(f"Take new: {'; '.join(f'{each.count} x {each.label}' for each in renew)}.")
    hidden = sum(check.before_cover and not check.after_supply for check in removal.checks)
    if hidden:
        sentences.append(
            f"The next part hides {'one check' if hidden == 1 else f'{hidden} checks'} below: tick "
            f"{'it' if hidden == 1 else 'them'} off first."
        )
    wait = refit_wait(removal)
    if wait is not None:
        sentences.append(f"Then let it rest for {wait:g} minutes.")
    return " ".join(sentences)


def _held(fastening: Fastening) -> str:
    size = f" {fastening.size}" if fastening.size else ""
    return f"{fastening.count} x {fastening.label or fastening.kind.label}{size}"


def before_hiding(hidden: Mapping[int, list[HiddenCheck]], act: Act, instruction: str) -> str:
    """The instruction of an act that hides checks, with a reminder before it."""
    parts = list(dict.fromkeys(each.component.label for each in hidden.get(act.step, ())))
    if not parts:
        return instruction
    return f"First see that the checks it hides are ticked off: {', '.join(parts)}. {instruction}".strip()
