from __future__ import annotations

from firstoff.authoring.findings import Finding, Report, Severity

ERROR = Finding(Severity.ERROR, "some-rule", "lamp", "Lamp", "It is wrong.", "Mend it.", "a.ttl", 7)
WARNING = Finding(Severity.WARNING, "other-rule", None, None, "It is odd.", "Look at it.", "a.ttl", None)


def test_a_finding_as_one_line() -> None:
    assert str(ERROR) == "a.ttl:7: error: Lamp (lamp): It is wrong. Mend it. [some-rule]"
    assert str(WARNING) == "a.ttl: warning: It is odd. Look at it. [other-rule]"


def test_a_report_is_ok_without_errors() -> None:
    assert Report("a.ttl", "d", ()).ok
    assert Report("a.ttl", "d", (WARNING,)).ok
    report = Report("a.ttl", "d", (ERROR, WARNING))
    assert not report.ok
    assert report.errors == (ERROR,)
    assert report.warnings == (WARNING,)
