"""The triples of a store's graph as lines of N-Triples (https://www.w3.org/TR/n-triples/)."""

from __future__ import annotations

from typing import Protocol, runtime_checkable

from firstoff.store.interface import Store
from firstoff.store.terms import XSD, Blank, Iri, Term

#: What may not stand in a quoted text as it is (N-Triples, 2.4), and what cannot in an IRI.
_IN_TEXT = str.maketrans({"\\": "\\\\", '"': '\\"', "\n": "\\n", "\r": "\\r"})
_IN_IRI = {code: f"\\u{code:04X}" for code in (*range(0x21), *(ord(each) for each in '<>"{}|^`\\'))}


@runtime_checkable
class Dumping(Protocol):
    """A store that writes its graphs itself, twenty times as fast; its blank nodes are named apart in all graphs."""

    def dump(self, graph: Iri) -> bytes: ...


def n_triples(store: Store, graph: Iri, labels: str) -> bytes:
    """A line for each triple of ``graph``; blank nodes are named with ``labels``, so that no two graphs share one.

    :raises StoreError: the engine failed.
    """
    if isinstance(store, Dumping):
        return store.dump(graph)
    blanks: dict[str, str] = {}

    def written(term: Term | None) -> str:
        if isinstance(term, Blank):
            return blanks.setdefault(term.label, f"_:{labels}n{len(blanks)}")
        return "" if term is None else written_term(term)

    rows = store.select("statements", {"graph": graph})
    lines = (f"{written(row['subject'])} {written(row['property'])} {written(row['value'])} .\n" for row in rows)
    return "".join(lines).encode()


def written_term(term: Term) -> str:
    """A term in N-Triples."""
    if isinstance(term, Iri):
        return f"<{term.value.translate(_IN_IRI)}>"
    if isinstance(term, Blank):
        return f"_:{term.label}"
    quoted = f'"{term.value.translate(_IN_TEXT)}"'
    if term.language is not None:
        return f"{quoted}@{term.language}"
    return quoted if term.datatype == XSD + "string" else f"{quoted}^^<{term.datatype.translate(_IN_IRI)}>"
