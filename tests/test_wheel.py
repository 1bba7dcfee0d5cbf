"""A wheel built from the tree carries ontology, data and queries, and answers from an empty folder."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from firstoff.api.phone_routes import phone_files

ROOT = Path(__file__).resolve().parents[1]


def built(project: Path, folder: Path) -> Path:
    """The wheel of the project in a folder of the tree."""
    done = subprocess.run(
        [sys.executable, "-m", "build", "--wheel", "--outdir", str(folder), str(project)],
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return next(folder.glob("*.whl"))


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return built(ROOT, tmp_path_factory.mktemp("wheel"))


@pytest.fixture(scope="module")
def client_wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return built(ROOT / "clients" / "python", tmp_path_factory.mktemp("client"))


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
    assert {f"firstoff/content/clients/{name}" for name in phone_files()} <= names
    assert not [name for name in names if name.startswith("tests/")]


def test_client_is_whole_and_has_no_file_of_the_service(wheel: Path, client_wheel: Path) -> None:
    with zipfile.ZipFile(client_wheel) as archive:
        names = set(archive.namelist())
    for folder in ("clients/python/firstoff_client", "shared/firstoff_contract"):
        for kept in ROOT.joinpath(folder).rglob("*.py"):
            inside = str(kept.relative_to(ROOT / folder))
            under = "firstoff_client" if folder.startswith("clients") else "firstoff_client/contract"
            assert f"{under}/{inside}" in names
    assert {"firstoff_client/py.typed", "firstoff_client/contract/py.typed"} <= names
    with zipfile.ZipFile(wheel) as archive:
        assert names.isdisjoint(archive.namelist())


def test_client_alone_reads_an_answer(client_wheel: Path, tmp_path: Path) -> None:
    """With nothing of the service, its contract included, to be imported."""
    target = tmp_path / "installed"
    subprocess.run(
        [sys.executable, "-m", "pip", "install", "--quiet", "--no-deps", "--target", str(target), str(client_wheel)],
        check=True,
        timeout=300,
    )
    example = ROOT / "shared" / "firstoff_contract" / "examples" / "v1_models_model_removal-plan.json"
    script = f"""
import importlib.abc, pathlib, sys
class Nothing(importlib.abc.MetaPathFinder):
    def find_spec(self, name, path, target=None):
        if name.partition(".")[0] in ("firstoff", "firstoff_contract"):
            raise ModuleNotFoundError(name)
sys.meta_path.insert(0, Nothing())
import httpx2
from firstoff_client import Firstoff
answer = httpx2.Response(200, content=pathlib.Path({str(example)!r}).read_bytes(),
                         headers={{"content-type": "application/json"}})
http = httpx2.Client(transport=httpx2.MockTransport(lambda request: answer))
plan = Firstoff("http://shop.example", http=http).removal_plan("tgd27-460-s", "drum-belt")
print(pathlib.Path(sys.modules["firstoff_client"].__file__).parent, type(plan).__module__, len(plan.steps) > 3)
"""
    done = subprocess.run(
        [sys.executable, "-c", script],
        capture_output=True,
        text=True,
        timeout=120,
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(target)},
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.split() == [str(target / "firstoff_client"), "firstoff_client.contract.removal", "True"]


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
