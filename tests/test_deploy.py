"""The systemd unit and the container file: what they name is there, and what they run is understood."""

from __future__ import annotations

import json
import re
import shlex
import shutil
import subprocess
import sys
from dataclasses import fields
from pathlib import Path

import pytest
from typer.testing import CliRunner

from firstoff.cli import app
from firstoff.settings import Settings
from support.served import Served

DEPLOY = Path(__file__).resolve().parents[1] / "deploy"
UNIT = (DEPLOY / "firstoff.service").read_text(encoding="utf-8")
CONTAINER = (DEPLOY / "Containerfile").read_text(encoding="utf-8")
#: Read by the service, and no settings of their own.
OTHERS = {"FIRSTOFF_CONFIG"}


def values(name: str) -> list[str]:
    """What the unit gives this name, line by line."""
    return re.findall(rf"^{name}=(.*)$", UNIT, re.MULTILINE)


def steps(instruction: str) -> list[str]:
    """What stands behind this instruction in the container file, line by line."""
    return re.findall(rf"^{instruction} (.*)$", CONTAINER, re.MULTILINE)


def test_variables_are_settings() -> None:
    known = {f"FIRSTOFF_{each.name.upper()}" for each in fields(Settings)} | OTHERS
    named = set(re.findall(r"\bFIRSTOFF_[A-Z_]+", UNIT + CONTAINER))
    assert named
    assert named <= known


@pytest.mark.parametrize(
    "command",
    [
        shlex.split(values("ExecStart")[0])[1:],
        json.loads(re.findall(r"^CMD (.*)$", CONTAINER, re.MULTILINE)[0]),
    ],
)
def test_commands_are_understood(command: list[str]) -> None:
    asked = CliRunner().invoke(app, [*command, "--help"])
    assert asked.exit_code == 0, asked.output


def test_a_stop_has_time_enough() -> None:
    settings = Settings()
    assert float(values("TimeoutStopSec")[0]) > settings.grace_seconds + settings.stop_seconds


def test_systemd_accepts_the_unit(tmp_path: Path) -> None:
    if shutil.which("systemd-analyze") is None:
        pytest.skip("needs systemd-analyze")
    unit = tmp_path / "firstoff.service"
    unit.write_text(UNIT.replace("/opt/firstoff/bin/firstoff", sys.executable), encoding="utf-8")
    looked = subprocess.run(["systemd-analyze", "verify", str(unit)], check=False, capture_output=True, text=True)
    complaints = [line for line in (looked.stdout + looked.stderr).splitlines() if unit.name in line]
    assert complaints == []


def test_what_is_copied_is_there() -> None:
    copied = [each.split() for each in steps("COPY")]
    own = [source for *sources, _ in copied if not sources[0].startswith("--from") for source in sources]
    assert own
    root = DEPLOY.parent
    assert [each for each in own if not (root / each).exists()] == []
    wheel = re.findall(r'^"([^"]+)" = "firstoff/content', (root / "pyproject.toml").read_text(), re.MULTILINE)
    assert [each for each in wheel if each.split("/")[0] not in own] == []


def test_it_does_not_run_as_root() -> None:
    assert values("DynamicUser") == ["yes"]
    assert steps("USER") == ["10001"]
    assert CONTAINER.rindex("\nUSER ") < CONTAINER.index("\nENTRYPOINT")


def test_the_health_check_looks_at_readiness(tmp_path: Path) -> None:
    command = json.loads(re.findall(r"CMD (\[.*urllib.*\])", CONTAINER)[0])[1:]
    served = Served(tmp_path / "log")

    def looked() -> int:
        own = [each.replace("127.0.0.1:8080", f"127.0.0.1:{served.port}") for each in command]
        return subprocess.run([sys.executable, *own], check=False, capture_output=True).returncode

    assert looked() != 0
    served.start()
    try:
        assert looked() == 0
    finally:
        served.stop()
