"""The platforms that benchmarks are run on are content as any other: checked, distinct, found."""

from __future__ import annotations

from pathlib import Path

import pytest

from firstoff.authoring.check import check_text
from firstoff.collection.opening import open_content
from support.generated_platforms import models_of, platform, slug_of, written


@pytest.mark.parametrize("number", [0, 4_711])
def test_passes_the_check(number: int) -> None:
    assert check_text(platform(number), f"{slug_of(number)}.ttl").findings == ()


def test_each_is_its_own(tmp_path: Path) -> None:
    written(tmp_path, 5, first=40)
    opened = open_content(tmp_path)
    assert opened.refused == ()
    assert [entry.id for entry in opened.collection.models] == sorted(
        model for number in range(40, 45) for model in models_of(number)
    )
    for number in range(40, 45):
        (hit, *_) = opened.index.search(f"B {number:05d}/10").hits
        assert hit.id == models_of(number)[0]
    assert len({platform(number) for number in range(300)}) == 300
    assert platform(7) == platform(7)
