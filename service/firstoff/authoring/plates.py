"""Numbers on rating plates: two that read alike, and serial ranges that overlap."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from itertools import combinations

from firstoff.appliance.serial import plain_number, serial_key, within
from firstoff.appliance.statements import Resource
from firstoff.authoring.draft import Draft
from firstoff.authoring.findings import Problem, error


def model_numbers(draft: Draft) -> dict[str, str]:
    """The model number of each model of the file, by slug."""
    numbers = {model.id: model.text("modelNumber") for model in draft.statements.of_class("Model")}
    return {slug: number for slug, number in numbers.items() if number}


def numbers_read_alike(draft: Draft) -> Iterator[Problem]:
    """Two model numbers of a file that a rating plate does not tell apart."""
    yield from alike(model_numbers(draft))


def alike(numbers: Mapping[str, str], others: Mapping[str, tuple[str, str]] | None = None) -> Iterator[Problem]:
    """Model numbers (by slug) that read alike among themselves, or like one of ``others``.

    ``others`` maps the slug of a model of another file to its number and its file. Read alike means: without case,
    spaces, slashes and hyphens, and with the letter O as the digit 0.
    """
    by_plain: dict[str, list[tuple[str, str]]] = defaultdict(list)
    for slug, number in sorted(numbers.items()):
        by_plain[plain_number(number)].append((slug, f"{number} ({slug})"))
    for slug, (number, file) in sorted((others or {}).items()):
        if plain_number(number) in by_plain:
            by_plain[plain_number(number)].append((slug, f"{number} ({slug} in {file})"))
    for entries in by_plain.values():
        if len(entries) > 1:
            told = " and ".join(words for _, words in entries)
            yield error(
                "numbers-read-alike",
                entries[0][0],
                f"On a rating plate these model numbers read alike: {told}.",
                "Correct one of them; where they are one model, describe it once, with serial ranges.",
            )


def serial_ranges(draft: Draft) -> Iterator[Problem]:
    """Ranges run forwards and ranges of one model share no serial number, so that a number is of one range only."""
    for model in draft.statements.of_class("Model"):
        ranges = model.parts("hasSerialRange")
        yield from _backwards(ranges)
        for one, other in combinations(ranges, 2):
            if _overlap(one, other):
                yield error(
                    "serial-ranges-overlap",
                    model.id,
                    f"The serial ranges {one.label} and {other.label} share serial numbers.",
                    "Correct fo:firstSerial and fo:lastSerial.",
                )


def _backwards(ranges: Iterable[Resource]) -> Iterator[Problem]:
    for serials in ranges:
        first, last = serials.text("firstSerial"), serials.text("lastSerial")
        if first and last and serial_key(first) > serial_key(last):
            yield error(
                "serial-range-backwards",
                serials.id,
                f"The first serial number {first} comes after the last, {last}.",
                "Swap them.",
            )


def _overlap(one: Resource, other: Resource) -> bool:
    """Two runs overlap exactly where one of them holds the other's first number (an open start lies before all)."""
    return _holds_start(one, other) or _holds_start(other, one)


def _holds_start(one: Resource, other: Resource) -> bool:
    start = other.text("firstSerial")
    if start is None:
        return one.text("firstSerial") is None
    return within(start, one.text("firstSerial"), one.text("lastSerial"))
