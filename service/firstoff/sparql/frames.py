"""Messages through a pipe: a length, a head in JSON, a body of bytes."""

from __future__ import annotations

import json
import struct
from collections.abc import Mapping
from typing import Any, BinaryIO

_LENGTHS = struct.Struct(">II")
HEAD_BYTES = _LENGTHS.size


def frame(head: Mapping[str, Any], body: bytes = b"") -> bytes:
    """``head`` and ``body`` as one message."""
    written = json.dumps(head).encode()
    return _LENGTHS.pack(len(written), len(body)) + written + body


def lengths(start: bytes) -> tuple[int, int]:
    """How long head and body are, from the first ``HEAD_BYTES``."""
    head, body = _LENGTHS.unpack(start)
    return head, body


def read_frame(source: BinaryIO) -> tuple[dict[str, Any], bytes] | None:
    """The next message; None where the other end has gone."""
    start = source.read(HEAD_BYTES)
    if len(start) < HEAD_BYTES:
        return None
    head, body = lengths(start)
    found = source.read(head + body)
    if len(found) < head + body:
        return None
    return json.loads(found[:head]), found[head:]
