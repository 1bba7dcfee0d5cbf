"""Time to open content: the demo data, and many generated platforms.

Run: python tests/benchmarks/start_up.py [--platforms 2000]

The platforms are generated, each with names of its own, and recorded as checked. Baseline: parsing the same files with
the engine's own parser and nothing else.
"""

from __future__ import annotations

import argparse
import resource
import statistics
import sys
import tempfile
import time
from pathlib import Path

import pyoxigraph as ox

from firstoff.collection.opening import open_content
from firstoff.content import data_folder

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from support.generated_platforms import written


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
        folder = Path(name)
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


if __name__ == "__main__":
    main()
