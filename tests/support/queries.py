"""Queries that a service must survive, and a small content to ask them of."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path

from firstoff.collection.opening import Opened, open_content
from firstoff.sparql.asking import JSON_RESULTS, TURTLE, Dataset, Question
from support.small_platform import TURTLE as PLATFORM

#: Never ends within a test: the vocabulary has thousands of triples.
ENDLESS = "SELECT (COUNT(*) AS ?n) { ?a ?b ?c . ?d ?e ?f . ?g ?h ?i . ?j ?k ?l }"
#: Takes memory until there is none; nothing comes out before all of it is sorted.
GREEDY = "SELECT * { ?a ?b ?c . ?d ?e ?f . ?g ?h ?i } ORDER BY ?c ?f ?i"
QUICK = "ASK {}"


def question(text: str) -> Question:
    return Question(text, Dataset(), JSON_RESULTS, TURTLE)


def small_content(folder: Path) -> Opened:
    """One small platform, and the vocabularies."""
    (folder / "small-box.ttl").write_text(PLATFORM, encoding="utf-8")
    return open_content(folder)


def wait_until(true: Callable[[], bool], seconds: float = 30.0) -> None:
    """Look again and again; the test fails where it does not come true."""
    end = time.monotonic() + seconds
    while not true():
        assert time.monotonic() < end, "it did not come true"
        time.sleep(0.01)


def is_running(pid: int) -> bool:
    """Whether there is such a process, and it has not ended without its parent having noticed."""
    try:
        return Path(f"/proc/{pid}/stat").read_text(encoding="ascii").rpartition(")")[2].split()[0] != "Z"
    except OSError:
        return False


def children_of(pid: int) -> list[int]:
    """The processes that ``pid`` started."""
    found = []
    for each in (folder.name for folder in Path("/proc").iterdir()):
        try:
            said = Path(f"/proc/{each}/stat").read_text(encoding="ascii") if each.isdigit() else ""
        except OSError:
            continue
        if said and int(said.rpartition(")")[2].split()[1]) == pid:
            found.append(int(each))
    return found
