"""Bodies of JSON: not JSON, JSON that is not what was asked for, and more of it than anybody needs."""

from __future__ import annotations

from typing import Any

from hostile.inputs import MODEL, TEXTS, Hostile, posting, said

_ADDRESSES = [f"{MODEL}/removal-plan", f"{MODEL}/diagnosis", f"{MODEL}/safety-record", "/v1/outcomes"]

_NOT_JSON: dict[str, bytes] = {
    "nothing": b"",
    "spaces": b"   \n",
    "a null byte": b"\x00",
    "half an object": b'{"reach": ["drum-belt"',
    "half a text": b'{"reach": ["drum',
    "two objects": b'{"reach": []}{"reach": []}',
    "a comma too many": b'{"reach": ["drum-belt",],}',
    "single quotes": b"{'reach': ['drum-belt']}",
    "a comment": b'{"reach": [] /* all */}',
    "NaN": b'{"reach": NaN}',
    "Infinity": b'{"readings": [{"value": Infinity}], "reach": Infinity}',
    "a byte order mark": b'\xef\xbb\xbf{"reach": ["drum-belt"]}',
    "UTF-16": '{"reach": ["drum-belt"]}'.encode("utf-16"),
    "UTF-32": '{"reach": ["drum-belt"]}'.encode("utf-32"),
    "broken UTF-8": b'{"reach": ["\xff\xfe"]}',
    "overlong UTF-8": b'{"reach": ["\xc0\xae"]}',
    "a raw control character": b'{"reach": ["a\x01b"]}',
    "a broken escape": b'{"reach": ["\\x41"]}',
    "half a surrogate": b'{"reach": ["\\ud800"], "symptoms": ["\\ud800"], "model": "\\udfff"}',
    "an escaped null": b'{"reach": ["\\u0000"], "symptoms": ["\\u0000"], "model": "\\u0000"}',
    "lists a hundred thousand deep": b"[" * 100_000,
    "objects fifty thousand deep": b'{"a":' * 50_000 + b"1" + b"}" * 50_000,
    "an integer of 300,000 digits": b'{"reach": ' + b"9" * 300_000 + b"}",
    "an exponent of a million": b'{"reach": 1e1000000}',
    "a key twice": b'{"reach": ["drum-belt"], "reach": ["no-such-part"]}',
    "a form": b"reach=drum-belt&off=top-panel",
    "XML": b'<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b SYSTEM "file:///etc/passwd">]><a>&b;</a>',
    "a pickle": b"\x80\x04\x95\x10\x00\x00\x00\x00\x00\x00\x00\x8c\x05posix\x94\x8c\x06system\x94\x93\x94.",
    "YAML": b"!!python/object/apply:os.system ['id']",
    "gzip": b"\x1f\x8b\x08\x00\x00\x00\x00\x00\x00\x03\xab\xae\x05\x00C\xbf\xa6\xa3\x02\x00\x00\x00",
}

_NOT_OBJECTS: list[Any] = [None, True, 0, -1, 1.5, "", "text", [], [[]], [{}], [None], {"": None}, {"__proto__": {}}]

_LONG = ["part-" + str(number) for number in range(2_000)]
_WRONG: list[tuple[int, Any]] = [
    (0, {"reach": "drum-belt"}), (0, {"reach": [None]}), (0, {"reach": [[]]}), (0, {"reach": {}}), (0,
    {"reach": _LONG}),
    (0, {"reach": ["a" * 100_000]}), (0, {"reach": ["drum-belt"], "off": _LONG}), (0, {"reach": ["drum-belt"] * 900}),
    (0, {"reach": ["drum-belt"], "serial": 5}), (0, {"reach": ["drum-belt"], "serial": "9" * 5_000}),
    (0, {"reach": ["drum-belt"], "minimise": "everything"}), (0, {"reach": ["drum-belt"], "limits": ["none"] * 50}),
    (0, {"reach": ["drum-belt"], "states": ["supply-isolated"] * 100}), (0, {"reach": ["drum-belt"], "tools": [1]}),
    (0, {"reach": ["drum-belt"], "states": ["tilted", "upright", "pulled-out", "in-place"]}),
    (0, {"reach": ["drum-belt"], "unknown": True}), (0, {"reach": ["drum-belt:replace:replace"]}),
    (1, {"symptoms": ["no-heat"] * 50}), (1, {"symptoms": ["no-heat"] * 51}), (1, {"symptoms": [None]}),
    (1, {"symptoms": ["no-heat"], "absent": ["no-heat"]}), (1, {"outcomes": [{}]}), (1, {"outcomes": [{"check": 1}]}),
    (1, {"outcomes": [{"check": "no-such-check", "outcome": "none"}]}), (1, {"outcomes": "all"}),
    (1, {"readings": [{"check": "x", "measured": "1e999"}]}), (1, {"readings": [{"measured": "-OL"}]}),
    (1, {"codes": ["E" * 10_000]}), (1, {"codes": ["e 5"] * 20}), (1, {"tried": ["a"] * 101}), (1, {"tree": "yes"}),
    (1, {"symptoms": ["no-heat"], "tried": ["remedy-replace-heater"] * 100, "tree": True}),
    (1, {"symptoms": ["warm" * 2_000]}), (1, {"off": [0.1]}), (1, {"tools": None}), (1, {"serial": {}}),
    (2, {"readings": [{"line": "x", "value": "1e999"}] * 200}), (2, {"readings": [{}] * 201}), (2, {"readings": [[]]}),
    (2, {"readings": [{"line": "earth-continuity", "value": -1, "unit": "ohm"}]}), (2, {"confirmed": [{"by": "\x00"}]}),
    (2, {"done": ["a" * 9_000]}), (2, {"done": "all"}), (2, {"done": [None]}), (2, {"readings": [{"line": None}]}),
    (3, {"model": "no-such-model"}), (3, {"model": 5, "fault": []}), (3, {"model": "tgd27-460-s"}),
    (3, {"model": "tgd27-460-s", "fault": "fault-heater-open", "symptoms": ["no-heat"] * 500}),
    (3, {"model": "tgd27-460-s", "fault": "fault-heater-open", "on": "2026-02-30"}),
    (3, {"model": "tgd27-460-s", "fault": "fault-heater-open", "on": "9999-12-31"}),
    (3, {"model": "tgd27-460-s", "fault": "fault-heater-open", "on": "0000-00-00"}),
    (3, {"model": "tgd27-460-s", "fault": "fault-heater-open", "on": -1}),
    (3, {"model": "tgd27-460-s", "fault": "fault-heater-open", "on": "2026-11-27T00:00:00Z" * 99}),
    (3, {"model": "tgd27-460-s", "fault": "../../etc/passwd", "remedy": "\x00"}),
    (3, {"model": "tgd27-460-s", "fault": "fault-heater-open", "remedy": "a" * 50_000}),
]  # fmt: skip

BODIES: list[Hostile] = [
    *(posting(address, body, name=name) for address in _ADDRESSES for name, body in _NOT_JSON.items()),
    *(posting(_ADDRESSES[n % 4], said(value), name=said(value)) for n, value in enumerate(_NOT_OBJECTS * 2)),
    *(posting(_ADDRESSES[at], said(value), name=said(value)[:80]) for at, value in _WRONG),
    *(posting(_ADDRESSES[1], said({"symptoms": [text]}), name=repr(text)[:80]) for text in TEXTS[::3]),
    *(posting(_ADDRESSES[0], said({"reach": [text]}), name=repr(text)[:80]) for text in TEXTS[1::3]),
    posting(_ADDRESSES[0], b'{"reach": ["' + b"a" * 1_100_000 + b'"]}', name="more than a body may have"),
    *(
        posting(_ADDRESSES[0], said({"reach": ["drum-belt"]}), media, name=f"as {media}")
        for media in (
            "text/plain",
            "application/xml",
            "multipart/form-data; boundary=",
            "",
            "application/json;charset=utf-7",
        )
    ),
]
