"""What a check finds, and the report of one file."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """An error keeps a file from being served; a warning is something to look at."""

    ERROR = "error"
    WARNING = "warning"


@dataclass(frozen=True, slots=True)
class Problem:
    """Something wrong with the resource of slug ``resource`` (None: with the file as a whole).

    ``rule`` is a stable name in small letters and hyphens. ``message`` says what is wrong and ``mend`` how to mend it.
    """

    severity: Severity
    rule: str
    resource: str | None
    message: str
    mend: str


@dataclass(frozen=True, slots=True)
class Finding:
    """A problem with its place: ``file``, and the line (counted from 1) where the resource's statements start.

    In a workbook ``line`` is the row, ``sheet`` the sheet it is of and ``column`` the letter of the column, if known.
    """

    severity: Severity
    rule: str
    resource: str | None
    label: str | None
    message: str
    mend: str
    file: str
    line: int | None
    sheet: str | None = None
    column: str | None = None

    @property
    def where(self) -> str:
        """The place within the file, such as "line 5" or "sheet removals, row 5, column C"; empty for the whole."""
        if self.sheet is None:
            return "" if self.line is None else f"line {self.line}"
        row = "" if self.line is None else f", row {self.line}"
        return f"sheet {self.sheet}{row}" + (f", column {self.column}" if self.column else "")

    def __str__(self) -> str:
        place = self.file if self.line is None else f"{self.file}:{self.line}"
        if self.sheet is not None:
            place = f"{self.file}, {self.where}"
        named = f"{self.label} ({self.resource}): " if self.label and self.resource else ""
        return f"{place}: {self.severity}: {named}{self.message} {self.mend} [{self.rule}]"


@dataclass(frozen=True, slots=True)
class Report:
    """The findings of one file, errors first, then by line. ``digest`` stands for the file and the ontology it met."""

    file: str
    digest: str
    findings: tuple[Finding, ...]

    @property
    def errors(self) -> tuple[Finding, ...]:
        return tuple(finding for finding in self.findings if finding.severity is Severity.ERROR)

    @property
    def warnings(self) -> tuple[Finding, ...]:
        return tuple(finding for finding in self.findings if finding.severity is Severity.WARNING)

    @property
    def ok(self) -> bool:
        """True where nothing keeps the file from being served."""
        return not self.errors


def error(rule: str, resource: str | None, message: str, mend: str) -> Problem:
    return Problem(Severity.ERROR, rule, resource, message, mend)


def warning(rule: str, resource: str | None, message: str, mend: str) -> Problem:
    return Problem(Severity.WARNING, rule, resource, message, mend)
