"""A full disk: what is written is refused whole, what is asked is answered, and it goes on once there is room."""

from __future__ import annotations

import resource
import subprocess
from collections.abc import Iterator
from itertools import takewhile
from pathlib import Path

import pytest

from support.workshop import PLAN, Workshop


class SmallDisk:
    """A file system in memory of 2 MB."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._filler = folder / "filler"
        done = subprocess.run(
            ["mount", "-t", "tmpfs", "-o", "size=2m", "tmpfs", str(folder)], check=False, capture_output=True
        )
        if done.returncode:
            pytest.skip("no file system may be mounted here; files that may not grow are tested in its place")

    def fill(self, _: int) -> None:
        with self._filler.open("wb", buffering=0) as filler:
            try:
                while True:
                    filler.write(b"\x00" * 4_096)
            except OSError:
                return

    def free(self, _: int) -> None:
        self._filler.unlink()

    def close(self) -> None:
        subprocess.run(["umount", "--lazy", str(self.folder)], check=True)


class NoLargerFiles:
    """Any disk, but the process may let no file grow beyond a few bytes."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def fill(self, process: int) -> None:
        resource.prlimit(process, resource.RLIMIT_FSIZE, (16, resource.RLIM_INFINITY))

    def free(self, process: int) -> None:
        resource.prlimit(process, resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))

    def close(self) -> None:
        pass


@pytest.fixture(params=[SmallDisk, NoLargerFiles])
def disk(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[SmallDisk | NoLargerFiles]:
    small: SmallDisk | NoLargerFiles = request.param(tmp_path)
    yield small
    small.close()


def test_full_and_free_again(disk: SmallDisk | NoLargerFiles) -> None:
    workshop = Workshop(disk.folder)
    try:
        workshop.service.start()
        process = workshop.service.process
        assert workshop.publish(1).status == 200
        assert workshop.tell().status == 200
        plan = workshop.ask("GET", PLAN)
        kept = (workshop.folder / "state" / "outcomes.jsonl").read_bytes()

        disk.fill(process)
        # A line may still fit into the last block that the file has already; it counts where it was acknowledged.
        told = list(takewhile(lambda said: said.status == 200, (workshop.tell() for _ in range(100))))
        for refused in (workshop.publish(2), workshop.tell()):
            assert refused.status == 503, refused
            assert refused.json["mend"]
        assert workshop.served_number() == 1
        assert workshop.ask("GET", PLAN).body == plan.body
        assert workshop.ask("GET", "/healthz").status == 200

        disk.free(process)
        assert workshop.publish(3).status == 200
        assert workshop.tell().status == 200
        assert workshop.service.process == process

        workshop.service.stop()
        workshop.service.start()
        assert workshop.served_number() == 3
        assert [each["why"] for each in workshop.versions() if each["why"].startswith("number")] == [
            "number 1",
            "number 3",
        ]
        now = (workshop.folder / "state" / "outcomes.jsonl").read_bytes()
        assert now.startswith(kept)
        assert now.count(b"\n") == kept.count(b"\n") + len(told) + 1
    finally:
        workshop.service.stop()
