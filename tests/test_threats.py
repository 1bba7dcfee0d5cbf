"""The page of threats names tests and settings that are there."""

from __future__ import annotations

import re
from dataclasses import fields
from pathlib import Path

from firstoff.settings import Settings, variable

ROOT = Path(__file__).parents[1]
TEXT = (ROOT / "THREATS.md").read_text(encoding="utf-8")


def test_every_wall_names_a_test_that_is_there() -> None:
    walls = [line.split("|") for line in TEXT.splitlines() if line.count("|") == 5]
    assert len(walls) > 10
    for wall in walls[2:]:
        named = re.findall(r"`(tests/[^`]+)`", wall[4])
        assert named, wall
        assert [each for each in named if not (ROOT / each).exists()] == []


def test_every_setting_it_names_is_one() -> None:
    known = {variable(each) for each in fields(Settings)}
    assert set(re.findall(r"FIRSTOFF_[A-Z_]+", TEXT)) <= known
