"""Fuzzy search over names, symptoms, codes and model numbers.

``Index.build(entries, synonyms)`` makes an index that never changes; ``index.search(query, ...)`` answers with hits,
best first; ``index.complete(query, ...)`` goes on from a half-typed query. ``Segment.of(entries)`` reads entries that
change together; ``Index.joined(segments)`` makes an index of several without reading any again. ``near`` finds the
nearest of some names, ``codes_read`` which display code was read off a machine, ``fold`` makes texts comparable. The
method: correct the words of the query against the few thousand words of the index, then rank the phrases that hold the
corrected words (see ``index``).
"""

from firstoff.search.code_reading import codes_read
from firstoff.search.entry import Answer, Completion, Entry, Hit, Phrase
from firstoff.search.index import Index
from firstoff.search.nearest import near
from firstoff.search.normalise import fold
from firstoff.search.segment import Segment

__all__ = ["Answer", "Completion", "Entry", "Hit", "Index", "Phrase", "Segment", "codes_read", "fold", "near"]
