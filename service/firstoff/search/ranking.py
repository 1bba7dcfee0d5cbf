"""Which phrases answer a reading, and how well.

1. *Candidates*: the posting lists of all terms that the places may mean, rarest first within a budget; the phrases with
   the most of the query's rarity covered are kept. Phrases equal to the query are always among them.
2. *Cover*, for every candidate: 0.7 of the share of the query's rarity that the phrase covers, and 0.3 of the share of
   the phrase's rarity that the query covers. A place counts with the best it means in the phrase.
3. *Spelling*, for the best: 0.7 cover + 0.3 ``token_ratio``, which looks at the letters of the words in any order.

Budgets and shares were measured; see tests/benchmarks/search_speed.py.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from rapidfuzz import fuzz, process

from firstoff.search.joining import LITTLE
from firstoff.search.normalise import plain, tokens
from firstoff.search.phrases import Floats, Ints, Offsets, Phrases
from firstoff.search.reading import Place, Reading
from firstoff.search.segment import keys_of

#: Posting list entries looked at, and candidates kept from them.
MOST_POSTINGS, MOST_CANDIDATES = 300_000, 1_000
#: Candidates whose spelling is compared.
MOST_COMPARED = 60
#: Share of the query's cover beside the phrase's, and of cover beside spelling.
QUERY_SHARE, COVER_SHARE = 0.7, 0.7
#: A phrase equal to the query scores at least this, one equal but for O read as 0 at least that.
EQUAL, READ_ALIKE = 0.98, 0.95
#: What a phrase in another language than the one preferred is worth.
FOREIGN = 0.97

Mask = npt.NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Scored:
    """Phrases, in order of number, with their scores (0 to 1) and how far each equals the query (1, 0.8 or 0)."""

    phrases: Ints
    scores: Floats
    exactness: Floats


@dataclass(frozen=True, slots=True)
class Cover:
    """By phrase the share of the query's rarity and of its own that is met, 0 to 1; by place and phrase the best met.

    ``by_place`` has shape (places, phrases).
    """

    of_query: Floats
    of_phrase: Floats
    by_place: Floats


def score(
    reading: Reading, phrases: Phrases, lang: int, allowed: Mask | None, bonus: Callable[[Ints], Floats]
) -> Scored:
    """The best phrases for ``reading``.

    ``lang`` is the number of the language preferred, 0 for none; ``allowed`` marks the phrases to look at, all where
    None; ``bonus`` gives what phrases have beyond their score, so that the best with it are kept.
    """
    weights = importance(reading.places, phrases)
    exact, exactness = _equal(reading, phrases)
    found = candidates(reading.places, weights, phrases, allowed)
    if allowed is not None:
        exactness, exact = exactness[allowed[exact]], exact[allowed[exact]]
    if len(exact):
        found = np.unique(np.concatenate([found, exact]))
    if not len(found):
        return Scored(found, np.zeros(0, dtype=np.float32), np.zeros(0, dtype=np.float32))
    cover = covered_by(found, reading.places, weights, phrases)
    covered = QUERY_SHARE * cover.of_query + (1 - QUERY_SHARE) * cover.of_phrase
    equal = np.zeros(len(found), dtype=np.float32)
    equal[np.searchsorted(found, exact)] = exactness
    kept = np.sort(best(covered + bonus(found) + equal, MOST_COMPARED))
    found, covered, equal = found[kept], covered[kept], equal[kept]
    alike = _alike(reading.text, [phrases.texts[number] for number in found])
    scores = COVER_SHARE * covered + (1 - COVER_SHARE) * alike
    scores = np.where(equal == 1, EQUAL + (1 - EQUAL) * alike, np.where(equal > 0, READ_ALIKE, scores))
    if lang:
        langs = phrases.langs[found]
        scores = np.where((langs != lang) & (langs != 0), FOREIGN * scores, scores)
    return Scored(found, np.clip(scores, 0, 1).astype(np.float32), equal)


def importance(places: Sequence[Place], phrases: Phrases) -> Floats:
    """What each place weighs: the rarity of the likeliest term it means, the middle rarity where it means none."""
    counts = np.diff(phrases.postings.starts)
    met = phrases.rarity[: len(counts)][counts > 0]
    middle = float(np.median(met)) if len(met) else 1.0
    weights = np.empty(len(places), dtype=np.float32)
    for number, place in enumerate(places):
        # Compounds have no rarity of their own: the word that the synonym stands for gives it.
        known = [(weight, -rarity) for term, weight in place.options.items() if (rarity := phrases.rarity[term]) > 0]
        weights[number] = -max(known)[1] if known else middle * (LITTLE if place.little else 1.0)
    return weights


def _equal(reading: Reading, phrases: Phrases) -> tuple[Ints, Floats]:
    """The phrases that equal the query, spaces aside, and how far they do."""
    words = [word.spellings for word in reading.words]
    keys = frozenset(keys_of(words, number=True))
    found: list[int] = []
    exactness: list[float] = []
    for phrase in phrases.with_key(sorted(keys)):
        text = tokens(phrases.texts[phrase])
        shared = keys.intersection(keys_of([word.spellings for word in text], bool(phrases.numbers[phrase])))
        if shared:
            found.append(phrase)
            exactness.append(0.8 if all(key.startswith("/") for key in shared) else 1.0)
    return np.array(found, dtype=np.int32), np.array(exactness, dtype=np.float32)


def candidates(places: Sequence[Place], weights: Floats, phrases: Phrases, allowed: Mask | None) -> Ints:
    """The phrases, in order of number, that cover most of the query as far as the budget of postings shows."""
    total = np.zeros(len(phrases.texts), dtype=np.float32)
    met_by = np.zeros(len(phrases.texts), dtype=np.uint8)
    for number, lists in enumerate(_within_budget(places, phrases)):
        # Best meaning first: a phrase counts a place once, with the best it means there.
        for weight, posting in sorted(lists, key=lambda item: -item[0]):
            fresh = posting[met_by[posting] != number + 1]
            total[fresh] += weight * weights[number]
            met_by[fresh] = number + 1
    if allowed is not None:
        total[~allowed] = 0
    return _largest(total, MOST_CANDIDATES)


def _largest(total: Floats, most: int) -> Ints:
    """The numbers of the ``most`` largest totals above 0, in order; among equals the lowest numbers, if not exactly.

    Phrases are numbered by length, so the shorter of equals are kept. Most totals are small: looking at the large ones
    first spares a partition of all.
    """
    top = float(total.max(initial=0.0))
    found = np.zeros(0, dtype=np.int32)
    for share in (0.8, 0.6, 0.4, 0.2, 0.0):
        found = np.flatnonzero(total > share * top).astype(np.int32)
        if len(found) >= most:
            break
    return np.sort(found[best(total[found].astype(np.float64) - found * 1e-9, most)])


def _within_budget(places: Sequence[Place], phrases: Phrases) -> list[list[tuple[float, Ints]]]:
    """By place the posting lists to look at, with the weight of their terms: rarest first until the budget is spent."""
    starts = phrases.postings.starts
    wanted = sorted(
        (int(starts[term + 1] - starts[term]), number, term, weight)
        for number, place in enumerate(places)
        for term, weight in place.options.items()
    )
    lists: list[list[tuple[float, Ints]]] = [[] for _ in places]
    left = MOST_POSTINGS
    for count, number, term, weight in wanted:
        if left <= 0:
            break
        if count:
            lists[number].append((weight, phrases.postings.row(term)[:left]))
            left -= count
    return lists


def covered_by(found: Ints, places: Sequence[Place], weights: Floats, phrases: Phrases) -> Cover:
    """The cover of each of the phrases ``found``."""
    table, columns = _meaning_table(places, len(phrases.rarity))
    flat, begins = phrases.terms.gather(found)
    column = columns[flat]
    by_place = np.maximum.reduceat(table[:, column], begins[:-1], axis=1)
    by_word = table.max(axis=0)[column]
    _cover_compounds(found, begins, phrases, table[:, columns[phrases.compounds.term]], by_place, by_word)
    rarity = phrases.rarity[flat]
    of_query = ((weights @ by_place) / weights.sum()).astype(np.float32)
    of_phrase = np.add.reduceat(rarity * by_word, begins[:-1]) / np.add.reduceat(rarity, begins[:-1])
    return Cover(of_query, of_phrase.astype(np.float32), by_place)


def _meaning_table(places: Sequence[Place], terms: int) -> tuple[Floats, Ints]:
    """What each term (a column, found through the second array) is worth at each place; column 0 is worth nothing."""
    meant = sorted({term for place in places for term in place.options})
    columns = np.zeros(terms, dtype=np.int32)
    columns[meant] = np.arange(1, len(meant) + 1, dtype=np.int32)
    table = np.zeros((len(places), len(meant) + 1), dtype=np.float32)
    for number, place in enumerate(places):
        for term, weight in place.options.items():
            table[number, columns[term]] = weight
    return table, columns


def _cover_compounds(
    found: Ints, begins: Offsets, phrases: Phrases, worth: Floats, by_place: Floats, by_word: Floats
) -> None:
    """Raise what places and words are covered by where a synonym of several words is met. ``worth`` is by compound."""
    if not worth.any():
        return
    owners, places = phrases.compounds.of(found)
    met = worth[:, places]
    for place in np.flatnonzero(met.any(axis=1)):
        np.maximum.at(by_place[place], owners, met[place])
    best = met.max(axis=0)
    lengths = phrases.compounds.length[places]
    for step in range(int(lengths.max(initial=0))):
        long = lengths > step
        words = begins[owners[long]] + phrases.compounds.first[places[long]] + step
        np.maximum.at(by_word, words, best[long])


def _alike(query: str, texts: Sequence[str]) -> Floats:
    """The likeness of spelling, 0 to 1."""
    compared = [plain(text) for text in texts]
    ratios: Floats = process.cdist([plain(query)], compared, scorer=fuzz.token_ratio, dtype=np.float32)[0]
    return ratios / np.float32(100)


def best(scores: npt.NDArray[np.floating], most: int) -> npt.NDArray[np.intp]:
    """The places of the ``most`` largest scores, in no order."""
    if len(scores) <= most:
        return np.arange(len(scores))
    return np.argpartition(-scores, most)[:most]
