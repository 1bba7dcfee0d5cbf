"""How well the search understands household complaints, by language.

Run: ``python tests/benchmarks/relevance.py`` (``--missed tuning`` lists the complaints of a half whose first symptom is
not first). Prints recall at 10, mean reciprocal rank and nDCG at 10 of the hand-written complaints of
tests/relevance/complaints.tsv: among all symptoms of the vocabulary, as they are written and damaged; and among
everything the service searches, symptoms, components, codes and models, without saying which language it is, for the
complaints whose symptoms the demo machines show. Nothing is asserted.
"""

from __future__ import annotations

import argparse
import statistics
import sys
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from firstoff.answers.desk import Desk
from firstoff.collection.opening import Opened, open_content
from firstoff.content import data_folder
from firstoff.settings import Settings
from support.complaints import DAMAGES
from support.judged import HALVES, LANGS, Judged, damaged, judged, symptom_index
from support.measures import ndcg, recall, reciprocal_rank

MEASURES = {"recall@10": recall, "MRR": reciprocal_rank, "nDCG@10": ndcg}

Searcher = Callable[[str], Sequence[str]]


def row(name: str, search: Searcher, complaints: Iterable[Judged]) -> str:
    """The means over ``complaints`` as a line of the table."""
    chosen = tuple(complaints)
    if not chosen:
        return f"  {name:<48}   none"
    rankings = [(search(one.text), one.wanted) for one in chosen]
    means = (statistics.mean(measure(*ranking) for ranking in rankings) for measure in MEASURES.values())
    return f"  {name:<48} {len(chosen):>6}" + "".join(f"{mean:>11.3f}" for mean in means)


def table(title: str, search: Searcher, complaints: Sequence[Judged], by_damage: bool = False) -> None:
    """Print the measures by half and language."""
    print(f"{title}\n  {'':<48} {'number':>6}" + "".join(f"{name:>11}" for name in MEASURES))
    for half in HALVES:
        of_half = [one for one in complaints if one.half == half]
        for lang in LANGS:
            print(row(f"{half} {lang}", search, (one for one in of_half if one.lang == lang)))
        print(row(f"{half} all", search, of_half))
    for damage in DAMAGES if by_damage else ():
        print(row(damage, search, (one for one in complaints if one.damage == damage)))


def among_symptoms(opened: Opened) -> Searcher:
    """A search among all symptoms of the vocabulary."""
    index = symptom_index(opened.collection)
    return lambda text: [hit.id for hit in index.search(text, limit=10).hits]


def as_served(opened: Opened) -> Searcher:
    """The search of the service; what is no symptom takes its place in the ranking."""
    desk = Desk(opened, Settings())

    def search(text: str) -> Sequence[str]:
        hits = desk.search(text, limit=10).hits
        return [hit.id if hit.kind == "symptom" else f"{hit.kind} {number}" for number, hit in enumerate(hits)]

    return search


def shown(opened: Opened) -> set[str]:
    """The symptoms of the demo machines."""
    collection = opened.collection
    return {
        symptom for model in collection.models for one in collection.appliances(model.id) for symptom in one.symptoms
    }


def list_missed(search: Searcher, complaints: Iterable[Judged]) -> None:
    """Print the complaints whose first symptom is not found first, with what is found."""
    for one in complaints:
        found = list(search(one.text))
        first = next(iter(one.wanted))
        if found[:1] != [first]:
            place = found.index(first) + 1 if first in found else "-"
            print(f"{one.lang} {one.text!r}: {first} at {place}; {', '.join(found[:4])}")


def main() -> None:
    """Read the command line and measure."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--missed", choices=HALVES)
    arguments = parser.parse_args()
    opened = open_content(data_folder())
    complaints = judged()
    if arguments.missed:
        list_missed(among_symptoms(opened), (one for one in complaints if one.half == arguments.missed))
        return
    known = shown(opened)
    table("All symptoms of the vocabulary", among_symptoms(opened), complaints)
    table("The same, damaged", among_symptoms(opened), damaged(complaints), by_damage=True)
    table("As the service answers", as_served(opened), [one for one in complaints if one.wanted.keys() <= known])


if __name__ == "__main__":
    main()
