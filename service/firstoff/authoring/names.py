"""Names: classes, addresses and slugs."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from pathlib import PurePath

from firstoff.appliance.serial import plain_number
from firstoff.appliance.statements import RDF_TYPE
from firstoff.authoring.draft import Draft
from firstoff.authoring.findings import Problem, error, warning
from firstoff.store.terms import Blank, Iri, Term, Text

PLATFORM = "https://firstoff.example/platform/"


def one_platform(draft: Draft) -> Iterator[Problem]:
    """A file describes one platform, which has its name, and at least one model."""
    platforms = [resource.id for resource in draft.statements.of_class("Platform")]
    if len(platforms) != 1:
        told = ", ".join(platforms) or "none"
        yield error(
            "one-platform", None, f"A file describes exactly one platform. Found: {told}.", "Make one file a platform."
        )
    stem = PurePath(draft.name).name.removesuffix(".ttl")
    for slug in platforms:
        if slug != stem:
            yield error(
                "file-name",
                slug,
                f"The platform is called {slug} and the file {PurePath(draft.name).name}.",
                f"Name the file {slug}.ttl, or change the address of the platform.",
            )
    if platforms and next(draft.statements.of_class("Model"), None) is None:
        yield error("no-model", platforms[0], "The platform has no model.", "Describe at least one fo:Model.")


def classes(draft: Draft) -> Iterator[Problem]:
    """Every resource described is of exactly one class of the ontology."""
    for term in draft.statements.by_subject:
        found = draft.classes(term)
        if len(found) == 1:
            continue
        slug = slug_of(draft, term)
        if len(found) > 1:
            told = " and ".join(f"fo:{name}" for name in found)
            yield error("two-classes", slug, f"It is said to be {told} at once.", "Give each thing a name of its own.")
            continue
        types = [
            draft.document.shortened(value.value)
            for value in draft.statements.by_subject[term].get(RDF_TYPE, [])
            if isinstance(value, Iri)
        ]
        told = f"Its class {', '.join(sorted(types))} is not in the ontology." if types else "It has no class."
        what = "A value in square brackets: " if isinstance(term, Blank) else ""
        yield error("no-class", slug, what + told, "Write a fo:Component, a fo:Removal and so on behind its name.")


def addresses(draft: Draft) -> Iterator[Problem]:
    """Resources lie under the address of their platform, and no two share their last part."""
    platforms = [resource.id for resource in draft.statements.of_class("Platform")]
    by_slug: dict[str, list[str]] = defaultdict(list)
    for term in draft.statements.by_subject:
        if not isinstance(term, Iri):
            continue
        by_slug[term.slug].append(term.value)
        inside = term.value.removeprefix(PLATFORM)
        if len(platforms) == 1 and inside != term.value and inside.split("/")[0] != platforms[0]:
            yield error(
                "another-platform",
                term.slug,
                f"<{term.value}> lies under another platform than {platforms[0]}.",
                "Correct the prefix p: or the address.",
            )
    for slug, iris in by_slug.items():
        if len(iris) > 1:
            told = " and ".join(f"<{iri}>" for iri in sorted(iris))
            yield error(
                "name-used-twice",
                slug,
                f"{told} end alike, and answers would mix them up.",
                "Give each a last part of its own.",
            )


def in_english(draft: Draft) -> Iterator[Problem]:
    """A text that has languages has English among them."""
    for term, properties in draft.statements.by_subject.items():
        for name, values in properties.items():
            languages = {value.language for value in values if isinstance(value, Text) and value.language is not None}
            if languages and not any(language.lower().split("-")[0] == "en" for language in languages):
                yield error(
                    "not-in-english",
                    slug_of(draft, term),
                    f"{draft.document.shortened(name)} is told in {', '.join(sorted(languages))} and not in English.",
                    "Add the English text with @en.",
                )


def slug_of(draft: Draft, term: Term) -> str | None:
    """The slug under which a finding about ``term`` is told; for a blank node that of the resource it is part of."""
    if isinstance(term, Iri):
        return term.slug
    return draft.owners.get(term.label) if isinstance(term, Blank) else None


def model_slugs(draft: Draft) -> Iterator[Problem]:
    """The address of a model spells its model number."""
    for model in draft.statements.of_class("Model"):
        number = model.text("modelNumber") or ""
        if number and plain_number(model.id) != plain_number(number):
            yield warning(
                "model-slug",
                model.id,
                f"The address ends in {model.id} and the model number is {number}.",
                "End the address in the model number in small letters, with hyphens for what is no letter or digit.",
            )
