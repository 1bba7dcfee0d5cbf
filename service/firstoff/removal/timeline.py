"""Turns moves into the acts of a plan."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from firstoff.removal.moves import Move
from firstoff.removal.plans import Act, ActKind, OffRecord, Phase
from firstoff.removal.problem import Problem
from firstoff.removal.request import Target


def timeline(problem: Problem, moves: Sequence[Move]) -> tuple[Act, ...]:
    """The acts of ``moves``, in order."""
    compiled = problem.compiled
    first_target = len(compiled.names)
    record = OffRecord(_spans(problem, moves))
    needed_for = _needed_for(problem, moves)
    last_serve = max((step for step, move in enumerate(moves) if move.option.head >= first_target), default=-1)
    states = _named_states(problem, list(problem.start))
    now = list(problem.start)
    acts: list[Act] = []
    for step, move in enumerate(moves):
        option = move.option
        component: str | None = None
        kind, minutes = option.kind, option.minutes
        if option.is_edge:
            now[compiled.variable[option.head]] = option.head
            states = _named_states(problem, now)
        elif option.head >= first_target:
            component = problem.targets[option.head - first_target].component
        else:
            component = compiled.names[option.head]
            if move.back:
                kind, minutes = ActKind.REFIT, option.minutes_back
        acts.append(
            Act(
                kind, component, option.way, minutes, needed_for[step],
                Phase.OUT if step <= last_serve else Phase.BACK, states, step, record,
            )
        )  # fmt: skip
    return tuple(acts)


def _named_states(problem: Problem, now: Sequence[int]) -> Mapping[str, str]:
    compiled = problem.compiled
    return MappingProxyType({slug: compiled.names[atom] for slug, atom in zip(compiled.variables, now, strict=True)})


def _spans(problem: Problem, moves: Sequence[Move]) -> dict[str, tuple[tuple[int, int], ...]]:
    """When each component is off, in act numbers."""
    names = problem.compiled.names
    spans: dict[str, tuple[tuple[int, int], ...]] = {}
    since = dict.fromkeys(sorted(problem.off), 0)
    for step, move in enumerate(moves):
        if move.option.kind in (ActKind.REMOVE, ActKind.REFIT):
            if move.back:
                slug = names[move.option.head]
                spans[slug] = (*spans.get(slug, ()), (since.pop(move.option.head), step))
            else:
                since[move.option.head] = step
    return spans


def _needed_for(problem: Problem, moves: Sequence[Move]) -> list[tuple[Target, ...]]:
    """For every move the targets it makes possible, the nearest first.

    A move makes possible what happens while its effect lasts and needs that effect. What takes an effect back is put
    down to the same targets, and so is what only that needs. What is left after that (a way home from states in force
    at the start, a hand-over from one removal to another) is put down to all targets; or to none where parts were
    found off, as it closes up what was found open.
    """
    if len(problem.targets) == 1 and not problem.off:
        return [problem.targets] * len(moves)
    first_target = len(problem.compiled.names)
    supporters, undoes = _supporters(moves)
    distance: list[dict[int, int]] = [{} for _ in moves]
    for step, move in enumerate(moves):
        if move.option.head < first_target:
            continue
        target = move.option.head - first_target
        distance[step][target] = 0
        # What a move relies on came before it, so one pass back meets every move after all that rely on it.
        for at in range(step, -1, -1):
            steps = distance[at].get(target)
            if steps is not None:
                for supporter in supporters[at]:
                    known = distance[supporter]
                    if known.get(target, steps + 2) > steps + 1:
                        known[target] = steps + 1
    _pass_on(distance, supporters, undoes)
    everything = {} if problem.off else dict.fromkeys(range(len(problem.targets)), 0)
    return [
        tuple(problem.targets[t] for t in sorted(found, key=lambda t: (found[t], t)))
        for found in (some or everything for some in distance)
    ]


def _pass_on(distance: list[dict[int, int]], supporters: Sequence[Sequence[int]], undoes: Mapping[int, int]) -> None:
    """Fill in moves without a target: from the effect they take back, and from the moves that rely on them."""
    changed = True
    while changed:
        changed = False
        for step, undone in undoes.items():
            if not distance[step] and distance[undone]:
                distance[step] = distance[undone]
                changed = True
        for step in reversed(range(len(distance))):
            for supporter in supporters[step]:
                if not distance[supporter] and distance[step]:
                    distance[supporter] = {target: steps + 1 for target, steps in distance[step].items()}
                    changed = True


def _supporters(moves: Sequence[Move]) -> tuple[list[list[int]], dict[int, int]]:
    """For every move the moves whose effects it relies on; and of what takes an effect back, whose effect it is."""
    source: dict[int, int] = {}
    put_back: dict[int, int] = {}
    supporters: list[list[int]] = []
    undoes: dict[int, int] = {}
    for step, move in enumerate(moves):
        option = move.option
        supporters.append([source[need] for need in (*option.off, *option.states) if need in source])
        supporters[-1].extend(put_back[need] for need in option.fitted if need in put_back)
        if option.puts_back:
            put_back[option.head] = step
            continue
        if move.back:
            undoes[step] = source.pop(option.head)
            continue
        if option.is_edge and option.leaves in source:
            undoes[step] = source.pop(option.leaves)
        source[option.head] = step
    return supporters, undoes
