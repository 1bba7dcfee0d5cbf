"""One question asked of a store that is at hand: guarded, run, written."""

from __future__ import annotations

from collections.abc import Collection

import pyoxigraph as ox

from firstoff.errors import BadRequest, EngineFailed, FirstoffError, NotAcceptable, QueryMalformed
from firstoff.sparql.asking import BASE, GRAPH_TYPES, RESULT_TYPES, Answer, Dataset, Limits, Question
from firstoff.sparql.guard import Inspected, inspected
from firstoff.sparql.results import graph, table, truth

Results = ox.QuerySolutions | ox.QueryBoolean | ox.QueryTriples


def answered(store: ox.Store, graphs: Collection[str], question: Question, limits: Limits) -> Answer:
    """The whole answer of ``store``, whose named graphs are ``graphs`` and whose default graph is their union.

    :raises QueryMalformed: it cannot be read.
    :raises QueryNotAllowed: it is no query of this service alone.
    :raises BadRequest: it names a graph that is not served.
    :raises NotAcceptable: its answer cannot be written in what is accepted.
    :raises AnswerTooLarge: the answer passes ``limits``.
    :raises EngineFailed: the engine failed.
    """
    query = inspected(question.text)
    dataset = question.dataset or query.dataset  # that of the request comes first (SPARQL 1.1 Protocol, 2.1.4)
    unknown = [name for name in (*dataset.default, *dataset.named) if name not in graphs]
    if unknown:
        raise BadRequest(
            f"There is no graph {unknown[0][:200]!r} here, and none is fetched.",
            mend="Leave it out, or name a graph of this service; its description at /sparql lists them.",
        )
    media_type = question.graph_type if query.answers_graph else question.result_type
    if media_type is None:
        offered = GRAPH_TYPES if query.answers_graph else RESULT_TYPES
        raise NotAcceptable("The answer is not offered in what is accepted.", mend=f"Ask for {' or '.join(offered)}.")
    try:
        return _written(_run(store, dataset, query), media_type, limits)
    except (FirstoffError, MemoryError):
        raise
    except (SyntaxError, ValueError) as error:
        raise QueryMalformed(f"The engine does not take the query: {str(error)[:200]}.") from error
    except Exception as error:
        raise EngineFailed(f"The engine failed on the query: {str(error)[:200]}.") from error


def _run(store: ox.Store, dataset: Dataset, query: Inspected) -> Results:
    if not dataset:
        return store.query(query.text, base_iri=BASE)
    default: list[ox.NamedNode | ox.BlankNode | ox.DefaultGraph] = [ox.NamedNode(name) for name in dataset.default]
    if len(default) > 1:
        # Merged, since over several graphs the engine gives what stands in two of them twice.
        store, default = _merged(store, dataset), [ox.DefaultGraph()]
    named: list[ox.NamedNode | ox.BlankNode] = [ox.NamedNode(name) for name in dataset.named]
    return store.query(query.text, base_iri=BASE, default_graph=default, named_graphs=named)


def _merged(store: ox.Store, dataset: Dataset) -> ox.Store:
    """The graphs of ``dataset`` in a store of their own, its default graph their RDF merge."""
    merged = ox.Store()
    for name in dataset.default:
        merged.extend(
            ox.Quad(quad.subject, quad.predicate, quad.object)
            for quad in store.quads_for_pattern(None, None, None, ox.NamedNode(name))
        )
    for name in dataset.named:
        merged.extend(store.quads_for_pattern(None, None, None, ox.NamedNode(name)))
    return merged


def _written(found: Results, media_type: str, limits: Limits) -> Answer:
    if isinstance(found, ox.QueryBoolean):
        return truth(bool(found), media_type)
    if isinstance(found, ox.QueryTriples):
        return graph(found, media_type, limits)
    names = [variable.value for variable in found.variables]
    return table(names, ([row[name] for name in names] for row in found), media_type, limits)
