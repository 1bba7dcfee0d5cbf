"""Any SPARQL 1.1 server as the engine, over HTTP.

What is written is read back and compared before anything points to it, and every answer is known to be whole: an
engine may cut answers, or spell values in its own way, without a sign.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import pyoxigraph as ox

from firstoff.errors import EngineFailed, NotHeld, QueryRefused, StoreError
from firstoff.store.binding import Bound, bound
from firstoff.store.converting import answered, node
from firstoff.store.credentials import Credentials
from firstoff.store.numbering import Numbering
from firstoff.store.pointing import dropped, held, moved, withdrawn
from firstoff.store.queries import query_text
from firstoff.store.skolem import named, unnamed
from firstoff.store.terms import Iri, Row, Term, Text
from firstoff.store.transport import Transport
from firstoff.store.turtle import triples_of

#: One request to write holds so many triples and characters at most: some engines fail on more.
BATCH_TRIPLES, BATCH_CHARACTERS = 1_000, 500_000
#: Rows of an answer that a probe has seen come whole; more are counted by the engine, too.
PROBED_ROWS = 4_096

_Triple = tuple[Term | None, Term | None, Term | None]


class RemoteStore:
    """Triples in a server. Without an update address it only reads. Safe to use from several threads.

    ``seconds`` is the time for one answer.
    """

    def __init__(
        self, query: str, update: str | None = None, *, seconds: float = 10.0, credentials: Credentials | None = None
    ) -> None:
        self._transport = Transport(query, update, seconds, credentials)
        self._numbering = Numbering()
        self._writes = update is not None

    def close(self) -> None:
        self._transport.close()

    @property
    def writes(self) -> bool:
        """See ``Store.writes``."""
        return self._writes

    @property
    def shared(self) -> bool:
        """See ``Store.shared``."""
        return True

    def check(self) -> None:
        """See ``Store.check``. Some engines answer an ASK with a row of one number."""
        body = self._transport.ask("ASK {}")
        try:
            found = ox.parse_query_results(body, format=ox.QueryResultsFormat.JSON)
        except Exception as error:
            raise EngineFailed(f"The engine's answer is no answer: {error}") from error
        if isinstance(found, ox.QueryBoolean):
            yes = bool(found)
        else:
            said = [value for row in found for value in row] if isinstance(found, ox.QuerySolutions) else []
            yes = len(said) == 1 and isinstance(said[0], ox.Literal) and said[0].value in ("1", "true")
        if not yes:
            raise EngineFailed("The engine answers wrongly to ASK {}.")

    # --- reading -----------------------------------------------------------------------------------

    def select(self, query: str, bindings: dict[str, Term] | None = None) -> list[Row]:
        """See ``Store.select``."""
        try:
            text = query_text(query)
        except FileNotFoundError as error:
            raise QueryRefused(f"There is no query {query!r}.") from error
        return self.rows(text, bindings or {})

    def rows(self, text: str, bindings: dict[str, Term]) -> list[Row]:
        """As ``select``, of the text of a query."""
        asked = bound(text, bindings)
        rows = self._answered(asked.text, asked)
        if len(rows) >= PROBED_ROWS and len(rows) != (whole := self._count(asked)):
            raise EngineFailed(
                f"The engine gave {len(rows)} rows of {whole}.",
                mend="Let the engine give more rows (ResultSetMaxRows in the section SPARQL of a Virtuoso).",
            )
        return rows

    def _count(self, asked: Bound) -> int:
        (row,) = self._answered(asked.counting, Bound(asked.counting, "", ("rows",), {}))
        number = row["rows"]
        if not isinstance(number, Text) or not number.value.isdigit():
            raise EngineFailed(f"The engine counts to {number!r}.")
        return int(number.value)

    def _answered(self, text: str, asked: Bound) -> list[Row]:
        body = self._transport.ask(text)
        try:
            solutions = ox.parse_query_results(body, format=ox.QueryResultsFormat.JSON)
            if not isinstance(solutions, ox.QuerySolutions):
                raise EngineFailed("The engine answered a SELECT with something else.")
            names = {variable.value for variable in solutions.variables}
            if names != set(asked.asked):
                raise EngineFailed(f"The engine gave {sorted(names)}, not {sorted(asked.asked)}.")
            return [
                {**asked.given, **{name: unnamed(answered(solution[name])) for name in asked.asked}}
                for solution in solutions
            ]
        except StoreError:
            raise
        except Exception as error:  # of the parser: SyntaxError, ValueError, OSError
            raise EngineFailed(f"The engine's answer is not whole, or no answer: {error}") from error

    # --- writing -----------------------------------------------------------------------------------

    def put_graph(self, graph: Iri, turtle: str, *, file: str) -> int:
        """See ``Store.put_graph``."""
        node(graph)
        triples = named(triples_of(turtle, file=file), graph, file=file)
        wanted = {_terms(each) for each in triples}
        if self._said(graph) == wanted:
            self._transport.change(held(graph))
            return len(wanted)
        if any(row["graph"] == graph for row in self.select("platforms")):
            raise EngineFailed(f"{graph.value} is being read, and the engine does not hold what it should.")
        self._transport.change(held(graph))
        try:
            self._transport.change(f"DROP SILENT GRAPH {node(graph)}")
            for batch in _batches(triples):
                self._transport.change(f"INSERT DATA {{ GRAPH {node(graph)} {{ {batch} }} }}")
            self._verified(graph, wanted, file)
        except (NotHeld, QueryRefused):  # where the engine failed it may be half there: it is dropped in time
            self.drop(graph)
            raise
        return len(wanted)

    def _said(self, graph: Iri) -> set[_Triple]:
        rows = self.select("statements", {"graph": graph})
        return {(row["subject"], row["property"], row["value"]) for row in rows}

    def _verified(self, graph: Iri, wanted: set[_Triple], file: str) -> None:
        """:raises NotHeld: what was stored is not what was sent."""
        stored = self._said(graph)
        if stored == wanted:
            return
        lost, found = sorted(wanted - stored, key=repr), sorted(stored - wanted, key=repr)
        told = f"{lost[0]!r} was lost" if lost else f"{found[0]!r} was added"
        raise NotHeld(
            f"{file}: the engine does not keep what was sent: {len(lost)} statements are missing and {len(found)} are "
            f"there that were not sent; {told}."
        )

    def point(self, platform: Iri, graph: Iri, revision: str) -> None:
        """See ``Store.point``. The pointer moves only once the graph can be counted."""
        size = self._count(bound(query_text("statements"), {"graph": graph}))
        for step in moved(platform, graph, revision, size, self._numbering.following(self)):
            self._transport.change(step)

    def withdraw(self, platform: Iri) -> None:
        """See ``Store.withdraw``."""
        self._transport.change(withdrawn(platform))

    def drop(self, graph: Iri) -> None:
        """See ``Store.drop``."""
        for step in dropped(graph):
            self._transport.change(step)


def _terms(triple: ox.Triple) -> _Triple:
    found = (answered(each) for each in (triple.subject, triple.predicate, triple.object))
    subject, prop, value = (unnamed(each) for each in found)
    return subject, prop, value


def _batches(triples: Sequence[ox.Triple]) -> Iterator[str]:
    """The triples in the text of an update, some at a time."""
    lines: list[str] = []
    size = 0
    for triple in triples:
        line = f"{triple} ."
        if lines and (len(lines) >= BATCH_TRIPLES or size + len(line) > BATCH_CHARACTERS):
            yield "\n".join(lines)
            lines, size = [], 0
        lines.append(line)
        size += len(line)
    if lines:
        yield "\n".join(lines)
