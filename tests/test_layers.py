"""The layers of the package, by reading its imports: who may know whom, and how large a module may be."""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import networkx as nx
import pytest

import firstoff

PACKAGE = Path(firstoff.__file__).parent
MOST_LINES, MOST_FUNCTION_LINES = 500, 60

READ_MODEL = {"firstoff.appliance.model", "firstoff.appliance.circuit", "firstoff.appliance.terms"}
PURE = ("removal", "energy", "diagnosis", "search", "handover")
BELOW_API = (
    *PURE,
    "store",
    "appliance",
    "collection",
    "outcomes",
    "sparql",
    "authoring",
    "answers",
    "sheet",
    "drawing",
    "reference",
    "content",
    "errors",
    "settings",
    "access",
    "configuration",
    "logs",
    "tables",
    "assistants",
)
HTTP = {"fastapi", "starlette", "uvicorn", "httpx"}
RDF = {"rdflib", "pyoxigraph", "pyshacl"}


@dataclass(frozen=True)
class Import:
    """One import: the module that has it, what it names, and whether it stands inside a function."""

    module: str
    names: str
    inside: bool

    @property
    def top(self) -> str:
        return self.names.split(".")[0]


def module_name(path: Path) -> str:
    parts = ("firstoff", *path.relative_to(PACKAGE).with_suffix("").parts)
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def imports_in(tree: ast.Module, module: str, is_package: bool) -> Iterator[Import]:
    """Every import of a module, each ``from x import y`` as ``x.y``, relative ones made absolute."""
    functions = [node for node in ast.walk(tree) if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef))]
    inside = {id(node) for function in functions for node in ast.walk(function)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield Import(module, alias.name, id(node) in inside)
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            if node.level:
                parents = module.split(".")[: len(module.split(".")) - node.level + is_package]
                base = ".".join([*parents, *([node.module] if node.module else [])])
            for alias in node.names:
                yield Import(module, f"{base}.{alias.name}", id(node) in inside)


@cache
def sources() -> dict[str, tuple[Path, str]]:
    return {module_name(path): (path, path.read_text(encoding="utf-8")) for path in sorted(PACKAGE.rglob("*.py"))}


@cache
def imports() -> tuple[Import, ...]:
    found: list[Import] = []
    for module, (path, text) in sources().items():
        found.extend(imports_in(ast.parse(text), module, path.name == "__init__.py"))
    return tuple(found)


def room(module: str) -> str:
    """The second part of a module's name: ``removal`` for ``firstoff.removal.solver``."""
    return [*module.split("."), ""][1]


def of_rooms(*rooms: str) -> list[Import]:
    return [each for each in imports() if room(each.module) in rooms]


def target(names: str) -> str | None:
    """The module of the package that an import reaches, None for one from outside."""
    while names and names not in sources():
        names = names.rpartition(".")[0]
    return names if names.startswith("firstoff") else None


def told(found: list[Import]) -> list[str]:
    return sorted(f"{each.module} imports {each.names}" for each in found)


# --- the reading of imports itself -----------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "names", "inside"),
    [
        ("import a.b", ["a.b"], False),
        ("import a, b as c", ["a", "b"], False),
        ("from a.b import c, d", ["a.b.c", "a.b.d"], False),
        ("from . import x", ["firstoff.store.x"], False),
        ("from .y import x", ["firstoff.store.y.x"], False),
        ("from ..errors import E", ["firstoff.errors.E"], False),
        ("def f():\n    import uvicorn", ["uvicorn"], True),
        ("if True:\n    import uvicorn", ["uvicorn"], False),
        ("class A:\n    async def f(self):\n        from a import b", ["a.b"], True),
    ],
)
def test_imports_are_read(text: str, names: list[str], inside: bool) -> None:
    found = list(imports_in(ast.parse(text), "firstoff.store.embedded", is_package=False))
    assert [each.names for each in found] == names
    assert {each.inside for each in found} == {inside}


def test_a_package_is_its_own_parent() -> None:
    (found,) = imports_in(ast.parse("from .x import y"), "firstoff.store", is_package=True)
    assert found.names == "firstoff.store.x.y"


def test_the_rooms_are_there() -> None:
    rooms = {room(module) for module in sources()}
    assert {*BELOW_API, "api", "commands", "cli"} <= rooms
    unplaced = rooms - {*BELOW_API, "api", "commands", "cli", ""}
    assert not unplaced, "say above in which layer they are"
    assert "firstoff.store.embedded" in sources()
    assert target("firstoff.store.terms.Iri") == "firstoff.store.terms"
    assert target("rdflib.Graph") is None


# --- who may know whom -----------------------------------------------------------------------------


@pytest.mark.parametrize("pure", PURE)
def test_a_pure_room_knows_itself_and_the_read_model(pure: str) -> None:
    allowed = {pure, "appliance"} if pure != "search" else {pure}
    own = of_rooms(pure)
    assert own
    within = [each for each in own if each.top == "firstoff"]
    assert told([each for each in within if room(target(each.names) or "") not in allowed]) == []
    model = [each for each in within if room(target(each.names) or "") == "appliance"]
    assert told([each for each in model if target(each.names) not in READ_MODEL]) == []
    assert told([each for each in own if each.top in HTTP | RDF | {"firstoff_contract", "pydantic", "typer"}]) == []


def test_the_sheet_knows_what_it_prints_alone() -> None:
    own = of_rooms("sheet")
    within = [each for each in own if each.top == "firstoff"]
    allowed = {"sheet", "removal", "appliance"}
    assert told([each for each in within if room(target(each.names) or "") not in allowed]) == []
    reached = {target(each.names) for each in within} - {each.module for each in own}
    assert {name for name in reached if name and room(name) != "sheet"} == {
        "firstoff.appliance.model",
        "firstoff.removal.graph",
    }
    assert {each.top for each in own} - {"firstoff", *sys.stdlib_module_names} == {
        "firstoff_contract",
        "jinja2",
        "markupsafe",
    }
    assert {each.module for each in own if each.top == "jinja2"} == {"firstoff.sheet.templating"}


def test_the_drawing_knows_energy_and_how_a_sheet_is_lettered() -> None:
    own = of_rooms("drawing")
    within = [each for each in own if each.top == "firstoff"]
    allowed = {"drawing", "energy", "sheet", "appliance"}
    assert told([each for each in within if room(target(each.names) or "") not in allowed]) == []
    reached = {target(each.names) for each in within}
    assert {name for name in reached if name and room(name) not in ("drawing", "energy")} == {
        "firstoff.appliance.circuit",
        "firstoff.appliance.model",
        "firstoff.sheet.lettering",
        "firstoff.sheet.templating",
        "firstoff.sheet.words",
    }
    assert {each.top for each in own} - {"firstoff", *sys.stdlib_module_names} == {"markupsafe"}


def test_the_reference_knows_the_glossary_and_how_a_sheet_is_lettered() -> None:
    own = of_rooms("reference")
    reached = {target(each.names) for each in own if each.top == "firstoff"}
    assert {name for name in reached if name and room(name) != "reference"} == {
        "firstoff.authoring.glossary",
        "firstoff.authoring.workbook.sheets",
        "firstoff.sheet.layout",
        "firstoff.sheet.lettering",
        "firstoff.sheet.policy",
        "firstoff.sheet.templating",
        "firstoff.sheet.words",
    }
    assert {each.top for each in own} - {"firstoff", *sys.stdlib_module_names} == {"markupsafe"}


def test_the_read_model_knows_the_standard_library_only() -> None:
    own = [each for each in imports() if each.module in READ_MODEL]
    assert {each.module for each in own} == READ_MODEL
    assert (
        told([each for each in own if target(each.names) not in READ_MODEL and each.top not in sys.stdlib_module_names])
        == []
    )


def test_appliance_knows_no_http_and_nothing_above_it() -> None:
    allowed = {"appliance", "store", "errors"}
    own = of_rooms("appliance")
    above = [each for each in own if each.top == "firstoff" and room(target(each.names) or "") not in allowed]
    assert told(above) == []
    assert told([each for each in own if each.top in HTTP | RDF]) == []


def test_nothing_below_the_routes_knows_http() -> None:
    assert told([each for each in of_rooms(*BELOW_API) if each.top in HTTP]) == []


def test_the_command_line_takes_its_server_only_when_it_serves() -> None:
    own = [each for each in of_rooms("cli", "commands") if each.top in HTTP]
    assert told([each for each in own if not (each.top == "uvicorn" and each.inside)]) == []


def test_the_protocol_of_assistants_is_known_to_its_server_alone() -> None:
    users = {each.module for each in imports() if each.top in ("mcp", "mcp_types")}
    assert users == {"firstoff.assistants.server", "firstoff.commands.assisting"}
    commands = [each for each in of_rooms("cli", "commands") if each.top == "mcp" or "assistants" in each.names]
    assert told([each for each in commands if not each.inside and not each.names.endswith(".Source")]) == []


def test_the_tools_of_assistants_ask_the_desk_alone() -> None:
    allowed = {"assistants", "answers", "tables", "search", "errors", "content", ""}
    own = [each for each in of_rooms("assistants") if each.top == "firstoff"]
    assert own
    assert told([each for each in own if room(target(each.names) or "") not in allowed]) == []


def test_triples_are_known_to_store_and_authoring_alone() -> None:
    users = {room(each.module) for each in imports() if each.top in RDF}
    assert users == {"store", "authoring", "sparql"}
    assert {each.top for each in of_rooms("store")} & RDF == {"pyoxigraph"}


def test_rooms_make_no_circle() -> None:
    graph = nx.DiGraph()
    for each in imports():
        reached = target(each.names)
        if reached is not None and room(reached) and room(each.module) and room(reached) != room(each.module):
            graph.add_edge(room(each.module), room(reached))
    assert graph.number_of_edges() > 10
    assert list(nx.simple_cycles(graph)) == []


def test_modules_make_no_circle() -> None:
    graph = nx.DiGraph()
    for each in imports():
        reached = target(each.names)
        if reached is not None and reached != each.module and not each.inside:
            graph.add_edge(each.module, reached)
    assert list(nx.simple_cycles(graph)) == []


def test_only_the_application_and_the_commands_know_the_routes() -> None:
    users = {room(each.module) for each in imports() if room(target(each.names) or "") == "api"}
    assert users <= {"api", "commands"}


# --- sizes -----------------------------------------------------------------------------------------


def test_modules_are_small() -> None:
    lines = {module: len(text.splitlines()) for module, (_, text) in sources().items()}
    assert {module: count for module, count in lines.items() if count > MOST_LINES} == {}


def test_functions_are_small() -> None:
    long: dict[str, int] = {}
    for module, (_, text) in sources().items():
        for node in ast.walk(ast.parse(text)):
            if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
                size = (node.end_lineno or node.lineno) - node.lineno + 1
                if size > MOST_FUNCTION_LINES:
                    long[f"{module}.{node.name}"] = size
    assert long == {}
