"""Pure functions of the clients' modules, called in Node: one process for a whole test."""

from __future__ import annotations

import json
import shutil
import subprocess
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
ANSWERING = ROOT / "tests" / "clients" / "offline" / "answer.mjs"


def called(
    needed: Callable[[object, str], None],
    module: str,
    call: str,
    calls: Iterable[list[Any]],
    kept: Mapping[str, Any] | None = None,
) -> list[dict[str, Any]]:
    """What ``call`` of ``module`` (below ``clients/``) gives for each list of arguments, as {value} or {error}.

    An argument ``{"kept": name}`` stands for that of ``kept``. Numbers come back as floats.
    """
    node = shutil.which("node")
    needed(node, "node")
    address = (ROOT / "clients" / module).as_uri()
    lines = [{"keep": name, "value": value} for name, value in (kept or {}).items()]
    lines += [{"module": address, "call": call, "args": args} for args in calls]
    told = subprocess.run(
        [node or "", str(ANSWERING)],
        input="\n".join(map(json.dumps, lines)),
        capture_output=True,
        text=True,
        check=False,
        timeout=600,
    )
    assert told.returncode == 0, told.stderr
    return [json.loads(line, parse_int=float) for line in told.stdout.splitlines()]


def plain(text: str) -> str:
    """A JSON text in which equal values, and those alone, are spelt alike: 230 as 230.0, members sorted."""
    return json.dumps(json.loads(text, parse_int=float), sort_keys=True)
