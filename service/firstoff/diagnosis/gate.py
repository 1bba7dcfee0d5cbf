"""A remedy that replaces what must not be condemned waits for the checks that confirm what it ends.

``Action.after`` has, by fault, the checks that confirm it; a remedy without it is free at any time. A gated one is free

1. once a check that confirms a still possible fault which it ends was made, and none such is left to make that would
   move the share of what it ends;
2. where no check is described that confirms any of them: once no other fault is possible.

A check that cannot be done is waited for all the same: then the remedy is not recommended at all, and help is.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from firstoff.diagnosis.access import Action
from firstoff.diagnosis.situation import Situation

_EQUAL = 1e-9


@dataclass(frozen=True, slots=True)
class Gate:
    """``checks`` are the checks that can be done, by name."""

    checks: Mapping[str, Action]

    def free(self, remedy: Action, at: Situation) -> bool:
        """Whether ``remedy`` may be taken now."""
        if not remedy.after:
            return True
        confirming = self._confirming(remedy, at)
        if not confirming:
            return all(fault in remedy.ends for fault, _ in at.shares)
        return bool(confirming & at.made) and not self.to_make(remedy, at)

    def to_make(self, remedy: Action, at: Situation) -> tuple[Action, ...]:
        """The checks that ``remedy`` waits for and that can be done, by name."""
        confirming = self._confirming(remedy, at)
        left = tuple(self.checks[slug] for slug in sorted(confirming - at.made) if slug in self.checks)
        if not confirming & at.made:
            return left
        return tuple(check for check in left if _moves(check, remedy.ends, at))

    def least(self, remedy: Action, made: frozenset[str]) -> float:
        """No fewer minutes of checks come before ``remedy``, whatever is still possible; infinite where it is barred.

        Where a fault that it ends has no check that confirms it, that one may be what is left: then none need come.
        """
        confirming = frozenset().union(*remedy.after.values())
        if confirming & made or any(not remedy.after.get(fault) for fault in remedy.ends):
            return 0.0
        return min((self.checks[slug].minutes for slug in confirming if slug in self.checks), default=math.inf)

    def _confirming(self, remedy: Action, at: Situation) -> frozenset[str]:
        """The checks that confirm a fault still possible that ``remedy`` ends."""
        return frozenset().union(*(remedy.after.get(fault, ()) for fault, _ in at.shares if fault in remedy.ends))


def _moves(check: Action, ends: frozenset[str], at: Situation) -> bool:
    """Whether an outcome of ``check`` changes the share that ``ends`` have together."""
    before = math.fsum(share for fault, share in at.shares if fault in ends)
    for given in check.outcomes:
        joint = {fault: share * given.get(fault, 0.0) for fault, share in at.shares}
        total = math.fsum(joint.values())
        if total > 0 and abs(math.fsum(p for f, p in joint.items() if f in ends) / total - before) > _EQUAL:
            return True
    return False
