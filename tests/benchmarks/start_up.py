"""Time to open content: the demo data, and many generated platforms.

Run: python tests/benchmarks/start_up.py [--platforms 2000]

The platforms are generated, each with names of its own, and recorded as checked. They are opened from files, then from
an engine in a folder that holds them already; then one platform is changed, and it is timed until that is served.
Baseline: parsing the same files with the engine's own parser and nothing else.
"""

from __future__ import annotations

import argparse
import resource
import statistics
import sys
import tempfile
import time
from collections.abc import Iterator
from functools import partial
from pathlib import Path

import pyoxigraph as ox

from firstoff.authoring.ontology import ontology_digest
from firstoff.authoring.record import digest_of, read_record, record_file, write_record
from firstoff.collection.opening import Opened, open_content
from firstoff.collection.shelf import Shelf
from firstoff.content import data_folder
from firstoff.store.embedded import EmbeddedStore

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from support.generated_platforms import slug_of, written


def timed(action: object, *arguments: object) -> float:
    started = time.perf_counter()
    action(*arguments)  # type: ignore[operator]
    return time.perf_counter() - started


def parse_only(folder: Path) -> None:
    for file in folder.glob("*.ttl"):
        for _ in ox.parse(path=str(file), format=ox.RdfFormat.TURTLE):
            pass


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--platforms", type=int, default=2000)
    asked = parser.parse_args()
    demo = [timed(open_content, data_folder()) for _ in range(5)]
    base = [timed(parse_only, data_folder()) for _ in range(5)]
    print(f"demo data: ready in {statistics.median(demo):.2f} s; parsing alone {statistics.median(base):.2f} s")
    with tempfile.TemporaryDirectory() as name:
        folder, engine = Path(name) / "content", Path(name) / "engine"
        folder.mkdir()
        size = written(folder, asked.platforms)
        alone = timed(parse_only, folder)
        started = time.perf_counter()
        opened = open_content(folder)
        ready = time.perf_counter() - started
        memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        print(
            f"{asked.platforms} platforms, {size / 1e6:.0f} MB: ready in {ready:.1f} s; parsing alone {alone:.1f} s "
            f"(ratio {ready / alone:.1f}); {len(opened.collection.models)} models, {len(opened.refused)} refused; "
            f"peak {memory:.0f} MB"
        )
        print(f"one platform changed: served after {statistics.median(followed(opened, folder)):.1f} s")
        del opened
        for told in ("filled", "opened again"):
            store = EmbeddedStore(engine)
            took = timed(partial(open_content, folder, store=store))
            print(f"an engine in a folder, {told}: ready in {took:.1f} s")
            del store


def followed(opened: Opened, folder: Path) -> Iterator[float]:
    """The seconds until each of three changes of one platform is served."""
    shelf, file = Shelf(opened, folder), folder / f"{slug_of(0)}.ttl"
    for change in range(3):
        file.write_bytes(content := file.read_bytes() + f"# change {change}\n".encode())
        record = read_record(record_file(folder)) | {file.name: digest_of(content, ontology_digest(content=folder))}
        write_record(record, record_file(folder))
        yield timed(shelf.refresh)


if __name__ == "__main__":
    main()
