"""Words the index treats in a way of their own, in English, German and Spanish."""

from __future__ import annotations

# fmt: off
_NOT_ENGLISH = (
    "no", "not", "wont", "dont", "doesnt", "isnt", "cant", "cannot", "didnt", "wasnt", "hasnt", "havent", "arent",
    "couldnt", "never", "without",
)
_NOT_GERMAN = (
    "nicht", "kein", "keine", "keinen", "keiner", "nie", "ohne",
)
_LITTLE_ENGLISH = (
    "a", "an", "the", "and", "or", "of", "to", "in", "on", "at", "it", "its", "is", "are", "be", "been", "has",
    "have", "had", "does", "do", "did", "i", "my", "me", "we", "our", "you", "your", "this", "that", "there",
    "when", "while", "with", "after", "from", "for", "by", "so", "very", "just", "will", "would", "please",
    "help", "problem",
)
_LITTLE_GERMAN = (
    "der", "die", "das", "den", "dem", "des", "ein", "eine", "einen", "einem", "und", "oder", "von", "zu", "im",
    "in", "am", "an", "auf", "es", "ist", "sind", "wird", "hat", "mein", "meine", "bei", "beim", "mit", "nach",
    "wenn", "sehr", "nur", "bitte",
)
_LITTLE_SPANISH = (
    "el", "la", "los", "las", "un", "una", "unos", "unas", "y", "o", "de", "del", "a", "al", "en", "es", "esta",
    "son", "se", "su", "mi", "que", "con", "por", "para", "cuando", "muy",
)
# fmt: on

#: Words that say "not", and the one they are to the index: customers write "won't", labels "does not" or "no".
NEGATIONS = {**dict.fromkeys(_NOT_ENGLISH, "not"), **dict.fromkeys(_NOT_GERMAN, "nicht")}
#: Words that say little about a complaint.
LITTLE_WORDS = frozenset((*_LITTLE_ENGLISH, *_LITTLE_GERMAN, *_LITTLE_SPANISH))
