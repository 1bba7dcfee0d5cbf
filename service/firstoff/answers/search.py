"""Search hits as a contract answer; symptoms with their faults and the checks that tell those apart."""

from __future__ import annotations

from collections.abc import Iterable

from firstoff.appliance.model import Appliance
from firstoff.diagnosis import RankedFault, TellingCheck, ranked, telling_apart
from firstoff.library.opening import Opened
from firstoff.search import Hit
from firstoff_contract.search import CheckHint, FaultHint, OutcomeHint, SearchAnswer
from firstoff_contract.search import Hit as HitNote

#: Faults are listed for so many models of a symptom at the most; name the model in hand to have its own.
MOST_MODELS = 4
#: Hits asked for beyond the limit, since some are of parts that every model leaves out.
SPARE = 10
#: Faults and checks listed for each model.
MOST_FAULTS = 6


def search_answer(
    opened: Opened, query: str, *, model: str | None, kind: str | None, lang: str | None, limit: int
) -> SearchAnswer:
    """Hits, best first.

    :raises NotFound: ``model`` is unknown; carries the nearest.
    """
    in_hand = opened.library.find(model).id if model else None
    found = opened.index.search(query, kind=kind, model=in_hand, limit=limit + SPARE, lang=lang)
    hits = [note for hit in found.hits if (note := _hit_note(opened, hit, in_hand)) is not None]
    return SearchAnswer(
        query=query, hits=hits[:limit], suggestions=list(found.suggestions), revision=opened.library.revision
    )


def _hit_note(opened: Opened, hit: Hit, in_hand: str | None) -> HitNote | None:
    """The hit with the models that really have it; None where no model does."""
    models = _having(opened, hit)
    if hit.models and not models:
        return None
    faults: list[FaultHint] = []
    if hit.kind == "symptom":
        asked = [in_hand] if in_hand in models else [] if in_hand else models[:MOST_MODELS]
        appliances = [opened.library.appliances(each or "")[0] for each in asked]
        faults = _merged((each.platform.id, hint) for each in appliances for hint in _fault_hints(each, hit.id))
    return HitNote.model_validate(
        {
            "kind": hit.kind,
            "id": hit.id,
            "label": hit.label,
            "matched": hit.matched,
            "ranges": hit.ranges,
            "score": round(hit.score, 4),
            "models": models,
            "faults": sorted(faults, key=lambda fault: -fault.share),
        }
    )


def _merged(hints: Iterable[tuple[str, FaultHint]]) -> list[FaultHint]:
    """One hint a fault of a platform, with all its models; its share and checks are those of the first."""
    found: dict[tuple[str, str], FaultHint] = {}
    for platform, hint in hints:
        known = found.get((platform, hint.id))
        models = hint.models if known is None else known.models + hint.models
        found[platform, hint.id] = (known or hint).model_copy(update={"models": models})
    return list(found.values())


def _having(opened: Opened, hit: Hit) -> list[str]:
    """The index knows platforms; a model may leave the part out."""
    return [
        model
        for model in sorted(hit.models)
        if hit.kind == "model" or any(_has(each, hit) for each in opened.library.appliances(model))
    ]


def _has(appliance: Appliance, hit: Hit) -> bool:
    return hit.id in {
        "symptom": appliance.symptoms,
        "component": appliance.components,
        "code": appliance.codes,
    }.get(hit.kind, {})


def _fault_hints(appliance: Appliance, symptom: str) -> list[FaultHint]:
    """The faults that list the symptom, likeliest first, each with the checks that speak for or against it."""
    every = ranked(appliance, [symptom])
    likely = [fault for fault in every if symptom in fault.explains]
    total = sum(fault.share for fault in likely)
    checks = telling_apart(appliance, likely)
    return [_fault_hint(appliance, fault, fault.share / total, checks) for fault in likely[:MOST_FAULTS]]


def _fault_hint(appliance: Appliance, fault: RankedFault, share: float, checks: Iterable[TellingCheck]) -> FaultHint:
    concerned = [
        _check_hint(appliance, each.check)
        for each in checks
        if any(
            fault.fault in outcome.speaks_for | outcome.rules_out for outcome in appliance.checks[each.check].outcomes
        )
    ]
    return FaultHint(
        id=fault.fault,
        label=fault.label,
        models=[appliance.model],
        component=fault.component,
        share=round(share, 4),
        remedies=[remedy.label for remedy in fault.remedies],
        checks=concerned[:MOST_FAULTS],
    )


def _check_hint(appliance: Appliance, slug: str) -> CheckHint:
    check = appliance.checks[slug]
    return CheckHint(
        id=slug,
        label=check.label,
        component=check.component,
        live=check.live,
        minutes=check.minutes,
        outcomes=[
            OutcomeHint(label=each.label, speaks_for=sorted(each.speaks_for), rules_out=sorted(each.rules_out))
            for each in check.outcomes
        ],
    )
