"""Pieces of contract models made from the read model."""

from __future__ import annotations

from collections.abc import Iterable

from firstoff.appliance.model import (
    Appliance,
    Bulletin,
    Caution,
    Component,
    Connection,
    Fastening,
    ReassemblyCheck,
)
from firstoff.appliance.terms import (
    Concept,
    Source,
)
from firstoff_contract.common import BulletinNote, CautionNote, Ref, SourceRef
from firstoff_contract.removal import ConnectionNote, FasteningNote, RefitCheck

_WORST_FIRST = ("DANGER", "WARNING", "CAUTION", "NOTICE")


def model_ref(appliance: Appliance) -> Ref:
    return Ref(id=appliance.model, label=appliance.label)


def concept_ref(concept: Concept) -> Ref:
    return Ref(id=concept.id, label=concept.label)


def component_ref(appliance: Appliance, slug: str) -> Ref:
    component: Component | None = appliance.components.get(slug)
    return Ref(id=slug, label=component.label if component else slug)


def component_refs(appliance: Appliance, slugs: Iterable[str]) -> list[Ref]:
    """References in order of the label."""
    return sorted((component_ref(appliance, slug) for slug in slugs), key=lambda ref: (ref.label, ref.id))


def state_refs(appliance: Appliance, slugs: Iterable[str]) -> list[Ref]:
    refs = (Ref(id=slug, label=appliance.states[slug].label if slug in appliance.states else slug) for slug in slugs)
    return sorted(refs, key=lambda ref: ref.id)


def point_refs(appliance: Appliance, slugs: Iterable[str]) -> list[Ref]:
    points = appliance.circuit.points
    return [Ref(id=slug, label=points[slug].label if slug in points else slug) for slug in sorted(slugs)]


def link_refs(appliance: Appliance, slugs: Iterable[str]) -> list[Ref]:
    """References in order of the slug."""
    links = appliance.circuit.links
    return [Ref(id=slug, label=links[slug].label if slug in links else slug) for slug in sorted(slugs)]


def source_refs(sources: Iterable[Source]) -> list[SourceRef]:
    return [SourceRef(id=each.id, title=each.title, locator=each.locator) for each in sources]


def fastening_notes(fastenings: Iterable[Fastening]) -> list[FasteningNote]:
    return [
        FasteningNote(
            kind=each.label or each.kind.label,
            count=each.count,
            drive=each.drive.label if each.drive else None,
            size=each.size,
            torque_nm=each.torque,
            single_use=each.single_use,
        )
        for each in fastenings
    ]


def connection_notes(connections: Iterable[Connection]) -> list[ConnectionNote]:
    return [
        ConnectionNote(
            kind=each.kind.label, label=each.label, lock=each.lock, seal=each.seal, single_use=each.single_use
        )
        for each in connections
    ]


def check_notes(checks: Iterable[ReassemblyCheck]) -> list[RefitCheck]:
    return [refit_check(each) for each in checks]


def refit_check(check: ReassemblyCheck) -> RefitCheck:
    return RefitCheck(
        text=check.text,
        before_cover=check.before_cover,
        kind=concept_ref(check.kind) if check.kind else None,
        after_supply=check.after_supply,
        wait_minutes=check.wait_minutes,
    )


def bulletin_notes(bulletins: Iterable[Bulletin]) -> list[BulletinNote]:
    return [BulletinNote(id=each.id, kind=each.kind.label, label=each.label, text=each.text) for each in bulletins]


def note(slug: str, signal_word: str, hazard: str, text: str, protection: str) -> CautionNote:
    """A caution; ``signal_word`` is DANGER, WARNING, CAUTION or NOTICE."""
    return CautionNote.model_validate(
        {"id": slug, "signal_word": signal_word, "hazard": hazard, "text": text, "protection": protection}
    )


def worst_first(cautions: Iterable[CautionNote]) -> list[CautionNote]:
    """In order of the signal word; those of one word in the order given."""
    return sorted(cautions, key=lambda each: _WORST_FIRST.index(each.signal_word))


def caution_notes(cautions: Iterable[Caution]) -> list[CautionNote]:
    """Worst signal word first."""
    ordered = sorted(cautions, key=lambda each: each.id)
    return worst_first(
        note(each.id, each.signal_word, each.hazard.label, each.text, each.protection) for each in ordered
    )


def cautions_of(appliance: Appliance, *slugs: str | None) -> list[CautionNote]:
    """The cautions that apply to any of the resources named."""
    wanted = {slug for slug in slugs if slug}
    return caution_notes(each for each in appliance.cautions if each.applies_to & wanted)
