"""The file of keys: who may read it, that it is read anew, and that it is whole whenever it is looked at."""

from __future__ import annotations

import logging
import os
import stat
import threading
from datetime import UTC, datetime
from pathlib import Path

import pytest

from firstoff.access.key_file import KeyRing, add_key, keys_of
from firstoff.access.keys import Key, key_digest
from firstoff.errors import BadRequest
from support.keys import key_file


def key(name: str, *scopes: str) -> Key:
    return Key(name, key_digest(f"key of {name}"), frozenset(scopes or ("publish",)))


def test_a_file_is_its_owners_alone_and_keeps_what_was_written_by_hand(tmp_path: Path) -> None:
    path = tmp_path / "keys.toml"
    add_key(path, key("one"))
    path.write_text(path.read_text() + "# the bench is in the back room")
    add_key(path, key("two", "read", "outcomes"))
    assert keys_of(path) == (key("one"), key("two", "read", "outcomes"))
    assert "# the bench is in the back room" in path.read_text()
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert [each.name for each in tmp_path.iterdir()] == ["keys.toml"]


@pytest.mark.parametrize("mode", [0o640, 0o604, 0o620, 0o602, 0o644])
def test_a_file_that_others_may_read_or_change_is_refused(tmp_path: Path, mode: int) -> None:
    path = key_file(tmp_path, {"one": ("sesame", "read")})
    path.chmod(mode)
    for attempt in (lambda: keys_of(path), lambda: add_key(path, key("two")), lambda: KeyRing(path)):
        with pytest.raises(BadRequest) as caught:
            attempt()
        assert f"chmod 600 {path}" in caught.value.mend


@pytest.mark.parametrize("content", [b"keys = 5", b"\xff", b"#" * 1_000_001], ids=["other", "not UTF-8", "too large"])
def test_a_file_that_cannot_be_used_stops_the_start_and_is_left_alone(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "keys.toml"
    path.write_bytes(content)
    path.chmod(0o600)
    with pytest.raises(BadRequest, match="cannot be used"):
        KeyRing(path)
    with pytest.raises(BadRequest):
        add_key(path, key("one"))
    assert path.read_bytes() == content


def test_places_where_there_is_no_file(tmp_path: Path) -> None:
    with pytest.raises(BadRequest, match="cannot be read"):
        KeyRing(tmp_path / "none.toml")
    with pytest.raises(BadRequest, match="cannot be written"):
        add_key(tmp_path / "none" / "keys.toml", key("one"))
    ring = KeyRing(None)
    assert ring.keys() == ()
    assert ring.find("sesame") is None


def test_a_changed_file_counts_at_once(tmp_path: Path) -> None:
    path = key_file(tmp_path, {"one": ("old", "read")})
    ring = KeyRing(path)
    add_key(path, Key("one", key_digest("new"), frozenset({"read"})))
    assert [ring.find(each) is not None for each in ("old", "new")] == [True, True]  # both, while keys change
    key_file(tmp_path, {"one": ("new", "read")})
    assert [ring.find(each) is not None for each in ("old", "new")] == [False, True]


def test_a_new_file_that_cannot_be_used_leaves_the_keys(tmp_path: Path, caplog: pytest.LogCaptureFixture) -> None:
    path = key_file(tmp_path, {"one": ("sesame", "read")})
    ring = KeyRing(path)
    good = path.read_bytes()
    ruins = {"broken": b"sesame = [", "gone": None, "open to others": good}
    for name, ruin in ruins.items():
        caplog.clear()
        path.unlink(missing_ok=True)
        if ruin is not None:
            path.write_bytes(ruin)
            path.chmod(0o644 if name == "open to others" else 0o600)
        with caplog.at_level(logging.ERROR):
            for _ in range(3):
                assert ring.find("sesame") is not None, name
        assert ring.failure is not None, name
        assert len(caplog.records) == 1, "told once for each change"
        assert "sesame" not in caplog.text
    path.chmod(0o600)
    assert ring.find("sesame") is not None
    assert ring.failure is None


def test_a_key_that_is_over_does_not_hold(tmp_path: Path) -> None:
    path = tmp_path / "keys.toml"
    now = datetime(2026, 11, 27, tzinfo=UTC)
    add_key(path, Key("one", key_digest("sesame"), frozenset({"read"}), ends=now.replace(hour=1)))
    ring = KeyRing(path, lambda: now)
    assert ring.find("sesame") is not None
    now = now.replace(hour=1)
    assert ring.find("sesame") is None


def test_of_keys_that_are_added_at_once_none_is_lost_and_every_look_finds_a_whole_file(tmp_path: Path) -> None:
    path = tmp_path / "keys.toml"
    add_key(path, key("first"))
    threads = [threading.Thread(target=add_key, args=(path, key(f"n{number}"))) for number in range(12)]
    for each in threads:
        each.start()
    while any(each.is_alive() for each in threads):
        assert key("first") in keys_of(path)
    for each in threads:
        each.join()
    assert {each.name for each in keys_of(path)} == {"first", *(f"n{number}" for number in range(12))}


@pytest.mark.skipif(os.geteuid() != 0, reason="only root gives files away")
def test_whoever_runs_the_service_goes_on_owning_the_file(tmp_path: Path) -> None:
    path = key_file(tmp_path, {"one": ("sesame", "read")})
    os.chown(path, 12345, 12345)
    add_key(path, key("two"))
    told = path.stat()
    assert (told.st_uid, told.st_gid, stat.S_IMODE(told.st_mode)) == (12345, 12345, 0o600)
