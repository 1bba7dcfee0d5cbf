"""What authors ask: what a check finds, what a change means, which versions there are; and publishing itself."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from firstoff.answers.comparison import compared
from firstoff.authoring import history
from firstoff.authoring.findings import Finding
from firstoff.authoring.history import Version
from firstoff.collection.catalogue import Collection
from firstoff.collection.opening import one_platform
from firstoff.collection.replica import Replica
from firstoff.collection.shelf import Publication, Shelf
from firstoff.errors import BadRequest, ContentBroken, ContentSyntax, NotFound
from firstoff.store.revision import text_revision
from firstoff_contract.authoring import (
    DifferenceNote,
    FindingNote,
    GraphCheck,
    GraphEntry,
    GraphList,
    ModelChange,
    Published,
    VersionDifference,
    VersionList,
    VersionNote,
)
from firstoff_contract.common import Ref

#: Seconds for the plans of two versions to be compared.
COMPARE_SECONDS = 60.0
_LONGEST_WHY = 1_000


class PublishingDesk:
    """Answers to authors, from one shelf. Safe to ask from several threads.

    A service that only reads has none, and every question raises ``PublishedElsewhere``.
    """

    def __init__(self, shelf: Shelf | Replica) -> None:
        self._shelf = shelf

    def graphs(self) -> GraphList:
        """Every platform that is served or has versions."""
        folder, collection, entries = self._shelf.folder, self._shelf.opened.collection, []
        models: dict[str, list[Ref]] = {}
        for entry in collection.models:
            models.setdefault(entry.platform.id, []).append(Ref(id=entry.id, label=entry.label))
        for platform in history.platforms(folder):
            text = history.served(folder, platform)
            own = models.get(platform, [])
            entries.append(
                GraphEntry.model_validate(
                    {
                        "platform": platform,
                        "revision": None if text is None else text_revision(text),
                        "status": ("draft" if collection.drafted([own[0].id]) else "reviewed") if own else None,
                        "versions": len(history.versions(folder, platform)),
                        "models": own,
                    }
                )
            )
        return GraphList(graphs=entries)

    def text(self, platform: str, number: int | None = None) -> str:
        """The Turtle text of a platform, or of one of its versions.

        :raises NotFound: there is none.
        """
        folder = self._shelf.folder
        found = history.served(folder, platform) if number is None else history.version_text(folder, platform, number)
        if found is None:
            if number is None:
                raise NotFound("platform", platform, sorted(self._shelf.platforms))
            known = [str(each.number) for each in history.versions(folder, platform) if each.revision]
            raise NotFound(f"version of {platform}", str(number), known[-3:])
        return found

    def versions(self, platform: str) -> VersionList:
        """:raises NotFound: there is no such platform, now or before."""
        found = self._versions(platform)
        return VersionList(platform=platform, versions=[_version(each) for each in found])

    def provenance(self, platform: str) -> str:
        """PROV-O in Turtle.

        :raises NotFound: there is no such platform, now or before.
        """
        from firstoff.authoring.provenance import provenance

        return str(provenance(platform, self._versions(platform)).serialize(format="turtle"))

    def difference(self, platform: str, before: int | None, after: int | None) -> VersionDifference:
        """In words, from one version to another; None stands for the text that is served.

        :raises NotFound: there is no such version.
        """
        texts = self.text(platform, before), self.text(platform, after)
        return VersionDifference(
            platform=platform, before=before, after=after, differences=self._differences(platform, *texts)
        )

    def check(
        self, turtle: str, *, seconds: float = COMPARE_SECONDS, progress: Callable[[str], None] = lambda _: None
    ) -> GraphCheck:
        """What a check finds in a draft, and what it would change for a technician; nothing is published.

        :raises BadRequest: the text describes no platform.
        """
        platform = platform_of(turtle)
        progress("checking")
        report = self._shelf.check(platform, turtle)
        old = history.served(self._shelf.folder, platform)
        differences: list[DifferenceNote] = []
        changes: list[ModelChange] = []
        complete = True
        if not any(finding.rule == "syntax" for finding in report.findings):
            differences = self._differences(platform, old, turtle)
            sides = self._opened(platform, old), self._opened(platform, turtle)
            if sides[1] is not None and report.ok:
                changes, complete = compared(*sides, seconds=seconds, progress=progress)
        return GraphCheck(
            platform=platform,
            ok=report.ok,
            findings=[finding_note(each) for each in report.findings],
            compared_with=None if old is None else text_revision(old),
            differences=differences,
            models=changes,
            complete=complete,
        )

    def publish(self, platform: str, turtle: str, *, over: Iterable[str] | None, who: str, why: str) -> Published:
        """See ``Shelf.publish``.

        :raises BadRequest: no reason is given.
        """
        return self._published(platform, self._shelf.publish(platform, turtle, over=over, who=who, why=_reason(why)))

    def restore(self, platform: str, number: int, *, over: Iterable[str] | None, who: str, why: str) -> Published:
        """See ``Shelf.restore``."""
        return self._published(platform, self._shelf.restore(platform, number, over=over, who=who, why=_reason(why)))

    def withdraw(self, platform: str, *, over: Iterable[str] | None, who: str, why: str) -> Published:
        """See ``Shelf.withdraw``."""
        touched = self._models(platform)
        done = self._shelf.withdraw(platform, over=over, who=who, why=_reason(why))
        return self._published(platform, done, touched)

    def _published(self, platform: str, done: Publication, touched: Iterable[Ref] = ()) -> Published:
        after = history.version_text(self._shelf.folder, platform, done.version.number)
        findings = done.report.findings if done.report else ()
        return Published(
            platform=platform,
            version=_version(done.version),
            revision=self._shelf.opened.collection.revision,
            warnings=[finding_note(each) for each in findings],
            differences=self._differences(platform, done.before, after),
            models=[*self._models(platform), *touched],
        )

    def _models(self, platform: str) -> list[Ref]:
        models = self._shelf.opened.collection.models
        return [Ref(id=each.id, label=each.label) for each in models if each.platform.id == platform]

    def _versions(self, platform: str) -> tuple[Version, ...]:
        found = history.versions(self._shelf.folder, platform)
        if not found and history.served(self._shelf.folder, platform) is None:
            raise NotFound("platform", platform, sorted(self._shelf.platforms))
        return found

    def _opened(self, platform: str, turtle: str | None) -> Collection | None:
        if turtle is None:
            return None
        try:
            return one_platform(self._shelf.folder, platform, turtle)
        except (ContentBroken, ContentSyntax):
            return None

    def _differences(self, platform: str, before: str | None, after: str | None) -> list[DifferenceNote]:
        from firstoff.authoring.differing import differences
        from firstoff.authoring.ontology import ontology_of
        from firstoff.authoring.turtle import read_turtle

        documents = [None if text is None else read_turtle(text, f"{platform}.ttl") for text in (before, after)]
        return [
            DifferenceNote.model_validate(
                {
                    "sort": each.sort.value,
                    "resource": each.resource,
                    "label": each.label,
                    "what": each.what,
                    "sentences": list(each.sentences),
                }
            )
            for each in differences(documents[0], documents[1], ontology_of(self._shelf.folder))
        ]


def platform_of(turtle: str) -> str:
    """The name of the platform that a text describes.

    :raises BadRequest: it describes none, or several, or cannot be read.
    """
    from firstoff.authoring.turtle import read_turtle

    try:
        triples = read_turtle(turtle, "the draft").triples
    except ContentSyntax as error:
        raise BadRequest(error.detail, mend=error.mend) from error
    type_, platform = "http://www.w3.org/1999/02/22-rdf-syntax-ns#type", "https://firstoff.example/ontology#Platform"
    found = {
        str(getattr(each.subject, "value", ""))
        for each in triples
        if each.predicate.value == type_ and getattr(each.object, "value", "") == platform
    }
    if len(found) != 1:
        raise BadRequest(
            f"The text describes {'no platform' if not found else 'several platforms'}.",
            mend="Send a text with one fo:Platform, and its parts, models, circuit and faults.",
        )
    return found.pop().rpartition("/")[2]


def finding_note(finding: Finding) -> FindingNote:
    return FindingNote.model_validate(
        {
            "severity": finding.severity.value,
            "rule": finding.rule,
            "resource": finding.resource,
            "label": finding.label,
            "message": finding.message,
            "mend": finding.mend,
            "file": finding.file,
            "line": finding.line,
            "sheet": finding.sheet,
            "column": finding.column,
        }
    )


def _reason(why: str) -> str:
    said = " ".join(why.split())
    if not said or len(said) > _LONGEST_WHY:
        raise BadRequest(
            "It is not said why." if not said else f"The reason is longer than {_LONGEST_WHY} characters.",
            mend="Say in a sentence why the content changes.",
        )
    return said


def _version(version: Version) -> VersionNote:
    return VersionNote.model_validate(
        {
            "number": version.number,
            "act": version.act.value,
            "revision": version.revision,
            "who": version.who,
            "when": version.when,
            "why": version.why,
            "restored": version.restored,
        }
    )
