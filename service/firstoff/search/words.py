"""Words that say "not" and words that say little, by language."""

from __future__ import annotations

# fmt: off
_NOT = {
    "en": (
        "no", "not", "wont", "dont", "doesnt", "isnt", "cant", "cannot", "didnt", "wasnt", "hasnt", "havent", "arent",
        "couldnt", "wouldnt", "never", "without",
    ),
    "de": (
        "nicht", "nich", "net", "nix", "nichts", "kein", "keine", "keinen", "keiner", "keinem", "keinerlei", "nie",
        "niemals", "ohne",
    ),
    "es": (
        "no", "sin", "nunca", "tampoco", "ni", "jamas",
    ),
}
_LITTLE = {
    "en": (
        "a", "an", "the", "and", "or", "of", "to", "in", "on", "at", "it", "its", "is", "are", "be", "been", "has",
        "have", "had", "does", "do", "did", "i", "im", "ive", "my", "me", "we", "our", "you", "your", "this", "that",
        "there", "when", "while", "with", "after", "from", "for", "by", "so", "very", "just", "will", "would", "as",
        "he", "she", "they", "them", "get", "gets", "getting", "please", "help", "problem",
    ),
    "de": (
        "der", "die", "das", "den", "dem", "des", "ein", "eine", "einen", "einem", "einer", "und", "oder", "von",
        "zu", "zum", "im", "in", "am", "an", "auf", "aus", "es", "er", "sie", "ich", "wir", "mir", "uns", "ist",
        "sind", "wird", "hat", "habe", "mein", "meine", "meiner", "meinem", "unser", "unsere", "bei", "beim", "mit",
        "nach", "wenn", "dass", "sich", "so", "sehr", "nur", "noch", "mal", "man", "bitte", "hilfe", "problem",
    ),
    "es": (
        "el", "la", "los", "las", "lo", "un", "una", "unos", "unas", "y", "o", "de", "del", "a", "al", "en", "es",
        "esta", "este", "esto", "estan", "son", "se", "su", "sus", "mi", "mis", "me", "nos", "le", "que", "con", "por",
        "para", "cuando", "como", "hay", "ha", "he", "muy", "ya", "favor", "ayuda", "problema",
    ),
}
# fmt: on
#: What the words that say "not" are one term as: customers write "won't", labels "does not" or "no".
_AS_ONE = {"en": "not", "de": "nicht", "es": "not"}

#: Languages that are known by more than their tag.
LANGUAGES = tuple(_NOT)
#: By language the words that say "not", and the one that each is to the index.
NEGATIONS = {lang: dict.fromkeys(words, _AS_ONE[lang]) for lang, words in _NOT.items()}
#: By language the words that say little about a complaint.
LITTLE_WORDS = {lang: frozenset(words) for lang, words in _LITTLE.items()}


def says_little(word: str) -> bool:
    """Whether ``word`` says little in some language."""
    return any(word in words for words in LITTLE_WORDS.values())


def spoken_in(word: str) -> tuple[str, ...]:
    """The languages in which ``word`` is one that says little, or "not"."""
    return tuple(lang for lang in LANGUAGES if word in LITTLE_WORDS[lang] or word in NEGATIONS[lang])
