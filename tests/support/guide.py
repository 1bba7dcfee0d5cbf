"""AUTHORING.md followed to the letter: its tables typed into a workbook, its commands run one after the other."""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
import urllib.request
from collections.abc import Iterator
from dataclasses import dataclass
from json import dumps, loads
from pathlib import Path
from types import TracebackType

import openpyxl

GUIDE = Path(__file__).resolve().parents[2] / "AUTHORING.md"
WORKBOOK = "kettle.xlsx"
_STEP = re.compile(
    r"^(?P<verb>Sheet|Add to sheet|Change in sheet) `(?P<sheet>[^`]+)`:\n\n(?P<table>(?:\|[^\n]*\n)+)"
    r"|^```console\n\$ (?P<command>[^\n]+)\n(?P<output>.*?)^```",
    re.MULTILINE | re.DOTALL,
)
_CURL = re.compile(
    r"curl -s 'http://localhost:8080(?P<address>[^']+)' \| python3 -m json.tool \| head -n (?P<lines>\d+)"
)
#: What differs from day to day or with every word of a vocabulary, and what is shown in its place, of the same width.
_FLEETING = (
    (re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ"), "2026-12-01T09:00:00Z"),
    (re.compile(r"\b[0-9a-f]{16}\b"), "0123456789abcdef"),
)


@dataclass(frozen=True, slots=True)
class Typed:
    """Rows for a sheet; ``verb`` says whether they are new ones or change cells of those that are there."""

    verb: str
    sheet: str
    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Run:
    """A command and what the guide says that it prints."""

    command: str
    output: str


def steps(text: str) -> list[Typed | Run]:
    """Tables and commands in the order of the guide."""
    found: list[Typed | Run] = []
    for match in _STEP.finditer(text):
        if match["command"]:
            found.append(Run(match["command"], match["output"]))
        else:
            header, _, *rows = (_cells(line) for line in match["table"].splitlines())
            assert all(len(row) == len(header) for row in rows), f"a row of {match['sheet']} has another width"
            found.append(Typed(match["verb"], match["sheet"], header, tuple(rows)))
    return found


def rewritten(text: str, outputs: Iterator[str]) -> str:
    """The guide with these outputs, in order, under its commands."""

    def fresh(match: re.Match[str]) -> str:
        if not match["command"]:
            return match[0]
        return f"```console\n$ {match['command']}\n{next(outputs)}```"

    return _STEP.sub(fresh, text)


def _cells(line: str) -> tuple[str, ...]:
    return tuple(cell.strip() for cell in line.strip().removeprefix("|").removesuffix("|").split("|"))


class Reader:
    """Somebody who follows the guide in ``folder``; a service that they start runs until they leave."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._service: subprocess.Popen[str] | None = None
        self._address = ""
        self._book: openpyxl.Workbook | None = None

    def __enter__(self) -> Reader:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self._service is not None:
            self._service.terminate()
            self._service.communicate(timeout=60)

    def type(self, step: Typed) -> None:
        """Put rows into the workbook; a text that reads as a number becomes one, as in a spreadsheet program."""
        if self._book is None:
            self._book = openpyxl.load_workbook(self._folder / WORKBOOK)
        sheet = self._book[step.sheet]
        at = {str(cell.value): cell.column for cell in sheet[1]}
        for row in step.rows:
            place = self._row(sheet, step, row[0])
            for heading, text in zip(step.header, row, strict=True):
                if text:
                    sheet.cell(place, at[heading]).value = _as_typed(text)

    @staticmethod
    def _row(sheet: openpyxl.worksheet.worksheet.Worksheet, step: Typed, name: str) -> int:
        keys = [sheet.cell(number, 1).value for number in range(2, sheet.max_row + 1)]
        if step.verb == "Change in sheet":
            return 2 + keys.index(name)
        last = max((number for number, key in enumerate(keys, start=2) if key), default=1)
        return last + 1

    def run(self, command: str) -> str:
        """What a command prints; times and revisions are made the same each day."""
        if self._book is not None:
            self._book.save(self._folder / WORKBOOK)
            self._book = None
        asked = _CURL.fullmatch(command)
        if asked:
            with urllib.request.urlopen(self._address + asked["address"], timeout=60) as answer:
                lines = dumps(loads(answer.read()), indent=4, ensure_ascii=True).splitlines()
            return _steady("\n".join(lines[: int(asked["lines"])]) + "\n")
        if command == "firstoff serve --data content":
            return self._serve(command)
        command, _, cut = command.partition(" | ")
        words = shlex.split(command)
        if words[0] == "mkdir":
            (self._folder / words[1]).mkdir()
            return ""
        assert words[0] == "firstoff", command
        done = subprocess.run(_program(words), capture_output=True, text=True, timeout=300, **self._place())
        assert done.returncode in ((0, 1) if words[1] == "check" else (0,)), f"{command}\n{done.stdout}{done.stderr}"
        return _steady(_cut(done.stdout, cut) + done.stderr)

    def _serve(self, command: str) -> str:
        self._service = subprocess.Popen(
            [*_program(shlex.split(command)), "--port", "0"], stdout=subprocess.PIPE, text=True, **self._place()
        )
        assert self._service.stdout is not None
        told = [self._service.stdout.readline(), self._service.stdout.readline()]
        found = re.search(r"http://localhost:(\d+)", told[1])
        assert found, told
        self._address = found[0]
        return "".join(told).replace(f":{found[1]}/", ":8080/")

    def _place(self) -> dict[str, object]:
        return {"cwd": self._folder, "env": {**os.environ, "COLUMNS": "100"}}


def _program(words: list[str]) -> list[str]:
    return [sys.executable, "-m", "firstoff.cli", *words[1:]]


def _cut(text: str, by: str) -> str:
    """``text`` behind ``head -n N`` or ``tail -n N``."""
    if not by:
        return text
    tool, _, lines = by.split()
    kept = text.splitlines(keepends=True)
    return "".join(kept[: int(lines)] if tool == "head" else kept[-int(lines) :])


def _steady(text: str) -> str:
    for fleeting, shown in _FLEETING:
        text = fleeting.sub(shown, text)
    return text


def _as_typed(text: str) -> str | int | float:
    if re.fullmatch(r"\d+", text):
        return int(text)
    return float(text) if re.fullmatch(r"\d+\.\d+", text) else text
