"""Read-only copies of one revision of the content each, made beside the service and removed when nobody reads them."""

from __future__ import annotations

import hashlib
import json
import shutil
import subprocess
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from threading import Lock

from firstoff.collection.opening import VOCABULARY, Opened
from firstoff.errors import EngineFailed, QueriesOff
from firstoff.sparql.asking import Served
from firstoff.sparql.children import started
from firstoff.sparql.triples import n_triples, written_term
from firstoff.store.embedded import CATALOGUE
from firstoff.store.interface import Store
from firstoff.store.terms import XSD, Iri, Text

_BASE = "https://firstoff.example/"
_CURRENT, _REVISION = Iri(f"{_BASE}ontology#currentGraph"), Iri(f"{_BASE}ontology#revision")


@dataclass(frozen=True, slots=True)
class Current:
    """The present version of a platform: its graph in the store, and its revision."""

    platform: str
    graph: Iri
    revision: str

    @property
    def name(self) -> Iri:
        """The graph's name for those who query: the same in every version, so that a kept query stays right."""
        return Iri(f"{_BASE}graph/{self.platform}")


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
        self._written: dict[Iri, tuple[Path, int]] = {}
        self._made = 0
        self._lock = Lock()
        self._stopped = False
        self._builder: subprocess.Popen[bytes] | None = None

    def made(self, opened: Opened) -> Snapshot:
        """A snapshot of what is current in ``opened``.

        :raises QueriesOff: it has too many triples.
        :raises StoreError: the store failed, a graph was dropped meanwhile, or the copy could not be written.
        """
        models = opened.collection.models
        current = {each.graph: Current(each.platform.id, each.graph, each.revision) for each in models}
        try:
            files = self._files(opened.store, current)
            self._made += 1
            folder = self._folder / f"snapshot-{self._made}"
            counts = self._build(folder, files)
        except OSError as error:
            raise EngineFailed(f"The copy of the content for queries cannot be written: {error}") from error
        return Snapshot(folder, Served(opened.collection.revision, counts.pop(""), counts))

    def stop(self) -> None:
        """End a build that is under way; none starts any more."""
        with self._lock:
            self._stopped = True
            if self._builder is not None:
                self._builder.kill()

    def _files(self, store: Store, current: Mapping[Iri, Current]) -> dict[str, Path]:
        """A file of N-Triples for each graph by the name it is queried under; a version that was written once stays."""
        for graph in [graph for graph in self._written if graph not in current]:
            self._written.pop(graph)[0].unlink(missing_ok=True)
        left = self._most
        files: dict[str, Path] = {}
        for graph, entry in sorted(current.items(), key=lambda each: each[0].value):
            if graph not in self._written:
                self._written[graph] = self._write(store, graph, left)
            files[entry.name.value], count = self._written[graph]
            left -= count
        files[VOCABULARY.value] = self._write(store, VOCABULARY, left)[0]
        files[CATALOGUE.value] = self._folder / "catalogue.nt"
        files[CATALOGUE.value].write_text("".join(map(_catalogued, current.values())), encoding="utf-8")
        return files

    def _write(self, store: Store, graph: Iri, most: int) -> tuple[Path, int]:
        labels = hashlib.sha256(graph.value.encode()).hexdigest()[:16]
        lines = n_triples(store, graph, f"g{labels}")
        count = lines.count(b"\n")
        if count > most:
            self._refuse()
        if not count:
            raise EngineFailed(f"The graph {graph.value} has gone, or is empty.")
        file = self._folder / f"{labels}.nt"
        file.write_bytes(lines)
        return file, count

    def _refuse(self) -> None:
        raise QueriesOff(
            f"The content has more than {self._most:,} triples, too many to be copied for queries.",
            mend="Whoever runs the service raises FIRSTOFF_SPARQL_TRIPLES, or lets the engine's own address be asked.",
        )

    def _build(self, folder: Path, files: Mapping[str, Path]) -> dict[str, int]:
        asked = json.dumps({"folder": str(folder), "graphs": {name: str(file) for name, file in files.items()}})
        with self._lock:
            if self._stopped:
                raise EngineFailed("The service is ending.")
            self._builder = started("firstoff.sparql.building")
        with self._builder as builder:
            said, _ = builder.communicate(asked.encode())
        if builder.returncode != 0:
            shutil.rmtree(folder, ignore_errors=True)
            raise EngineFailed("The copy of the content for queries could not be made; is the temporary folder full?")
        counts: dict[str, int] = json.loads(said)
        return counts


def _catalogued(entry: Current) -> str:
    """Which graph is current for a platform, and its revision, as the store's own catalogue says it."""
    platform, name = written_term(Iri(f"{_BASE}platform/{entry.platform}")), written_term(entry.name)
    revision = written_term(Text(entry.revision, XSD + "string"))
    return f"{platform} {written_term(_CURRENT)} {name} .\n{name} {written_term(_REVISION)} {revision} .\n"
