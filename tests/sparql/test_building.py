"""What is changed step by step is what would be built anew: no triple too many, none lost, none twice."""

from __future__ import annotations

import tempfile
from pathlib import Path

import pyoxigraph as ox
from hypothesis import given, settings
from hypothesis import strategies as st

from firstoff.sparql.building import built

NAMES = [f"http://g/{each}" for each in range(3)]
#: Few triples, so that graphs have some in common; blank nodes are named apart in all graphs.
TRIPLES = [
    *(f"<x:{s}> <x:p> <x:{o}> ." for s in "ab" for o in "ab"),
    '<x:a> <x:q> "1.5" .',
    '<x:a> <x:q> "a\\nb"@en .',
]
graphs = st.dictionaries(st.sampled_from(NAMES), st.sets(st.sampled_from(TRIPLES)), min_size=1)


def content(folder: Path) -> tuple[ox.Dataset, int]:
    """What a copy holds, and how many triples its default graph gives when it is asked."""
    store = ox.Store.read_only(str(folder))
    found = ox.Dataset(store)
    found.canonicalize(ox.CanonicalizationAlgorithm.UNSTABLE)
    return found, sum(1 for _ in store.query("SELECT * { ?s ?p ?o }"))  # type: ignore[misc]


def write(folder: Path, step: int, name: str, triples: set[str]) -> str:
    """A version of a graph, with a blank node of its own that two triples share."""
    label = f"_:b{step}x{NAMES.index(name)}"
    file = folder / f"{step}-{NAMES.index(name)}.nt"
    lines = [*sorted(triples), f"{label} <x:p> <x:a> .", f"<x:b> <x:q> {label} ."]
    file.write_text("".join(f"{line}\n" for line in lines), encoding="utf-8", newline="\n")
    return str(file)


@settings(max_examples=6)
@given(versions=st.lists(graphs, min_size=2, max_size=3))
def test_changed_step_by_step_it_is_as_built_anew(versions: list[dict[str, set[str]]]) -> None:
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        before: dict[str, set[str]] = {}
        files: dict[str, str] = {}
        for step, version in enumerate(versions):
            new = {name: each for name, each in version.items() if before.get(name) != each}
            changed = {name: write(folder, step, name, each) for name, each in new.items()}
            dropped = sorted(before.keys() - version.keys())
            files = {name: file for name, file in {**files, **changed}.items() if name in version}
            count = built(str(folder / "kept"), str(folder / f"copy{step}"), changed, dropped, step == 1)
            found, asked = content(folder / f"copy{step}")
            assert count == asked
            before = version
        assert built(str(folder / "anew"), str(folder / "other"), files, (), True) == count
        assert content(folder / "other")[0] == found


def test_a_copy_stays_as_it_was(tmp_path: Path) -> None:
    kept = str(tmp_path / "kept")
    built(kept, str(tmp_path / "first"), {NAMES[0]: write(tmp_path, 0, NAMES[0], {TRIPLES[0]})}, (), True)
    first, _ = content(tmp_path / "first")
    reading = ox.Store.read_only(str(tmp_path / "first"))
    built(kept, str(tmp_path / "second"), {NAMES[0]: write(tmp_path, 1, NAMES[0], {TRIPLES[1]})}, (), False)
    assert content(tmp_path / "first")[0] == first
    assert sum(1 for _ in reading) == len(first)
    assert content(tmp_path / "second")[0] != first
