"""Texts that a parser or an engine goes through by recursion break one process at the most."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress

import pytest

from firstoff.errors import QueryMalformed, QueryStopped
from firstoff.sparql.asking import Limits
from firstoff.sparql.pool import Pool
from firstoff.sparql.snapshots import Snapshots
from support.queries import QUICK, question, small_content


@pytest.fixture(scope="module")
def pool(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Pool]:
    """One worker, and a second for each query."""
    made = Pool(1, Limits(1.0, 1_500_000_000, 10_000, 10_000_000))
    content = small_content(tmp_path_factory.mktemp("content"))
    made.switch(Snapshots(tmp_path_factory.mktemp("snapshots"), 1_000_000).made(content))
    yield made
    made.close()


def answer(pool: Pool, text: str = QUICK) -> bytes:
    return pool.submit(question(text)).future.result(60).body


@pytest.mark.parametrize(
    "text",
    [
        "SELECT (" + "+".join(["1"] * 9_000) + " AS ?x) {}",
        "ASK { " + "FILTER (" + "||".join(["?a"] * 4_000) + ") }",
        "ASK { ?s " + "/".join(["<x:p>"] * 2_500) + " ?o }",
        "ASK { " + "{} UNION " * 1_900 + "{} }",
        "ASK { ?s " + "^" * 5_000 + "<x:p> ?o }",
        "ASK { FILTER (" + "!" * 10_000 + "true) }",
        "SELECT (" + "(" * 9_000 + "1" + ")" * 9_000 + " AS ?x) {}",
        "ASK " + "{" * 9_000 + "}" * 9_000,
        "SELECT * { VALUES ?x { " + "1 " * 8_000 + "} }",
    ],
    ids=lambda text: text[:20],
)
def test_a_query_may_break_its_process_and_no_more(pool: Pool, text: str) -> None:
    """Whatever becomes of it: parsers and engine go through such texts by recursion."""
    with suppress(QueryStopped, QueryMalformed):
        answer(pool, text)
    assert answer(pool)
