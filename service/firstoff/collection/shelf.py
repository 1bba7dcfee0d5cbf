"""Content that can be published into while it is read: readers have one whole revision, the one before or after.

The folder is the truth (``authoring.history``); the store follows it. ``refresh`` takes over what another process
published, or what was put into the folder by other means, and fills an engine again that has lost what it held.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from threading import RLock

from firstoff.authoring import history
from firstoff.authoring.digest import word_files
from firstoff.authoring.findings import Report
from firstoff.authoring.history import Act, Version
from firstoff.authoring.record import read_record, record_file, recorded, write_record
from firstoff.collection.looks import Looks
from firstoff.collection.opening import Loading, Opened, Refusal, open_content, opened_from
from firstoff.collection.pointers import pointers
from firstoff.collection.superseded import Superseded
from firstoff.errors import ContentRefused, EngineFailed, NotFound, Stale
from firstoff.store.revision import text_revision

Signature = tuple[int, int, int]


@dataclass(frozen=True, slots=True)
class Publication:
    """What became of a save: the version, the text that was served before it (None for none), and the check."""

    version: Version
    before: str | None
    report: Report | None


class Shelf:
    """The content of one folder. Safe to use from several threads; ``changed`` is told of each new revision."""

    def __init__(
        self,
        opened: Opened,
        folder: Path,
        changed: Callable[[Opened], None] = lambda _: None,
        now: Callable[[], datetime] = lambda: datetime.now(UTC),
    ) -> None:
        self._opened = opened
        self._folder = folder
        self._changed = changed
        self._now = now
        self._lock = RLock()
        self._seen = _signatures(folder)
        self._words = _word_signatures(folder)
        self._superseded = Superseded(opened.store)
        self.looks = Looks()

    @property
    def opened(self) -> Opened:
        """The present revision."""
        return self._opened

    @property
    def folder(self) -> Path:
        return self._folder

    def check(self, platform: str, turtle: str) -> Report:
        """What a check finds in a text, beside the other platforms that are served.

        :raises BadRequest: ``platform`` is no slug.
        """
        from firstoff.authoring.check import check_beside  # loads the SHACL engine, half a second
        from firstoff.authoring.ontology import ontology_of

        name = history.platform_file(self._folder, platform).name
        others = {
            entry.id: (entry.number, f"{entry.platform.id}.ttl")
            for entry in self._opened.collection.models
            if entry.platform.id != platform
        }
        return check_beside(turtle, name, others, ontology_of(self._folder))

    def publish(
        self,
        platform: str,
        turtle: str,
        *,
        over: Iterable[str] | None,
        who: str,
        why: str,
        act: Act = Act.PUBLISHED,
        restored: int | None = None,
    ) -> Publication:
        """Check a text and make it the version of its platform that is served: all of it or nothing.

        ``over`` are the revisions of the text that it may replace, None where there must be none yet.

        :raises BadRequest: ``platform`` is no slug.
        :raises ContentRefused: the check found errors.
        :raises Stale: another text is served than ``over`` says; nothing was changed.
        :raises HistoryFailed: the folder cannot be written to; nothing was changed.
        :raises EngineFailed: the engine does not answer; the detail says whether the text was kept.
        """
        with self._lock:
            with history.writing(self._folder):  # no other process publishes a number alike between check and save
                self.refresh()
                self._opened.store.check()
                report = self.check(platform, turtle)
                before = self._not_stale(platform, over)
                if not report.ok:
                    raise ContentRefused(platform, report.findings)
                version = history.record(
                    self._folder, platform, turtle, act, who=who, why=why, when=self._now(), restored=restored
                )
            with suppress(OSError, ValueError):  # it saves the next start a check, no more
                record = record_file(self._folder)
                write_record(recorded(read_record(record), [report]), record)
            self._served(platform)
            return Publication(version, before, report)

    def restore(self, platform: str, number: int, *, over: Iterable[str] | None, who: str, why: str) -> Publication:
        """Publish the text of an earlier version again, as a version of its own; it is checked as the words are now.

        :raises NotFound: there is no such version, or the platform was withdrawn by it.
        """
        text = history.version_text(self._folder, platform, number)
        known = [each for each in history.versions(self._folder, platform) if each.revision]
        if text is None or number not in {each.number for each in known}:
            raise NotFound(f"version of {platform}", str(number), [str(each.number) for each in known[-3:]])
        return self.publish(platform, text, over=over, who=who, why=why, act=Act.RESTORED, restored=number)

    def withdraw(self, platform: str, *, over: Iterable[str] | None, who: str, why: str) -> Publication:
        """Serve a platform no more; its versions stay.

        :raises NotFound: it is not served.
        :raises Stale: another text is served than ``over`` says.
        """
        with self._lock:
            self.refresh()
            with history.writing(self._folder):
                if history.served(self._folder, platform) is None:
                    raise NotFound("platform", platform, sorted(self.platforms))
                before = self._not_stale(platform, over)
                version = history.record(
                    self._folder, platform, None, Act.WITHDRAWN, who=who, why=why, when=self._now()
                )
            self._served(platform)
            return Publication(version, before, None)

    @property
    def platforms(self) -> frozenset[str]:
        """The platforms that are served."""
        return frozenset(entry.platform.id for entry in self._opened.collection.models)

    def refresh(self) -> bool:
        """Take over what changed in the folder; True where something did.

        A file that is not whole or breaks a rule is refused, and what was served of its platform is served on.

        :raises StoreError: the engine failed; the next time it is tried again.
        """
        with self._lock, self.looks.looking():
            now = _signatures(self._folder)
            words = _word_signatures(self._folder)
            store = self._opened.store
            if words != self._words or (store.shared and pointers(store) != self._opened.collection.pointers):
                self._anew(now, words)
                return True
            names = sorted(name for name in now.keys() | self._seen.keys() if now.get(name) != self._seen.get(name))
            if names:
                self._follow(names)
            self._superseded.tidy()
            return bool(names)

    def _anew(self, seen: dict[str, Signature], words: dict[str, Signature]) -> None:
        """Other words may change what every platform says; an engine that lost what it held is filled again."""
        self._opened = open_content(self._folder, may_be_empty=True, store=self._opened.store)
        self._seen, self._words = seen, words
        self._changed(self._opened)
        self._superseded.look()

    def _served(self, platform: str) -> None:
        """Load what was recorded.

        :raises EngineFailed: it is kept, and not served yet.
        """
        try:
            self._follow([f"{platform}.ttl"])
            self._superseded.tidy()
        except EngineFailed as error:
            raise EngineFailed(
                f"The change of {platform} is kept in the folder, but the engine has not taken it: {error.detail}",
                mend="Do not send it again: it is served as soon as the engine answers. See /readyz.",
            ) from error

    def _not_stale(self, platform: str, over: Iterable[str] | None) -> str | None:
        """The text that is served, where it is one that may be replaced."""
        text = history.served(self._folder, platform)
        revision = None if text is None else text_revision(text)
        allowed = None if over is None else frozenset(over)
        if revision is None and allowed is None:
            return None
        if revision is not None and allowed is not None and (revision in allowed or "*" in allowed):
            return text
        if revision is None:
            raise Stale(f"{platform} is not served, so there is no version to replace.", None)
        if allowed is None:
            raise Stale(f"{platform} is there already.", revision)
        raise Stale(
            f"{platform} was saved by another author meanwhile.", revision, self._changes_since(platform, allowed, text)
        )

    def _changes_since(self, platform: str, allowed: frozenset[str], text: str | None) -> tuple[str, ...]:
        """In words, from the version that the save was made over to the one that is served."""
        from firstoff.authoring.differing import differences, in_words
        from firstoff.authoring.ontology import ontology_of
        from firstoff.authoring.turtle import read_turtle

        base = [each for each in history.versions(self._folder, platform) if each.revision in allowed]
        old = history.version_text(self._folder, platform, base[-1].number) if base else None
        if old is None or text is None:
            return ()
        name = f"{platform}.ttl"
        return in_words(differences(read_turtle(old, name), read_turtle(text, name), ontology_of(self._folder)))

    def _follow(self, names: Iterable[str]) -> None:
        """Load what the folder holds of these files now."""
        signatures = _signatures(self._folder)
        store, collection = self._opened.store, self._opened.collection
        served = {entry.id: f"{entry.platform.id}.ttl" for entry in collection.models}
        loading = Loading(store, self._folder, served)
        refused = {each.file: each for each in self._opened.refused}
        for name in names:
            refused.pop(name, None)
            if (self._folder / name).exists():
                refusal: Refusal | None = loading.load(name)
                if refusal is not None:
                    refused[name] = refusal
            else:
                loading.withdraw(name)
        kept = tuple(refused[name] for name in sorted(refused))
        self._opened = opened_from(store, kept, self._opened.segments)
        self._seen = signatures
        self._changed(self._opened)
        self._superseded.look()


def _signatures(folder: Path) -> dict[str, Signature]:
    """What tells that a file of the folder was replaced or written to."""
    return _signed(folder.glob("*.ttl"))


def _word_signatures(folder: Path) -> dict[str, Signature]:
    return _signed(word_files(folder))


def _signed(files: Iterable[Path]) -> dict[str, Signature]:
    found = {}
    for file in files:
        try:
            said = file.stat()
        except OSError:  # gone meanwhile
            continue
        found[file.name] = (said.st_mtime_ns, said.st_size, said.st_ino)
    return found
