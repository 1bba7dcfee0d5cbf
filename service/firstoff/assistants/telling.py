"""An answer as text for an assistant: warnings first, then all of it in order, then the names to ask further with."""

from __future__ import annotations

from collections.abc import Iterator
from io import StringIO
from typing import Any

from pydantic import BaseModel, ValidationError
from rich.console import Console

from firstoff.assistants.tools import BY_NAME, Tool
from firstoff.errors import FirstoffError, NotFound
from firstoff.search import near
from firstoff_contract.codes import CodeDetail
from firstoff_contract.common import NOTICE, Answer, BulletinNote, CautionNote, Grounded, SourceRef
from firstoff_contract.diagnosis import Diagnosis, NextStep
from firstoff_contract.energy import IsolationAnswer, LivePoints, PathStep
from firstoff_contract.procedure import Procedure
from firstoff_contract.reading import ReadingAnswer
from firstoff_contract.record import SafetyRecord
from firstoff_contract.removal import RemovalPlan, Step

_SIGNAL_WORDS = ("DANGER", "WARNING", "CAUTION", "NOTICE")
#: Wide enough that no line is broken: a caution stays in one piece.
_WIDTH = 4000
_LOOK_UP = (
    "Tools that tell names: find (symptoms, components, codes, models), describe_machine (devices, capacitors, states, "
    "tools), parts (components and their points)."
)
_UPSTREAM = "Some energy can only be isolated upstream of the appliance."


def told(tool: Tool, answer: Answer) -> str:
    """The whole text of an answer."""
    warned = warnings(answer)
    parts = ["\n".join(warned), _body(tool, answer, frozenset(warned))]
    if not tool.named and (names := _names(answer)):
        parts.append("Names for further questions: " + "; ".join(f"{name} = {label}" for name, label in names.items()))
    return "\n\n".join(parts)


def warnings(answer: Answer) -> list[str]:
    """What comes before anything else: notice, revision, draft, bulletins, cautions worst first, what is not safe."""
    said = [answer.notice if isinstance(answer, Grounded) else NOTICE]
    if isinstance(answer, Grounded):
        said.append(f"revision {answer.revision}")
        if answer.draft:
            said.append("DRAFT: nobody has reviewed this content: verify it on the machine first.")
    everything = list(_within(answer))
    bulletins = [each for each in everything if isinstance(each, BulletinNote)]
    said += [f"BULLETIN ({each.kind}): {each.label}. {each.text}" for each in bulletins]
    cautions = [each for each in everything if isinstance(each, CautionNote)]
    cautions.sort(key=lambda each: _SIGNAL_WORDS.index(each.signal_word))
    said += [f"{each.signal_word}: {each.text} {each.protection}" for each in cautions]
    return list(dict.fromkeys([*said, *_not_safe(answer)]))


def _not_safe(answer: Answer) -> list[str]:
    """What of the answer itself must not be overlooked."""
    match answer:
        case LivePoints():
            return _live(answer)
        case RemovalPlan():
            return _unknown(answer.make_safe.unknown) + [_UPSTREAM] * answer.make_safe.upstream_only
        case Procedure():
            return _unknown(answer.unknown) + [_UPSTREAM] * answer.upstream_only
        case IsolationAnswer():
            upstream = f"{_UPSTREAM} Energies: {', '.join(answer.upstream_energies)}."
            return _unknown(answer.unknown) + [upstream] * answer.upstream_only
        case Diagnosis(next=NextStep() as step) | CodeDetail(first=NextStep() as step):
            first = f" Ask make_safe with reach {step.reach} first." if step.reach else ""
            return [f"The next step is done with the supply ON.{first}"] if step.live else []
        case ReadingAnswer(expected=expected) if not expected.known:
            return ["The value is unknown: it says nothing about safety. Treat both points as live."]
        case SafetyRecord() if answer.verdict != "pass":
            return [f"The record as a whole is {answer.verdict.replace('_', ' ')}: do not hand the machine over."]
        case _:
            return []


def _live(answer: LivePoints) -> list[str]:
    states = ("live", "off_not_isolated", "unknown")
    counts = {state: sum(point.state == state for point in answer.points) for state in states}
    said = [
        f"Of {len(answer.points)} points {counts['live']} are LIVE, {counts['off_not_isolated']} off but not isolated, "
        f"{counts['unknown']} unknown: treat all of these as live, and every point that is not listed. "
        "Isolated is computed: prove dead before touching."
    ]
    said += _unknown([point.label for point in answer.points if point.state == "unknown"])
    if answer.stored:
        said.append(f"STORED CHARGE: {'; '.join(each.label for each in answer.stored)}. Waiting is never permission.")
    return said


def _unknown(points: list[str]) -> list[str]:
    return [f"UNKNOWN, treat as live: {'; '.join(points)}."] if points else []


def _body(tool: Tool, answer: Answer, said: frozenset[str]) -> str:
    """The table of the command line, without what was said before it."""
    paper = StringIO()
    out = Console(file=paper, width=_WIDTH, color_system=None, force_terminal=False, emoji=False, highlight=False)
    tool.table(out, answer)
    lines = [line.rstrip() for line in paper.getvalue().splitlines()]
    return "\n".join(line for line in lines if line not in said).strip("\n")


def _names(answer: Answer) -> dict[str, str]:
    """Every name that stands for something, with its label."""
    found: dict[str, str] = {}
    for each in _within(answer):
        if isinstance(each, (CautionNote, BulletinNote, SourceRef, PathStep)):
            continue
        name = each.way if isinstance(each, Step) else getattr(each, "id", None)
        label = getattr(each, "label", None)
        if isinstance(name, str) and isinstance(label, str) and name != label:
            found.setdefault(name, label)
    return found


def _within(value: Any) -> Iterator[BaseModel]:
    """Every contract model inside ``value``, itself included, in order."""
    if isinstance(value, BaseModel):
        yield value
        for name in type(value).model_fields:
            yield from _within(getattr(value, name))
    elif isinstance(value, (list, tuple)):
        for each in value:
            yield from _within(each)


def refused(error: FirstoffError) -> str:
    """A problem as text: what is wrong, what to do, and what is nearest."""
    said = [error.detail, error.mend]
    for name, words in (
        ("nearest", "Nearest"),
        ("models", "Models"),
        ("ranges", "Serial ranges"),
        ("missing_tools", "Tools that are missing"),
        ("limits", "Limits in the way"),
        ("would_do", "What would do"),
    ):
        if values := getattr(error, name, ()):
            said.append(f"{words}: {'; '.join(values)}.")
    if isinstance(error, NotFound):
        said.append(_LOOK_UP)
    return "\n".join(said)


def misasked(tool: Tool, error: ValidationError) -> str:
    """What is wrong with the arguments, without repeating them, and which there are."""
    wrong = [
        f"{'.'.join(str(part)[:100] for part in each['loc']) or 'arguments'}: {each['msg'][:300]}"
        for each in error.errors(include_input=False, include_url=False)[:20]
    ]
    arguments = ", ".join(tool.asked.model_fields)
    return f"The arguments of {tool.name} are not of the expected form.\n" + "\n".join(
        [*wrong, f"Correct what is named. {tool.name} takes {arguments}."]
    )


def no_such_tool(name: str) -> str:
    nearest = near(name[:100], sorted(BY_NAME), limit=1)
    hint = f" Do you mean {nearest[0]}?" if nearest else ""
    return f"There is no tool {name[:100]!r}.{hint}\nThe tools are {', '.join(BY_NAME)}."
