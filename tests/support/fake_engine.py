"""A server that answers as a test tells it to: late, in drops, cut, wrongly."""

from __future__ import annotations

import threading
from collections.abc import Callable
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any

Answer = Callable[[BaseHTTPRequestHandler], None]
RESULTS = "application/sparql-results+json"
ROWS = b'{"head":{"vars":["graph","number"]},"results":{"bindings":[%s]}}'
ROW = b'{"graph":{"type":"uri","value":"http://x/g"},"number":{"type":"literal","value":"1"}}'


class FakeEngine:
    """On a free port of this machine, until ``stop``; ``asked`` counts requests, ``let_go`` ends those that hang."""

    def __init__(self, answer: Answer) -> None:
        fake = self
        self.asked = 0
        self.headers: list[dict[str, str]] = []
        self.let_go = threading.Event()

        class Handler(BaseHTTPRequestHandler):
            protocol_version = "HTTP/1.1"

            def do_POST(self) -> None:
                self.rfile.read(int(self.headers.get("content-length", 0)))
                fake.asked += 1
                fake.headers.append({name.lower(): value for name, value in self.headers.items()})
                answer(self)

            def log_message(self, *_: Any) -> None:
                pass

        self._server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
        self._server.daemon_threads = True
        self._thread = threading.Thread(target=self._server.serve_forever, kwargs={"poll_interval": 0.02})
        self._thread.start()

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self._server.server_port}/query"

    def stop(self) -> None:
        self.let_go.set()
        self._server.shutdown()
        self._server.server_close()
        self._thread.join()


def says(body: bytes, media: str = RESULTS, status: int = 200, **headers: str) -> Answer:
    """One whole answer."""

    def answer(handler: BaseHTTPRequestHandler) -> None:
        handler.send_response(status)
        handler.send_header("content-type", media)
        handler.send_header("content-length", str(len(body)))
        for name, value in headers.items():
            handler.send_header(name.replace("_", "-"), value)
        handler.end_headers()
        handler.wfile.write(body)

    return answer
