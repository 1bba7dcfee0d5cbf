"""Behind each wall nothing is reached any more, even by a query that no guard has looked at."""

from __future__ import annotations

import socket
import subprocess
import sys
from pathlib import Path

import pyoxigraph as ox
import pytest

#: Opens a store, puts up a wall, queries the store, and asks a service at the port that is given.
SCRIPT = """
import sys
import pyoxigraph as ox
from firstoff.sparql import walls
wall, folder, port = sys.argv[1:]
print(walls.without_network() if wall == "network" else None)
store = ox.Store.read_only(folder)
if wall == "files":
    walls.without_new_files()
    try:
        open("/etc/hostname")
        print("opened")
    except OSError:
        pass
print(sum(1 for _ in store.query("SELECT * { GRAPH ?g { ?s ?p ?o } }")))
try:
    list(store.query(f"SELECT * {{ SERVICE <http://127.0.0.1:{port}/> {{ ?s ?p ?o }} }}"))
except Exception as error:
    print(type(error).__name__)
"""


@pytest.mark.parametrize("wall", ["none", "network", "files"])
def test_a_service_is_out_of_reach(wall: str, tmp_path: Path) -> None:
    store = ox.Store(str(tmp_path / "store"))
    node = ox.NamedNode("http://x/y")
    store.bulk_extend([ox.Quad(node, node, ox.Literal(str(each)), node) for each in range(3000)])
    store.flush()
    store.optimize()
    del store
    with socket.create_server(("127.0.0.1", 0)) as listening:
        listening.settimeout(0.5)
        process = subprocess.Popen(
            [sys.executable, "-c", SCRIPT, wall, str(tmp_path / "store"), str(listening.getsockname()[1])],
            stdout=subprocess.PIPE,
            text=True,
        )
        reached = False
        with process:
            try:
                listening.settimeout(30.0 if wall == "none" else 0.5)
                while process.poll() is None and not reached:
                    try:
                        connection, _ = listening.accept()
                        connection.close()
                        reached = True
                    except TimeoutError:
                        continue
                said = (process.stdout.read() if process.stdout else "").split()
            finally:
                process.kill()
    if wall == "network" and said[0] == "False":
        return  # this system lets no process leave its network; the wall of files stands in for it
    assert reached is (wall == "none")
    assert said[1:2] == ["3000"]
    assert len(said) == 3  # an error, no rows


def test_memory_is_capped(tmp_path: Path) -> None:
    script = "from firstoff.sparql import walls; walls.within(300_000_000); bytearray(400_000_000)"
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, timeout=60, check=False)
    assert done.returncode != 0
    assert "MemoryError" in done.stderr
