"""Text made comparable: folded words with their places, and numbers as a rating plate carries them.

A word is folded by compatibility form (Unicode NFKC), case, and loss of accents, so that ``Türschalter`` becomes
``turschalter``. German also writes umlauts as two letters; that spelling is a second one of the same word
(``tuerschalter``). Control and invisible characters are dropped, apostrophes join (``won't`` is ``wont``), everything
else that is neither letter, digit nor mark separates. Scripts without spaces (Chinese, Japanese) give a
word a character.
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache
from typing import NamedTuple

_ASCII_WORD = re.compile(r"[A-Za-z0-9\x00-\x08\x0e-\x1b\x7f]+(?:['`][A-Za-z0-9\x00-\x08\x0e-\x1b\x7f]+)*")
_ASCII_PLAIN = re.compile(r"[A-Za-z0-9]+")
# Text in which a word is what ``\w`` says: no marks, no invisible characters, no script without spaces.
_LATIN = re.compile("[\t\n\r\x20-\x7e\xa0-\xac\xae-\u02af\u2013\u2014\u2018\u2019\u201c-\u201e]*")
_LATIN_WORD = re.compile("[^\\W_]+(?:['\u2019\u02bc\u2018`\u00b4][^\\W_]+)*")
_PLAIN = re.compile(r"[^\W_]+")
_DIGIT = re.compile(r"\d")
_APOSTROPHES = "'\u2019\u02bc\u2018`\u00b4"
_UMLAUTS = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue"})
# Letters with a stroke or joined: they have no decomposition in Unicode.
_STROKES = str.maketrans({"ø": "o", "đ": "d", "ł": "l", "æ": "ae", "œ": "oe", "ı": "i", "ħ": "h", "ŧ": "t"})
_ACCENTS = re.compile("[\u0300-\u036f]")
# Kana, and ideographs with their extensions and compatibility forms.
_UNSPACED = (
    ("\u3040", "\u30ff"),
    ("\u3400", "\u9fff"),
    ("\uf900", "\ufaff"),
    ("\uff66", "\uff9d"),
    ("\U00020000", "\U0003ffff"),
)


class Token(NamedTuple):
    """A word of a text: its place (half-open) and its spellings, the folded one first."""

    start: int
    end: int
    spellings: tuple[str, ...]


def tokens(text: str) -> list[Token]:
    """The words of ``text`` in order; words that fold to nothing are left out."""
    found = (Token(start, end, spellings(text[start:end])) for start, end in _spans(text))
    return [token for token in found if token.spellings]


def raw_words(text: str) -> list[str]:
    """The words of ``text`` as they stand, for callers that fold each distinct word once."""
    if text.isascii():
        return _ASCII_WORD.findall(text)
    if _LATIN.fullmatch(text):
        return _LATIN_WORD.findall(text)
    return [text[start:end] for start, end in _spans(text)]


@lru_cache(maxsize=1 << 14)
def spellings(word: str) -> tuple[str, ...]:
    """The folded word and, where it has umlauts, its German spelling; empty where nothing is left."""
    if word.isascii():
        plain = "".join(_ASCII_PLAIN.findall(word)).lower()
        return (plain,) if plain else ()
    composed = unicodedata.normalize("NFKC", word).casefold()
    composed = unicodedata.normalize("NFKC", composed)
    found = (_letters(composed), _letters(composed.translate(_UMLAUTS)))
    return tuple(dict.fromkeys(spelling for spelling in found if spelling))


def fold(text: str) -> str:
    """The folded words of ``text`` with single spaces."""
    if text.isascii():
        return " ".join(folded for word in raw_words(text) for folded in spellings(word))
    return " ".join(token.spellings[0] for token in tokens(text))


def plain(text: str) -> str:
    """Nearly ``fold``, and quicker: for comparing letters, not for finding words."""
    if text.isascii():
        return " ".join(_ASCII_PLAIN.findall(text.lower().replace("'", "")))
    bare = _ACCENTS.sub("", unicodedata.normalize("NFKD", text.casefold()))
    return " ".join(_PLAIN.findall(bare))


def plate(key: str) -> str:
    """A number without spaces as a rating plate may be read: O for 0."""
    return key.replace("o", "0")


def has_digit(word: str) -> bool:
    """Whether ``word`` has a decimal digit."""
    return _DIGIT.search(word) is not None


def _letters(text: str) -> str:
    """``text`` without accents, and without all that is neither letter, digit nor mark."""
    bare = _ACCENTS.sub("", unicodedata.normalize("NFKD", text)).translate(_STROKES)
    return "".join(character for character in bare if character.isalnum() or _is_mark(character))


def _is_mark(character: str) -> bool:
    return unicodedata.category(character)[0] == "M"


def _is_invisible(character: str) -> bool:
    return unicodedata.category(character) in ("Cc", "Cf") and not character.isspace()


def _stands_alone(character: str) -> bool:
    """Whether the character is of a script that puts no spaces between words."""
    return any(first <= character <= last for first, last in _UNSPACED)


def _spans(text: str) -> list[tuple[int, int]]:
    """The places of the words of ``text``."""
    if text.isascii():
        return [match.span() for match in _ASCII_WORD.finditer(text)]
    if _LATIN.fullmatch(text):
        return [match.span() for match in _LATIN_WORD.finditer(text)]
    spans: list[tuple[int, int]] = []
    start = -1
    for place, character in enumerate(text):
        if _stands_alone(character):
            if start >= 0:
                spans.append((start, place))
            spans.append((place, place + 1))
            start = -1
        elif character.isalnum() or _is_mark(character) or _is_invisible(character):
            start = place if start < 0 else start
        elif start >= 0 and not _joins(text, place):
            spans.append((start, place))
            start = -1
    if start >= 0:
        spans.append((start, len(text)))
    return spans


def _joins(text: str, place: int) -> bool:
    """Whether the character is an apostrophe inside a word."""
    return text[place] in _APOSTROPHES and place + 1 < len(text) and text[place + 1].isalnum()
