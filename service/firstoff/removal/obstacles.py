"""Says why a target cannot be reached."""

from __future__ import annotations

from collections.abc import Iterator

from firstoff.appliance.model import Purpose
from firstoff.removal.errors import Obstacle, Unreachable
from firstoff.removal.options import Option
from firstoff.removal.problem import Problem
from firstoff.removal.reach import Reach, returns
from firstoff.removal.request import Target
from firstoff.removal.scope import Scope

_VERBS = {Purpose.INSPECT: "inspected", Purpose.TEST: "tested", Purpose.REPLACE: "replaced"}


def unreachable(problem: Problem) -> Unreachable:
    """The error for the first goal that cannot be met even if nothing ever had to be undone."""
    reached = _reached(problem)
    first_target = len(problem.compiled.names)
    goal = next(goal for goal in problem.goals if goal not in reached)
    target = problem.targets[goal - first_target] if goal >= first_target else None
    return Unreachable(target, _label(problem, target, goal), tuple(_why(problem, goal, reached)))


def check(problem: Problem, within: Scope, explored: Reach, back: Reach) -> None:
    """Raise ``Unreachable`` where a goal was not met, or there is no way back.

    ``explored`` and ``back`` are the full model explored from the start and from the initial states.
    """
    for head, options in within.serves.items():
        if head in explored.served:
            continue
        target = problem.targets[head - len(problem.compiled.names)]
        reason = "the states and parts it needs exclude one another"
        obstacles = tuple(Obstacle(option.way or target.component, option.label, (), reason) for option in options)
        raise Unreachable(target, _label(problem, target, head), obstacles)
    if not returns(explored, back):
        raise Unreachable(None, "The initial state with everything refitted", ())


def _label(problem: Problem, target: Target | None, goal: int) -> str:
    if target is None:
        return f"The initial state {_name(problem, goal)}"
    component = problem.compiled.appliance.components[target.component]
    return f"{component.label}, to be {_VERBS[target.purpose]},"


def _reached(problem: Problem) -> set[int]:
    """All that can be brought about from what is given by usable options, taking no account of undoing."""
    choices = problem.choices()
    reached = set(problem.given)
    changed = True
    while changed:
        changed = False
        for atom, found in choices.items():
            if atom not in reached and any(reached.issuperset(needs) for _, needs, _ in found):
                reached.add(atom)
                changed = True
    return reached


def _why(problem: Problem, goal: int, reached: set[int]) -> Iterator[Obstacle]:
    """What stands in the way of ``goal``, from there down: unusable ways and dead ends, each once."""
    stack, seen = [goal], {goal}
    while stack:
        atom = stack.pop()
        options = problem.options(atom)
        if not options:
            yield Obstacle(_slug(problem, atom), _name(problem, atom), (), _dead_end(problem, atom))
        for option in options:
            reason = _ruled_out(problem, option)
            missing = problem.missing(option)
            if missing or reason:
                tools = tuple(tool for tool in option.tools if tool.id in missing)
                yield Obstacle(option.way or _slug(problem, atom), option.label, tools, reason)
                continue
            for need in (*option.off, *option.states):
                if need not in reached and need not in seen:
                    seen.add(need)
                    stack.append(need)


def _ruled_out(problem: Problem, option: Option) -> str:
    """Why ``option`` cannot be used, missing tools apart; empty where it can."""
    if option.way in problem.banned:
        return problem.reasons.get(option.way or "", "ruled out by the request")
    for part in option.fitted:
        if part in problem.off:
            return f"needs {_name(problem, part)} fitted, which is off"
    if option.is_edge and option.head not in problem.home:
        return "there is no way back from it to the initial state"
    return ""


def _dead_end(problem: Problem, atom: int) -> str:
    if atom >= len(problem.compiled.names):
        return "no way to serve it can be used as it is described"
    if atom < problem.compiled.components:
        return "no usable way to take it off is known"
    return "no usable preparation for it is known"


def _slug(problem: Problem, atom: int) -> str:
    first = len(problem.compiled.names)
    return problem.targets[atom - first].component if atom >= first else problem.compiled.names[atom]


def _name(problem: Problem, atom: int) -> str:
    appliance = problem.compiled.appliance
    slug = _slug(problem, atom)
    if atom < problem.compiled.components or atom >= len(problem.compiled.names):
        return appliance.components[slug].label
    return appliance.states[slug].label
