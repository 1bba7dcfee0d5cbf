"""What it costs to let strangers query, and what the rest of the service feels of it.

Run: python tests/benchmarks/sparql.py [--queries 300] [--kills 5] [--seconds 10]

``engine``   a small query asked of the engine in this process, of the copy that workers read
``guarded``  the same with the guard (rdflib's parser) before it and the answer written, each time another text
``pool``     the same through a worker process; ``again`` with a text that the worker has seen
``HTTP``     the same through `/sparql` of a service in a process of its own
Then the time to copy the demo content and start two workers; from a query that is stopped until the only worker answers
the next; and the latency of plans alone, and beside four clients that send nothing but queries that never end.
Printed are medians, and ratios to ``engine``.
"""

from __future__ import annotations

import http.client
import itertools
import random
import statistics
import sys
import tempfile
import threading
import time
from argparse import ArgumentParser, RawDescriptionHelpFormatter
from collections.abc import Callable, Iterator
from pathlib import Path
from urllib.parse import urlencode

import pyoxigraph as ox

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from firstoff.collection.opening import open_content
from firstoff.errors import QueryStopped
from firstoff.settings import Settings
from firstoff.sparql.asking import Limits
from firstoff.sparql.evaluation import answered
from firstoff.sparql.pool import Pool
from firstoff.sparql.snapshots import Snapshot, Snapshots
from support.queries import ENDLESS, question
from support.served import Served

SMALL = (
    "PREFIX fo: <https://firstoff.example/ontology#> SELECT ?component ?number"
    " { ?component a fo:Component ; fo:partNumber ?number } LIMIT 10"
)
PLAN = "/v1/models/tgd27-460-s/removal-plan?reach=drum-belt"
PARTS = ("top-panel", "back-panel", "transition-duct", "toe-panel", "front-panel", "lint-filter", "drum", "door")
LIMITS = Limits(5.0, 1_500_000_000, 10_000, 10_000_000)


def times(asked: Callable[[], object], count: int) -> list[float]:
    """Milliseconds of each of ``count`` calls, after a few that do not count."""
    for _ in range(5):
        asked()
    found = []
    for _ in range(count):
        start = time.perf_counter()
        asked()
        found.append((time.perf_counter() - start) * 1000)
    return found


def http_get(port: int) -> Callable[[str], bytes]:
    """Asks over one connection that is kept open."""
    connection = http.client.HTTPConnection("localhost", port, timeout=120)

    def get(address: str) -> bytes:
        connection.request("GET", address)
        response = connection.getresponse()
        body = response.read()
        if response.status >= 500 and response.status != 503:
            raise AssertionError(body)
        return body

    return get


def print_costs(snapshot: Snapshot, pool: Pool, port: int, count: int) -> None:
    store = ox.Store.read_only(str(snapshot.folder))
    get = http_get(port)
    numbers = itertools.count()

    def another() -> str:
        return f"{SMALL} # {next(numbers)}"

    kinds: dict[str, Callable[[], object]] = {
        "engine": lambda: list(store.query(SMALL)),  # type: ignore[arg-type]
        "guarded": lambda: answered(store, snapshot.served.graphs, question(another()), LIMITS),
        "pool": lambda: pool.submit(question(another())).future.result(),
        "pool again": lambda: pool.submit(question(SMALL)).future.result(),
        "HTTP": lambda: get("/sparql?" + urlencode({"query": another()})),
        "HTTP again": lambda: get("/sparql?" + urlencode({"query": SMALL})),
    }
    base = 0.0
    for kind, asked in kinds.items():
        median = statistics.median(times(asked, count))
        base = base or median
        print(f"{kind:12} {median:8.2f} ms {median / base:8.1f} times")


def print_kills(snapshot: Snapshot, kills: int) -> None:
    pool = Pool(1, Limits(0.3, LIMITS.memory_bytes, LIMITS.rows, LIMITS.bytes))
    pool.switch(snapshot)
    found = []
    for _ in range(kills):
        try:
            pool.submit(question(ENDLESS)).future.result()
        except QueryStopped:
            start = time.perf_counter()
        pool.submit(question("ASK {}")).future.result()
        found.append(time.perf_counter() - start)
    pool.close()
    print(f"from a query that is stopped to the next answer of the only worker: {statistics.median(found):.2f} s")


def latency(port: int, addresses: Iterator[str], seconds: float) -> list[float]:
    get = http_get(port)
    found = []
    end = time.perf_counter() + seconds
    while time.perf_counter() < end and (address := next(addresses, None)):
        start = time.perf_counter()
        get(address)
        found.append((time.perf_counter() - start) * 1000)
    return sorted(found)


def fresh() -> list[str]:
    """Plans that differ by the two or three parts that are off already, in an order by chance."""
    found = [
        PLAN + "".join(f"&off={part}" for part in chosen)
        for size in (2, 3)
        for chosen in itertools.combinations(PARTS, size)
    ]
    random.Random(8).shuffle(found)
    return found


def print_plans(port: int, seconds: float) -> None:
    every = fresh()
    halves = iter((every[::2], every[1::2]))

    def attack(stop: threading.Event) -> None:
        get = http_get(port)
        while not stop.is_set():
            get("/sparql?" + urlencode({"query": ENDLESS}))

    for name, hostile in (("alone", 0), ("beside four hostile clients", 4)):
        stop = threading.Event()
        threads = [threading.Thread(target=attack, args=(stop,)) for _ in range(hostile)]
        for thread in threads:
            thread.start()
        for kind, asked in (("kept", itertools.repeat(PLAN)), ("computed", iter(next(halves)))):
            found = latency(port, asked, seconds)
            middle, high = found[len(found) // 2], found[len(found) * 99 // 100]
            print(f"plans, {kind:8} {name:28} median {middle:6.1f} ms, 99 % {high:7.1f} ms, {len(found):5} answers")
        stop.set()
        for thread in threads:
            thread.join()


def main() -> None:
    parser = ArgumentParser(description=__doc__, formatter_class=RawDescriptionHelpFormatter)
    parser.add_argument("--queries", type=int, default=300)
    parser.add_argument("--kills", type=int, default=5)
    parser.add_argument("--seconds", type=float, default=10.0, help="for each kind of plan")
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        opened = open_content(Settings().data)
        start = time.perf_counter()
        snapshot = Snapshots(Path(folder), 10_000_000).made(opened)
        made = time.perf_counter()
        pool = Pool(2, LIMITS)
        pool.switch(snapshot)
        print(f"copy of {snapshot.served.triples:,} triples: {made - start:.2f} s; two workers: ", end="")
        print(f"{time.perf_counter() - made:.2f} s")
        service = Served(Path(folder) / "log")
        service.start()
        try:
            http_get(service.port)("/sparql?query=ASK%7B%7D")
            print_costs(snapshot, pool, service.port, given.queries)
            print_kills(snapshot, given.kills)
            print_plans(service.port, given.seconds)
        finally:
            service.stop()
            pool.close()


if __name__ == "__main__":
    main()
