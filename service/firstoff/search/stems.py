"""Words without their endings, so that forms of one word are one term: English, German, Spanish.

Light on purpose: a stem only has to be the same for common forms of a word, and what it misses the correction of words
forgives. Words are folded (no accents, small letters). Words that say "not" are one word in each language. Words with
digits or letters outside a to z, and words of other languages, stay as they are.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import lru_cache

from firstoff.search.words import LANGUAGES, NEGATIONS

_VOWEL = re.compile("[aeiouy]")
_SHORTEST = 4


def stem(word: str, lang: str) -> str:
    """The stem of a folded ``word`` of the language ``lang``."""
    negation = NEGATIONS.get(lang, {}).get(word)
    if negation is not None:
        return negation
    if lang not in _STEMMERS or len(word) < _SHORTEST or not word.isascii() or not word.isalpha():
        return word
    return _STEMMERS[lang](word)


@lru_cache(maxsize=1 << 14)
def stems(word: str) -> tuple[str, ...]:
    """The stems that a folded ``word`` has in the languages that are known, each once."""
    return tuple(dict.fromkeys(stem(word, lang) for lang in LANGUAGES))


def _english(word: str) -> str:
    """Without -s, -es, -ies, -ed, -ing, a doubled consonant and a last -e or -y: "drains", "drained", "draining"."""
    word = _without_plural(word)
    for ending in ("ing", "ed"):
        rest = word[: -len(ending)]
        if word.endswith(ending) and len(rest) >= 3 and _VOWEL.search(rest) and not word.endswith("eed"):
            word = rest[:-1] if rest[-1] == rest[-2] and rest[-1] not in "lsz" else rest
            break
    if word.endswith("e"):
        return word[:-1]
    return word[:-1] + "i" if word.endswith("y") else word


def _without_plural(word: str) -> str:
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith(("ches", "shes", "sses", "xes", "zes")):
        return word[:-2]
    if word.endswith("s") and not word.endswith(("ss", "us", "is")):
        return word[:-1]
    return word


def _german(word: str) -> str:
    """Without one ending of a noun, adjective or verb: "heizt", "heizen", "Türen", "warmer"."""
    for ending in ("ern", "est", "en", "em", "er", "es", "et", "e", "n", "s", "t"):
        # "laut" is no form of "lau".
        shortest = _SHORTEST if ending in ("n", "s", "t", "et", "est") else 3
        if word.endswith(ending) and len(word) - len(ending) >= shortest:
            return word[: -len(ending)]
    return word


def _spanish(word: str) -> str:
    """Without the ending of number, gender, person, infinitive, gerund or participle: "enfrían", "lavado", "luces"."""
    if word.endswith("ces"):
        word = word[:-3] + "z"
    elif word.endswith("es") and word[-3:-2] not in "aeiou" and len(word) > _SHORTEST:
        word = word[:-2]
    elif word.endswith("s"):
        word = word[:-1]
    for ending in ("iendo", "yendo", "ando", "ado", "ada", "ido", "ida"):
        if word.endswith(ending) and len(word) - len(ending) >= 3:
            return word[: -len(ending)]
    for ending in ("an", "en", "ar", "er", "ir", "a", "e", "o"):
        if word.endswith(ending) and len(word) - len(ending) >= 3:
            return word[: -len(ending)]
    return word


_STEMMERS: dict[str, Callable[[str], str]] = {"en": _english, "de": _german, "es": _spanish}
