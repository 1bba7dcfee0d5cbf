"""Keys: what a text of them may hold, when one holds, and that nothing of a text is told."""

from __future__ import annotations

import hmac
import tomllib
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firstoff.access import keys
from firstoff.access.keys import SCOPES, Key, found, key_digest, keys_in, new_key, table_of
from firstoff.errors import BadRequest

NOW = datetime(2026, 11, 27, 12, tzinfo=UTC)
DIGEST = key_digest("sesame")
TABLE = f'[[keys]]\nname = "bench"\ndigest = "{DIGEST}"\nscopes = ["publish"]\n'

moments = st.none() | st.datetimes(datetime(2000, 1, 1), datetime(2100, 1, 1)).map(
    lambda moment: moment.replace(microsecond=0, tzinfo=UTC)
)
some_keys = st.builds(
    Key,
    name=st.from_regex(r"[A-Za-z0-9][A-Za-z0-9._-]{0,62}", fullmatch=True),
    digest=st.from_regex(r"[0-9a-f]{64}", fullmatch=True),
    scopes=st.frozensets(st.sampled_from(SCOPES), min_size=1),
    begins=moments,
    ends=moments,
).filter(lambda key: not (key.begins and key.ends) or key.begins < key.ends)


@settings(max_examples=40)
@given(st.lists(some_keys, unique_by=lambda key: key.digest, max_size=5))
def test_what_is_written_is_read(made: list[Key]) -> None:
    assert keys_in("\n".join(map(table_of, made))) == tuple(made)


def test_a_new_key_is_of_256_bits_and_a_header_takes_it() -> None:
    made = {new_key() for _ in range(100)}
    assert len(made) == 100
    assert {len(each) for each in made} == {43}  # 256 bits, 6 a letter
    assert all(each.isascii() and each.isprintable() for each in made)


@pytest.mark.parametrize(
    ("times", "first", "last"),
    [
        ("", None, None),
        ("from = 2026-11-27", datetime(2026, 11, 27, tzinfo=UTC), None),
        ("until = 2026-11-27", None, datetime(2026, 11, 28, tzinfo=UTC)),  # to the end of the day
        ("from = 2026-11-27T08:00:00+02:00", datetime(2026, 11, 27, 6, tzinfo=UTC), None),
        (
            "from = 2026-11-27\nuntil = 2026-11-27",
            datetime(2026, 11, 27, tzinfo=UTC),
            datetime(2026, 11, 28, tzinfo=UTC),
        ),
    ],
)
def test_when_a_key_holds(times: str, first: datetime | None, last: datetime | None) -> None:
    (key,) = keys_in(TABLE + times)
    moment = timedelta(microseconds=1)
    for edge, inside, outside in ((first, timedelta(), -moment), (last, -moment, timedelta())):
        if edge is not None:
            assert found([key], "sesame", edge + inside) is key
            assert found([key], "sesame", edge + outside) is None
    if first is None and last is None:
        assert found([key], "sesame", NOW) is key


def test_the_key_that_was_sent_is_found_and_no_other() -> None:
    several = [Key(name, key_digest(name), frozenset({"read"})) for name in ("one", "two", "three")]
    assert found(several, "two", NOW) is several[1]
    for other in ("", "tw", "two ", "TWO", key_digest("two"), "k\xe9y"):
        assert found(several, other, NOW) is None


def test_every_digest_is_compared_wherever_the_key_stands(monkeypatch: pytest.MonkeyPatch) -> None:
    several = [Key(name, key_digest(name), frozenset({"read"})) for name in ("one", "two", "three")]
    compared: list[Any] = []
    plain = hmac.compare_digest

    def comparing(one: str, other: str) -> bool:
        compared.append(other)
        return plain(one, other)

    monkeypatch.setattr(keys.hmac, "compare_digest", comparing)
    for sent in ("one", "three", "none"):
        compared.clear()
        found(several, sent, NOW)
        assert compared == [each.digest for each in several]


#: a text that cannot be, what is said of it
BAD = [
    ("[[keys]", "no TOML"),
    ("keys = 5", "something else"),
    ("keys = [5]", "something else"),
    ("sesame = 1", "something else"),
    ('[[keys]]\nname = "bench"', "digest"),
    (TABLE.replace(DIGEST, "sesame"), "never the key"),
    (TABLE.replace(DIGEST, DIGEST[:-1]), "never the key"),
    (TABLE.replace(f'"{DIGEST}"', "5"), "never the key"),
    (TABLE.replace('"bench"', '"sesame sesame"'), "the name is not"),
    (TABLE.replace('"bench"', '""'), "the name is not"),
    (TABLE.replace('"bench"', "5"), "the name is not"),
    (TABLE.replace('["publish"]', '["sesame"]'), "read, sparql, publish"),
    (TABLE.replace('["publish"]', "[]"), "the scopes are"),
    (TABLE.replace('["publish"]', '"publish"'), "the scopes are"),
    (TABLE.replace('["publish"]', "[[]]"), "the scopes are"),
    (TABLE.replace("name", "nam"), "nearest: name"),
    (TABLE + "key = 'sesame'", "nearest:"),
    (TABLE + "from = 'sesame'", "from or until"),
    (TABLE + "until = 2026-11-27T08:00:00", "offset"),
    (TABLE + "until = 9999-12-31", "from or until"),
    (TABLE + "from = 2026-11-28\nuntil = 2026-11-27", "before"),
    (TABLE + TABLE, "one digest"),
]


@pytest.mark.parametrize(("text", "said"), BAD)
def test_texts_that_cannot_be_are_refused_and_nothing_of_them_is_told(text: str, said: str) -> None:
    with pytest.raises(BadRequest) as caught:
        keys_in(text)
    told = f"{caught.value.detail} {caught.value.mend}"
    assert said in told
    assert "sesame" not in told
    assert DIGEST not in told


@given(
    st.text(max_size=200) | st.builds(lambda a, b: TABLE[:a] + b + TABLE[a:], st.integers(0, 150), st.text(max_size=5))
)
def test_any_text_is_keys_or_refused(text: str) -> None:
    try:
        read = keys_in(text)
    except BadRequest:
        return
    assert len(read) == len(tomllib.loads(text).get("keys", []))
