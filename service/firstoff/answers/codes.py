"""Display codes as contract answers: what a code says of the faults, what it does not, and what to do first."""

from __future__ import annotations

import math

from firstoff.answers.bench import Bench
from firstoff.answers.catalogue import page_of
from firstoff.answers.diagnosis import diagnosis_answer
from firstoff.answers.learning import Learned, learned_note, taught_bench
from firstoff.answers.names import codes_named
from firstoff.answers.notes import concept_ref, model_ref
from firstoff.appliance.model import Appliance, DisplayCode
from firstoff.diagnosis import Belief, Findings, weighed
from firstoff_contract.codes import CodeDetail, CodeFault, CodeList, CodeSummary
from firstoff_contract.common import Ref
from firstoff_contract.diagnosis import DiagnosisRequest, NextStep

STORED, CLEARING = "stored-codes", "clearing"
#: Least share with which a fault that the code does not point to is listed.
WORTH_TELLING = 0.01

_OLD = (
    "A stored code may be from before this visit: write it down, clear it, run the machine and see whether it comes "
    "back."
)
_SEEN = "It tells what the control saw, not which part failed: connectors, wires and the supply can look the same."


def code_list(appliance: Appliance, offset: int, limit: int, serial: str | None) -> CodeList:
    """All codes of the model in order of what the machine shows."""
    ordered = sorted(appliance.codes.values(), key=lambda code: (code.notation.casefold(), code.notation, code.id))
    return CodeList(
        model=model_ref(appliance),
        page=page_of(len(ordered), offset, limit, f"/v1/models/{appliance.model}/codes", serial=serial),
        codes=[_summary(appliance, code) for code in ordered[offset : offset + limit]],
        read_with=_modes(appliance, STORED),
        clear_with=_modes(appliance, CLEARING),
        revision=appliance.revision,
    )


def code_detail(bench: Bench, shown: str, learned: Learned) -> CodeDetail:
    """The code that ``shown`` can be read as.

    :raises NotFound: there is none, or more than one; carries the nearest.
    """
    appliance = taught_bench(bench, learned).appliance
    code = appliance.codes[next(iter(codes_named(appliance, [shown])))]
    nothing = weighed(appliance, Findings())
    belief = weighed(appliance, Findings(codes=frozenset({code.id})))
    others = math.fsum(share for fault, share in belief.shares.items() if fault not in code.faults)
    return CodeDetail(
        model=model_ref(appliance),
        code=_summary(appliance, code),
        set_when=code.set_when,
        faults=_faults(appliance, code, nothing, belief),
        others=round(others, 4),
        does_not_prove=_open(appliance, code, belief, others),
        clearing=code.clearing,
        read_with=_modes(appliance, STORED),
        clear_with=_modes(appliance, CLEARING),
        first=_first(bench, code, learned),
        learned=learned_note(learned),
        revision=appliance.revision,
    )


def _first(bench: Bench, code: DisplayCode, learned: Learned) -> NextStep | None:
    return diagnosis_answer(bench, DiagnosisRequest(codes=[code.id]), learned).next


def _summary(appliance: Appliance, code: DisplayCode) -> CodeSummary:
    return CodeSummary(
        id=code.id,
        notation=code.notation,
        label=code.label,
        stored=code.stored,
        faults=[Ref(id=each, label=appliance.faults[each].label) for each in sorted(code.faults)],
        symptoms=[
            Ref(id=each, label=appliance.symptoms[each].label)
            for each in sorted(code.symptoms & appliance.symptoms.keys())
        ],
    )


def _modes(appliance: Appliance, kind: str) -> list[Ref]:
    modes = appliance.service_modes.values()
    return [Ref(id=mode.id, label=mode.label) for mode in modes if any(each.id == kind for each in mode.kinds)]


def _faults(appliance: Appliance, code: DisplayCode, nothing: Belief, belief: Belief) -> list[CodeFault]:
    weights = {each.fault: each.decibans for each in belief.moves if each.kind == "code"}
    told = [
        CodeFault(
            id=slug,
            label=appliance.faults[slug].label,
            origin=concept_ref(appliance.faults[slug].origin),
            pointed_to=slug in code.faults,
            before=round(before, 4),
            after=round(belief.shares.get(slug, 0.0), 4),
            decibans=_finite(weights.get(slug)),
        )
        for slug, before in nothing.shares.items()
        if slug in code.faults or belief.shares.get(slug, 0.0) >= WORTH_TELLING
    ]
    return sorted(told, key=lambda each: (-each.after, each.id))


def _finite(value: float | None) -> float | None:
    return round(value, 2) if value is not None and math.isfinite(value) else None


def _open(appliance: Appliance, code: DisplayCode, belief: Belief, others: float) -> list[str]:
    """What the code leaves open, the content's own words first."""
    said = [code.does_not_prove] if code.does_not_prove else []
    if len(code.faults) > 1:
        said.append(f"It points to {len(code.faults)} faults and does not say which of them is at work.")
    if belief.contradicted:
        said.append("No described fault explains it.")
    elif others >= WORTH_TELLING:
        said.append(
            f"By the frequencies told here, in {others:.0%} of cases none of the faults it points to is at work."
        )
    if any(appliance.faults[fault].component for fault in code.faults):
        said.append(_SEEN)
    return [*said, _OLD] if code.stored else said
