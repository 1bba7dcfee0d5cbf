"""Texts that one language has and another lacks, and reviewed statements that nobody can trace."""

from __future__ import annotations

from collections.abc import Iterator

from rdflib.namespace import SH

from firstoff.authoring.draft import Draft
from firstoff.authoring.findings import Problem, error, warning
from firstoff.authoring.names import slug_of
from firstoff.authoring.ontology import FO
from firstoff.store.terms import Term, Text

#: At most so many texts that lack a language are told one by one where most lack it.
_FEW = 5


def languages_lacking(draft: Draft) -> Iterator[Problem]:
    """A text lacks a language that the same text of other resources of its class has.

    Where most lack it, the few that have it are the exception, and it is told once at the first of these.
    """
    texts = {str(path) for shape in draft.ontology.shapes.subjects(SH.uniqueLang) for path in _paths(draft, shape)}
    groups: dict[tuple[str, str], dict[Term, frozenset[str]]] = {}
    for term, properties in draft.statements.by_subject.items():
        for name in texts & properties.keys():
            spoken = frozenset(
                each.language.split("-")[0] for each in properties[name] if isinstance(each, Text) and each.language
            )
            for of in draft.classes(term):
                groups.setdefault((of, name), {})[term] = spoken
    for (of, name), group in groups.items():
        for language in sorted(frozenset().union(*group.values()) - {"en"}):
            having = [term for term, spoken in group.items() if language in spoken]
            lacking = [term for term, spoken in group.items() if language not in spoken]
            yield from _lacks(draft, of, draft.document.shortened(name), language, having, lacking)


def _paths(draft: Draft, shape: object) -> Iterator[object]:
    yield from draft.ontology.shapes.objects(shape, SH.path)  # type: ignore[arg-type]


def _lacks(
    draft: Draft, of: str, name: str, language: str, having: list[Term], lacking: list[Term]
) -> Iterator[Problem]:
    if len(lacking) > max(len(having), _FEW):
        yield warning(
            "lacks-language",
            slug_of(draft, having[0]),
            f"{name} is told in {language} here and in {len(having)} of {len(having) + len(lacking)} resources of "
            f"fo:{of}, so that a reader of {language} meets mostly English.",
            f"Tell it in {language} for all of them, or for none.",
        )
        return
    for term in lacking:
        yield warning(
            "lacks-language",
            slug_of(draft, term),
            f"{name} is not told in {language}, in which {len(having)} others of fo:{of} are, so that a reader of "
            f"{language} meets English here.",
            f"Add the text with @{language}.",
        )


def reviewed_has_source(draft: Draft) -> Iterator[Problem]:
    """What is called reviewed says where it was taken from; for a reviewed platform some source is described."""
    sources = any(True for _ in draft.statements.of_class("Source"))
    for term, properties in draft.statements.by_subject.items():
        stated = properties.get(FO + "status", ())
        reviewed = any(isinstance(each, Text) and each.value == "reviewed" for each in stated)
        platform = "Platform" in draft.classes(term)
        if reviewed and not properties.get(FO + "source") and not (platform and sources):
            yield error(
                "reviewed-without-source",
                slug_of(draft, term),
                "It is called reviewed and names no source, so nobody can tell against what.",
                'Write fo:source with a source of this file, or fo:status "draft".',
            )
