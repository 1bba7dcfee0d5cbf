"""From a folder of Turtle files to a collection ready to answer.

A platform is served only when its file has passed ``check``. The digests that passed are kept beside the files, so
that starting does not run the shapes; a file that is not among them is checked now.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from firstoff.authoring import ontology_digest, passed, read_record, record_file
from firstoff.authoring.digest import word_files
from firstoff.collection.catalogue import Collection
from firstoff.collection.pointers import graphs_held, pointers
from firstoff.collection.searching import searchable
from firstoff.content import ontology_folder
from firstoff.errors import ContentMissing, ContentSyntax, EngineFailed, StoreError
from firstoff.search import Index, Segment
from firstoff.store.embedded import EmbeddedStore
from firstoff.store.interface import Store
from firstoff.store.pointing import VOCABULARY
from firstoff.store.revision import combined, text_revision
from firstoff.store.terms import Iri

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
    segments: Mapping[str, Segment]
    refused: tuple[Refusal, ...]


def open_content(
    data: Path,
    progress: Callable[[str], None] = lambda _: None,
    *,
    may_be_empty: bool = False,
    store: Store | None = None,
) -> Opened:
    """Load every Turtle file of ``data`` into ``store``, a new one in memory unless told; ``progress`` is told of each.

    What the store holds already as the files have it is not loaded again; what it holds besides is withdrawn.

    A file that cannot be parsed, breaks a rule or describes a model of a file before it is refused as a whole; the
    rest is served. ``may_be_empty`` is for authors, who publish the first platform into an empty folder.

    :raises ContentMissing: there is no such folder, or no Turtle file in it.
    :raises EngineFailed: the engine failed.
    """
    if not data.is_dir():
        raise ContentMissing(f"There is no folder {str(data)!r}.")
    files = sorted(data.glob("*.ttl"))
    if not files and not may_be_empty:
        raise ContentMissing(f"The folder {str(data)!r} holds no Turtle file (*.ttl).")
    store = EmbeddedStore() if store is None else store
    words, refused = _words(data)
    put_words(store, words)
    loading = Loading(store, data, {})
    for file in files:
        progress(f"loading {file.name}")
        refusal = loading.load(file.name, progress)
        if refusal is not None:
            refused.append(refusal)
            loading.withdraw(file.name)
    loading.withdraw_others(file.name for file in files)
    progress("building the search index")
    return opened_from(store, tuple(refused))


def opened_from(store: Store, refused: tuple[Refusal, ...], segments: Mapping[str, Segment] | None = None) -> Opened:
    """What the store points to now, ready to answer; ``segments`` are those of the revision before.

    :raises EngineFailed: the engine failed, or graphs were taken away while they were read.
    """
    collection = Collection(store)
    found = searchable(store, collection, segments)
    if store.shared and not {each.graph for each in collection.pointers.values()} <= graphs_held(store):
        raise EngineFailed("The engine let graphs go while they were read.")
    return Opened(store, collection, found.index, found.segments, refused)


class Loading:
    """Loads files of one folder into one store that has the vocabularies.

    ``served`` maps each model to the file it is described in.
    """

    def __init__(self, store: Store, folder: Path, served: dict[str, str]) -> None:
        self._store = store
        self._folder = folder
        self._served = served
        self._described: dict[str, list[str]] = {}
        for slug, file in served.items():
            self._described.setdefault(file, []).append(slug)
        self._words = text_revision(_words(folder)[0])
        self._pointers = pointers(store)
        self._record, self._ontology = _record(folder), ontology_digest(content=folder)

    def load(self, name: str, progress: Callable[[str], None] = lambda _: None) -> Refusal | None:
        """Check the file unless the record vouches for it, and make it current; else say why it is refused.

        :raises EngineFailed: the engine failed, which is no fault of the file.
        """
        try:
            content = (self._folder / name).read_bytes()  # once: what is served is what was checked
            turtle = content.decode("utf-8")
            vouched = passed(name, content, self._record, self._ontology)
            refusal = None if vouched else _refusal(self._folder, name, turtle, progress)
            return refusal or self.admit(name, turtle)
        except ContentSyntax as error:
            return Refusal(name, error.line, error.expected)
        except UnicodeDecodeError as error:
            return Refusal(name, None, f"The file is not UTF-8 text: {error.reason}.")
        except EngineFailed:
            raise
        except (StoreError, OSError) as error:
            return Refusal(name, None, f"The file cannot be read: {error}")

    def admit(self, name: str, turtle: str) -> Refusal | None:
        """Put text that was checked into the store and make it current, in place of what its platform had.

        :raises StoreError: it cannot be loaded.
        """
        platform = name.removesuffix(".ttl")
        revision = combined([text_revision(turtle), self._words])
        graph = Iri(f"{_GRAPH}{platform}/{revision}")
        before = self._pointers.get(Iri(_PLATFORM + platform))
        current = before is not None and before.graph == graph
        if not current:
            self._store.put_graph(graph, turtle, file=name)
        models = [row["model"] for row in self._store.select("graph_models", {"graph": graph})]
        slugs = sorted(model.slug for model in models if isinstance(model, Iri))
        for slug in slugs:
            if self._served.get(slug, name) != name:
                return Refusal(name, None, f"The model {slug} is described in {self._served[slug]} already.")
        self._forget(name)
        self._served.update(dict.fromkeys(slugs, name))
        self._described[name] = slugs
        if not current:
            self._store.point(Iri(_PLATFORM + platform), graph, revision)
        return None

    def withdraw(self, name: str) -> None:
        """Let the platform of the file be served no more.

        :raises StoreError: the engine failed.
        """
        platform = Iri(_PLATFORM + name.removesuffix(".ttl"))
        if platform in self._pointers:
            self._store.withdraw(platform)
        self._forget(name)

    def withdraw_others(self, names: Iterable[str]) -> None:
        """Let every platform be served no more that has none of these files.

        :raises StoreError: the engine failed.
        """
        kept = {Iri(_PLATFORM + name.removesuffix(".ttl")) for name in names}
        for platform in sorted(self._pointers.keys() - kept - {VOCABULARY}, key=lambda each: each.value):
            self._store.withdraw(platform)

    def _forget(self, name: str) -> None:
        for slug in self._described.pop(name, ()):
            del self._served[slug]


def one_platform(content: Path, platform: str, turtle: str) -> Collection:
    """A collection of this platform alone, of text that was not checked: to see what it would say.

    ``content`` is the folder whose words it may use.

    :raises ContentSyntax: it cannot be parsed.
    :raises ContentBroken: it cannot be compiled; some of it only when asked for.
    """
    store = EmbeddedStore()
    put_words(store, _words(content)[0])
    graph = Iri(f"{_GRAPH}{platform}/draft")
    store.put_graph(graph, turtle, file=f"{platform}.ttl")
    store.point(Iri(_PLATFORM + platform), graph, text_revision(turtle))
    return Collection(store)


def put_words(store: Store, words: str) -> None:
    """Make ``words`` the vocabularies of the store, where they are not.

    :raises StoreError: it cannot be loaded.
    """
    revision = text_revision(words)
    graph = Iri(f"{_GRAPH}vocabulary/{revision}")
    before = pointers(store).get(VOCABULARY)
    if before is None or before.graph != graph:
        store.put_graph(graph, words, file="vocabularies")
        store.point(VOCABULARY, graph, revision)


def _words(content: Path) -> tuple[str, list[Refusal]]:
    """Our vocabularies and the sound words of ``content`` as one text, and the files of words that are refused."""
    files = sorted((ontology_folder() / "vocabularies").glob("*.ttl"))
    texts = [file.read_text(encoding="utf-8") for file in files]
    if not word_files(content):
        return "\n".join(texts), []
    from firstoff.authoring.words import sound_words  # loads an RDF library

    sound, reports = sound_words(content)
    refused = [
        Refusal(report.file, report.errors[0].line, f"{report.errors[0].message} {report.errors[0].mend}")
        for report in reports
        if not report.ok
    ]
    return "\n".join([*texts, *sound.values()]), refused


def _record(data: Path) -> dict[str, str]:
    """The record beside the files; one that cannot be read vouches for nothing, and every file is checked."""
    try:
        return read_record(record_file(data))
    except (ValueError, OSError):
        return {}


def _refusal(content: Path, name: str, turtle: str, progress: Callable[[str], None]) -> Refusal | None:
    """Check a file that no record vouches for; pyshacl is loaded only here, since it takes half a second."""
    from firstoff.authoring.check import check_text
    from firstoff.authoring.ontology import ontology_of

    progress(f"checking {name}")
    report = check_text(turtle, name, ontology_of(content))
    first = next((finding for finding in report.findings if finding.severity == "error"), None)
    return None if first is None else Refusal(name, first.line, f"{first.message} {first.mend}")
