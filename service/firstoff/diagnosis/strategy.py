"""The cheapest expected way to a repaired machine: which check or remedy next, and what after each outcome.

One fault is at work. The value of a situation (shares of the faults, what is open, which checks are still to make) is

    V = min over actions of  minutes + sum over outcomes of p(outcome) V(after it),   V = 0 once it is repaired

(troubleshooting with questions and cost clusters; Jensen et al. 2001; Ottosen and Jensen 2010, arXiv 1203.3502). It is
searched depth first with a memory and cut by a bound: whatever is done, the trajectory under a fault pays the minutes
of some remedy that ends it and each opening that remedy lacks. Where the nodes run out, bottom-up P-over-C with a
two-step look-ahead decides and the bound is told.

Every step of every policy passes the gate: a remedy that replaces a dear or rarely failing part waits for the checks
that confirm its faults (see ``gate``), and the least is that of the policies that wait.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from firstoff.diagnosis.access import Access, Action
from firstoff.diagnosis.gate import Gate
from firstoff.diagnosis.runs import Candidate, first_remedy
from firstoff.diagnosis.situation import Situation, situation

#: Minutes that giving up counts for: a working day, so that remedies come first. Common practice, no source.
GIVE_UP = 480.0
#: Nodes that the exact search may take; about a second of one core.
NODES = 20_000
_EQUAL = 1e-9


@dataclass(frozen=True, slots=True)
class Branch:
    """An outcome by its place among the action's, -1 for a remedy that did not help, its probability, and then."""

    outcome: int
    probability: float
    then: Situation


@dataclass(frozen=True, slots=True)
class Step:
    """``action`` None: nothing described is left to do; the minutes are those of giving up."""

    action: str | None
    minutes: float
    branches: tuple[Branch, ...]


@dataclass(frozen=True, slots=True)
class Choice:
    """``step`` to take next with the ``expected`` minutes to repair; ``bound`` is no more than the least possible."""

    step: Step
    expected: float
    bound: float
    exact: bool
    nodes: int


class Strategy:
    """Answers one set of actions on one machine; what it has found it keeps for what comes after."""

    def __init__(
        self, actions: Sequence[Action], access: Access, *, give_up: float = GIVE_UP, nodes: int = NODES
    ) -> None:
        self._actions = tuple(sorted(actions, key=lambda each: each.id))
        self._access = access
        self._give_up = give_up
        self._most = nodes
        self._nodes = 0
        self._exact: dict[Situation, tuple[float, Step]] = {}
        self._rough: dict[Situation, tuple[float, Step]] = {}
        self._plain: dict[Situation, tuple[float, Step]] = {}
        self._more: dict[Situation, float] = {}
        self._named: dict[str | None, Action] = {each.id: each for each in self._actions}
        self._ways: dict[tuple[str, frozenset[str]], tuple[tuple[float, frozenset[str]], ...]] = {}
        self._least: dict[tuple[str, frozenset[str], frozenset[str]], float] = {}
        can_be_done = (each for each in self._actions if next(iter(access.steps(each, frozenset())), None))
        self._gate = Gate({each.id: each for each in can_be_done if not each.ends})

    def choose(self, at: Situation) -> Choice:
        """The best next step, exact where the nodes suffice."""
        self._nodes = 0
        try:
            expected, step = self._best(at)
        except _Spent:
            expected, step = self.look_ahead(at)
            return Choice(step, expected, min(self.bound(at), expected), False, self._nodes)
        return Choice(step, expected, expected, True, self._nodes)

    def bound(self, at: Situation) -> float:
        """No policy has fewer expected minutes."""
        return math.fsum(share * self._cheapest(fault, at) for fault, share in at.shares)

    def p_over_c(self, at: Situation) -> tuple[float, Step]:
        """Remedies alone, by bottom-up P-over-C: the run of remedies behind shared openings that ends most a minute."""
        known = self._plain.get(at)
        if known is None:
            known = self._giving_up()
            first = self._likeliest_a_minute(at)
            if first is not None:
                known = (
                    first.minutes + math.fsum(b.probability * self.p_over_c(b.then)[0] for b in first.branches),
                    first,
                )
                known = min(known, self._giving_up(), key=lambda each: each[0])
            self._plain[at] = known
        return known

    def look_ahead(self, at: Situation) -> tuple[float, Step]:
        """The step best by two steps and P-over-C after them; the minutes are those of going on so."""
        known = self._rough.get(at)
        if known is None:
            step = min(self.steps(at), key=lambda each: self._ahead(each, 1), default=None)
            plain = self.p_over_c(at)
            if step is None:
                known = plain
            else:
                value = step.minutes + math.fsum(b.probability * self.look_ahead(b.then)[0] for b in step.branches)
                known = min((value, step), plain, key=lambda each: each[0])
            self._rough[at] = known
        return known

    def steps(self, at: Situation) -> Iterator[Step]:
        """Every step worth taking: remedies that may help and need not wait, checks that change a share or confirm."""
        for action in self._actions:
            if self._gate.free(action, at):
                yield from self._steps_of(action, at)

    def _steps_of(self, action: Action, at: Situation) -> Iterator[Step]:
        branches = self._after(action, at)
        if branches is not None:
            for minutes, opened in self._got_at(action, at.opened):
                then = tuple(Branch(o, p, Situation(s, opened, m)) for o, p, s, m in branches)
                yield Step(action.id, minutes, then)

    def opens(self, at: Situation, action: str) -> frozenset[str]:
        """What is still to be opened for ``action``, by the way with the fewest minutes."""
        return self._still(self._named[action], at)

    def _after(
        self, action: Action, at: Situation
    ) -> list[tuple[int, float, tuple[tuple[str, float], ...], frozenset[str]]] | None:
        if action.ends:
            left = {fault: share for fault, share in at.shares if fault not in action.ends}
            if len(left) == len(at.shares):
                return None
            probability = math.fsum(left.values())
            return [(-1, probability, situation(left).shares, at.made)] if left else []
        if action.id in at.made:
            return None
        made = at.made | {action.id}
        found = []
        for place, given in enumerate(action.outcomes):
            joint = {fault: share * given.get(fault, 0.0) for fault, share in at.shares}
            if (probability := math.fsum(joint.values())) > 0:
                found.append((place, probability, situation(joint).shares, made))
        before = dict(at.shares)
        told = any(abs(dict(s).get(f, 0.0) - p) > _EQUAL for _, _, s, _ in found for f, p in before.items())
        return found if told or self._waited_for(action, at) else None

    def _waited_for(self, check: Action, at: Situation) -> bool:
        return any(check in self._gate.to_make(each, at) for each in self._actions if each.after)

    def _best(self, at: Situation) -> tuple[float, Step]:
        known = self._exact.get(at)
        if known is not None:
            return known
        self._nodes += 1
        if self._nodes > self._most:
            raise _Spent
        best = self._giving_up()
        bounded = [(self._ahead(step, 0), step) for step in self.steps(at)]
        for least, step in sorted(bounded, key=lambda each: each[0]):
            if least >= best[0] - _EQUAL:
                break
            value = least
            for branch in step.branches:
                value += branch.probability * (self._best(branch.then)[0] - self.bound(branch.then))
                if value >= best[0] - _EQUAL:
                    break
            else:
                best = (value, step)
        self._exact[at] = best
        return best

    def _ahead(self, step: Step, depth: int) -> float:
        """The step's minutes and, after it, the bound (``depth`` 0) or the best of one more step and P-over-C."""
        if depth == 0:
            return step.minutes + math.fsum(b.probability * self.bound(b.then) for b in step.branches)
        return step.minutes + math.fsum(b.probability * self._one_more(b.then) for b in step.branches)

    def _one_more(self, at: Situation) -> float:
        known = self._more.get(at)
        if known is None:
            values = (
                step.minutes + math.fsum(b.probability * self.p_over_c(b.then)[0] for b in step.branches)
                for step in self.steps(at)
            )
            known = self._more[at] = min([self.p_over_c(at)[0], *values])
        return known

    def _likeliest_a_minute(self, at: Situation) -> Step | None:
        """The remedy that bottom-up P-over-C begins with, by its quickest way, or the quickest check it waits for."""
        remedies: dict[str, Step] = {}
        for action in self._actions:
            if action.ends and (self._gate.free(action, at) or self._gate.to_make(action, at)):
                step = next(self._steps_of(action, at), None)
                if step is not None:
                    remedies[action.id] = step
        first = first_remedy(
            [self._candidate(step, at) for step in remedies.values()], dict(at.shares), self._access.minutes
        )
        if first is None:
            return None
        if self._gate.free(self._named[first], at):
            return remedies[first]
        checks = (self._steps_of(each, at) for each in self._gate.to_make(self._named[first], at))
        return min((step for steps in checks for step in steps), key=lambda each: each.minutes, default=None)

    def _candidate(self, step: Step, at: Situation) -> Candidate:
        action = self._named[step.action]
        needed = self._still(action, at)
        if self._access.without(needed, action.shut_after) != needed:
            # What is shut again to try the machine is paid by this remedy alone.
            return Candidate(action.id, frozenset(), step.minutes, action.ends)
        own = step.minutes - sum(self._access.minutes[each] for each in sorted(needed))
        return Candidate(action.id, needed, own, action.ends)

    def _still(self, action: Action, at: Situation) -> frozenset[str]:
        left = self._access.without(at.opened, action.shut)
        ways = [self._access.closed(way) - left for way in action.ways]
        return min(ways, key=lambda way: (sum(self._access.minutes[each] for each in sorted(way)), sorted(way)))

    def _got_at(self, action: Action, opened: frozenset[str]) -> tuple[tuple[float, frozenset[str]], ...]:
        known = self._ways.get((action.id, opened))
        if known is None:
            known = self._ways[action.id, opened] = self._access.steps(action, opened)
        return known

    def _cheapest(self, fault: str, at: Situation) -> float:
        """No trajectory under ``fault`` takes fewer minutes: a remedy that ends it, and a check it waits for."""
        known = self._least.get((fault, at.opened, at.made))
        if known is None:
            ways = (
                min((cost for cost, _ in self._got_at(action, at.opened)), default=math.inf)
                + self._gate.least(action, at.made)
                for action in self._actions
                if fault in action.ends
            )
            known = self._least[fault, at.opened, at.made] = min([self._give_up, *ways])
        return known

    def _giving_up(self) -> tuple[float, Step]:
        return self._give_up, Step(None, self._give_up, ())


class _Spent(Exception):
    """The nodes of the exact search have run out."""
