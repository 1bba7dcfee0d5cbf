"""Engines to test on: real SPARQL servers in processes of their own, on free ports, in folders that are thrown away."""

from __future__ import annotations

import shutil
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Sequence
from pathlib import Path

from firstoff.collection.pointers import leftovers, pointers
from firstoff.store.credentials import PASSWORD, USER, Credentials
from firstoff.store.pointing import CATALOGUE, VOCABULARY
from firstoff.store.remote import RemoteStore

#: The engines that every store test runs on.
KINDS = ("memory", "folder", "oxigraph", "virtuoso")
#: Rows that the Virtuoso of the tests gives at most; the largest graph of the demo content has some 12,000.
VIRTUOSO_ROWS = 20_000


def free_port() -> int:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port: int = free.getsockname()[1]
        return port


class Server:
    """A server that can be stopped at once, as by a power cut, and started again at its address."""

    def __init__(
        self, command: Sequence[str], query: str, update: str, log: Path, credentials: Credentials | None = None
    ) -> None:
        self.query, self.update, self.credentials = query, update, credentials
        self._command, self._log = command, log
        self._process: subprocess.Popen[bytes] | None = None

    def start(self) -> None:
        """:raises AssertionError: it did not answer within a minute."""
        with self._log.open("ab") as log:
            self._process = subprocess.Popen(self._command, stdout=log, stderr=log)
        end = time.monotonic() + 60
        while time.monotonic() < end and self._process.poll() is None:
            try:
                with urllib.request.urlopen(f"{self.query}?query=ASK%7B%7D", timeout=5):
                    return
            except urllib.error.HTTPError:
                return
            except OSError:
                time.sleep(0.05)
        raise AssertionError(self._log.read_text(encoding="utf-8", errors="replace"))

    def stop(self, how: signal.Signals = signal.SIGKILL) -> None:
        if self._process is not None:
            self._process.send_signal(how)
            self._process.wait()
            self._process = None

    def start_again(self) -> None:
        """Start it where it was stopped."""
        if self._process is None:
            self.start()

    @property
    def environment(self) -> dict[str, str]:
        """What a service that publishes needs in its environment."""
        if self.credentials is None:
            return {}
        return {USER: self.credentials.user, PASSWORD: self.credentials.password}

    def store(self, *, seconds: float = 20.0) -> RemoteStore:
        """The engine as the service that publishes sees it."""
        return RemoteStore(self.query, self.update, seconds=seconds, credentials=self.credentials)

    def reader(self, *, seconds: float = 20.0) -> RemoteStore:
        """The engine as a service that only reads sees it."""
        return RemoteStore(self.query, seconds=seconds)


def oxigraph_command() -> str | None:
    """The Oxigraph server, from PyPI beside the interpreter, or elsewhere."""
    beside = Path(sys.executable).with_name("oxigraph")
    return str(beside) if beside.exists() else shutil.which("oxigraph")


def oxigraph(folder: Path) -> Server:
    """:raises AssertionError: it is not installed, or does not start."""
    command, port = oxigraph_command(), free_port()
    assert command is not None
    address = f"http://127.0.0.1:{port}"
    asked = [command, "serve", "--location", str(folder / "oxigraph"), "--bind", f"127.0.0.1:{port}"]
    return Server(asked, f"{address}/query", f"{address}/update", folder / "oxigraph.log")


def virtuoso_command() -> str | None:
    return shutil.which("virtuoso-t")


def virtuoso(folder: Path, rows: int = VIRTUOSO_ROWS) -> Server:
    """With the user and password of a fresh data base, which its documents name.

    :raises AssertionError: it is not installed, or does not start.
    """
    command, port, web = virtuoso_command(), free_port(), free_port()
    assert command is not None
    place = folder / "virtuoso"
    place.mkdir()
    settings = place / "virtuoso.ini"
    settings.write_text(
        f"""[Database]
DatabaseFile={place}/v.db
ErrorLogFile={place}/v.log
LockFile={place}/v.lck
TransactionFile={place}/v.trx
xa_persistent_file={place}/v.pxa
[TempDatabase]
DatabaseFile={place}/t.db
TransactionFile={place}/t.trx
[Parameters]
ServerPort=127.0.0.1:{port}
DisableUnixSocket=1
NumberOfBuffers=10000
MaxDirtyBuffers=6000
DirsAllowed={place}
[HTTPServer]
ServerPort=127.0.0.1:{web}
ServerRoot={place}
ServerThreads=10
[SPARQL]
ResultSetMaxRows={rows}
""",
        encoding="utf-8",
    )
    address = f"http://127.0.0.1:{web}"
    return Server(
        [command, "+foreground", "+configfile", str(settings)],
        f"{address}/sparql",
        f"{address}/sparql-auth",
        folder / "virtuoso.log",
        Credentials("dba", "dba"),
    )


def emptied(store: RemoteStore, *, words_stay: bool = False) -> RemoteStore:
    """The store without what other tests left in it, but for the vocabularies where they may stay."""
    for platform in pointers(store):
        if not (words_stay and platform == VOCABULARY):
            store.withdraw(platform)
    for graph in leftovers(store):
        store.drop(graph)
    if not words_stay:
        store.drop(CATALOGUE)
    return store
