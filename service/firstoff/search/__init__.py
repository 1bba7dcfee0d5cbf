"""Fuzzy search over names, symptoms, codes and model numbers.

``Index.build(entries, synonyms)`` makes an index that never changes; ``index.search(query, ...)`` answers with hits,
best first; ``index.complete(query, ...)`` goes on from a half-typed query. ``near`` finds the nearest of some names.
The method: correct the words of the query against the few thousand words of the index, then rank the phrases that hold
the corrected words (see ``index``).
"""

from firstoff.search.entry import Answer, Completion, Entry, Hit, Phrase
from firstoff.search.index import Index
from firstoff.search.nearest import near

__all__ = ["Answer", "Completion", "Entry", "Hit", "Index", "Phrase", "near"]
