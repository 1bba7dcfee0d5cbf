"""More than 500 hostile inputs against a service in a process of its own: no crash, no hang, no leak.

Each is answered below 500, or refused by HTTP itself; an answer tells nothing of the inside; afterwards the process
holds no more files, threads or memory than it did.
"""

from __future__ import annotations

import importlib
import json
import shutil
import socket
import time
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

import pytest

from firstoff.content import data_folder
from hostile.inputs import KEY, PLATFORM, Hostile
from support.served import Served
from support.workshop import keyed

#: Seconds within which an input is answered; what takes longer hangs.
PATIENCE = 60.0
#: Seconds that half a request is listened to.
BRIEFLY = 1.0
FAMILIES = {
    "addresses": "ADDRESSES",
    "searches": "SEARCHES",
    "headers": "HEADERS",
    "bodies": "BODIES",
    "turtle": "TURTLES",
    "workbooks": "WORKBOOKS",
}
#: Words that only the inside of the service knows.
INSIDE = (b"Traceback", b"site-packages", b"service/firstoff", b'File "', b"root:x:0", KEY.encode())


def inputs(family: str) -> list[Hostile]:
    module = importlib.import_module(f"hostile.{'addresses' if family == 'searches' else family}")
    found: list[Hostile] = getattr(module, FAMILIES[family])
    return found


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    folder = tmp_path_factory.mktemp("hostile")
    content = folder / "content"
    content.mkdir()
    for name in (f"{PLATFORM}.ttl", "checked.json"):
        shutil.copy(data_folder() / name, content)
    service = Served(folder / "log", content, keyed(folder, KEY))
    service.start()
    yield service
    service.stop()


def answered(port: int, each: Hostile) -> bytes:
    """All that comes back until the service hangs up.

    :raises TimeoutError: it takes longer than ``PATIENCE``.
    """
    end = time.monotonic() + (PATIENCE if each.whole else BRIEFLY)
    got = bytearray()
    with socket.create_connection(("127.0.0.1", port), timeout=PATIENCE) as line:
        with suppress(OSError):  # the service had heard enough
            line.sendall(each.sent)
        while True:
            line.settimeout(max(0.01, end - time.monotonic()))
            try:
                part = line.recv(65_536)
            except ConnectionError:
                return bytes(got)
            except TimeoutError:
                if each.whole:
                    raise
                return bytes(got)
            if not part:
                return bytes(got)
            got += part


def objection(port: int, each: Hostile) -> str | None:
    """What is wrong with the answer; None where nothing is."""
    try:
        got = answered(port, each)
    except TimeoutError:
        return "no answer in time"
    leaked = [word.decode() for word in INSIDE if word in got]
    if leaked:
        return f"tells of the inside: {leaked}"
    if not got:
        return "no answer at all" if each.whole else None
    version, _, rest = got.partition(b" ")
    status = rest[:3]
    if not version.startswith(b"HTTP/1.") or not status.isdigit():
        return f"no HTTP: {got[:80]!r}"
    if status >= b"500":
        return f"{got[:300]!r}"
    head, _, body = got.partition(b"\r\n\r\n")
    if status >= b"400" and b"application/problem+json" in head:
        told, _ = json.JSONDecoder().raw_decode(body.decode("utf-8"))  # another answer may follow
        return None if told["status"] == int(status) and told["mend"] else f"a problem without a mend: {told}"
    return None


@pytest.mark.parametrize("family", FAMILIES)
def test_is_answered_or_refused(served: Served, family: str) -> None:
    objections = [f"{each.name[:60]}: {said}" for each in inputs(family) if (said := objection(served.port, each))]
    assert not objections, "\n".join(objections)
    assert served.process  # it is the one that was started


def test_there_are_enough_of_them() -> None:
    distinct = {each.sent for family in FAMILIES for each in inputs(family)}
    assert len(distinct) >= 500


@dataclass(frozen=True, slots=True)
class Held:
    """What a process holds: open files, threads, megabytes of memory of its own."""

    files: int
    threads: int
    megabytes: int


def held(process: int) -> Held:
    folder = Path("/proc") / str(process)
    said = dict(line.split(":", 1) for line in (folder / "status").read_text().splitlines())
    return Held(
        files=len(list((folder / "fd").iterdir())),
        threads=int(said["Threads"]),
        megabytes=int(said["RssAnon"].split()[0]) // 1024,
    )


def test_nothing_leaks(served: Served) -> None:
    """All but the largest are sent twice more: what the second pass adds, every further pass would add."""
    if not Path("/proc").is_dir():
        pytest.skip("needs /proc")
    small = [each for family in FAMILIES for each in inputs(family) if len(each.sent) < 20_000]
    small = [each for each in small if b"/v1/graphs/check" not in each.sent[:200]]

    def settled() -> Held:
        """Once more, so that memory that was freed late is not counted; files are closed when the line is."""
        end = time.monotonic() + 10
        while (now := held(served.process)).files > before.files and time.monotonic() < end:
            time.sleep(0.05)
        return now

    before = held(served.process)
    for each in small:
        answered(served.port, each)
    first = settled()
    for each in small:
        answered(served.port, each)
    second = settled()
    assert second.files <= before.files + 2
    assert second.threads <= first.threads + 2
    assert second.megabytes <= first.megabytes + 16
