"""The README's example is the file beside it and prints what the README says, and the README names every method."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

CLIENT = Path(__file__).resolve().parents[3] / "clients" / "javascript"


def block(after: str) -> str:
    found = re.search(rf"^```{after}\n(.*?)^```$", (CLIENT / "README.md").read_text(encoding="utf-8"), re.M | re.S)
    assert found, after
    return found[1]


def test_example_stands_in_the_readme() -> None:
    assert block("js") == (CLIENT / "example.js").read_text(encoding="utf-8")


def test_example_prints_what_the_readme_says(node: Callable[..., Any], service: str) -> None:
    done = node(CLIENT / "example.js", service)
    assert done.returncode == 0, done.stderr
    command, _, expected = block("console").partition("\n")
    assert command == "$ node example.js http://localhost:8080"
    assert done.stdout == expected


def test_lines_in_the_readme_of_the_service_run(node: Callable[..., Any], service: str) -> None:
    """What stands behind ``//`` is what is printed."""
    text = (CLIENT.parents[1] / "README.md").read_text(encoding="utf-8")
    (lines,) = re.findall(r"^```js\n(.*?)^```$", text, re.M | re.S)
    script = lines.replace("./clients/javascript", CLIENT.as_uri()).replace("http://localhost:8080", service)
    done = node("--input-type=module", "--eval", script)
    assert done.returncode == 0, done.stderr
    assert done.stdout.splitlines() == re.findall(r"// (.*)$", lines, re.M)


def test_example_says_when_there_is_no_signal(node: Callable[..., Any]) -> None:
    done = node(CLIENT / "example.js", "http://127.0.0.1:9")
    assert done.returncode == 0, done.stderr
    assert done.stdout == "There is no signal: go by what was taken along.\n"


def test_every_method_is_in_the_readme(node: Callable[..., Any]) -> None:
    module = (CLIENT / "firstoff.js").as_uri()
    script = (
        f"const {{ Firstoff }} = await import('{module}')\n"
        "const names = (of) => Object.getOwnPropertyNames(of)\n"
        "const own = Firstoff.prototype\n"
        "console.log([...names(own), ...names(Object.getPrototypeOf(own))].join(' '))"
    )
    done = node("--input-type=module", "--eval", script)
    assert done.returncode == 0, done.stderr
    named = set(re.findall(r"`(\w+)", (CLIENT / "README.md").read_text(encoding="utf-8")))
    assert set(done.stdout.split()) - named == {"constructor"}
