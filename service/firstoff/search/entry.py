"""What is searched and what is found.

Kinds are ``symptom``, ``component``, ``code`` and ``model``. The kinds ``code`` and ``model`` are also read without
spaces, hyphens and slashes (see ``segment.keys_of``).
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Phrase:
    """One way to say an entry: a label, an alternative label, a notation or a number. ``lang`` is a language tag.

    An empty ``lang`` (codes and numbers) belongs to every language.
    """

    text: str
    lang: str = "en"


@dataclass(frozen=True, slots=True)
class Entry:
    """Something that can be found.

    ``id`` is a slug, unique with ``kind`` and ``group`` (the platform, where the kind has one). ``models`` are the
    slugs of the models it belongs to; empty means that it belongs to none in particular. ``weight`` says how often it
    occurs, from 0 to 1. The label is searched too, as an English phrase, where no phrase has the same text. The first
    phrase of a language is the name in that language.
    """

    kind: str
    id: str
    label: str
    phrases: tuple[Phrase, ...] = ()
    models: frozenset[str] = frozenset()
    weight: float = 0.0
    group: str | None = None


@dataclass(frozen=True, slots=True)
class Hit:
    """One thing found, by its best phrase.

    Entries alike in kind, id and label are one hit, with the ``models`` and ``groups`` of all. ``ranges`` are
    half-open character ranges of ``matched``, in order and apart from each other. ``score`` is from 0 to 1. ``name``
    is what it is called in the language of the answer, ``lang``; where it has no name in it, the English label.
    """

    kind: str
    id: str
    label: str
    name: str
    lang: str
    matched: str
    ranges: tuple[tuple[int, int], ...]
    score: float
    models: frozenset[str]
    groups: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Completion:
    """A phrase that goes on from a half-typed query, with what it leads to.

    ``ranges`` are the characters of ``text`` that are typed already, half-open, in order and apart. ``lang`` is the
    language of the text, empty for codes and numbers. ``score`` is from 0 to 1.
    """

    text: str
    lang: str
    ranges: tuple[tuple[int, int], ...]
    kind: str
    id: str
    label: str
    score: float
    models: frozenset[str]


@dataclass(frozen=True, slots=True)
class Answer:
    """Hits, best first. ``suggestions`` are indexed words near those of the query, only where there are no hits.

    ``lang`` is the language the query is in, empty where that cannot be told.
    """

    hits: tuple[Hit, ...] = ()
    suggestions: tuple[str, ...] = ()
    lang: str = ""
