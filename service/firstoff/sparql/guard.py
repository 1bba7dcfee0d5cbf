"""What a query is, before it is run: its form and dataset, or why it is refused.

rdflib parses it, since the engine's own parser tells nothing of what it read. What rdflib does not parse is refused
even where the engine would run it. Both must read the same text alike, or something could be hidden from the first that
the second runs: so code point escapes are replaced here (SPARQL 1.1, 19.2), which rdflib does and the engine does not,
and a carriage return of its own is refused, which ends a comment for the engine alone. Nothing here fetches anything.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from pyparsing import ParseBaseException
from rdflib.plugins.sparql.algebra import translatePrologue
from rdflib.plugins.sparql.parser import parseQuery, parseUpdate
from rdflib.plugins.sparql.parserutils import CompValue

from firstoff.errors import QueryMalformed, QueryNotAllowed
from firstoff.sparql.asking import BASE, QUERY_CHARACTERS, Dataset
from firstoff.sparql.updates import reading_only

_ESCAPE = re.compile(r"\\u([0-9A-Fa-f]{4})|\\U([0-9A-Fa-f]{8})")
_LEFT_OVER = re.compile(r"\\[uU][0-9A-Fa-f]{4}")
_LONE_RETURN = re.compile(r"\r(?!\n)")
_ASK_FOR_LESS = "Send a shorter query, with fewer levels."
#: The two forms whose answer is a graph.
_GRAPH_FORMS = ("ConstructQuery", "DescribeQuery")


@dataclass(frozen=True, slots=True)
class Inspected:
    """A query that may run: its text without escapes, whether it answers a graph, and the dataset it names."""

    text: str
    answers_graph: bool
    dataset: Dataset


@lru_cache(maxsize=200)
def inspected(text: str) -> Inspected:
    """The query of ``text``; what was asked before is known again, since parsing takes longer than most queries.

    :raises QueryMalformed: it is no SPARQL 1.1 query, or too long or too deep to be read.
    :raises QueryNotAllowed: it changes something, or asks another service.
    """
    plain = without_escapes(text)
    try:
        prologue, query = parseQuery(plain)
        if any(part.name == "ServiceGraphPattern" for part in _parts(query)):
            raise QueryNotAllowed(
                "The query asks another service (SERVICE).",
                mend="Ask that service yourself; only what this service holds is queried here.",
            )
        return Inspected(plain, query.name in _GRAPH_FORMS, _dataset(prologue, query))
    except ParseBaseException as error:
        if _is_update(plain):
            raise reading_only() from error
        raise QueryMalformed(f"Line {error.lineno}, column {error.column}: this is no SPARQL 1.1 query.") from error
    except RecursionError as error:
        raise QueryMalformed("The query is nested too deeply.", mend=_ASK_FOR_LESS) from error
    except (QueryNotAllowed, MemoryError):
        raise
    except Exception as error:  # what the parser's actions raise: an unknown prefix, a bad number
        raise QueryMalformed(f"The query cannot be read: {str(error)[:200] or type(error).__name__}.") from error


def without_escapes(text: str) -> str:
    r"""``text`` with its code point escapes (``\u`` and ``\U``) replaced.

    :raises QueryMalformed: it is empty or too long, an escape is no character or makes another escape, or a carriage
        return stands alone.
    """
    if not text.strip():
        raise QueryMalformed("The query is empty.")
    if len(text) > QUERY_CHARACTERS:
        raise QueryMalformed(f"The query has more than {QUERY_CHARACTERS:,} characters.", mend=_ASK_FOR_LESS)
    try:
        plain = _ESCAPE.sub(lambda found: chr(int(found[1] or found[2], 16)), text)
        plain.encode("utf-8")
    except (ValueError, OverflowError) as error:  # beyond U+10FFFF, or half of a surrogate pair
        raise QueryMalformed("An escape (\\u or \\U) is no character.") from error
    if _LEFT_OVER.search(plain):
        raise QueryMalformed("An escape (\\u or \\U) stands within another.", mend="Write the character itself.")
    if _LONE_RETURN.search(plain):
        raise QueryMalformed("A carriage return stands without a line feed.", mend="End lines with line feeds.")
    return plain


def _is_update(text: str) -> bool:
    try:
        return len(parseUpdate(text).request) > 0
    except Exception:
        return False


def _dataset(prologue: Any, query: Any) -> Dataset:
    """The graphs of FROM and FROM NAMED, each once."""
    names = translatePrologue(prologue, BASE)
    clauses = query.datasetClause or ()
    default = [str(names.absolutize(each.default)) for each in clauses if each.default]
    named = [str(names.absolutize(each.named)) for each in clauses if each.named]
    return Dataset(tuple(dict.fromkeys(default)), tuple(dict.fromkeys(named)))


def _parts(parsed: Any) -> Iterator[CompValue]:
    """Every part of a parsed query, without recursion."""
    waiting = [parsed]
    while waiting:
        part = waiting.pop()
        if isinstance(part, CompValue):
            yield part
            waiting.extend(part.values())
        elif hasattr(part, "__iter__") and not isinstance(part, str):
            waiting.extend(part)
