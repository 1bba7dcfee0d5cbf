"""Keys at the command line: made, added, shown once."""

from __future__ import annotations

import stat
from datetime import UTC, datetime
from pathlib import Path

import pytest
from typer.testing import CliRunner

from firstoff.access.key_file import keys_of
from firstoff.access.keys import found, key_digest
from firstoff.cli import app
from firstoff.errors import BadRequest


def made(*arguments: str, **environment: str) -> str:
    """The key that is printed."""
    done = CliRunner().invoke(app, ["new-key", *arguments], env=environment, catch_exceptions=True)
    if isinstance(done.exception, BadRequest):
        raise done.exception
    assert done.exit_code == 0, done.output
    return done.stdout.strip()


def test_a_key_is_printed_once_and_its_digest_kept(tmp_path: Path) -> None:
    path = tmp_path / "keys.toml"
    first = made("bench", "--scope", "publish", "--scope", "read", "--keys", str(path))
    second = made("van-1", "--scope", "outcomes", FIRSTOFF_KEYS=str(path))
    assert first != second
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert first not in path.read_text()
    told = [(each.name, each.digest, set(each.scopes)) for each in keys_of(path)]
    assert told == [
        ("bench", key_digest(first), {"publish", "read"}),
        ("van-1", key_digest(second), {"outcomes"}),
    ]


def test_from_a_day_to_the_end_of_another(tmp_path: Path) -> None:
    path = tmp_path / "keys.toml"
    key = made("bench", "--scope", "read", "--from", "2026-11-01", "--until", "2026-11-30", "--keys", str(path))
    for moment, holds in (
        (datetime(2026, 10, 31, 23, 59, tzinfo=UTC), False),
        (datetime(2026, 11, 1, tzinfo=UTC), True),
        (datetime(2026, 11, 30, 23, 59, tzinfo=UTC), True),
        (datetime(2026, 12, 1, tzinfo=UTC), False),
    ):
        assert (found(keys_of(path), key, moment) is not None) == holds


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("bench", "--scope", "read"), "FIRSTOFF_KEYS"),
        (("bench", "--scope", "reed", "--keys", "@"), "read, sparql"),
        (("the bench", "--scope", "read", "--keys", "@"), "the name is not"),
        (("bench", "--scope", "read", "--until", "soon", "--keys", "@"), "--until 2026-11-27"),
        (("bench", "--scope", "read", "--from", "2026-11-02", "--until", "2026-11-01", "--keys", "@"), "before"),
        (("bench", "--scope", "read", "--keys", "@/none/keys.toml"), "--keys"),
    ],
)
def test_what_cannot_be_made(tmp_path: Path, arguments: tuple[str, ...], said: str) -> None:
    path = tmp_path / "keys.toml"
    with pytest.raises(BadRequest) as caught:
        made(*(each.replace("@", str(path)) for each in arguments))
    assert said in f"{caught.value.detail} {caught.value.mend}"
    assert not path.exists()
