"""Removal plans through HTTP beside a fixed answer of the same size, served by the same framework in the same process.

Run: python tests/benchmarks/http_plan.py [--seconds 5] [--rounds 5]

One uvicorn process serves three kinds of request over loopback to this script's own clients, in turn, several rounds:
``fixed``   a route that returns stored bytes of the plan's size;
``cached``  one plan asked again and again;
``fresh``   plans no one asked before (a different ``off=`` each time), so that each is computed.
Printed are requests a second, medians over the rounds, and the ratios to ``fixed`` of the same round.
"""

from __future__ import annotations

import argparse
import http.client
import itertools
import multiprocessing
import socket
import statistics
import threading
import time
from collections.abc import Iterator

ADDRESS = "/v1/models/tgd27-460-s/removal-plan?reach=drum-belt"


def serve(listening: socket.socket) -> None:
    import uvicorn
    from fastapi import Response
    from fastapi.testclient import TestClient

    from firstoff.api.application import create_app
    from firstoff.collection.opening import open_content
    from firstoff.settings import Settings

    settings = Settings()
    app = create_app(open_content(settings.data), settings)
    with TestClient(app) as client:
        body = client.get(ADDRESS).content

    @app.get("/fixed")
    def fixed(reach: str = "") -> Response:
        return Response(body, media_type="application/json")

    uvicorn.Server(uvicorn.Config(app, log_level="error")).run(sockets=[listening])


def rate(port: int, addresses: Iterator[str], seconds: float, clients: int = 4) -> float:
    """Requests a second, from ``clients`` connections kept open."""
    counts = [0] * clients
    deadline = time.perf_counter() + seconds
    lock = threading.Lock()

    def ask(number: int) -> None:
        connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
        while time.perf_counter() < deadline:
            with lock:
                address = next(addresses)
            connection.request("GET", address)
            response = connection.getresponse()
            response.read()
            assert response.status == 200, (response.status, address)
            counts[number] += 1

    threads = [threading.Thread(target=ask, args=(number,)) for number in range(clients)]
    started = time.perf_counter()
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return sum(counts) / (time.perf_counter() - started)


def fresh_addresses(port: int) -> Iterator[str]:
    """Addresses that differ by what is off already: all pairs, then all triples, of parts that are no target."""
    import json

    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
    connection.request("GET", "/v1/models/tgd27-460-s/components?limit=200")
    parts = [part["id"] for part in json.load(connection.getresponse())["components"] if part["id"] != "drum-belt"]
    for size in (2, 3):
        for chosen in itertools.combinations(parts, size):
            yield ADDRESS + "".join(f"&off={part}" for part in chosen)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--seconds", type=float, default=5.0, help="seconds for each kind in each round")
    parser.add_argument("--rounds", type=int, default=5)
    asked = parser.parse_args()
    listening = socket.socket(
        socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP
    )  # so that asyncio sets TCP_NODELAY
    listening.bind(("127.0.0.1", 0))
    listening.listen(256)
    port = listening.getsockname()[1]
    process = multiprocessing.get_context("fork").Process(target=serve, args=(listening,), daemon=True)
    process.start()
    fresh = fresh_addresses(port)
    kinds = {"fixed": itertools.repeat("/fixed?reach=drum-belt"), "cached": itertools.repeat(ADDRESS), "fresh": fresh}
    for addresses in kinds.values():
        rate(port, addresses, 0.5)
    rates: dict[str, list[float]] = {kind: [] for kind in kinds}
    for _ in range(asked.rounds):
        for kind, addresses in kinds.items():
            rates[kind].append(rate(port, addresses, asked.seconds))
    process.terminate()
    print(f"{'kind':8} {'requests/s':>12} {'ratio to fixed':>16}")
    for kind, found in rates.items():
        ratios = [one / base for one, base in zip(found, rates["fixed"], strict=True)]
        print(f"{kind:8} {statistics.median(found):12.0f} {statistics.median(ratios):16.2f}")


if __name__ == "__main__":
    main()
