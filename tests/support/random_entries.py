"""Random entries and queries, as strategies of hypothesis."""

from __future__ import annotations

from hypothesis import strategies as st

from firstoff.search import Entry, Phrase
from support.complaints import BEHAVIOURS, PARTS, QUALIFIERS

WORDS = st.sampled_from([word for group in (*QUALIFIERS[:6], *PARTS[:8], *BEHAVIOURS[:6]) for word in group])
TEXTS = st.one_of(
    st.lists(WORDS, min_size=1, max_size=4).map(" ".join),
    st.text(max_size=12),
    st.from_regex(r"[A-Z]{1,2}[-/ ]?[0-9]{1,4}", fullmatch=True),
)
PHRASES = st.builds(Phrase, TEXTS, st.sampled_from(["en", "de-AT", "es", ""]))
ENTRIES = st.builds(
    Entry,
    kind=st.sampled_from(["symptom", "component", "code", "model"]),
    id=st.text(alphabet="abc", min_size=1, max_size=3),
    label=TEXTS,
    phrases=st.lists(PHRASES, max_size=3).map(tuple),
    models=st.frozensets(st.sampled_from(["m1", "m2"])),
    weight=st.floats(0, 1),
    group=st.sampled_from([None, "a", "b"]),
)
INDEXES = st.lists(ENTRIES, max_size=8)
QUERIES = st.one_of(TEXTS, st.text(max_size=250), st.tuples(TEXTS, TEXTS).map(" ".join))
