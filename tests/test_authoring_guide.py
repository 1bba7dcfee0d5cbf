"""AUTHORING.md does what it says. Run as a script, this file rewrites what its commands print."""

from __future__ import annotations

import json
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from firstoff.authoring.workbook.sheets import load_workbook
from support.guide import GUIDE, WORKBOOK, Reader, Run, Typed, rewritten, steps

TEXT = GUIDE.read_text(encoding="utf-8")


@dataclass(frozen=True)
class Followed:
    """The commands of the guide with what they printed, and the folder as it was left."""

    printed: tuple[tuple[Run, str], ...]
    folder: Path


def follow(text: str, folder: Path) -> Iterator[tuple[Run, str]]:
    with Reader(folder) as reader:
        for step in steps(text):
            if isinstance(step, Typed):
                reader.type(step)
            else:
                yield step, reader.run(step.command)


@pytest.fixture(scope="module")
def followed(tmp_path_factory: pytest.TempPathFactory) -> Followed:
    folder = tmp_path_factory.mktemp("guide")
    return Followed(tuple(follow(TEXT, folder)), folder)


def test_every_command_prints_what_the_guide_shows(followed: Followed) -> None:
    for step, printed in followed.printed:
        assert printed == step.output, step.command


def test_headings_are_those_of_the_template() -> None:
    sheets = load_workbook().titled
    for step in steps(TEXT):
        if isinstance(step, Typed):
            sheet = sheets[step.sheet]
            assert set(step.header) <= {sheet.key, *(column.title for column in sheet.columns)}, step.sheet


def test_the_commands_that_authors_need_are_shown() -> None:
    shown = {step.command.split()[1] for step in steps(TEXT) if isinstance(step, Run)}
    assert shown >= {
        "template", "check", "import", "preview", "publish", "versions", "difference", "restore", "search", "live",
        "isolate", "make-safe", "reading", "plan", "diagnose", "serve",
    }  # fmt: skip


def test_two_mistakes_are_found_where_they_are_and_then_none(followed: Followed) -> None:
    checks = [printed for step, printed in followed.printed if step.command == f"firstoff check {WORKBOOK}"]
    assert len(checks) == 4
    for printed, words in zip(
        checks,
        (
            ("1 error, 0 warnings", "sheet links, row 13, column I", "unit-in-cell"),
            ("1 error, 0 warnings", "sheet removals, row 4", "supply-not-isolated"),
            ("passed, 0 errors, 0 warnings",),
            ("passed, 0 errors, 0 warnings",),
        ),
        strict=True,
    ):
        assert all(each in " ".join(printed.split()) for each in words), printed


# What a technician must be told of the kettle, asked in the folder that the guide leaves behind.

EARLY = ("mke17-220-c", "--serial", "26000001")
CONDUCTORS = frozenset(
    {"base-l", "base-n", "inlet-l", "inlet-n", "dry-out", "switch-1", "switch-2", "switch-3"}
    | {"element-1", "element-2", "lamp-1", "lamp-2", "lamp-3"}
)


def asked(followed: Followed, command: str, *words: str) -> dict[str, Any]:
    with Reader(followed.folder) as reader:
        answer = reader.run(" ".join(("firstoff", command, *EARLY, *words, "--data content --json")))
    return dict(json.loads(answer))


@pytest.mark.parametrize("opened", ["on-switch", "steam-contact", "boil-dry-contact"])
def test_with_a_control_off_every_conductor_still_counts_as_live(followed: Followed, opened: str) -> None:
    points = asked(followed, "live", "--opened", opened)["points"]
    assert {each["id"] for each in points if each["state"] == "live"} == CONDUCTORS | {"socket-l", "socket-n"}
    assert all(each["cleared_by"] == [["plug"]] for each in points if each["id"] in CONDUCTORS)


def test_with_the_plug_drawn_only_the_socket_is_live(followed: Followed) -> None:
    points = asked(followed, "live", "--opened", "plug")["points"]
    assert {each["id"] for each in points if each["state"] != "isolated"} == {"socket-l", "socket-n"}


@pytest.mark.parametrize("part", ["element", "switch", "kettle-connector", "indicator-lamp"])
def test_only_the_plug_isolates(followed: Followed, part: str) -> None:
    sets = asked(followed, "isolate", part)["sets"]
    assert [[device["id"] for device in each["devices"]] for each in sets if each["energy"] == "mains"] == [["plug"]]


def test_the_element_reads_what_its_plate_says(followed: Followed) -> None:
    words = ("element-1", "element-2", "--quantity", "resistance", "--opened", "plug", "--off", "indicator-lamp")
    expected = asked(followed, "reading", *words)["expected"]
    assert (expected["nominal"], expected["low"], expected["high"]) == (24.0, 22.8, 25.2)
    assert expected["nominal"] == pytest.approx(230**2 / 2200, rel=0.01)


def test_the_supply_returns_only_to_a_kettle_that_is_whole_and_measured(followed: Followed) -> None:
    plan = asked(followed, "plan", "element")
    out = [each["way"] for each in plan["steps"] if each["way"]]
    assert out[:4] == ["isolate-supply", "kettle-off", "empty-kettle", "foot-cover-off"]
    assert set(out[4:-1]) == {"indicator-lamp-off", "kettle-connector-off"}
    assert out[-1] == "element-off"
    back = plan["refit"]
    assert [each["way"] for each in back if each["way"]][-2:] == ["kettle-off", "isolate-supply"]
    told = " ".join(each["instruction"] for each in back if each["action"] == "verify")
    assert "earth continuity: at most 0.112 ohm" in told
    assert "insulation resistance" in told


def rewrite() -> None:
    """Put what the commands print now into the guide."""
    with tempfile.TemporaryDirectory() as folder:
        printed = [output for _, output in follow(TEXT, Path(folder))]
    GUIDE.write_text(rewritten(TEXT, iter(printed)), encoding="utf-8")


if __name__ == "__main__":
    rewrite()
