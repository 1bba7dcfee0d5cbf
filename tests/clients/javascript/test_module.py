"""The module by itself: its unit tests, its size, and that it names every address to read."""

from __future__ import annotations

import gzip
import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parents[3]
CLIENT = ROOT / "clients" / "javascript"
UNIT = sorted((Path(__file__).parent / "unit").glob("*.test.mjs"))
MODULES = [file for file in sorted(CLIENT.glob("*.js")) if file.name != "example.js"]

#: Addresses that a method of their own asks, since they are asked by more than names and options.
OF_THEIR_OWN = {
    "GET /v1/search": "search",
    "GET /v1/suggest": "suggest",
    "GET /v1/models/{model}/removal-plan": "removalPlan",
    "POST /v1/models/{model}/removal-plan": "removalPlan",
    "GET /v1/models/{model}/diagnosis": "diagnosis",
    "POST /v1/models/{model}/diagnosis": "diagnosis",
    "POST /v1/models/{model}/safety-record": "judgeRecord",
    "POST /v1/outcomes": "outcome",
}

#: For tools of their own: clients of SPARQL, scrapers of metrics.
NOT_ASKED = {"GET /sparql", "POST /sparql", "GET /metrics"}


@pytest.mark.parametrize("file", UNIT, ids=[file.stem for file in UNIT])
def test_unit(node: Callable[..., Any], file: Path) -> None:
    done = node("--test-reporter=tap", file)
    assert done.returncode == 0, done.stdout
    assert re.search(r"^# pass [1-9]\d", done.stdout, re.M), done.stdout


def test_every_address_to_read_has_a_method(node: Callable[..., Any]) -> None:
    script = f"""
    const {{ READING }} = await import({json.dumps((CLIENT / "reading.js").as_uri())})
    const {{ Firstoff }} = await import({json.dumps((CLIENT / "firstoff.js").as_uri())})
    const methods = {json.dumps(sorted({*OF_THEIR_OWN.values()}))}
    const missing = [...Object.keys(READING), ...methods].filter((name) => !(name in Firstoff.prototype))
    console.log(JSON.stringify({{ addresses: Object.values(READING), missing }}))
    """
    done = node("--input-type=module", "--eval", script)
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    assert found["missing"] == []
    described = json.loads((ROOT / "shared" / "openapi.json").read_text(encoding="utf-8"))["paths"]
    every = {f"{method.upper()} {path}" for path, methods in described.items() for method in methods}
    reading = {f"GET {address}" for address in found["addresses"]}
    assert not reading & OF_THEIR_OWN.keys()
    # What authors send has no method: publishing is for tools that have post and headers of their own.
    writing = {each for each in every if not each.startswith("GET ") and " /v1/graphs" in each}
    assert reading | OF_THEIR_OWN.keys() == every - writing - NOT_ASKED


def test_modules_import_only_each_other() -> None:
    for file in MODULES:
        for name in re.findall(r"""(?:from|import)\s*\(?['"]([^'"]+)['"]""", file.read_text(encoding="utf-8")):
            if name == "node:crypto":  # where a runtime has no crypto of its own: Node 18
                continue
            assert name.startswith("./"), f"{file.name} imports {name}"
            typed = CLIENT / name.removeprefix("./").replace(".js", ".d.ts")
            assert (CLIENT / name).is_file() or typed.is_file(), f"{file.name} imports {name}"


def test_module_is_small() -> None:
    sizes = {file.name: len(gzip.compress(file.read_bytes(), 9)) for file in MODULES}
    assert sum(sizes.values()) < 12_000, sizes
    assert all(len(file.read_text(encoding="utf-8").splitlines()) < 300 for file in MODULES)


def test_tools_come_from_the_public_registry_alone() -> None:
    text = (CLIENT / "package-lock.json").read_text(encoding="utf-8")
    assert set(re.findall(r"https?://([^/\"]+)/[^\"]+\.tgz", text)) <= {"registry.npmjs.org"}
    package = json.loads((CLIENT / "package.json").read_text(encoding="utf-8"))
    assert package["private"] is True
    assert "dependencies" not in package
