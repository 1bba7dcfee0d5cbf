"""Types: those of the contract are up to date, and the module, its example and what must not pass are checked."""

from __future__ import annotations

import difflib
import json
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parents[3]
CLIENT = ROOT / "clients" / "javascript"
REMAKE = "shared/openapi.json has changed: run `npm ci && npm run types` in clients/javascript."

#: A line for each mistake, beside the error that the compiler has for it.
MISTAKES = {
    "await firstoff.livePoints('m', { opend: ['a'] })": "TS2561",
    "await firstoff.livePoints('m', { opened: 'a' })": "TS2322",
    "await firstoff.component('m')": "TS2554",
    "await firstoff.search()": "TS2554",
    "await firstoff.removalPlan('m', { minimise: 'effort' })": "TS2322",
    "await firstoff.diagnosis('m', { symptom: ['a'] })": "TS2561",
    "await firstoff.outcome({ fault: 'f' })": "TS2345",
    "const { condition } = (await firstoff.livePoints('m')).points[0]": "TS2339",
    "const minutes = (await firstoff.supplyPicture('m')).minutes": "TS2339",
    "for await (const part of firstoff.allComponents('m')) part.nothing": "TS2339",
}


def equipped(tools: Path, parent: Path) -> Path:
    """The client's folder with its tools, in a copy of its own below ``parent``."""
    folder = parent / "clients" / "javascript"
    shutil.copytree(CLIENT, folder, ignore=shutil.ignore_patterns("node_modules"))
    (parent / "shared").symlink_to(ROOT / "shared")
    (folder / "node_modules").symlink_to(tools)
    return folder


def test_types_are_those_of_the_contract(node: Callable[..., Any], tools: Path, tmp_path: Path) -> None:
    workshop = equipped(tools, tmp_path)
    made = node(workshop / "development" / "types.mjs", "--print", cwd=workshop)
    assert made.returncode == 0, made.stderr
    kept = (CLIENT / "types.d.ts").read_text(encoding="utf-8")
    changed = difflib.unified_diff(kept.splitlines(), made.stdout.splitlines(), "kept", "made", n=1, lineterm="")
    assert kept == made.stdout, "\n".join([REMAKE, *list(changed)[:30]])


PROGRAM = """
import { Firstoff, type ProblemError } from './firstoff.js'
const plan = await new Firstoff().removalPlan('m', { reach: ['p'], tools: [], signal: null })
const minutes: number = plan.minutes
const kind = (error: ProblemError): string => error.kind
export { kind, minutes }
"""


@pytest.fixture(scope="module")
def told(node: Callable[..., Any], tools: Path, tmp_path_factory: pytest.TempPathFactory) -> list[str]:
    """What the compiler says, strict, to the module, its example, a program in TypeScript and the mistakes."""
    folder = equipped(tools, tmp_path_factory.mktemp("compiled"))
    lines = [f"{{ {mistake} }}" for mistake in MISTAKES]
    head = "import { Firstoff } from './firstoff.js'\nconst firstoff = new Firstoff()\n"
    (folder / "mistakes.js").write_text(head + "\n".join(lines) + "\n", encoding="utf-8")
    (folder / "program.ts").write_text(PROGRAM, encoding="utf-8")
    settings = json.loads((folder / "tsconfig.json").read_text(encoding="utf-8"))
    assert settings["compilerOptions"]["strict"] is settings["compilerOptions"]["checkJs"] is True
    assert {"*.js", "*.d.ts"} == set(settings["include"])
    settings["include"].append("program.ts")
    (folder / "tsconfig.json").write_text(json.dumps(settings), encoding="utf-8")
    checked = node(folder / "node_modules" / "typescript" / "bin" / "tsc", "--project", folder, cwd=folder)
    assert "mistakes.js" in checked.stdout, checked.stdout + checked.stderr
    return [line for line in checked.stdout.splitlines() if not line.startswith(" ")]


def test_module_example_and_program_pass_the_compiler(told: list[str]) -> None:
    assert [line for line in told if not line.startswith("mistakes.js(")] == []


@pytest.mark.parametrize("mistake", MISTAKES)
def test_mistake_does_not_pass_the_compiler(told: list[str], mistake: str) -> None:
    place = f"mistakes.js({3 + list(MISTAKES).index(mistake)},"
    assert [MISTAKES[mistake] in line for line in told if line.startswith(place)] == [True]
