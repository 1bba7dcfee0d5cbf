"""Files of keys for tests."""

from __future__ import annotations

from pathlib import Path

from firstoff.access.key_file import add_key
from firstoff.access.keys import Key, key_digest


def key_file(folder: Path, keys: dict[str, tuple[str, str]]) -> Path:
    """A new file of keys in ``folder``, which is made where it is missing: for each name a key and its scopes, with
    blanks between."""
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / "keys.toml"
    path.unlink(missing_ok=True)
    for name, (key, scopes) in keys.items():
        add_key(path, Key(name, key_digest(key), frozenset(scopes.split())))
    return path
