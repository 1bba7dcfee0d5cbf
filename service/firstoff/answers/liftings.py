"""What the limits of the day cost: each lifted in turn, and what the plan would be then."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from firstoff.answers import names
from firstoff.answers.bench import Bench
from firstoff.answers.limits import LABELS, LIFTED_BY, Limit
from firstoff.answers.question import Allowance, Question, counted, in_words, sentence
from firstoff.appliance.model import Appliance
from firstoff.appliance.terms import Concept
from firstoff.removal import Plan, Request, Undecided, Unreachable
from firstoff_contract.common import Ref
from firstoff_contract.removal import Lifting, LimitNote, PlanFigures, RuledOut

TOOLS = "tools"


@dataclass(frozen=True, slots=True)
class Lift:
    """Limits lifted and tools brought."""

    limits: frozenset[Limit] = frozenset()
    tools: frozenset[str] = frozenset()

    @property
    def size(self) -> int:
        return len(self.limits) + len(self.tools)

    def without(self, thing: Limit | str) -> Lift:
        return Lift(self.limits - {thing}, self.tools - {thing})

    @property
    def things(self) -> tuple[Limit | str, ...]:
        return (*sorted(self.limits), *sorted(self.tools))


class Limited:
    """The ways that could matter to a question if there were no limits, and what rules them out."""

    def __init__(self, bench: Bench, question: Question) -> None:
        self._bench = bench
        self._question = question
        self.tools = names.tools(bench.appliance)
        free = Request(
            targets=question.targets, off=question.off, states=question.states, banned=question.banned,
            minimise=question.minimise,
        )  # fmt: skip
        self.ways = bench.planner.ways_to(free)
        self.missing: dict[str, frozenset[str]] = {}
        if question.tools is not None:
            kits = {way: frozenset(tool.id for tool in tools) for way, tools in self._kits().items()}
            self.missing = {way: kit - question.tools for way, kit in kits.items() if kit - question.tools}

    def _kits(self) -> Mapping[str, tuple[Concept, ...]]:
        appliance = self._bench.appliance
        return {
            **{id_: each.all_tools for id_, each in appliance.removals.items() if id_ in self.ways},
            **{id_: each.tools for id_, each in appliance.access_paths.items() if id_ in self.ways},
            **{id_: each.tools for id_, each in appliance.preparations.items() if id_ in self.ways},
        }

    def notes(self) -> list[LimitNote]:
        """Every limit given, with the ways that it rules out and that could matter."""
        appliance, day = self._bench.appliance, self._question.day
        found = [
            LimitNote(
                id=limit.value,
                label=LABELS[limit],
                lifted_by=LIFTED_BY[limit],
                rules_out=[
                    RuledOut(way=way_ref(appliance, way), reason=sentence(reason))
                    for way, reason in sorted(day.rules_out[limit].items())
                    if way in self.ways
                ],
            )
            for limit in day.limits
        ]
        if self._question.tools is not None:
            lacking = sorted(frozenset().union(*self.missing.values()))
            rules_out = [
                RuledOut(way=way_ref(appliance, way), reason=f"It needs {self.labels(tools)}, not at hand.")
                for way, tools in sorted(self.missing.items())
            ]
            brought = f"bringing {self.labels(lacking)}" if lacking else "nothing: no tool is lacking"
            found.append(LimitNote(id=TOOLS, label="the tools at hand", lifted_by=brought, rules_out=rules_out))
        return found

    def labels(self, tools: Iterable[str]) -> str:
        return ", ".join(self.tools[slug].label for slug in sorted(tools))

    @property
    def everything(self) -> Lift:
        """All limits that rule out a way that could matter, and all tools lacking for one."""
        day = self._question.day
        return Lift(frozenset(day.ruling_out(self.ways)), frozenset().union(*self.missing.values()))

    def singles(self) -> Iterator[Lift]:
        """Each limit alone, and each tool that alone is all that some way lacks."""
        alone = {next(iter(tools)) for tools in self.missing.values() if len(tools) == 1}
        for thing in self.everything.things:
            if isinstance(thing, Limit):
                yield Lift(frozenset({thing}))
            elif thing in alone:
                yield Lift(tools=frozenset({thing}))

    def used_by(self, plan: Plan) -> Lift:
        """What has to be lifted for ``plan``."""
        day = self._question.day
        ways = plan.ways
        tools = (tools for way, tools in self.missing.items() if way in ways)
        return Lift(frozenset(day.ruling_out(ways)), frozenset().union(*tools))

    def solved(self, lift: Lift, allowance: Allowance) -> Plan | None:
        """The plan once ``lift`` is made; None where there is still none.

        :raises Undecided: the time ended before one was found.
        """
        request = self._question.request(lifted=lift.limits, more_tools=lift.tools)
        try:
            return self._bench.planner.plan(request, allowance.budget())
        except Unreachable:
            return None

    def what(self, lift: Lift) -> str:
        """What it takes to make ``lift``, in words."""
        said = [LIFTED_BY[limit] for limit in sorted(lift.limits)]
        if lift.tools:
            said.append(self.labels(lift.tools))
        return " and ".join(said)


def worth(limited: Limited, question: Question, found: Plan, allowance: Allowance) -> list[Lifting]:
    """What each limit costs the plan ``found``: a lifting for each limit, and for each tool that helps."""
    said: list[Lifting] = []
    best = _rank(question, found)
    for lift in limited.singles():
        plan, known = _tried(limited, lift, allowance)
        if not known or plan is None:
            said.append(_not_in_time(limited, lift))
        elif lift.limits or _rank(question, plan) < _rank(question, found):
            said.append(_lifting(limited, question, lift, plan, found))
        if plan is not None:
            best = min(best, _rank(question, plan))
    if limited.everything.size > 1:
        plan, _ = _tried(limited, limited.everything, allowance)
        if plan is not None and _rank(question, plan) < best:
            lift = limited.used_by(plan)
            if lift.size > 1:
                said.append(_lifting(limited, question, lift, plan, found))
    return said


def would_do(limited: Limited, question: Question, allowance: Allowance) -> list[Lifting]:
    """What would make the target reachable: each single lifting that does, else a set of which none can go."""
    said: list[Lifting] = []
    for lift in limited.singles():
        plan, _ = _tried(limited, lift, allowance)
        if plan is not None:
            said.append(_lifting(limited, question, lift, plan, None))
    if said or limited.everything.size < 2:
        return said
    plan, _ = _tried(limited, limited.everything, allowance)
    if plan is None:
        return []
    least = limited.used_by(plan)
    for thing in least.things:
        fewer, _ = _tried(limited, least.without(thing), allowance)
        if fewer is not None:
            least, plan = least.without(thing), fewer
    return [_lifting(limited, question, least, plan, None)]


def way_ref(appliance: Appliance, way: str) -> Ref:
    """A removal, access path or preparation by its label."""
    found = appliance.removals.get(way) or appliance.access_paths.get(way) or appliance.preparations.get(way)
    return Ref(id=way, label=found.label if found else way)


def figures_note(plan: Plan) -> PlanFigures:
    figures = plan.figures
    return PlanFigures(
        minutes=round(plan.minutes, 2),
        parts=figures.parts,
        single_use=figures.single_use,
        exposures=figures.exposures,
    )


def _tried(limited: Limited, lift: Lift, allowance: Allowance) -> tuple[Plan | None, bool]:
    """The plan with ``lift``, if there is one, and whether that is known."""
    if allowance.spent:
        return None, False
    try:
        return limited.solved(lift, allowance), True
    except Undecided:
        return None, False


def _rank(question: Question, plan: Plan) -> tuple[float, float]:
    return plan.figures.of(question.minimise), plan.minutes


def _not_in_time(limited: Limited, lift: Lift) -> Lifting:
    text = f"With {limited.what(lift)}: not worked out in the time there is."
    return Lifting(lifts=_slugs(lift), figures=None, proved=False, text=text)


def _lifting(limited: Limited, question: Question, lift: Lift, plan: Plan, found: Plan | None) -> Lifting:
    measure = question.minimise
    at_most = "" if plan.optimal else "at most "
    what = limited.what(lift)
    if found is not None and _rank(question, plan) >= _rank(question, found):
        text = f"With {what} nothing would change." if plan.optimal else f"With {what} nothing better was found."
    else:
        text = f"With {what}: {at_most}{in_words(measure, plan.figures)}"
        if found is not None:
            saved = [
                counted(before - after, each)
                for each in dict.fromkeys((measure, question.minimise.MINUTES))
                if (before := found.figures.of(each)) > (after := plan.figures.of(each))
            ]
            text += f", {' and '.join(saved)} less"
        text += "."
    return Lifting(lifts=_slugs(lift), figures=figures_note(plan), proved=plan.optimal, text=text)


def _slugs(lift: Lift) -> list[str]:
    return [thing.value if isinstance(thing, Limit) else thing for thing in lift.things]
