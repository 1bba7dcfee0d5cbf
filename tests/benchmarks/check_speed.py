"""How long the check of each demo machine takes, shapes and the rest apart, beside reading the same file with rdflib.

    python tests/benchmarks/check_speed.py

Prints medians of processor time in seconds, and each as a ratio to the baseline: rdflib's Turtle parser on the same
file in the same run. "Shapes" is the SHACL engine with what becomes of its results; "rest" is all else: Turtle read,
the graph for the engine built, the read model compiled for every model, and all rules that need thought.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from pathlib import Path

import rdflib

from firstoff.authoring.check import RULES
from firstoff.authoring.draft import read_draft
from firstoff.authoring.ontology import Ontology, load_ontology
from firstoff.authoring.references import unknown_references
from firstoff.authoring.shapes import shape_problems
from firstoff.authoring.turtle import read_turtle, to_rdflib
from firstoff.content import data_folder

ROUNDS = 5


def seconds(act: Callable[[], object]) -> float:
    """Processor seconds, so that what else runs on the machine counts little."""
    start = time.process_time()
    act()
    return time.process_time() - start


def once(path: Path, ontology: Ontology) -> tuple[float, float, float, int]:
    """Shapes, rest, baseline, and the number of findings."""
    text = path.read_text(encoding="utf-8")
    start = time.process_time()
    document = read_turtle(text, path.name)
    draft = read_draft(path.name, document, ontology)
    graph = to_rdflib(document.triples)
    unknown = unknown_references(draft)
    rest = time.process_time() - start
    start = time.process_time()
    found = list(shape_problems(document, graph, ontology, draft.owners, unknown))
    shapes = time.process_time() - start
    start = time.process_time()
    for rule in RULES:
        found.extend(rule(draft))
    rest += time.process_time() - start
    return shapes, rest, seconds(lambda: rdflib.Graph().parse(data=text, format="turtle")), len(found)


def main() -> None:
    ontology = load_ontology()
    print(f"{'machine':26} {'triples':>8} {'shapes':>16} {'rest':>16} {'rdflib parse':>13} {'findings':>9}")
    for path in sorted(data_folder().glob("*.ttl")):
        rounds = [once(path, ontology) for _ in range(ROUNDS)]
        shapes, rest, parse = (statistics.median(each[column] for each in rounds) for column in range(3))
        triples = len(read_turtle(path.read_text(encoding="utf-8"), path.name).triples)
        print(
            f"{path.stem:26} {triples:8} {shapes:7.2f} s ({shapes / parse:4.2f}) {rest:7.2f} s ({rest / parse:4.2f}) "
            f"{parse:11.2f} s {rounds[0][3]:9}"
        )


if __name__ == "__main__":
    main()
