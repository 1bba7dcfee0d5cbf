"""The versions of each platform, kept beside the content: what was published, by whom, when and why.

::

    <content>/<platform>.ttl                    what is served now
    <content>/history/<platform>/000003.ttl     a version as it was published; nothing is ever changed or taken away
    <content>/history/<platform>/000003.json    who, when, why, and the digest of its text

The file of the platform is the pointer: it is replaced in one step (``rename``), so that a reader, and a process killed
at any instant, finds the version before or the version after, each whole. What is about to be published is written
aside first (``000004.json.new``); ``writing`` finishes or takes away what a killed process left, by the digest of what
is served, and lets in one writer at a time (a lock on ``history/lock``).
"""

from __future__ import annotations

import fcntl
import json
import os
import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import asdict, dataclass
from datetime import datetime
from enum import StrEnum
from pathlib import Path

from firstoff.errors import BadRequest, HistoryFailed
from firstoff.store.revision import text_revision

HISTORY = "history"
_VERSION = re.compile(r"\d{6}\.json")
_PLATFORM = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


class Act(StrEnum):
    """How a version came to be."""

    PUBLISHED = "published"
    RESTORED = "restored"  # the text of an earlier version
    FOUND = "found"  # in the folder, put there by other means
    WITHDRAWN = "withdrawn"  # the platform is no longer served


@dataclass(frozen=True, slots=True)
class Version:
    """``number`` counts from 1; ``revision`` is that of the text, empty where the platform was withdrawn.

    ``when`` is a time in UTC as RFC 3339 writes it; ``restored`` is the number of the version whose text it has again.
    """

    number: int
    act: Act
    revision: str
    who: str
    when: str
    why: str
    restored: int | None = None


def platform_file(content: Path, platform: str) -> Path:
    """The file that is served.

    :raises BadRequest: ``platform`` is no slug.
    """
    if not _PLATFORM.fullmatch(platform) or len(platform) > 100:
        raise BadRequest(
            f"{platform[:100]!r} is no name of a platform.", mend="Use small letters, digits and single hyphens."
        )
    return content / f"{platform}.ttl"


def served(content: Path, platform: str) -> str | None:
    """The text that is served now; None where there is none.

    :raises HistoryFailed: it cannot be read.
    """
    try:
        return platform_file(content, platform).read_bytes().decode("utf-8")
    except FileNotFoundError:
        return None
    except (OSError, UnicodeDecodeError) as error:
        raise HistoryFailed(f"{platform}.ttl cannot be read: {error}.") from error


def platforms(content: Path) -> tuple[str, ...]:
    """Every platform that is served or has a history, in order."""
    kept = {each.name for each in (content / HISTORY).glob("*") if each.is_dir()}
    return tuple(sorted(kept | {each.stem for each in content.glob("*.ttl")}))


def versions(content: Path, platform: str) -> tuple[Version, ...]:
    """Every version, the first first; none for a platform that was never published.

    :raises HistoryFailed: a record cannot be read.
    """
    folder = content / HISTORY / platform_file(content, platform).stem
    try:
        files = sorted(each for each in folder.glob("*.json") if _VERSION.fullmatch(each.name))
        return tuple(_read(each) for each in files)
    except (OSError, ValueError, TypeError, KeyError) as error:
        raise HistoryFailed(f"The history of {platform} cannot be read: {error}.") from error


def version_text(content: Path, platform: str, number: int) -> str | None:
    """The text of a version; None where the platform was withdrawn by it, or there is no such version.

    :raises HistoryFailed: it cannot be read.
    """
    platform_file(content, platform)
    try:
        return (content / HISTORY / platform / f"{number:06d}.ttl").read_bytes().decode("utf-8")
    except FileNotFoundError:
        return None
    except (OSError, UnicodeDecodeError) as error:
        raise HistoryFailed(f"Version {number} of {platform} cannot be read: {error}.") from error


@contextmanager
def writing(content: Path) -> Iterator[None]:
    """One writer at a time, among threads and processes; what a killed one left is settled first.

    :raises HistoryFailed: the folder cannot be written to.
    """
    folder = content / HISTORY
    try:
        folder.mkdir(exist_ok=True)
        with (folder / "lock").open("ab") as lock:
            fcntl.flock(lock, fcntl.LOCK_EX)
            for each in sorted(folder.glob("*/*.json.new")):
                _settle(content, each)
            yield
    except OSError as error:
        raise HistoryFailed(f"The folder of content cannot be written to: {error.strerror or error}.") from error


def record(
    content: Path,
    platform: str,
    text: str | None,
    act: Act,
    *,
    who: str,
    why: str,
    when: datetime,
    restored: int | None = None,
) -> Version:
    """Make ``text`` the version that is served, None for none at all. Only within ``writing``.

    What is served now and was put there by other means becomes a version of its own first, so that nothing is lost.
    Where ``text`` is served already the last version is returned.

    :raises HistoryFailed: it cannot be written; what was served is still served.
    """
    before = versions(content, platform)
    present = served(content, platform)
    known = before[-1].revision if before else ""
    if present is not None and text_revision(present) != known:
        number = len(before) + 1
        found = Version(number, Act.FOUND, text_revision(present), "", _time(when), "Found in the folder.")
        _keep(content, platform, found, present)
        _finish(content, platform, found)
        before = (*before, found)
    revision = "" if text is None else text_revision(text)
    if before and before[-1].revision == revision:
        return before[-1]
    new = Version(len(before) + 1, act, revision, who, _time(when), why, restored)
    _keep(content, platform, new, text)
    _serve(content, platform, text)
    _finish(content, platform, new)
    return new


def _serve(content: Path, platform: str, text: str | None) -> None:
    """The one step that makes a version the one that is served."""
    file = platform_file(content, platform)
    if text is None:
        file.unlink(missing_ok=True)
    else:
        aside = file.with_name(f".{file.name}.new")
        _write(aside, text)
        aside.replace(file)
    _sync(content)


def _keep(content: Path, platform: str, version: Version, text: str | None) -> None:
    """Write a version aside, forced to disk: it counts only once it is finished."""
    folder = content / HISTORY / platform
    folder.mkdir(exist_ok=True)
    kept = folder / f"{version.number:06d}.ttl"
    if text is None:
        kept.unlink(missing_ok=True)
    else:
        _write(kept, text)
    _write(folder / f"{version.number:06d}.json.new", json.dumps(asdict(version), indent=1, ensure_ascii=False) + "\n")
    _sync(folder)
    _sync(folder.parent)


def _finish(content: Path, platform: str, version: Version) -> None:
    folder = content / HISTORY / platform
    (folder / f"{version.number:06d}.json.new").replace(folder / f"{version.number:06d}.json")
    _sync(folder)


def _settle(content: Path, left: Path) -> None:
    """Finish what was served already when its writer was killed; take away what was not."""
    platform = left.parent.name
    try:
        version = _read(left)
    except (ValueError, TypeError, KeyError):  # killed while it was written
        version = None
    present = served(content, platform)
    revision = "" if present is None else text_revision(present)
    if version is not None and version.revision == revision:
        _finish(content, platform, version)
        return
    left.unlink()
    left.with_name(left.name.replace(".json.new", ".ttl")).unlink(missing_ok=True)
    (content / f".{platform}.ttl.new").unlink(missing_ok=True)


def _read(file: Path) -> Version:
    said = json.loads(file.read_text(encoding="utf-8"))
    return Version(**{**said, "act": Act(said["act"])})


def _write(file: Path, text: str) -> None:
    with file.open("wb") as opened:
        opened.write(text.encode("utf-8"))
        opened.flush()
        os.fsync(opened.fileno())


def _sync(folder: Path) -> None:
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def _time(when: datetime) -> str:
    return when.strftime("%Y-%m-%dT%H:%M:%SZ")
