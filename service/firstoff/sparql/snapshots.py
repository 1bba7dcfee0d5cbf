"""Read-only copies of one revision of the content each, made beside the service and removed when nobody reads them."""

from __future__ import annotations

import hashlib
import json
import shutil
import subprocess
from collections.abc import Mapping
from pathlib import Path
from threading import Lock

from firstoff.collection.opening import Opened
from firstoff.collection.pointers import Pointer
from firstoff.errors import EngineFailed, QueriesOff
from firstoff.sparql.asking import Served
from firstoff.sparql.children import started
from firstoff.sparql.triples import n_triples, written_term
from firstoff.store.interface import Store
from firstoff.store.pointing import CATALOGUE, VOCABULARY
from firstoff.store.terms import Iri, Text

_BASE = "https://firstoff.example/"
#: One copy in so many is written anew as a whole.
_TIDY_EACH = 20
#: How many triples the catalogue has for each platform.
_CATALOGUED = 2
_CURRENT, _REVISION = Iri(f"{_BASE}ontology#currentGraph"), Iri(f"{_BASE}ontology#revision")


class Snapshot:
    """A store on disk. Who reads it holds it; once it is retired and nobody does, it is removed."""

    def __init__(self, folder: Path, served: Served) -> None:
        self.folder = folder
        self.served = served
        self._held = 0
        self._retired = False
        self._lock = Lock()

    def hold(self) -> None:
        with self._lock:
            self._held += 1

    def release(self) -> None:
        with self._lock:
            self._held -= 1
            self._remove_if_done()

    def retire(self) -> None:
        """Nobody new will read it."""
        with self._lock:
            self._retired = True
            self._remove_if_done()

    def _remove_if_done(self) -> None:
        if self._retired and self._held == 0:
            shutil.rmtree(self.folder, ignore_errors=True)


class Snapshots:
    """Makes snapshots below ``folder``, of up to ``triples`` triples, one at a time. Any thread may ``stop`` it."""

    def __init__(self, folder: Path, triples: int) -> None:
        self._folder = folder
        self._most = triples
        self._written: dict[Iri, Path] = {}
        self._built: dict[str, Path] = {}  # what the store holds that copies are made of
        self._made = 0
        self._lock = Lock()
        self._stopped = False
        self._builder: subprocess.Popen[bytes] | None = None

    def made(self, opened: Opened) -> Snapshot:
        """A snapshot of what is current in ``opened``.

        :raises QueriesOff: it has too many triples.
        :raises StoreError: the store failed, a graph is not whole any more, or the copy could not be written.
        """
        pointers = opened.collection.pointers
        if sum(each.size for each in pointers.values()) > self._most:
            raise QueriesOff(
                f"The content has more than {self._most:,} triples, too many to be copied for queries.",
                mend="Whoever runs the service raises FIRSTOFF_SPARQL_TRIPLES, or names another address.",
            )
        try:
            files = self._files(opened.store, pointers)
            self._made += 1
            folder = self._folder / f"snapshot-{self._made}"
            triples = self._build(folder, files)
        except OSError as error:
            raise EngineFailed(f"The copy of the content for queries cannot be written: {error}") from error
        sizes = {_name(each).value: pointer.size for each, pointer in pointers.items()}
        sizes[CATALOGUE.value] = _CATALOGUED * sum(each != VOCABULARY for each in pointers)
        return Snapshot(folder, Served(opened.collection.revision, triples, sizes))

    def stop(self) -> None:
        """End a build that is under way; none starts any more."""
        with self._lock:
            self._stopped = True
            if self._builder is not None:
                self._builder.kill()

    def _files(self, store: Store, pointers: Mapping[Iri, Pointer]) -> dict[str, Path]:
        """A file of N-Triples for each graph by the name it is queried under; a version that was written once stays."""
        current = {each.graph for each in pointers.values()}
        for graph in [graph for graph in self._written if graph not in current]:
            self._written.pop(graph).unlink(missing_ok=True)
        for pointer in pointers.values():
            if pointer.graph not in self._written:
                self._written[pointer.graph] = self._write(store, pointer)
        files = {_name(each).value: self._written[pointer.graph] for each, pointer in sorted(pointers.items(), key=str)}
        files[CATALOGUE.value] = self._folder / "catalogue.nt"
        lines = (_catalogued(each, pointer) for each, pointer in pointers.items() if each != VOCABULARY)
        files[CATALOGUE.value].write_text("".join(lines), encoding="utf-8")
        return files

    def _write(self, store: Store, pointer: Pointer) -> Path:
        labels = hashlib.sha256(pointer.graph.value.encode()).hexdigest()[:16]
        lines = n_triples(store, pointer.graph, f"g{labels}")
        if (count := lines.count(b"\n")) != pointer.size:
            raise EngineFailed(f"Of the graph {pointer.graph.value} there are {count} triples, not {pointer.size}.")
        file = self._folder / f"{labels}.nt"
        file.write_bytes(lines)
        return file

    def _build(self, folder: Path, files: Mapping[str, Path]) -> int:
        """Have the store changed by what is new, and copied to ``folder``; the triples of its default graph."""
        kept = self._folder / "kept"
        before, self._built = self._built, {}
        if not before:
            shutil.rmtree(kept, ignore_errors=True)  # left by a build that failed
        changed = {name: str(file) for name, file in files.items() if before.get(name) != file}
        changed[CATALOGUE.value] = str(files[CATALOGUE.value])
        dropped = sorted(before.keys() - files.keys())
        tidy = not before or self._made % _TIDY_EACH == 0
        asked = json.dumps(
            {"kept": str(kept), "folder": str(folder), "graphs": changed, "dropped": dropped, "tidy": tidy}
        )
        with self._lock:
            if self._stopped:
                raise EngineFailed("The service is ending.")
            self._builder = started("firstoff.sparql.building")
        with self._builder as builder:
            said, _ = builder.communicate(asked.encode())
        if builder.returncode != 0:
            shutil.rmtree(folder, ignore_errors=True)
            raise EngineFailed("The copy of the content for queries could not be made; is the temporary folder full?")
        self._built = dict(files)
        return int(said)


def _name(platform: Iri) -> Iri:
    """The name of a platform's graph for those who query: the same in every version, so that a query stays right."""
    return Iri(f"{_BASE}graph/{platform.slug}")


def _catalogued(platform: Iri, pointer: Pointer) -> str:
    """Which graph is current for a platform, and its revision, as the store's own catalogue says it."""
    name = written_term(_name(platform))
    revision = written_term(Text(pointer.revision))
    return (
        f"{written_term(platform)} {written_term(_CURRENT)} {name} .\n{name} {written_term(_REVISION)} {revision} .\n"
    )
