"""Time to open content: the demo data, and many platforms made from it.

Run: python tests/benchmarks/start_up.py [--platforms 2000]

The platforms are copies of the demo files under other slugs and model numbers, all recorded as checked. Baseline:
parsing the same files with the engine's own parser and nothing else.
"""

from __future__ import annotations

import argparse
import json
import resource
import statistics
import tempfile
import time
from pathlib import Path

import pyoxigraph as ox

from firstoff.authoring.ontology import ontology_digest
from firstoff.authoring.record import digest_of
from firstoff.collection.opening import open_content
from firstoff.content import data_folder


def copies(folder: Path, count: int) -> int:
    """Write ``count`` platforms and their record to ``folder``; how many bytes they are."""
    sources = sorted(data_folder().glob("*.ttl"))
    record, size, ontology = {}, 0, ontology_digest()
    for number in range(count):
        source = sources[number % len(sources)]
        text = source.read_text(encoding="utf-8")
        text = text.replace(f"platform/{source.stem}", f"platform/{source.stem}-{number}")
        for slug in ("flb-316-", "tgd27-4"):
            text = text.replace(f"model/{slug}", f"model/n{number}-{slug}").replace(
                f"model:{slug}", f"model:n{number}-{slug}"
            )
        for plate in ("FLB 316", "TGD27/4"):
            text = text.replace(f'"{plate}', f'"N{number} {plate}')
        file = folder / f"{source.stem}-{number}.ttl"
        file.write_text(text, encoding="utf-8")
        record[file.name] = digest_of(file.read_bytes(), ontology)
        size += file.stat().st_size
    (folder / "checked.json").write_text(json.dumps(record), encoding="utf-8")
    return size


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
        size = copies(folder, asked.platforms)
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
