"""Says why a target cannot be reached."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from firstoff.appliance.model import Purpose
from firstoff.removal.circles import circles
from firstoff.removal.errors import Obstacle, Unreachable
from firstoff.removal.options import Option
from firstoff.removal.problem import Problem
from firstoff.removal.reach import Reach, returns, stuck
from firstoff.removal.request import Target
from firstoff.removal.scope import Scope

_VERBS = {Purpose.INSPECT: "inspected", Purpose.TEST: "tested", Purpose.REPLACE: "replaced"}


def unreachable(problem: Problem) -> Unreachable:
    """The error for the first goal that cannot be met even if nothing ever had to be undone."""
    reached = _reached(problem)
    first_target = len(problem.compiled.names)
    # Parts that cannot be put back come first: more may hang on them, and no choice of targets mends it.
    goals = sorted(problem.goals, key=lambda goal: goal not in problem.off)
    goal = next(goal for goal in goals if goal not in reached)
    if goal in problem.off:
        return _not_put_back(problem, [goal], tuple(_why(problem, goal, reached)))
    target = problem.targets[goal - first_target] if goal >= first_target else None
    found = (*_why(problem, goal, reached), *_in_circles(problem, goal))
    return Unreachable(target, _label(problem, target, goal), found)


def check(problem: Problem, within: Scope, explored: Reach | None, back: Reach) -> None:
    """Raise ``Unreachable`` where a goal was not met, or there is no way back.

    ``explored`` and ``back`` are the full model explored from the start and from the initial states.
    """
    if explored is None:
        parts = sorted(stuck(problem, within, back))
        reason = "the states and parts its refit needs exclude one another"
        ways = [option for part in parts for option in problem.refits[part]]
        raise _not_put_back(problem, parts, tuple(Obstacle(way.way or "", way.label, (), reason) for way in ways))
    for head, options in within.serves.items():
        if head in explored.served:
            continue
        target = problem.targets[head - len(problem.compiled.names)]
        reason = "the states and parts it needs exclude one another"
        obstacles = tuple(Obstacle(option.way or target.component, option.label, (), reason) for option in options)
        raise Unreachable(target, _label(problem, target, head), obstacles)
    if not returns(explored, back):
        raise Unreachable(None, "The initial state with everything refitted", ())


def _not_put_back(problem: Problem, parts: Sequence[int], obstacles: tuple[Obstacle, ...]) -> Unreachable:
    """The error for parts found off that no plan puts back."""
    label = f"{' and '.join(_name(problem, part) for part in parts)}, found off,"
    return Unreachable(None, label, obstacles, tuple(_slug(problem, part) for part in parts))


def _label(problem: Problem, target: Target | None, goal: int) -> str:
    if target is None:
        initial = problem.compiled.initial[problem.compiled.variable[goal]]
        return f"The initial state {_name(problem, initial)}"
    component = problem.compiled.appliance.components[target.component]
    return f"{component.label}, to be {_VERBS[target.purpose]},"


def _reached(problem: Problem) -> set[int]:
    """All that can be brought about from what is given by usable options, taking no account of undoing."""
    choices = problem.choices()
    reached = set(problem.base)
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
        if atom in problem.off and atom == goal:
            options = [option for option in options if problem.found_by[atom] in (None, option.way)]
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


def _in_circles(problem: Problem, goal: int) -> Iterator[Obstacle]:
    """Every way in a circle of needs, with what it waits for."""
    for circle in circles(problem, goal):
        for option, need in circle:
            off = " off" if need < problem.compiled.components else ""
            again = "which waits for it in turn" if len(circle) < 3 else "and so on in a circle"
            reason = f"waits for {_name(problem, need)}{off}, {again}"
            yield Obstacle(option.way or _slug(problem, option.head), option.label, (), reason)


def _ruled_out(problem: Problem, option: Option) -> str:
    """Why ``option`` cannot be used, missing tools apart; empty where it can."""
    if option.way in problem.banned:
        return problem.reasons.get(option.way or "", "ruled out by the request")
    if option.is_edge and option.head not in problem.home:
        return "there is no way back from it to the initial state"
    return ""


def _dead_end(problem: Problem, atom: int) -> str:
    if atom >= len(problem.compiled.names):
        return "no way to serve it can be used as it is described"
    if atom < problem.compiled.components:
        return f"no usable way to {'put it back' if atom in problem.off else 'take it off'} is known"
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
