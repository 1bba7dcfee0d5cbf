"""Search hits and completions as contract answers; symptoms with their faults and the checks that tell those apart."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from threading import Lock

from firstoff.appliance.model import Appliance
from firstoff.collection.opening import Opened
from firstoff.diagnosis import RankedFault, TellingCheck, ranked, telling_apart
from firstoff.search import Completion, Hit, fold
from firstoff_contract.search import CheckHint, CompletionNote, FaultHint, OutcomeHint, SearchAnswer, SuggestAnswer
from firstoff_contract.search import Hit as HitNote

#: Faults are listed for so many models of a symptom at the most; name the model in hand to have its own.
MOST_MODELS = 4
#: Hits asked for beyond the limit, since some are of parts that the machine in hand has not, by its serial number.
SPARE = 10
#: Faults and checks listed for each model.
MOST_FAULTS = 6


#: A machine with the frequencies that jobs have shown, and how much of them that is, 0 to 1.
Taught = Callable[[Appliance], tuple[Appliance, float]]


class Searcher:
    """Answers searches over one opened collection; what symptoms point at is worked out once for each model, and again
    when jobs have shown more."""

    def __init__(self, opened: Opened) -> None:
        self._opened = opened
        self._lock = Lock()
        self._hints: dict[tuple[str, str | None, str], list[FaultHint]] = {}
        self._as_of: str | None = None

    def answer(
        self,
        query: str,
        *,
        model: str | None,
        serial: str | None,
        kind: str | None,
        lang: str | None,
        limit: int,
        taught: Taught,
        as_of: str | None,
    ) -> SearchAnswer:
        """Hits, best first; ``taught`` gives what jobs have shown up to ``as_of``.

        :raises NotFound: ``model`` is unknown; carries the nearest.
        """
        collection = self._opened.collection
        in_hand = collection.find(model).id if model else None
        self._forget_before(as_of)
        found = self._opened.index.search(query, kind=kind, model=in_hand, limit=limit + SPARE, lang=lang)
        having = ((hit, self._having(hit, in_hand, serial)) for hit in found.hits)
        hits = [(hit, models) for hit, models in having if models or not hit.models][:limit]
        return SearchAnswer(
            query=query,
            lang=found.lang or None,
            note=None if hits else _nothing_good(query, found.suggestions),
            hits=[self._note(hit, models, in_hand, serial, taught) for hit, models in hits],
            suggestions=list(found.suggestions),
            revision=collection.revision,
            draft=collection.drafted(slug for _, models in hits for slug in models),
        )

    def completions(
        self, query: str, *, model: str | None, serial: str | None, lang: str | None, limit: int
    ) -> SuggestAnswer:
        """Phrases that go on from a half-typed query, best first.

        :raises NotFound: ``model`` is unknown; carries the nearest.
        """
        collection = self._opened.collection
        in_hand = collection.find(model).id if model else None
        found = self._opened.index.complete(query, model=in_hand, limit=limit + SPARE, lang=lang)
        having = ((each, self._having(each, in_hand, serial)) for each in found)
        kept = [(each, models) for each, models in having if models or not each.models][:limit]
        return SuggestAnswer(
            query=query,
            completions=[_completion(each, models) for each, models in kept],
            revision=collection.revision,
            draft=collection.drafted(slug for _, models in kept for slug in models),
        )

    def _forget_before(self, as_of: str | None) -> None:
        with self._lock:
            if self._as_of != as_of:
                self._as_of, self._hints = as_of, {}

    def _note(self, hit: Hit, models: list[str], in_hand: str | None, serial: str | None, taught: Taught) -> HitNote:
        faults: list[FaultHint] = []
        if hit.kind == "symptom":
            asked = [each for each in models if in_hand in (None, each)][:MOST_MODELS]
            own = serial if in_hand else None
            hints = [each for model in asked for each in self._of_model(model, own, hit.id, taught)]
            faults = sorted(_merged(hints), key=lambda fault: -fault.share)
        return HitNote.model_validate(
            {
                "kind": hit.kind,
                "id": hit.id,
                "label": _label(hit),
                "lang": hit.lang,
                "matched": hit.matched,
                "ranges": hit.ranges,
                "score": round(hit.score, 4),
                "models": models,
                "faults": faults,
            }
        )

    def _having(self, hit: Hit | Completion, in_hand: str | None, serial: str | None) -> list[str]:
        """The models that have what was found; the one in hand only where its serial number allows it."""
        models = sorted(hit.models)
        if hit.kind == "model" or serial is None or in_hand not in hit.models:
            return models
        if any(_has(each, hit) for each in self._opened.collection.appliances(in_hand, serial)):
            return models
        return [model for model in models if model != in_hand]

    def _of_model(self, model: str, serial: str | None, symptom: str, taught: Taught) -> list[tuple[str, FaultHint]]:
        """The faults of a model that list the symptom, with its platform, over all serial ranges still possible."""
        found = []
        with self._lock:
            kept = self._hints
        for appliance in self._opened.collection.appliances(model, serial):
            key = (model, appliance.serial_range, symptom)
            hints = kept.get(key)
            if hints is None:
                hints = _fault_hints(*taught(appliance), symptom) if symptom in appliance.symptoms else []
                kept[key] = hints
            found += [(appliance.platform.id, hint) for hint in hints]
        return found


def _label(hit: Hit) -> str:
    """What is found, named in the language of the answer.

    A code keeps its notation; a component keeps its own name, since in another language it may have only that of its
    kind, as others of its kind have.
    """
    if hit.name == hit.label or hit.kind in ("symptom", "model"):
        return hit.name
    return f"{hit.name} ({hit.label})" if hit.kind == "component" else f"{hit.label.split(':')[0]}: {hit.name}"


def _nothing_good(query: str, suggestions: Iterable[str]) -> str:
    """A sentence where there are no hits."""
    if not fold(query):
        return "There is no word to search for. Type a symptom, a part, a code or a model number."
    words = ", ".join(suggestions)
    mend = f"Words near it: {words}." if words else "Try other words for it, or a code or model number."
    return f"Nothing good was found. {mend}"


def _merged(hints: Iterable[tuple[str, FaultHint]]) -> list[FaultHint]:
    """One hint a fault of a platform, with all its models; its share and checks are those of the first."""
    found: dict[tuple[str, str], FaultHint] = {}
    for platform, hint in hints:
        known = found.get((platform, hint.id))
        models = hint.models if known is None else list(dict.fromkeys([*known.models, *hint.models]))
        found[platform, hint.id] = (known or hint).model_copy(update={"models": models})
    return list(found.values())


def _completion(found: Completion, models: list[str]) -> CompletionNote:
    return CompletionNote.model_validate(
        {
            "text": found.text,
            "ranges": found.ranges,
            "lang": found.lang or None,
            "kind": found.kind,
            "id": found.id,
            "label": found.label,
            "models": models,
        }
    )


def _has(appliance: Appliance, hit: Hit | Completion) -> bool:
    return hit.id in {
        "symptom": appliance.symptoms,
        "component": appliance.components,
        "code": appliance.codes,
    }.get(hit.kind, {})


def _fault_hints(appliance: Appliance, learned: float, symptom: str) -> list[FaultHint]:
    """The faults that list the symptom, likeliest first, each with the checks that speak for or against it."""
    every = ranked(appliance, [symptom])
    likely = [fault for fault in every if symptom in fault.explains]
    total = sum(fault.share for fault in likely)
    checks = telling_apart(appliance, likely)
    return [_fault_hint(appliance, fault, fault.share / total, learned, checks) for fault in likely[:MOST_FAULTS]]


def _fault_hint(
    appliance: Appliance, fault: RankedFault, share: float, learned: float, checks: Iterable[TellingCheck]
) -> FaultHint:
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
        learned=round(learned, 4),
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
