"""The models of one revision of the content, compiled when first asked for."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from firstoff.appliance.compile import whole_platform
from firstoff.appliance.model import (
    Appliance,
    Bulletin,
)
from firstoff.appliance.serial import as_numbered, plain_number, within
from firstoff.appliance.statements import Statements, english_first
from firstoff.appliance.terms import Concept
from firstoff.appliance.variant import Changes, narrowed
from firstoff.appliance.vocabulary import Vocabulary, read_vocabulary
from firstoff.collection.fitted import Fitted, SerialRange
from firstoff.collection.kept import Kept
from firstoff.collection.pointers import Pointer, pointers
from firstoff.errors import AmbiguousModel, BadRequest, EngineFailed, NotFound
from firstoff.search import near
from firstoff.store.interface import Store
from firstoff.store.pointing import VOCABULARY
from firstoff.store.revision import combined
from firstoff.store.terms import Iri, Row, Text

#: How often the models are read again where a publication comes in between.
_TRIES = 5


#: Statements whose compiled models are kept: some hundred megabytes of memory.
_MOST_COMPILED = 1_000_000


@dataclass(frozen=True, slots=True)
class ModelEntry:
    """A model as the catalogue lists it. ``reviewed`` says that its platform's content is no draft."""

    id: str
    number: str
    label: str
    platform: Concept
    maker: str
    kind: Concept
    graph: Iri
    revision: str
    reviewed: bool


@dataclass(frozen=True, slots=True)
class _Platform:
    whole: Appliance
    fitted: Fitted


class Collection:
    """What one revision of the content says. Made anew for a new revision; safe to read from several threads."""

    def __init__(self, store: Store) -> None:
        self._store = store
        self._platforms: Kept[str, _Platform] = Kept(_MOST_COMPILED)
        self._appliances: Kept[tuple[str, str | None], Appliance] = Kept(_MOST_COMPILED)
        self.pointers, rows = _at_rest(store)
        words = self.pointers.get(VOCABULARY)
        self.vocabulary = Vocabulary.empty() if words is None else read_vocabulary(store, words.graph)
        self._by_graph = {each.graph: each for name, each in self.pointers.items() if name != VOCABULARY}
        self.models: tuple[ModelEntry, ...] = self._entries(rows)
        self._by_id = {entry.id: entry for entry in self.models}
        self._by_number: dict[str, list[ModelEntry]] = {}
        for entry in self.models:
            self._by_number.setdefault(plain_number(entry.number), []).append(entry)
        self.revision = combined(each.revision for each in self._by_graph.values())

    @property
    def platform_count(self) -> int:
        return len(self._by_graph)

    def drafted(self, models: Iterable[str]) -> bool:
        """Whether one of these models, by slug, is of a platform that nobody has reviewed."""
        return any(not self._by_id[model].reviewed for model in models if model in self._by_id)

    def find(self, name: str) -> ModelEntry:
        """The model with this slug, or with this number as a rating plate spells it.

        :raises NotFound: with the nearest numbers.
        :raises AmbiguousModel: several numbers read alike.
        """
        found = self.reading_as(name)
        if len(found) > 1:
            raise AmbiguousModel(name, [entry.id for entry in found])
        if not found:
            raise NotFound("model", name, [entry.id for entry in self.nearest(name)])
        return found[0]

    def reading_as(self, number: str) -> list[ModelEntry]:
        """Every model that a number on a rating plate, or a slug, may stand for."""
        if number in self._by_id:
            return [self._by_id[number]]
        return list(self._by_number.get(plain_number(number), [])) if plain_number(number) else []

    def nearest(self, number: str, limit: int = 3) -> tuple[ModelEntry, ...]:
        """The models whose numbers are most like ``number``."""
        by_plain = {plain_number(entry.number): entry for entry in reversed(self.models)}
        return tuple(by_plain[plain] for plain in near(plain_number(number), list(by_plain), limit=limit))

    def appliances(self, model: str, serial: str | None = None) -> tuple[Appliance, ...]:
        """The model's parts: one appliance where ``serial`` settles it, else one for each possibility.

        A serial number that lies in no range is of the model as it is without a range. A serial number without a
        letter or digit settles nothing.

        :raises NotFound: there is no such model.
        :raises BadRequest: the serial number has not the form of those the ranges begin and end with.
        """
        entry = self.find(model)
        fitted = self._platform(entry).fitted
        possible = fitted.possible(entry.id)
        if serial is not None and plain_number(serial):
            ranges = self.serial_ranges(entry.id)
            own = _as_numbered(serial, ranges)
            possible = tuple(each for each in ranges if within(own, each.first, each.last)) or (None,)
        return tuple(self._appliance(entry, each) for each in possible)

    def serial_ranges(self, model: str) -> tuple[SerialRange, ...]:
        """The serial ranges of a model that is there, given by slug, in their order; empty where it has none."""
        return self._platform(self._by_id[model]).fitted.ranges.get(model, ())

    def changes(self, model: str) -> Changes:
        """What a model that is there, given by slug, does to its platform."""
        return self._platform(self._by_id[model]).fitted.changed(model, None)

    def whole_platform(self, model: str) -> Appliance:
        """The platform of a model that is there, with the parts of all its models."""
        return self._platform(self._by_id[model]).whole

    def _appliance(self, entry: ModelEntry, serials: SerialRange | None) -> Appliance:
        key = (entry.id, serials.id if serials else None)
        known = self._appliances.get(key)
        if known is not None:
            return known
        platform = self._platform(entry)
        fitted = platform.fitted
        named = replace(
            platform.whole,
            model=entry.id,
            model_number=entry.number,
            label=entry.label,
            serial_range=serials.words if serials else None,
        )
        appliance = narrowed(named, fitted.changed(entry.id, serials), fitted.optional)
        identity = {entry.id, serials.id if serials else ""}
        others = (set(fitted.changes) | {each.id for own in fitted.ranges.values() for each in own}) - identity
        appliance = replace(
            appliance,
            bulletins=tuple(each for each in appliance.bulletins if _touches(each, appliance, identity, others)),
        )
        return self._appliances.put(key, appliance, self._by_graph[entry.graph].size)

    def _platform(self, entry: ModelEntry) -> _Platform:
        known = self._platforms.get(entry.graph.value)
        if known is not None:
            return known
        rows = self._store.select("statements", {"graph": entry.graph})
        size = self._by_graph[entry.graph].size
        if len(rows) != size:
            raise EngineFailed(
                f"The engine holds {len(rows)} of the {size} statements of {entry.platform.id}: another version has "
                "taken its place, or the engine is damaged."
            )
        graph = Statements.gather(rows, self.vocabulary.labels)
        whole = whole_platform(
            graph,
            revision=entry.revision,
            symptoms=self.vocabulary.symptoms,
            isolating_kinds=self.vocabulary.isolating_kinds,
        )
        platform = _Platform(whole, Fitted.of(graph))
        return self._platforms.put(entry.graph.value, platform, size)

    def _entries(self, rows: Iterable[Row]) -> tuple[ModelEntry, ...]:
        entries: dict[str, ModelEntry] = {}
        for row in sorted(rows, key=_labels_english_first):
            model, platform, graph, kind = (row[name] for name in ("model", "platform", "graph", "kind"))
            if not (isinstance(model, Iri) and isinstance(platform, Iri) and isinstance(graph, Iri)):
                continue
            if model.slug in entries or graph not in self._by_graph:
                continue
            entries[model.slug] = ModelEntry(
                id=model.slug,
                number=_value(row["number"]),
                label=_value(row["label"]),
                platform=Concept(platform.slug, _value(row["platformLabel"])),
                maker=_value(row["maker"]),
                kind=Concept(kind.slug, self.vocabulary.labels.get(kind.value, kind.slug))
                if isinstance(kind, Iri)
                else Concept("appliance", "appliance"),
                graph=graph,
                revision=self._by_graph[graph].revision,
                reviewed=_value(row["status"]) == "reviewed",
            )
        return tuple(entries[slug] for slug in sorted(entries))


def _touches(bulletin: Bulletin, appliance: Appliance, identity: set[str], others: set[str]) -> bool:
    """A bulletin that names models or serial ranges touches those alone; else all that have the part it names."""
    if bulletin.concerns & (identity | others):
        return bool(bulletin.concerns & identity)
    return bool(bulletin.concerns & set(appliance.components)) or appliance.platform.id in bulletin.concerns


def _value(term: object) -> str:
    return term.value if isinstance(term, (Text, Iri)) else ""


def _as_numbered(serial: str, ranges: Iterable[SerialRange]) -> str:
    ends = [end for each in ranges for end in (each.first, each.last) if end is not None]
    own = as_numbered(serial, ends)
    if own is None:
        raise BadRequest(
            f"{serial!r} does not look like a serial number of this model, such as {ends[0]}.",
            mend="Type it as it stands on the rating plate, or leave it out: the answer then says what depends on it.",
        )
    return own


def _labels_english_first(row: Row) -> list[tuple[int, str, str]]:
    """A sort key: a model with labels in several languages has a row for each."""
    terms = (row[name] for name in ("model", "graph", "label", "platformLabel", "maker", "number", "kind"))
    return [english_first(term) if isinstance(term, Text) else (0, "", _value(term)) for term in terms]


def _at_rest(store: Store) -> tuple[dict[Iri, Pointer], list[Row]]:
    """The pointers, and the models of the graphs they point to: none moved while these were read.

    :raises EngineFailed: they move all the time.
    """
    found = pointers(store)
    for _ in range(_TRIES):
        rows, before = store.select("models"), found
        found = pointers(store)
        if found == before:
            return found, rows
    raise EngineFailed("The platforms that the engine points to change all the time.")
