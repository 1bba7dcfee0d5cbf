"""From a folder of Turtle files to a collection ready to answer.

A platform is served only when its file has passed ``check``. The digests that passed are kept beside the files, so
that starting does not run the shapes; a file that is not among them is checked now.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from firstoff.authoring import ontology_digest, passed, read_record, record_file
from firstoff.collection.catalogue import Collection
from firstoff.collection.searching import searchable
from firstoff.content import ontology_folder
from firstoff.errors import ContentMissing, ContentSyntax, StoreError
from firstoff.search import Index
from firstoff.store.embedded import EmbeddedStore
from firstoff.store.interface import Store
from firstoff.store.revision import combined, text_revision
from firstoff.store.terms import Iri

VOCABULARY = Iri("https://firstoff.example/graph/vocabulary")
_PLATFORM = "https://firstoff.example/platform/"
_GRAPH = "https://firstoff.example/graph/"


@dataclass(frozen=True, slots=True)
class Refusal:
    """A file that is not served: the line where that is known, and why."""

    file: str
    line: int | None
    reason: str


@dataclass(frozen=True, slots=True)
class Opened:
    """The content of one start: what is served, and what was refused."""

    store: Store
    collection: Collection
    index: Index
    refused: tuple[Refusal, ...]


def open_content(data: Path, progress: Callable[[str], None] = lambda _: None) -> Opened:
    """Load every Turtle file of ``data``; ``progress`` is told of each.

    A file that cannot be parsed, breaks a rule or describes a model of a file before it is refused as a whole; the
    rest is served.

    :raises ContentMissing: there is no such folder, or no Turtle file in it.
    """
    if not data.is_dir():
        raise ContentMissing(f"There is no folder {str(data)!r}.")
    files = sorted(data.glob("*.ttl"))
    if not files:
        raise ContentMissing(f"The folder {str(data)!r} holds no Turtle file (*.ttl).")
    store = EmbeddedStore()
    vocabulary = _vocabulary_text()
    store.put_graph(VOCABULARY, vocabulary, file="vocabularies")
    words = text_revision(vocabulary)
    record, ontology = _record(data), ontology_digest()
    refused = []
    served: dict[str, str] = {}
    for file in files:
        progress(f"loading {file.name}")
        try:
            content = file.read_bytes()  # once: what is served is what was checked
            turtle = content.decode("utf-8")
            vouched = passed(file.name, content, record, ontology)
            refusal = None if vouched else _refusal(file.name, turtle, progress)
            if refusal is None:
                refusal = _load(store, file, turtle, words, served)
        except ContentSyntax as error:
            refusal = Refusal(file.name, error.line, error.expected)
        except UnicodeDecodeError as error:
            refusal = Refusal(file.name, None, f"The file is not UTF-8 text: {error.reason}.")
        except (StoreError, OSError) as error:
            refusal = Refusal(file.name, None, f"The file cannot be read: {error}")
        if refusal is not None:
            refused.append(refusal)
    collection = Collection(store)
    progress("building the search index")
    return Opened(store, collection, searchable(store, collection).index, tuple(refused))


def _vocabulary_text() -> str:
    files = sorted((ontology_folder() / "vocabularies").glob("*.ttl"))
    return "\n".join(file.read_text(encoding="utf-8") for file in files)


def _record(data: Path) -> dict[str, str]:
    """The record beside the files; one that cannot be read vouches for nothing, and every file is checked."""
    try:
        return read_record(record_file(data))
    except (ValueError, OSError):
        return {}


def _refusal(name: str, turtle: str, progress: Callable[[str], None]) -> Refusal | None:
    """Check a file that no record vouches for; pyshacl is loaded only here, since it takes half a second."""
    from firstoff.authoring.check import check_text

    progress(f"checking {name}")
    report = check_text(turtle, name)
    first = next((finding for finding in report.findings if finding.severity == "error"), None)
    return None if first is None else Refusal(name, first.line, f"{first.message} {first.mend}")


def _load(store: Store, file: Path, turtle: str, words: str, served: dict[str, str]) -> Refusal | None:
    """Put the file's text into the store and make it current; ``served`` maps each model to its file.

    :raises StoreError: the text cannot be loaded.
    """
    revision = combined([text_revision(turtle), words])
    graph = Iri(f"{_GRAPH}{file.stem}/{revision}")
    store.put_graph(graph, turtle, file=file.name)
    models = [row["model"] for row in store.select("graph_models", {"graph": graph})]
    slugs = sorted(model.slug for model in models if isinstance(model, Iri))
    for slug in slugs:
        if slug in served:
            return Refusal(file.name, None, f"The model {slug} is described in {served[slug]} already.")
    served.update(dict.fromkeys(slugs, file.name))
    store.point(Iri(_PLATFORM + file.stem), graph, revision)
    return None
