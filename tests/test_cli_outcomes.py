"""Telling outcomes on the command line: into a folder, and through a service that is killed and started again."""

from __future__ import annotations

import json
import os
import re
import signal
import subprocess
import sys
import threading
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, HTTPServer
from pathlib import Path
from typing import Any

import pytest

from firstoff_contract.diagnosis import Diagnosis
from firstoff_contract.outcomes import OutcomeKept, OutcomeSummary
from support.keys import key_file

ONCE = "0b9b1f4e-6a47-4a0e-9f0b-2f8c5d3f7a10"
KEY = "a-key-for-this-test-alone"
HEATER = ("outcome", "tgd27-460-s", "--fault", "fault-heater-open", "--on", "2026-11-27", "--idempotency-key", ONCE)


def firstoff(*arguments: str, **environment: str) -> subprocess.CompletedProcess[str]:
    plain = {name: value for name, value in os.environ.items() if not name.startswith("FIRSTOFF_")}
    return subprocess.run(
        [sys.executable, "-m", "firstoff.cli", *arguments],
        capture_output=True,
        text=True,
        timeout=120,
        env={**plain, **environment},
        check=False,
    )


def good(*arguments: str, **environment: str) -> str:
    done = firstoff(*arguments, **environment)
    assert done.returncode == 0, done.stderr
    return done.stdout


def refused(*arguments: str, **environment: str) -> str:
    """What is said on standard error, which is two plain lines after those of progress."""
    done = firstoff(*arguments, **environment)
    assert done.returncode == 1, done.stdout
    assert done.stdout == ""
    assert "Traceback" not in done.stderr
    assert "firstoff: " in done.stderr
    return done.stderr


@contextmanager
def served(state: Path, key: str = KEY) -> Iterator[tuple[str, subprocess.Popen[str]]]:
    """A service of its own process with its address, killed at the end if it still runs."""
    keys = key_file(state.parent / f"{state.name}-keys", {"van": (key, "outcomes")})
    environment = {"FIRSTOFF_STATE": str(state), "FIRSTOFF_KEYS": str(keys)}
    with subprocess.Popen(
        [sys.executable, "-u", "-m", "firstoff.cli", "serve", "--port", "0"],
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
        env={**os.environ, **environment},
    ) as process:
        try:
            assert process.stdout is not None
            printed = [process.stdout.readline() for _ in range(2)]
            address = re.search(r"http://\S+", printed[1])
            assert address, printed
            yield address[0].rstrip("/"), process
        finally:
            process.kill()


def jobs(address: str) -> int:
    with urllib.request.urlopen(f"{address}/v1/models/tgd27-460-s/outcomes") as response:
        return OutcomeSummary.model_validate_json(response.read()).learned.jobs


def test_into_a_folder_and_out_of_it(tmp_path: Path) -> None:
    state = str(tmp_path / "state")
    told = ("--symptom", "no-heat", "--absent", "noisy", "--check", "check-heater=no continuity")
    assert "fault-heater-open" in good(*HEATER, *told, "--state", state)
    again = OutcomeKept.model_validate_json(good(*HEATER, *told, "--json", FIRSTOFF_STATE=state))
    assert again.outcomes[0].label == "no continuity"
    assert "idempotency key came before" in refused(*HEATER, "--state", state)
    good("outcome", "tgd27-460-s", "--remedy", "remedy-advise-programme", "--state", state)  # a key of its own

    said = good("learned", "tgd27-460-s", "--state", state)
    assert "4% from 2 jobs" in said.replace("\n", " ")
    summary = OutcomeSummary.model_validate_json(good("learned", "tgd27-460-s", "--json", FIRSTOFF_STATE=state))
    assert summary.learned.jobs == 2
    asked = ("diagnose", "tgd27-460-s", "--symptom", "no-heat")
    taught = Diagnosis.model_validate_json(good(*asked, "--json", FIRSTOFF_STATE=state))
    plain = Diagnosis.model_validate_json(good(*asked, "--json"))
    assert (taught.learned.jobs, plain.learned.jobs) == (2, 0)
    share = [next(each.share for each in one.faults if each.id == "fault-heater-open") for one in (plain, taught)]
    assert share[0] < share[1]


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (HEATER, "FIRSTOFF_STATE"),  # nowhere to keep it
        ((*HEATER, "--symptom", "Mrs Example, Larkfield Road", "--state", "@"), "There is no symptom"),
        ((*HEATER, "--symptom", "x" * 200, "--state", "@"), "symptoms"),
        ((*HEATER, "--on", "yesterday", "--state", "@"), "on: "),
        ((*HEATER, "--check", "check-heater", "--state", "@"), "--check CHECK=LABEL"),
        ((*HEATER, "--idempotency-key", "job 7", "--state", "@"), "is no UUID"),
        ((*HEATER, "--state", "@/file/x"), "cannot be written"),
        ((*HEATER, "--server", "http://localhost:1"), "FIRSTOFF_KEY"),
        ((*HEATER, "--server", "http://localhost:1", "--key-file", "@/none"), "Cannot read"),
        ((*HEATER, "--server", "file:///etc", "--key-file", "@/file"), "is no address"),
        ((*HEATER, "--server", "http://localhost:1", "--key-file", "@/file"), ONCE),  # how to send it again
    ],
)
def test_what_cannot_be_told(tmp_path: Path, arguments: tuple[str, ...], said: str) -> None:
    (tmp_path / "file").write_text("a key\n")
    assert said in refused(*(each.replace("@", str(tmp_path)) for each in arguments))
    assert not (tmp_path / "outcomes.jsonl").exists() or (tmp_path / "outcomes.jsonl").read_bytes() == b""


def test_a_service_that_is_killed_keeps_what_it_answered_and_counts_it_once(tmp_path: Path) -> None:
    (tmp_path / "key").write_text(KEY + "\n")
    with served(tmp_path) as (address, process):
        first = good(*HEATER, "--server", address, "--json", FIRSTOFF_KEY=KEY)
        assert jobs(address) == 1
        process.send_signal(signal.SIGKILL)
        assert process.wait(timeout=20) == -9
    file = tmp_path / "outcomes.jsonl"
    whole = file.read_bytes()
    file.write_bytes(whole + whole[:-40])  # as though it had died while it wrote the next
    with served(tmp_path) as (address, _):
        assert file.read_bytes() == whole
        again = good(*HEATER, "--server", f"{address}/", "--key-file", str(tmp_path / "key"), "--json")
        assert json.loads(again) == json.loads(first)
        assert jobs(address) == 1
        # Another process adds to the folder; the service counts it without a restart.
        good("outcome", "tgd27-460-s", "--fault", "fault-belt-broken", "--state", str(tmp_path))
        assert jobs(address) == 2
        assert "not known here" in refused(*HEATER, "--server", address, FIRSTOFF_KEY="another")
        assert "came before" in refused(*HEATER, "--symptom", "no-heat", "--server", address, FIRSTOFF_KEY=KEY)
        wrong = ("outcome", "tgd27-460-s", "--fault", "fault-heater-opn")
        assert "Nearest: fault-heater-open" in refused(*wrong, "--server", address, FIRSTOFF_KEY=KEY)


@pytest.mark.parametrize("answer", [(200, b"<html>"), (502, b"<html>"), (503, b'{"type": "x"}')])
def test_something_else_that_answers(answer: tuple[int, bytes]) -> None:
    class Other(BaseHTTPRequestHandler):
        def do_POST(self) -> None:
            self.rfile.read(int(self.headers["content-length"]))
            self.send_response(answer[0])
            self.send_header("content-length", str(len(answer[1])))
            self.end_headers()
            self.wfile.write(answer[1])

        def log_message(self, format: str, *args: Any) -> None:  # noqa: A002
            pass

    with HTTPServer(("127.0.0.1", 0), Other) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        try:
            said = refused(*HEATER, "--server", f"http://127.0.0.1:{server.server_port}", FIRSTOFF_KEY=KEY)
        finally:
            server.shutdown()
    assert f"--idempotency-key {ONCE}" in said
