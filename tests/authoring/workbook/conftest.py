"""The sheets, derived once for all tests of workbooks."""

from __future__ import annotations

import pytest

from firstoff.authoring.workbook.sheets import Workbook, load_workbook


@pytest.fixture(scope="session")
def workbook() -> Workbook:
    return load_workbook()
