"""What is asked of an engine before it is used: whether it does what the named queries rely on.

A service that writes leaves a small graph in the engine, so that one that only reads can ask the same.
"""

from __future__ import annotations

from collections.abc import Callable

from firstoff.errors import EngineFailed, NotHeld, QueryRefused, StoreError
from firstoff.store.pointing import PROBE
from firstoff.store.remote import PROBED_ROWS, RemoteStore
from firstoff.store.terms import XSD, Iri, Row, Term, Text

_X = "https://firstoff.example/probe#"
_VALUES = 64  # its square is the number of rows that has to come whole
_MEND = "Use an engine that follows SPARQL 1.1 here, or set it up otherwise; DEVELOPERS.md says what is needed."

_TURTLE = f"""@prefix : <{_X}> .
:a :next :b . :b :next :c . :c :next :a .
:a :said true, false, 7, -1.5, 2.0, "text", "in \\"quotes\\" \\\\ and\\nlines" .
:a :said "tief"@de, "so"@de-CH, "\\u00e9\\U0001F600" .
:a :part [ :size 1 ], [ :size 2 ] . :b :alias "b" .
""" + "".join(f":n{n} :value {n} .\n" for n in range(_VALUES))

#: What is asked: a name for the message, the text, and whether its rows are right.
_QUESTIONS: tuple[tuple[str, str, Callable[[list[Row]], bool]], ...] = (
    (
        "paths from a bound start, through a circle",
        f"SELECT DISTINCT ?graph ?x WHERE {{ GRAPH ?graph {{ <{_X}a> <{_X}next> ?y . ?y <{_X}next>* ?x }} }}",
        lambda rows: _slugs(rows, "x") == ["a", "b", "c"],
    ),
    (
        "alternatives in a path, each answer once",
        f"SELECT DISTINCT ?graph ?x WHERE {{ GRAPH ?graph {{ ?z <{_X}next> ?x . ?z <{_X}alias>|<{_X}next> ?w }} }}",
        lambda rows: _slugs(rows, "x") == ["a", "b", "c"],
    ),
    (
        "OPTIONAL and VALUES inside a named graph",
        f"SELECT DISTINCT ?graph ?x ?alias WHERE {{ GRAPH ?graph {{ VALUES ?x {{ <{_X}a> <{_X}b> <{_X}none> }} "
        f"?x <{_X}next> ?y OPTIONAL {{ ?x <{_X}alias> ?alias }} }} }}",
        lambda rows: {(_slug(row["x"]), row["alias"]) for row in rows} == {("a", None), ("b", Text("b"))},
    ),
    (
        "FILTER by properties and values",
        f"SELECT ?graph ?x ?p ?y WHERE {{ GRAPH ?graph {{ ?x ?p ?y . FILTER ( ?p IN ( <{_X}alias>, <{_X}size> ) "
        f"|| ( ?p = <{_X}next> && ?y IN ( <{_X}a>, <{_X}b> ) ) ) }} }}",
        lambda rows: _slugs(rows, "p") == ["alias", "next", "next", "size", "size"],
    ),
    (
        "booleans, numbers, texts and languages",
        f"SELECT DISTINCT ?graph ?x WHERE {{ GRAPH ?graph {{ <{_X}a> <{_X}said> ?x }} }}",
        lambda rows: {row["x"] for row in rows} == _SAID,
    ),
    (
        f"{PROBED_ROWS} rows in one answer",
        f"SELECT DISTINCT ?graph ?x ?y WHERE {{ GRAPH ?graph {{ ?x <{_X}value> ?v . ?y <{_X}value> ?w }} }}",
        lambda rows: len(rows) == PROBED_ROWS,
    ),
)
_SAID: set[Term | None] = {
    Text("true", XSD + "boolean"),
    Text("false", XSD + "boolean"),
    Text("7", XSD + "integer"),
    Text("-1.5", XSD + "decimal"),
    Text("2", XSD + "decimal"),
    Text("text"),
    Text('in "quotes" \\ and\nlines'),
    Text("tief", language="de"),
    Text("so", language="de-ch"),
    Text("é😀"),
}
#: Asked of a graph that is not there: an engine whose default graph is everything must still find nothing.
_NOWHERE = Iri("https://firstoff.example/graph/probe/none")


def probed(store: RemoteStore) -> None:
    """Nothing where the engine can be used.

    :raises EngineFailed: it does not answer, or not as it must; the detail says to what.
    """
    store.check()
    if store.writes:
        _written(store)
    elif not store.select("statements", {"graph": PROBE}):
        raise EngineFailed(
            "The engine has no content yet.",
            mend="Start the service that publishes first: the one with the folder of content and "
            "FIRSTOFF_ENGINE_UPDATE.",
        )
    for name, text, right in _QUESTIONS:
        try:
            rows = store.rows(text, {"graph": PROBE})
        except QueryRefused as error:
            raise EngineFailed(f"The engine cannot do {name}: {error.detail}", mend=_MEND) from error
        if not right(rows):
            raise EngineFailed(f"The engine answers wrongly to {name}.", mend=_MEND)
        if store.rows(text, {"graph": _NOWHERE}):
            raise EngineFailed("The engine answers about one graph from others.", mend=_MEND)


def _written(store: RemoteStore) -> None:
    try:
        store.put_graph(PROBE, _TURTLE, file="the probe")
    except NotHeld as error:
        raise EngineFailed(f"The engine cannot be used: {error.detail}", mend=_MEND) from error
    except EngineFailed:
        raise
    except StoreError as error:
        raise EngineFailed(f"The engine takes no updates: {error.detail}", mend=_MEND) from error


def _slug(term: Term | None) -> str:
    return term.slug if isinstance(term, Iri) else ""


def _slugs(rows: list[Row], name: str) -> list[str]:
    return sorted(_slug(row[name]) for row in rows)
