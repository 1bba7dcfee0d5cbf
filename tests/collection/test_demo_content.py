"""Every platform of the demo content is served, and every model of it compiles in itself whole."""

from __future__ import annotations

from collections import defaultdict

from firstoff.collection.opening import Opened
from firstoff.settings import Settings
from support.random_platforms import holding, references


def test_every_file_is_served(opened: Opened, settings: Settings) -> None:
    assert [(refusal.file, refusal.line, refusal.reason) for refusal in opened.refused] == []
    files = {file.stem for file in settings.data.glob("*.ttl")}
    assert files
    assert {entry.platform.id for entry in opened.collection.models} == files


def test_every_model_compiles_and_refers_to_nothing_that_it_lacks(opened: Opened) -> None:
    for entry in opened.collection.models:
        for appliance in opened.collection.appliances(entry.id):
            there = holding(appliance)
            named: dict[str, set[str]] = defaultdict(set)
            for kind, slug in references(appliance):
                named[kind].add(slug)
            dangling = {kind: slugs - there[kind] for kind, slugs in named.items() if slugs - there[kind]}
            assert dangling == {}, (entry.id, appliance.serial_range)
            assert appliance.components
            assert appliance.faults


def test_every_model_is_found_by_its_number_however_it_is_spelled(opened: Opened) -> None:
    for entry in opened.collection.models:
        for spelled in (entry.number, entry.number.lower(), entry.number.replace("0", "O"), f" {entry.number}/"):
            assert opened.collection.find(spelled) == entry
