"""Words that an organisation adds to the vocabularies, in its own namespace.

They stand in ``<content>/words/*.ttl``: SKOS concepts that say ``skos:inScheme`` one of our vocabularies, and further
labels for our own concepts (another language, another alternative name). Vocabularies that computations rest on, such
as kinds of links, devices and energies, take no new concepts: a word that nobody reckons with would be passed over.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping
from functools import partial
from pathlib import Path

import pyoxigraph as ox

from firstoff.authoring.digest import ontology_files, word_files
from firstoff.authoring.findings import Finding, Report, Severity
from firstoff.authoring.turtle import Document, read_turtle
from firstoff.content import ontology_folder
from firstoff.errors import ContentSyntax

VOCABULARY = "https://firstoff.example/vocabulary/"
_OURS = "https://firstoff.example/"
_TYPE = "http://www.w3.org/1999/02/22-rdf-syntax-ns#type"
_SKOS = "http://www.w3.org/2004/02/skos/core#"
_WEAR = "https://firstoff.example/ontology#wear"
_LABELS = frozenset((_SKOS + "prefLabel", _SKOS + "altLabel"))
#: Vocabularies that take concepts of others.
OPEN = frozenset(
    {
        "appliance-kinds", "bulletin-kinds", "check-kinds", "component-kinds", "connection-kinds", "drives",
        "failure-modes", "fastening-kinds", "hazard-kinds", "symptoms", "tools",
    }
)  # fmt: skip
#: What may be said of a concept of one's own.
_SAID = _LABELS | {
    _TYPE, _WEAR,
    *(_SKOS + name for name in ("inScheme", "definition", "scopeNote", "broader", "closeMatch", "exactMatch")),
}  # fmt: skip

Statements = list[tuple[str, object]]
Telling = Callable[[str, str, str], Finding]


def check_words(texts: Mapping[str, str], folder: Path | None = None) -> tuple[Report, ...]:
    """One report for each file of words, by its name; all are held against ours and against each other."""
    ours = _ours(folder or ontology_folder())
    documents: dict[str, Document] = {}
    found: dict[str, list[Finding]] = {name: [] for name in texts}
    for name, text in texts.items():
        try:
            documents[name] = read_turtle(text, name)
        except ContentSyntax as error:
            mend = "Mend this line, or the end of the statement before it."
            found[name].append(
                Finding(Severity.ERROR, "syntax", None, None, f"{error.expected}.", mend, name, error.line)
            )
    taken = {(scheme, slug): "the vocabulary" for scheme, slugs in ours.items() for slug in slugs}
    for name, document in documents.items():
        found[name] += _problems(name, document, ours, taken)
    return tuple(Report(name, "", tuple(findings)) for name, findings in found.items())


def sound_words(content: Path | None, folder: Path | None = None) -> tuple[dict[str, str], tuple[Report, ...]]:
    """The texts of the files of words of ``content`` that are sound, by name, and the reports of all."""
    texts, unreadable = {}, []
    for path in word_files(content):
        name = f"words/{path.name}"
        try:
            texts[name] = path.read_bytes().decode("utf-8")
        except (OSError, UnicodeDecodeError) as error:
            said = Finding(
                Severity.ERROR, "syntax", None, None, f"It cannot be read: {error}.", "Save it as UTF-8.", name, None
            )
            unreadable.append(Report(name, "", (said,)))
    if not texts:
        return {}, tuple(unreadable)
    reports = check_words(texts, folder)
    sound = {name: texts[name] for name in texts if next(each for each in reports if each.file == name).ok}
    return sound, (*unreadable, *reports)


def _ours(folder: Path) -> dict[str, dict[str, set[str]]]:
    """For each of our vocabularies, by its name, the local name of each concept with the languages of its label."""
    found: dict[str, dict[str, set[str]]] = {}
    for path in ontology_files(folder)[2:]:
        own = found.setdefault(path.stem, {})
        for triple in read_turtle(path.read_text(encoding="utf-8"), path.name).triples:
            iri, label = _value(triple.subject), triple.object
            if triple.predicate.value == _SKOS + "prefLabel" and isinstance(label, ox.Literal):
                own.setdefault(iri.rpartition("#")[2], set()).add((label.language or "").lower())
    return found


def _problems(
    name: str, document: Document, ours: Mapping[str, Mapping[str, set[str]]], taken: dict[tuple[str, str], str]
) -> Iterator[Finding]:
    said: dict[str, list[tuple[str, object]]] = defaultdict(list)
    for triple in document.triples:
        said[_value(triple.subject)].append((triple.predicate.value, triple.object))
    for iri, statements in said.items():
        slug = iri.rpartition("#")[2] if "#" in iri else iri.rpartition("/")[2]

        told = partial(_finding, name, slug, document.lines.get(slug))
        if not iri:
            yield told("word-address", "A word has no address.", "Give it an address of your own, such as our:kettle.")
        elif iri.startswith(_OURS):
            yield from _more_labels(iri, statements, ours, told)
        else:
            yield from _own(iri, slug, statements, taken, told, name)


def _finding(file: str, slug: str, line: int | None, rule: str, message: str, mend: str) -> Finding:
    return Finding(Severity.ERROR, rule, slug, slug, message, mend, file, line)


def _more_labels(
    iri: str, statements: Statements, ours: Mapping[str, Mapping[str, set[str]]], told: Telling
) -> Iterator[Finding]:
    """Of a concept of ours labels may be said alone, and no preferred one in a language that has one."""
    scheme, _, slug = iri.removeprefix(VOCABULARY).partition("#")
    languages = ours.get(scheme, {}).get(slug)
    if languages is None:
        yield told(
            "word-not-ours", f"There is no concept {iri}.", "Add words in your own namespace, or correct the name."
        )
        return
    for prop, value in statements:
        language = (value.language or "").lower() if isinstance(value, ox.Literal) else ""
        if prop not in _LABELS:
            mend = "Say it of a word of your own; of ours take labels alone."
            yield told("word-of-ours-changed", "Something else than a label is said of a concept of ours.", mend)
        elif not language:
            yield told("word-language", "A label has no language.", 'Write one behind it, such as "lampe"@fr.')
        elif prop == _SKOS + "prefLabel" and language in languages:
            mend = "Write it as skos:altLabel."
            yield told("word-of-ours-renamed", f"The concept has a label in {language} already.", mend)


def _own(
    iri: str, slug: str, statements: Statements, taken: dict[tuple[str, str], str], told: Telling, file: str
) -> Iterator[Finding]:
    for prop in sorted({prop for prop, _ in statements} - _SAID):
        mend = "Take it out; skos:prefLabel, altLabel, definition, inScheme and broader are read."
        yield told("word-unknown-property", f"{prop} is not read of a word.", mend)
    if (_TYPE, ox.NamedNode(_SKOS + "Concept")) not in statements:
        yield told("word-not-a-concept", "A word is a skos:Concept.", "Write a skos:Concept behind its name.")
    labels = [value for prop, value in statements if prop == _SKOS + "prefLabel" and isinstance(value, ox.Literal)]
    languages = [(label.language or "").lower() for label in labels]
    if "en" not in languages:
        yield told("word-label", "A word has a label in English.", 'Write skos:prefLabel "…"@en; further ones beside.')
    if len(set(languages)) < len(languages):
        yield told("word-label", "A word has one preferred label a language.", "Write the others as skos:altLabel.")
    schemes = [_value(value) for prop, value in statements if prop == _SKOS + "inScheme"]
    ours = [scheme.removeprefix(VOCABULARY) for scheme in schemes if scheme.startswith(VOCABULARY)]
    if len(ours) != 1 or ours[0] not in OPEN:
        yield told(
            "word-scheme",
            "A word belongs to one of our vocabularies that takes words of others."
            + (f" Found: {', '.join(ours)}." if ours else " Found: none."),
            f"Write skos:inScheme with one of {', '.join(sorted(OPEN))}, each below {VOCABULARY}.",
        )
        return
    where = taken.setdefault((ours[0], slug), file)
    if where != file or not slug:
        yield told(
            "word-taken", f"{slug or iri} is a name that {where} has already.", "Take another last part of the address."
        )


def _value(term: object) -> str:
    return str(getattr(term, "value", "")) if isinstance(term, ox.NamedNode) else ""
