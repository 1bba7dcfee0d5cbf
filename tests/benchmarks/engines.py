"""The four engines beside each other: opening, a select, the statements of a platform, publishing.

``PYTHONPATH=tests python tests/benchmarks/engines.py [rounds]`` prints medians in milliseconds and ratios to memory.
Oxigraph's server and Virtuoso are started on this machine, each alone.
"""

from __future__ import annotations

import shutil
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from statistics import median

from firstoff.collection.opening import open_content
from firstoff.collection.replica import Replica, opened_replica
from firstoff.collection.shelf import Shelf
from firstoff.content import data_folder
from firstoff.store.embedded import EmbeddedStore
from firstoff.store.interface import Store
from firstoff.store.probing import probed
from support import engines

WHAT = ("load all", "open again", "select: models", "statements of a platform", "publish", "seen by a replica")


def timed(act: Callable[[], object]) -> float:
    """Milliseconds."""
    start = time.perf_counter()
    act()
    return (time.perf_counter() - start) * 1e3


def measured(store: Store, content: Path, rounds: int, reader: Store | None) -> dict[str, float]:
    """Medians of each of WHAT."""
    found = {"load all": timed(lambda: open_content(content, store=store))}
    found["open again"] = median(timed(lambda: open_content(content, store=store)) for _ in range(rounds))
    found["select: models"] = median(timed(lambda: store.select("models")) for _ in range(5 * rounds))
    shelf = Shelf(open_content(content, store=store), content)
    graph = shelf.opened.collection.models[0].graph
    found["statements of a platform"] = median(
        timed(lambda: store.select("statements", {"graph": graph})) for _ in range(rounds)
    )
    platform = shelf.opened.collection.models[0].platform.id
    text = (content / f"{platform}.ttl").read_text(encoding="utf-8")
    replica = None if reader is None else Replica(opened_replica(reader))
    took, seen = [], []
    for number in range(rounds):
        new = f"{text}# {number}\n"
        took.append(timed(lambda new=new: shelf.publish(platform, new, over=["*"], who="x", why="x")))  # type: ignore[misc]
        if replica is not None:
            seen.append(timed(replica.refresh))
    found["publish"] = median(took)
    if seen:
        found["seen by a replica"] = median(seen)
    return found


def main(rounds: int) -> None:
    place = Path(tempfile.mkdtemp(prefix="firstoff-engines-"))
    servers = {"Oxigraph server": engines.oxigraph, "Virtuoso": engines.virtuoso}
    results: dict[str, dict[str, float]] = {}
    try:
        for name in ("memory", "folder", *servers):
            content = place / f"content-{name}"
            shutil.copytree(data_folder(), content)
            if name in servers:
                server = servers[name](place)
                server.start()
                try:
                    store = server.store(seconds=60)
                    probed(store)
                    results[name] = measured(store, content, rounds, server.reader(seconds=60))
                finally:
                    server.stop()
            else:
                folder = place / "engine" if name == "folder" else None
                results[name] = measured(EmbeddedStore(folder), content, rounds, None)
    finally:
        shutil.rmtree(place, ignore_errors=True)
    print(f"{'':26}" + "".join(f"{name:>24}" for name in results))
    for what in WHAT:
        base = results["memory"].get(what)
        cells = [
            f"{each[what]:.1f} ms" + (f" ({each[what] / base:.1f})" if base else "") if what in each else "-"
            for each in results.values()
        ]
        print(f"{what:26}" + "".join(f"{cell:>24}" for cell in cells))


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 5)
