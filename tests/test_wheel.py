"""A wheel built from the tree carries ontology, data and queries, and answers from an empty folder."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    built = subprocess.run(
        [sys.executable, "-m", "build", "--wheel", "--outdir", str(folder), str(ROOT)],
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )
    assert built.returncode == 0, built.stdout + built.stderr
    return next(folder.glob("*.whl"))


def test_wheel_carries_what_it_serves(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        names = set(archive.namelist())
    for kept in ROOT.joinpath("ontology").rglob("*.ttl"):
        assert f"firstoff/content/{kept.relative_to(ROOT)}" in names
    for kept in ROOT.joinpath("data").iterdir():
        assert f"firstoff/content/data/{kept.name}" in names
    for kept in ROOT.joinpath("service/firstoff/store/queries").glob("*.rq"):
        assert f"firstoff/store/queries/{kept.name}" in names
    templates = [kept for kept in ROOT.joinpath("service/firstoff/sheet/templates").rglob("*") if kept.is_file()]
    assert len(templates) > 10
    for kept in templates:
        assert f"firstoff/{kept.relative_to(ROOT / 'service/firstoff')}" in names
    assert "firstoff/content/shared/context.jsonld" in names
    assert "firstoff_contract/removal.py" in names
    assert not [name for name in names if name.startswith("tests/")]


def test_installed_wheel_answers_from_an_empty_folder(wheel: Path, tmp_path: Path) -> None:
    """The packages it depends on are those of this environment; firstoff itself is the wheel's."""
    target, empty = tmp_path / "installed", tmp_path / "empty"
    empty.mkdir()
    subprocess.run(
        [sys.executable, "-m", "pip", "install", "--quiet", "--no-deps", "--target", str(target), str(wheel)],
        check=True,
        timeout=300,
    )

    def run(*arguments: str) -> str:
        done = subprocess.run(
            [sys.executable, *arguments],
            capture_output=True,
            text=True,
            timeout=120,
            cwd=empty,
            env={**os.environ, "PYTHONPATH": str(target)},
            check=False,
        )
        assert done.returncode == 0, done.stderr
        return done.stdout

    where = run("-c", "import firstoff.content as c; print(c.data_folder())").strip()
    assert Path(where).is_relative_to(target)
    plan = json.loads(run("-m", "firstoff.cli", "plan", "flb-316-t", "evaporator-fan", "--json"))
    assert plan["optimal"] is True
    assert plan["steps"]
    assert "Replace: evaporator fan" in run("-m", "firstoff.cli", "sheet", "flb-316-t", "evaporator-fan")
