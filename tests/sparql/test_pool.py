"""Queries are stopped, and with them their processes; what waits is bounded; a new snapshot is taken over."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest

from firstoff.collection.opening import Opened
from firstoff.errors import QueriesBusy, QueriesOff, QueryStopped
from firstoff.sparql.asking import Limits
from firstoff.sparql.pool import Job, Pool
from firstoff.sparql.snapshots import Snapshot, Snapshots
from support.queries import ENDLESS, GREEDY, QUICK, children_of, is_running, question, small_content, wait_until

LIMITS = Limits(60.0, 1_500_000_000, 10_000, 10_000_000)
SHORT = Limits(0.3, 1_500_000_000, 10_000, 10_000_000)


@pytest.fixture(scope="module")
def content(tmp_path_factory: pytest.TempPathFactory) -> Opened:
    return small_content(tmp_path_factory.mktemp("content"))


@pytest.fixture(scope="module")
def snapshots(tmp_path_factory: pytest.TempPathFactory) -> Snapshots:
    return Snapshots(tmp_path_factory.mktemp("snapshots"), 1_000_000)


@pytest.fixture(scope="module")
def snapshot(snapshots: Snapshots, content: Opened) -> Iterator[Snapshot]:
    made = snapshots.made(content)
    made.hold()
    yield made
    made.release()


@pytest.fixture
def pool(snapshot: Snapshot) -> Iterator[Pool]:
    """One worker, and time enough."""
    made = Pool(1, LIMITS)
    made.switch(snapshot)
    yield made
    made.close()


def answer(pool: Pool, text: str = QUICK) -> bytes:
    return pool.submit(question(text)).future.result(60).body


_others: set[int] = set()


@pytest.fixture(autouse=True)
def others() -> None:
    """The workers that other tests have left running, such as those of a client that all of them share."""
    _others.clear()
    _others.update(workers())


def workers() -> set[int]:
    """The workers that were started by this test."""
    return {pid for pid in children_of(os.getpid()) if b"firstoff.sparql.worker" in _command(pid)} - _others


def _command(pid: int) -> bytes:
    try:
        return Path(f"/proc/{pid}/cmdline").read_bytes()
    except OSError:
        return b""


def is_busy(pid: int) -> bool:
    """Whether it is at work, by the time it has had of the processor."""
    spent = Path(f"/proc/{pid}/stat").read_text(encoding="ascii").rpartition(")")[2].split()[11:13]
    return sum(int(each) for each in spent) > _spent_at_start.setdefault(pid, sum(int(each) for each in spent)) + 5


_spent_at_start: dict[int, int] = {}


# --- what runs away --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "text",
    [
        ENDLESS,
        "SELECT ?x { ?x (<x:p>|!<x:p>)* ?y . ?y (<x:p>|!<x:p>)* ?z . ?z (<x:p>|!<x:p>)* ?x } ORDER BY ?x",
        "SELECT * { ?s ?p ?o FILTER NOT EXISTS { ?a ?b ?c . ?d ?e ?f FILTER (CONCAT(STR(?a), STR(?d)) = '') } }",
        "ASK { ?a ?b ?c . ?d ?e ?f . ?g ?h ?i FILTER (CONCAT(STR(?a), STR(?d), STR(?g)) = '') }",
        "CONSTRUCT { ?a ?b ?c } WHERE { ?a ?b ?c . ?d ?e ?f FILTER (CONCAT(STR(?a), STR(?d)) = '') }",
    ],
    ids=["cross product", "paths", "not exists", "ask", "construct"],
)
def test_a_query_over_its_time_is_stopped_and_its_process_replaced(snapshot: Snapshot, text: str) -> None:
    pool = Pool(1, SHORT)
    try:
        pool.switch(snapshot)
        (before,) = workers()
        with pytest.raises(QueryStopped, match=r"after 0\.3 seconds"):
            answer(pool, text)
        assert answer(pool) == b'{"head":{},"boolean":true}'
        assert not is_running(before)
    finally:
        pool.close()
    assert workers() == set()


def test_a_query_over_its_memory_is_stopped_alone(snapshot: Snapshot) -> None:
    pool = Pool(2, Limits(60.0, 700_000_000, 10_000, 10_000_000))
    try:
        pool.switch(snapshot)
        greedy = pool.submit(question(GREEDY))
        assert answer(pool)
        with pytest.raises(QueryStopped, match="700 MB"):
            greedy.future.result(60)
        assert answer(pool)
    finally:
        pool.close()


# --- who waits -------------------------------------------------------------------------------------


def test_no_more_wait_than_can_be_answered_soon(pool: Pool) -> None:
    jobs = [pool.submit(question(ENDLESS)) for _ in range(4)]  # one runs, three wait
    with pytest.raises(QueriesBusy) as caught:
        pool.submit(question(QUICK))
    assert caught.value.retry_after > 0
    for job in jobs:
        job.cancel()
    for job in jobs:
        with pytest.raises((QueriesBusy, QueryStopped)):
            job.future.result(60)
    assert answer(pool)


def test_who_goes_takes_the_query_along(pool: Pool) -> None:
    assert answer(pool)  # it has started: from now on its work is the query's
    (worker,) = workers()
    job = pool.submit(question(ENDLESS))
    wait_until(lambda: is_busy(worker))
    job.cancel()
    with pytest.raises(QueryStopped):
        job.future.result(60)
    wait_until(lambda: not is_running(worker))
    assert answer(pool)


def test_a_question_given_up_does_no_harm_afterwards(pool: Pool) -> None:
    job = pool.submit(question(QUICK))
    job.future.result(60)
    (worker,) = workers()
    wait_until(lambda: pool.submit(question(QUICK)).future.result(60).rows == 1)
    job.cancel()
    assert answer(pool)
    assert is_running(worker)


def test_given_up_before_it_began_it_is_not_run(pool: Pool) -> None:
    first = pool.submit(question(ENDLESS))
    waiting: list[Job] = [pool.submit(question(ENDLESS)) for _ in range(2)]
    for job in (*waiting, first):
        job.cancel()
    for job in waiting:
        with pytest.raises(QueriesBusy):
            job.future.result(60)


def test_closing_ends_what_runs(snapshot: Snapshot) -> None:
    pool = Pool(1, LIMITS)
    pool.switch(snapshot)
    assert answer(pool)
    (worker,) = workers()
    job = pool.submit(question(ENDLESS))
    wait_until(lambda: is_busy(worker))
    pool.close()
    with pytest.raises(QueryStopped):
        job.future.result(60)
    assert not is_running(worker)
    with pytest.raises(QueriesBusy):
        pool.submit(question(QUICK))


def test_a_worker_that_was_killed_by_others_is_replaced(pool: Pool) -> None:
    (worker,) = workers()
    os.kill(worker, 9)
    with pytest.raises(QueryStopped):
        answer(pool)
    assert answer(pool)


# --- snapshots -------------------------------------------------------------------------------------


def test_a_new_snapshot_is_taken_over_and_the_old_one_removed(snapshots: Snapshots, content: Opened) -> None:
    pool = Pool(1, LIMITS)
    try:
        first, second = snapshots.made(content), snapshots.made(content)
        assert first.folder != second.folder
        pool.switch(first)
        (before,) = workers()
        running = pool.submit(question(ENDLESS))
        wait_until(lambda: is_busy(before))
        pool.switch(second)
        assert is_running(before)  # it ends what it runs
        assert first.folder.exists()
        running.cancel()
        wait_until(lambda: not first.folder.exists())
        assert answer(pool)
        assert workers().isdisjoint({before})
        assert second.folder.exists()
    finally:
        pool.close()
    assert not second.folder.exists()


def test_a_content_above_the_cap_is_not_copied(content: Opened, tmp_path: Path) -> None:
    with pytest.raises(QueriesOff, match="100 triples"):
        Snapshots(tmp_path, 100).made(content)


def test_workers_get_nothing_of_the_environment(monkeypatch: pytest.MonkeyPatch, snapshot: Snapshot) -> None:
    monkeypatch.setenv("FIRSTOFF_KEYS", "keys.toml")
    monkeypatch.setenv("SOME_PASSWORD", "sesame")
    pool = Pool(1, LIMITS)
    try:
        pool.switch(snapshot)
        (worker,) = workers()
        given = Path(f"/proc/{worker}/environ").read_bytes()
        assert b"FIRSTOFF" not in given
        assert b"sesame" not in given
        assert is_alone(worker)
    finally:
        pool.close()


def is_alone(worker: int) -> bool:
    """Whether it has another network than we have, or no file descriptor to open a socket with."""
    if Path(f"/proc/{worker}/ns/net").readlink() != Path("/proc/self/ns/net").readlink():
        return True
    limit = next(
        line for line in Path(f"/proc/{worker}/limits").read_text().splitlines() if line.startswith("Max open files")
    )
    return len(list(Path(f"/proc/{worker}/fd").iterdir())) >= int(limit.split()[3])
