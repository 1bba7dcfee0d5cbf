"""What the command line prints of an answer, where no demo answer shows it."""

from __future__ import annotations

import pytest
from rich.console import Console

from firstoff.answers.desk import Desk
from firstoff.tables import planning as tables
from firstoff_contract.removal import PlanRequest


@pytest.mark.parametrize("complete", [True, False])
def test_alternatives_that_may_be_missing_are_said(desk: Desk, complete: bool) -> None:
    answer = desk.removal_plan("tgd27-460-s", PlanRequest(reach=["drum-belt"], serial="1"))
    assert answer.alternatives_complete
    out = Console(width=120)
    with out.capture() as printed:
        tables.plan(out, answer.model_copy(update={"alternatives_complete": complete}))
    assert ("there may be more" in printed.get()) is not complete
