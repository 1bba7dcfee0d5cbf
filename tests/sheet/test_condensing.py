"""Texts that say nearly the same."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.sheet.condensing import Run, distinct, runs


def test_runs_say_once_what_texts_share() -> None:
    texts = [
        "Prove the tester.",
        "Measure from line 1 to earth: below 42 V.",
        "Measure from line 2 to earth: below 42 V.",
        "Measure from the neutral tag to earth: below 42 V.",
        "Measure between line 1 and line 2: below 42 V.",
    ]
    assert runs(texts) == [
        Run("", ("Prove the tester.",), ""),
        Run("Measure from", ("line 1", "line 2", "the neutral tag"), "to earth: below 42 V."),
        Run("", ("Measure between line 1 and line 2: below 42 V.",), ""),
    ]


def test_equal_texts_keep_something_of_their_own() -> None:
    assert runs(["Open it now", "Open it now", "Open it now"]) == [Run("Open it", ("now", "now", "now"), "")]


@given(st.lists(st.text("ab c", max_size=12), max_size=8))
def test_every_text_can_be_put_together_again(texts: list[str]) -> None:
    again = [" ".join(f"{run.before} {item} {run.after}".split()) for run in runs(texts) for item in run.items]
    assert again == [" ".join(text.split()) for text in texts]


@pytest.mark.parametrize(
    ("labels", "own"),
    [
        (["belt off (over the front)", "belt off (past the rollers)"], ["over the front", "past the rollers"]),
        (["spring off (from the rear)", "spring off (from below)"], ["from the rear", "from below"]),
        (["tray off", "tray off over the top"], ["tray off", "over the top"]),
        (["alone"], ["alone"]),
        ([], []),
        (["same", "same"], ["same", "same"]),
    ],
)
def test_distinct(labels: list[str], own: list[str]) -> None:
    assert distinct(labels) == own
