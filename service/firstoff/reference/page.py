"""The page of the ontology: for a phone, a desk and the dark. It needs no script and no other address."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from markupsafe import Markup

from firstoff.authoring.glossary import Glossary, Term, Use
from firstoff.reference.areas import areas_of
from firstoff.reference.figure import figure_of
from firstoff.reference.wording import Piece, held, how_many
from firstoff.sheet.policy import content_security_policy
from firstoff.sheet.templating import rendered, text_of

_VOCABULARY = "https://firstoff.example/vocabulary/"
#: Languages of labels as a reader calls them.
_LANGUAGES = {"en": "English", "es": "Spanish", "de": "German"}


@dataclass(frozen=True, slots=True)
class Row:
    """A property in the list of a class. ``home`` says that its anchor is here; else it is among the shared ones."""

    use: Use
    title: str
    written: str
    definition: str
    home: bool
    held: tuple[Piece, ...]
    details: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Shared:
    """A property that several classes take, or none but terms of vocabularies; ``takers`` are names of classes."""

    term: Term
    takers: tuple[str, ...]


def ontology_page(glossary: Glossary) -> str:
    """The whole page. Every text of the ontology is escaped."""
    style = ontology_style()
    areas = areas_of(glossary.classes)
    labels = {each.term.name: each.term.label for each in glossary.classes}
    return str(
        rendered(
            "ontology.html",
            glossary=glossary,
            areas=areas,
            labels=labels,
            figures=[(area, figure_of(area.classes, labels)) for area in areas],
            rows=_rows(glossary, labels),
            shared=_shared(glossary),
            names={
                f"{scheme.name}.{each.name}": each.labels.get("en", each.name)
                for scheme in glossary.schemes
                for each in scheme.concepts
            },
            counts=_counts(glossary),
            languages=_LANGUAGES,
            style=style,
            policy=content_security_policy(style, framed=False),
        )
    )


def ontology_style() -> Markup:
    """The style of the page, its pictures included."""
    return text_of("ontology.css")


def _takers(glossary: Glossary) -> Counter[str]:
    return Counter(use.name for each in glossary.classes for use in each.uses)


def _rows(glossary: Glossary, labels: Mapping[str, str]) -> dict[str, list[Row]]:
    """The properties of each class."""
    takers = _takers(glossary)
    vocabularies = {f"{_VOCABULARY}{scheme.name}#": f"vocabulary-{scheme.name}" for scheme in glossary.schemes}
    return {
        each.term.name: [
            _row(use, takers[use.name] == 1, labels, vocabularies) for use in sorted(each.uses, key=_of_every_class)
        ]
        for each in glossary.classes
    }


def _of_every_class(use: Use) -> bool:
    """Whether it tells nothing of what the class is, and so comes last."""
    return use.term is None or use.name in ("source", "status")


def _row(use: Use, alone: bool, labels: Mapping[str, str], vocabularies: Mapping[str, str]) -> Row:
    term = use.term
    details = [how_many(use)]
    if term is not None:
        details += [f"narrower than {each}" for each in term.above] + [f"close to {each}" for each in term.close]
        details += [f"after {each}" for each in term.sources]
    return Row(
        use=use,
        title=term.label if term else use.column.title,
        written=f"fo:{use.name}" if term else use.name,
        definition=term.definition if term else use.column.note,
        home=alone and term is not None,
        held=held(use, labels, vocabularies),
        details=tuple(details),
    )


def _shared(glossary: Glossary) -> list[Shared]:
    takers = _takers(glossary)
    return [
        Shared(
            term,
            tuple(each.term.name for each in glossary.classes if any(use.term == term for use in each.uses)),
        )
        for term in glossary.properties
        if takers[term.name] != 1
    ]


def _counts(glossary: Glossary) -> dict[str, int]:
    return {
        "classes": len(glossary.classes),
        "properties": len(glossary.properties),
        "vocabularies": len(glossary.schemes),
        "terms": sum(len(scheme.concepts) for scheme in glossary.schemes),
    }
